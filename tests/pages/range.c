/* range.c - how deep a sweep sees: the point, the harmonic, the sentences, beside what planning says */
#include "tests/pages/room.h"

#include "core/findings/plan-inputs.h"
#include "ui/window/pages/range-page.h"
#include "ui/words/words.h"

static void
open_range (void)
{
  open_with (sp_range_page_new);
}

/* The advice and the proofs are searched on a thread of their own. */
static gboolean
is_any_label (GtkWidget *widget, const char *text)
{
  return GTK_IS_LABEL (widget) && strstr (gtk_label_get_text (GTK_LABEL (widget)), text) != NULL;
}

static gboolean
is_said (gpointer text)
{
  return find (page, is_any_label, text) != NULL;
}

static const char *
wait_for (const char *text)
{
  ck_assert_msg (sp_comes (is_said, (gpointer) text), "“%s” is not said", text);
  return gtk_label_get_text (GTK_LABEL (find (page, is_any_label, text)));
}

static SpPlan *
planned (guint condition, SpSetting *today)
{
  SpPlan *plan = sp_findings_plan (sp_session_findings (session), condition, today, NULL);
  ck_assert_ptr_nonnull (plan);
  return plan;
}

static gboolean
is_grid (GtkWidget *widget, const char *text)
{
  (void) text;
  return GTK_IS_GRID (widget);
}

static const char *
value (int column, int row)
{
  GtkWidget *cell = gtk_grid_get_child_at (GTK_GRID (find (page, is_grid, NULL)), column, row);
  return cell ? gtk_label_get_text (GTK_LABEL (cell)) : NULL;
}

/* The table at a setting, as planning has it. */
static void
expect_values (SpPlan *plan, const SpSetting *setting)
{
  guint n = sp_plan_harmonics (plan);
  for (guint order = 2; order <= n; order++) {
    SpOutlook o = sp_plan_harmonic (plan, setting, order);
    g_autofree char *name = g_strdup_printf ("%u", order), *floor = sp_words_number (o.floor_dbm, 1, SP_HAND_SCREEN);
    g_autofree char *missing = sp_words_signed (o.missing_db, 1, SP_HAND_SCREEN);
    ck_assert_str_eq (value (0, (int) order - 1), name);
    ck_assert_str_eq (value (1, (int) order - 1), floor);
    ck_assert_str_eq (value (3, (int) order - 1), missing);
  }
  ck_assert_ptr_null (value (0, (int) n));
}

START_TEST (today_stands_first)
{
  SpSetting today;
  for (guint i = 0; i < 6; i++) {
    sp_session_choose (session, i, -1);
    settle ();
    g_autoptr (SpPlan) plan = planned (i, &today);
    expect_values (plan, &today);
  }
}
END_TEST

START_TEST (the_point_moves)
{
  SpSetting today;
  sp_session_choose (session, 3, -1);
  settle ();
  g_autoptr (SpPlan) plan = planned (3, &today);
  for (int i = 0; i < 20; i++) /* ten decibels more at the mixer */
    ck_assert (gtk_widget_activate_action (page, "range.step", "i", 1));
  today.attenuation_db -= 10;
  expect_values (plan, &today);
  wait_for ("30.0 dB of attenuation");
  ck_assert (gtk_widget_activate_action (page, "range.step", "i", 100000));
  wait_for ("More at the mixer than is advised.");
  act ("range.best");
  SpSetting best = today;
  best.attenuation_db = sp_plan_attenuation_db (plan, &today, sp_plan_best_mixer_dbm (plan, &today, NULL));
  for (guint order = 2; order <= sp_plan_harmonics (plan); order++) { /* to the next half decibel */
    double missing = g_ascii_strtod (value (3, (int) order - 1)[0] == '+' ? value (3, (int) order - 1) + 1 : "-1", NULL);
    ck_assert (missing < 0 || sp_plan_harmonic (plan, &best, order).missing_db > -0.6);
  }
  act ("range.today");
  today.attenuation_db += 10;
  expect_values (plan, &today);
}
END_TEST

START_TEST (harmonic_and_session_choose_together)
{
  const SpConditionFindings *found = &sp_session_findings (session)->conditions[1];
  sp_session_choose (session, 1, -1);
  settle ();
  ck_assert (gtk_widget_activate_action (page, "range.harmonic", "i", 2)); /* from the second to the fourth */
  ck_assert_int_ge (sp_session_emission (session), 0);
  ck_assert_uint_eq (found->emissions[sp_session_emission (session)].order, 4);
  for (guint i = 0; i < found->n_emissions; i++)
    if (found->emissions[i].order == 7)
      sp_session_choose (session, 1, (int) i);
  wait_for ("the 7th harmonic");
  ck_assert (gtk_widget_has_css_class (gtk_grid_get_child_at (GTK_GRID (find (page, is_grid, NULL)), 0, 6), "strong"));
  ck_assert (!gtk_widget_has_css_class (gtk_grid_get_child_at (GTK_GRID (find (page, is_grid, NULL)), 0, 3), "strong"));
}
END_TEST

START_TEST (how_to_sweep_is_said)
{
  SpSetting today;
  sp_session_choose (session, 3, -1);
  settle ();
  g_autoptr (SpPlan) plan = planned (3, &today);
  SpAdvice advice = sp_plan_advise (plan);
  g_autofree char *sentence = sp_words_advice (&advice, "\n", SP_HAND_SCREEN);
  ck_assert_str_eq (wait_for ("Sweep with"), sentence);
  double frequency_hz = sp_plan_harmonic (plan, &today, 2).frequency_hz;
  g_autoptr (SpReason) reason = sp_plan_prove (plan, &today, 2, frequency_hz, NULL);
  g_autofree char *least = sp_words_reason (reason, SP_HAND_SCREEN);
  ck_assert_ptr_nonnull (strstr (wait_for ("The least that would prove"), least));
  sp_session_choose (session, 0, -1); /* its sweep is deep enough */
  wait_for ("This sweep proves the 2nd harmonic");
}
END_TEST

/* The page edits nothing. */
START_TEST (nothing_is_edited)
{
  act ("range.best");
  g_autofree char *label = undo_label ();
  ck_assert_ptr_null (label);
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("range");
  TCase *t = tcase_create ("range");
  tcase_add_checked_fixture (t, open_range, tear_down);
  tcase_add_test (t, today_stands_first);
  tcase_add_test (t, the_point_moves);
  tcase_add_test (t, harmonic_and_session_choose_together);
  tcase_add_test (t, how_to_sweep_is_said);
  tcase_add_test (t, nothing_is_edited);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
