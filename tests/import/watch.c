/* watch.c - a watched folder in the whole window: what is written into it becomes an edit, what cannot be taken waits and holds up nothing */
#include "tests/import/sheet.h"

#include "ui/window/import/watch-bar.h"
#include "ui/window/shell/window-private.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/theme.h"

static SpWindow *whole;
static guint wanted; /* sweeps of the chosen condition */
static const char *words;

static const SpCondition *
first (void)
{
  return &sp_session_bench (session)->conditions[0];
}

static SpWatch *
watch (void)
{
  return sp_watch_bar_watch (SP_WATCH_BAR (whole->watch_bar));
}

static gboolean
has_sweeps (void)
{
  return first ()->n_sweeps >= wanted;
}

static gboolean
says (void)
{
  return strstr (sp_watch_says (watch ()), words) != NULL;
}

static void
expect_sweeps (guint n)
{
  wanted = n;
  wait_until (has_sweeps);
  settle ();
  ck_assert_uint_eq (first ()->n_sweeps, n);
}

static void
expect_said (const char *text)
{
  words = text;
  wait_until (says);
}

/* Before anybody asks where the user's data is. */
__attribute__ ((constructor)) static void
own_home (void)
{
  g_autofree char *home = g_dir_make_tmp ("sp-home-XXXXXX", NULL);
  g_setenv ("XDG_DATA_HOME", home, TRUE);
  g_setenv ("XDG_CONFIG_HOME", home, TRUE);
}

/* A bench with two radios, and a folder with a file that was there before. */
static void
open_watching (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path ("samples/blank.sheet");
  g_autoptr (SpBench) blank = sp_bench_read (path, &error);
  sp_no_error (error);
  g_autoptr (SpBench) one = sp_bench_add_radio_named (blank, "Askerby", &error);
  sp_no_error (error);
  g_autoptr (SpBench) two = sp_bench_add_radio_named (one, "Mirrick", &error);
  sp_no_error (error);
  folder = g_dir_make_tmp ("sp-watch-XXXXXX", NULL);
  g_free (write_sweep ("old.csv", "RBW,1,MHz\nAttenuation,10,dB\n", -20));
  static gboolean started;
  if (!started)
    sp_theme_start (sp_theme_named (NULL), NULL);
  started = TRUE;
  whole = sp_window_new (NULL, sp_book_new (two), NULL);
  window = GTK_WIDGET (whole);
  session = sp_window_session (whole);
  gtk_window_present (GTK_WINDOW (window));
  settle ();
  sp_session_choose (session, 0, -1);
  sp_ask_file_answer (g_file_new_for_path (folder));
  gtk_widget_activate_action (window, "win.watch", NULL);
  ck_assert_ptr_nonnull (whole->watch_bar);
  expect_said ("from now on");
}

static void
close_watching (void)
{
  gtk_widget_activate_action (window, "win.watch", NULL);
  ck_assert_ptr_null (whole->watch_bar);
  gtk_window_destroy (GTK_WINDOW (window));
  settle ();
  g_free (folder);
}

/* The first list is over once a file that is new is taken: what was there before is not. */
START_TEST (what_is_written_is_taken)
{
  g_free (write_sweep ("trace0001.csv", "RBW,1,MHz\nAttenuation,10,dB\n", -20));
  expect_sweeps (1); /* its name says nothing that the bench knows: the chosen radio's */
  ck_assert_int_eq (first ()->sweeps[0].purpose, SP_PURPOSE_KEYED);
  g_free (write_sweep ("trace0002.csv", "RBW,1,MHz\nAttenuation,20,dB\n", -21));
  expect_sweeps (2);
  ck_assert_int_eq (first ()->sweeps[1].purpose, SP_PURPOSE_STEP);
  ck_assert_double_eq (first ()->sweeps[1].step_db, 10);
  g_free (write_sweep ("mirrick unkeyed.csv", "RBW,1,MHz\nAttenuation,10,dB\n", -90));
  expect_said ("mirrick unkeyed.csv was taken: Mirrick");
  ck_assert_uint_eq (sp_session_bench (session)->conditions[1].n_sweeps, 1);
  ck_assert_int_eq (sp_session_bench (session)->conditions[1].sweeps[0].purpose, SP_PURPOSE_UNKEYED);
  g_free (write_sweep ("again the same.csv", "RBW,1,MHz\nAttenuation,20,dB\n", -21)); /* the same bytes */
  expect_said ("is on the bench already");
  ck_assert_uint_eq (first ()->n_sweeps, 2);
}
END_TEST

START_TEST (a_retake_by_key)
{
  g_free (write_sweep ("a1.csv", "RBW,1,MHz\nAttenuation,10,dB\n", -20));
  expect_sweeps (1);
  gtk_widget_activate_action (window, "win.watch-again", NULL);
  g_free (write_sweep ("a2.csv", "RBW,1,MHz\nAttenuation,10,dB\n", -22));
  expect_sweeps (2);
  gboolean kept = first ()->sweeps[0].purpose == SP_PURPOSE_SUPERSEDED;
  ck_assert_int_eq (first ()->sweeps[kept ? 0 : 1].purpose, SP_PURPOSE_SUPERSEDED);
  ck_assert_int_eq (first ()->sweeps[kept ? 1 : 0].purpose, SP_PURPOSE_KEYED);
  ck_assert (!sp_watch_again (watch ())); /* once */
}
END_TEST

