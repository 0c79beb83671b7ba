/* card.c - the card over the whole window: its keys, what it asks for, and what the next export is then taken for */
#include "tests/pages/typing.h"

#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "ui/window/begin/card-page.h"
#include "ui/window/import/expected.h"
#include "ui/window/shell/window-private.h"
#include "ui/window/widgets/theme.h"

#define QUELLDRIN 2
#define MORVENLICK 3

static SpWindow *whole;

/* Before anybody asks where the user's data is. */
__attribute__ ((constructor)) static void
own_home (void)
{
  g_autofree char *home = g_dir_make_tmp ("sp-home-XXXXXX", NULL);
  g_setenv ("XDG_DATA_HOME", home, TRUE);
  g_setenv ("XDG_CONFIG_HOME", home, TRUE);
}

static void
open_card (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path ("samples/pocket.sheet");
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  sp_no_error (error);
  static gboolean started;
  if (!started)
    sp_theme_start (sp_theme_named (NULL), NULL);
  started = TRUE;
  whole = sp_window_new (NULL, sp_book_new (bench), NULL);
  window = GTK_WIDGET (whole);
  session = sp_window_session (whole);
  gtk_window_present (GTK_WINDOW (window));
  settle ();
  sp_session_choose (session, QUELLDRIN, SP_DECIDING_EMISSION);
  settle ();
  press_key (window, GDK_KEY_F11, 0);
  settle ();
  gtk_test_widget_wait_for_draw (window);
}

static void
close_card (void)
{
  gtk_window_destroy (GTK_WINDOW (window));
  settle ();
}

static SpCardPage *
card (void)
{
  return SP_CARD_PAGE (whole->card);
}

static void
press (guint key)
{
  press_key (window, key, 0);
  settle ();
}

static void
expect_says (const char *words)
{
  ck_assert_msg (strstr (sp_card_page_says (card ()), words) != NULL, "%s: %s", words, sp_card_page_says (card ()));
}

static void
expect_state (SpCardState state)
{
  ck_assert_int_eq (sp_card_page_state (card ()), state);
}

static gboolean
on_show (void)
{
  return sp_window_page_on_show (whole) == whole->card;
}

static gboolean
has_title (void)
{
  return gtk_widget_get_visible (gtk_window_get_titlebar (GTK_WINDOW (window)));
}

START_TEST (it_stands_over_the_window)
{
  ck_assert (on_show () && !has_title ());
  ck_assert_ptr_eq (gtk_window_get_focus (GTK_WINDOW (window)), whole->card);
  expect_says ("Quelldrin, 2 m, ");
  press (GDK_KEY_F11);
  ck_assert (!on_show () && has_title ());
  ck_assert_str_eq (gtk_stack_get_visible_child_name (GTK_STACK (whole->pages)), "spectrum");
  press (GDK_KEY_F11);
  ck_assert (on_show ());
  press (GDK_KEY_Escape);
  ck_assert (!on_show () && has_title ());
  press_key (window, GDK_KEY_5, GDK_ALT_MASK);
  press (GDK_KEY_F11);
  ck_assert (on_show ());
  press_key (window, GDK_KEY_2, GDK_ALT_MASK); /* another page, by its own key */
  settle ();
  ck_assert (!on_show () && has_title ());
}
END_TEST

/* Each radio has its cautions before it is keyed first, and only then. */
START_TEST (cautions_come_first)
{
  expect_state (SP_CARD_CAUTIONS);
  expect_says ("felt too late");
  press (GDK_KEY_space);
  expect_state (SP_CARD_READY);
  ck_assert (!sp_session_expects (session).any); /* that was the reading, not the keying */
  press (GDK_KEY_Right);
  ck_assert_uint_eq (sp_session_condition (session), MORVENLICK);
  expect_state (SP_CARD_CAUTIONS);
  press (GDK_KEY_Left);
  expect_state (SP_CARD_READY);
  expect_says ("Once more, with 20");
  expect_says ("Connectors tight");
}
END_TEST

/* A file without a name that says anything goes where it is expected, for what it is expected for. */
static void
expect_taken_for (SpPurpose purpose, gboolean retake)
{
  SpProposal to;
  sp_propose ("0007.csv", NULL, &to);
  sp_proposal_aim (&to, "Quelldrin", "2 m");
  ck_assert (sp_import_take_expected (session, &to));
  ck_assert_int_eq (to.purpose, purpose);
  ck_assert_int_eq (to.retake, retake);
  sp_proposal_aim (&to, "Tamsary", "2 m"); /* whose name says another radio is that one's */
  ck_assert (!sp_import_take_expected (session, &to));
  sp_proposal_clear (&to);
}

START_TEST (keyed_and_taken)
{
  g_autoptr (GError) error = NULL;
  press (GDK_KEY_space);
  press (GDK_KEY_space);
  expect_state (SP_CARD_WAITS);
  expect_says ("waiting for the file");
  expect_taken_for (SP_PURPOSE_STEP, FALSE);
  press (GDK_KEY_space); /* not yet after all */
  expect_state (SP_CARD_READY);
  ck_assert (!sp_session_expects (session).any);
  press (GDK_KEY_space);
  SpBench *bench = sp_session_bench (session);
  SpTrace *other = bench->conditions[4].sweeps[0].trace; /* with 30 dB of attenuation, which is 20 dB more */
  SpBench *with = sp_bench_add_sweep (bench, QUELLDRIN, SP_PURPOSE_STEP, other, 20, &error);
  sp_no_error (error);
  ck_assert (sp_session_edit (session, with, "Take it", NULL));
  ck_assert (!sp_session_expects (session).any); /* at once, whatever judging takes */
  settle ();
  expect_state (SP_CARD_READY);
  expect_says ("Done: one more with 20");
}
END_TEST

START_TEST (the_last_again)
{
  press (GDK_KEY_r); /* not before the cautions were read */
  expect_state (SP_CARD_CAUTIONS);
  press (GDK_KEY_space);
  press (GDK_KEY_r);
  expect_state (SP_CARD_RETAKES);
  expect_taken_for (SP_PURPOSE_STEP, TRUE);
  press (GDK_KEY_Escape); /* nobody sees it elsewhere, so nothing is expected there */
  ck_assert (!sp_session_expects (session).any);
}
END_TEST

/* A radio that is done: Space goes on to the next of which something is wanted. One that would burn something is not keyed. */
START_TEST (done_and_never)
{
  g_autoptr (GError) error = NULL;
  press (GDK_KEY_Left);
  press (GDK_KEY_Left);
  ck_assert_uint_eq (sp_session_condition (session), 0);
  expect_says ("Done. Next: Quelldrin.");
  press (GDK_KEY_space);
  ck_assert_uint_eq (sp_session_condition (session), QUELLDRIN);
  ck_assert (
      sp_session_edit (session, sp_bench_set_condition (sp_session_bench (session), QUELLDRIN, "rated_w", "40", &error), "Rate it", NULL));
  sp_no_error (error);
  settle ();
  expect_state (SP_CARD_READY);
  expect_says ("rated 25");
  press (GDK_KEY_space);
  press (GDK_KEY_r);
  expect_state (SP_CARD_READY);
  ck_assert (!sp_session_expects (session).any);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("page of card");
  TCase *t = tcase_create ("card");
  tcase_set_timeout (t, 0);
  tcase_add_checked_fixture (t, open_card, close_card);
  tcase_add_test (t, it_stands_over_the_window);
  tcase_add_test (t, cautions_come_first);
  tcase_add_test (t, keyed_and_taken);
  tcase_add_test (t, the_last_again);
  tcase_add_test (t, done_and_never);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