/* Somebody said what the next one is for, and of which radio: then it is that, whoever is chosen, and once. */
START_TEST (what_is_expected)
{
  g_free (write_sweep ("b1.csv", "RBW,1,MHz\nAttenuation,10,dB\n", -20));
  expect_sweeps (1);
  sp_session_expect (session, 0, SP_PURPOSE_UNKEYED, FALSE);
  sp_session_choose (session, 1, -1);
  g_free (write_sweep ("b2.csv", "RBW,1,MHz\nAttenuation,10,dB\n", -90));
  expect_sweeps (2);
  ck_assert_int_eq (first ()->sweeps[0].purpose + first ()->sweeps[1].purpose, SP_PURPOSE_KEYED + SP_PURPOSE_UNKEYED);
  ck_assert (!sp_session_expects (session).any);
}
END_TEST

static void
look_at_what_waits (void)
{
  gtk_widget_activate_action (window, "win.watch-look", NULL);
  GListModel *all = gtk_window_get_toplevels ();
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GtkWidget) each = g_list_model_get_item (all, i);
    if (G_TYPE_CHECK_INSTANCE_TYPE (each, SP_TYPE_IMPORT_WINDOW))
      sheet = SP_IMPORT_WINDOW (each);
  }
  ck_assert_ptr_nonnull (sheet);
  wait_until (is_ready);
}

/* A broken file and one without settings wait, and the next is taken; the first is looked at in the import. */
START_TEST (one_that_waits_holds_up_nothing)
{
  g_free (write_file ("broken.csv", "nothing here\n"));
  g_free (write_sweep ("bare.csv", "", -30));
  expect_said ("waits to be looked at");
  g_free (write_sweep ("good.csv", "RBW,1,MHz\nAttenuation,10,dB\n", -20));
  expect_sweeps (1);
  ck_assert_ptr_nonnull (sp_watch_waiting (watch ()));
  look_at_what_waits ();
  gtk_window_destroy (GTK_WINDOW (sheet));
  sheet = NULL;
}
END_TEST

/* Said once in the import of files of its shape, it is asked for no more. */
START_TEST (what_was_said_of_a_shape_is_remembered)
{
  g_autofree char *preferences = g_build_filename (g_get_user_config_dir (), "spurproof", "preferences", NULL);
  g_free (write_sweep ("bare.csv", "", -30));
  expect_said ("waits to be looked at");
  look_at_what_waits ();
  enter (first_ask (), "rbw", "1 MHz");
  enter (first_ask (), "attenuation", "10");
  gtk_window_destroy (GTK_WINDOW (sheet));
  sheet = NULL;
  g_free (write_sweep ("bare2.csv", "", -31));
  expect_said ("as at the last import");
  ck_assert_uint_eq (first ()->n_sweeps, 1);
  ck_assert_double_eq (first ()->sweeps[0].trace->settings.rbw_hz, 1e6);
  ck_assert_double_eq (first ()->sweeps[0].trace->settings.attenuation_db, 10);
  g_remove (preferences);
}
END_TEST

static char *growing;
static guint lines;
static gint64 grown_up; /* monotonic time */

/* A line more at each turn of the loop: so between any two lists, however busy the machine is. */
static gboolean
grows (gpointer data)
{
  g_autofree char *text = NULL, *more = NULL;
  (void) data;
  ck_assert (g_file_get_contents (growing, &text, NULL, NULL));
  more = g_strdup_printf ("%s%u,-60\n", text, 4 + lines++);
  ck_assert (g_file_set_contents_full (growing, more, -1, G_FILE_SET_CONTENTS_NONE, 0644, NULL));
  return g_get_monotonic_time () < grown_up ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

/* Written for longer than a list takes to come round: read whole, once. And the folder goes away, and is back. */
START_TEST (half_written_and_gone)
{
  growing = write_sweep ("growing.csv", "RBW,1,MHz\nAttenuation,10,dB\n", -20);
  grown_up = g_get_monotonic_time () + 1300000;
  g_idle_add_full (G_PRIORITY_HIGH, grows, NULL, NULL);
  expect_sweeps (1);
  ck_assert_uint_eq (first ()->sweeps[0].trace->n, 3 + lines);
  g_autofree char *elsewhere = g_strconcat (folder, "-away", NULL);
  ck_assert_int_eq (g_rename (folder, elsewhere), 0);
  expect_said ("is waited for");
  ck_assert_int_eq (g_rename (elsewhere, folder), 0);
  expect_said ("is there again");
  g_free (write_sweep ("later.csv", "RBW,1,MHz\nAttenuation,20,dB\n", -21));
  expect_sweeps (2);
  g_free (growing);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("watched folder");
  TCase *t = tcase_create ("folder");
  tcase_set_timeout (t, 0);
  tcase_add_checked_fixture (t, open_watching, close_watching);
  tcase_add_test (t, what_is_written_is_taken);
  tcase_add_test (t, a_retake_by_key);
  tcase_add_test (t, what_is_expected);
  tcase_add_test (t, one_that_waits_holds_up_nothing);
  tcase_add_test (t, what_was_said_of_a_shape_is_remembered);
  tcase_add_test (t, half_written_and_gone);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
