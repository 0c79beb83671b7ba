/* check.c - an analyzer held against a known level: its correction, what is left of its stated errors, what a budget makes of it */
#include "tests/check/check.h"

#include "core/bench/bench.h"
#include "core/budget/budget.h"
#include "core/quantity/units.h"

#define HEAD "[check]\nanalyzer=box\ndate=2026-10-18\nlevel_u_db=0.1\nsource_vswr=1.1\n"
#define STATED "vswr=1.6\naccuracy_db=1\nflatness_db=0.8\nattenuator_switch_db=0.3\nrbw_switch_db=0.2\nscale_db=0.4\n"

static SpCheckResult *
result_of (const SpCheck *check, const char *stated)
{
  g_autoptr (SpAnalyzer) analyzer = profile_from (stated);
  return sp_check_result (check, analyzer, NAN);
}

/* By hand: -10.02 - 0.12 + 10.45 = +0.31; s of -10.40, -10.50 is 0.0707107. */
START_TEST (by_hand)
{
  g_autoptr (SpCheck) check = check_from (HEAD "lead_loss=100MHz 0.12 0.02; 200MHz 0.12 0.02\nmeter_vswr=1.2\n[at 146MHz 10dB]\n"
                                               "level=-10.02\nshows=-10.4; -10.5\n");
  g_autoptr (SpCheckResult) result = result_of (check, STATED);
  ck_assert (result->n == 1 && result->missing->len == 0 && result->warnings->len == 0);
  const SpCheckPoint *p = &result->points[0];
  sp_near ("correction", "by hand", p->correction_db, 0.31, 1e-12);
  ck_assert (p->attenuation_db == 10 && result->attenuation_db == 10 && !p->beyond);
  static const struct {
    const char *term;
    double u_db, dof;
  } terms[] = {
    { "repeatability", 0.05, 1 },
    { "level", 0.1, INFINITY },
    { "lead", 0.02, INFINITY },
    { "mismatch", 6.142 * 0.047619 * 0.230769, INFINITY },
    { "mismatch-meter", 6.142 * 0.047619 * 0.090909, INFINITY },
    { "resolution", 0.05 / 1.7320508, INFINITY }, /* tenths are shown */
  };
  ck_assert_uint_eq (p->sum.n_terms, G_N_ELEMENTS (terms));
  for (guint i = 0; i < G_N_ELEMENTS (terms); i++) {
    sp_near (terms[i].term, "by hand", term_of (&p->sum, terms[i].term).u_db, terms[i].u_db, 1e-5);
    ck_assert (term_of (&p->sum, terms[i].term).dof == terms[i].dof);
  }
}
END_TEST

/* A reading that stands alone has the scatter of those that do not. */
START_TEST (pooled)
{
  g_autoptr (SpCheck) check = check_from (HEAD "resolution_db=0\n[at 1MHz]\nlevel=0\nshows=0.1; -0.1\n[at 2MHz]\nlevel=0\nshows=0.3\n"
                                               "[at 3MHz]\nlevel=0\nshows=1; 1; 1\n");
  g_autoptr (SpCheckResult) result = result_of (check, STATED);
  SpRunTerm alone = term_of (&result->points[1].sum, "repeatability");
  sp_near ("pooled", "by hand: 0.02 / (1 + 2)", alone.u_db, sqrt (0.02 / 3), 1e-12);
  ck_assert (alone.dof == 3 && term_of (&result->points[2].sum, "repeatability").u_db == 0);
  g_autoptr (SpCheck) once = check_from (HEAD "[at 1MHz]\nlevel=0\nshows=0.1\n");
  g_autoptr (SpCheckResult) assumed = result_of (once, STATED);
  ck_assert (term_of (&assumed->points[0].sum, "repeatability").u_db == SP_RUN_SCATTER_ASSUMED_DB && assumed->warnings->len == 1);
  ck_assert (((SpReason *) assumed->warnings->pdata[0])->code == SP_REASON_U_ASSUMED);
}
END_TEST

/* The last digit that any reading has tells how fine the display is. */
START_TEST (digits)
{
  static const struct {
    const char *shows;
    double half_db;
  } rows[] = { { "-10", 0.5 }, { "-10.4; -11", 0.05 }, { "-10.45; -10.4", 0.005 }, { "-10.40", 0.05 } };
  g_autofree char *text = g_strdup_printf (HEAD "[at 1MHz]\nlevel=0\nshows=%s\n", rows[_i].shows);
  g_autoptr (SpCheck) check = check_from (text);
  g_autoptr (SpCheckResult) result = result_of (check, STATED);
  sp_near (rows[_i].shows, "half of its last digit", term_of (&result->points[0].sum, "resolution").u_db, rows[_i].half_db / sqrt (3),
           1e-15);
}
END_TEST

static guint
count_of (const GPtrArray *reasons, SpReasonCode code)
{
  guint n = 0;
  for (guint i = 0; i < reasons->len; i++)
    n += ((SpReason *) reasons->pdata[i])->code == code;
  return n;
}

static const SpReason *
first_of (const GPtrArray *reasons, SpReasonCode code)
{
  for (guint i = 0; i < reasons->len; i++)
    if (((SpReason *) reasons->pdata[i])->code == code)
      return reasons->pdata[i];
  return NULL;
}

START_TEST (beyond_what_is_stated)
{
  g_autoptr (SpCheck) check = check_from (HEAD "[at 1MHz]\nlevel=0\nshows=-1.79; -1.79\n[at 2MHz]\nlevel=0\nshows=-1.81; -1.81\n");
  g_autoptr (SpCheckResult) result = result_of (check, STATED);
  ck_assert (!result->points[0].beyond && result->points[1].beyond && count_of (result->warnings, SP_REASON_CHECK_BEYOND) == 1);
  /* The maker's own correction is the middle; an earlier check's is not. */
  g_autoptr (SpCheckResult) makers = result_of (check, STATED "amplitude_correction=1MHz 0.5; 3MHz 0.5\n");
  g_autoptr (SpCheckResult) checked = result_of (check, STATED "amplitude_correction=1MHz 0.5 0.1; 3MHz 0.5 0.1\n");
  ck_assert (!makers->points[1].beyond && checked->points[1].beyond);
  /* a standard uncertainty counts twice */
  g_autoptr (SpCheckResult) standard = result_of (check, STATED "accuracy_kind=standard\n");
  ck_assert (standard->points[0].stated_db == 2.8 && !standard->points[1].beyond);
}
END_TEST

#define FIVE                                                                                                                               \
  "[at 1MHz 10dB]\nlevel=0\nshows=-0.5\n[at 10MHz 10dB]\nlevel=0\nshows=-0.6\n[at 100MHz 10dB]\nlevel=0\nshows=-0.5\n"                     \
  "[at 1GHz 10dB]\nlevel=0\nshows=-0.4\n"

/* 10 and 100 MHz lie 0.1 and 0.0 from the line through their neighbours: the line to 10 MHz is 0.5, to 100 MHz (0.6 + 0.4)/2. */
START_TEST (between_the_points)
{
  g_autoptr (SpCheck) check = check_from (HEAD FIVE);
  g_autoptr (SpCheckResult) result = result_of (check, STATED);
  double r = sqrt (0.1 * 0.1 / 2), left = r * sp_coverage_factor (2) / 2;
  ck_assert_str_eq (result->left[1].term, "flatness");
  sp_near ("flatness left", "by hand", result->left[1].left_u_db, left, 1e-12);
  sp_near ("flatness stated", "by hand", result->left[1].stated_u_db, 0.8 / sqrt (3), 1e-12);
  double u = result->points[0].sum.expanded_db / 2;
  sp_near ("accuracy left", "half of U", result->left[0].left_u_db, u, 1e-12);
  sp_near ("the curve's u", "the reading's alone", result->correction->u[0], u, 1e-12);
  sp_near ("between", "flatness left", result->between_u_db, left, 1e-12);
  SpCheckSample drawn[3]; /* 1 MHz, 31.6 MHz = midway between two points, 1 GHz */
  sp_check_sample (result, 3, drawn);
  sp_near ("drawn at a point", "U of the reading", drawn[0].high_db - drawn[0].value_db, 2 * u, 1e-12);
  sp_near ("drawn midway", "root of both squares", drawn[1].high_db - drawn[1].value_db,
           2 * hypot (sp_curve_at (result->correction, drawn[1].frequency_hz, 0).u, left), 1e-9);
  /* Where nothing tells, or less than what is stated: what is stated. */
  g_autoptr (SpCheck) two = check_from (HEAD "[at 1MHz]\nlevel=0\nshows=-0.5\n[at 1GHz]\nlevel=0\nshows=-0.6\n");
  g_autoptr (SpCheckResult) silent = result_of (two, STATED);
  sp_near ("two points", "three frequencies as stated", silent->left[1].left_u_db, sqrt (1.5) * 0.8 / sqrt (3), 1e-12);
  /* Chi-square of 2, 0.95: 5.99 (from memory, a common table). 2 (0.0707/0.0424)^2 = 5.6 does not speak against 0.06, 8.0 does against 0.05. */
  g_autoptr (SpCheckResult) chance = result_of (check, "flatness_db=0.06\n");
  sp_near ("by chance", "as stated", chance->between_u_db, sqrt (1.5) * 0.06 / sqrt (3), 1e-12);
  g_autoptr (SpCheckResult) fine = result_of (check, "flatness_db=0.05\n");
  sp_near ("they speak against it", "Student of 2 + 8", fine->left[1].left_u_db, r * sp_coverage_factor (10) / 2, 1e-12);
  const SpReason *said = first_of (result->warnings, SP_REASON_CHECK_BETWEEN);
  ck_assert (said && said->CHECK_BETWEEN.points == 2 && said->CHECK_BETWEEN.low_hz == 1e6 && said->CHECK_BETWEEN.high_hz == 1e7);
  /* One miss of 0.1 would be taken as 0.7, more than what is stated: which then is what is told, and no miss tells it. */
  g_autoptr (SpCheck) three = check_from (
      HEAD "[at 1MHz]\nlevel=0\nshows=-0.5\n[at 10MHz]\nlevel=0\nshows=-0.6\n[at 100MHz]\nlevel=0\nshows=-0.5\n");
  g_autoptr (SpCheckResult) once = result_of (three, STATED);
  sp_near ("one miss", "as stated", once->between_u_db, sqrt (1.5) * 0.8 / sqrt (3), 1e-12);
  said = first_of (once->warnings, SP_REASON_CHECK_BETWEEN);
  ck_assert (said && said->CHECK_BETWEEN.points == 0);
  said = first_of (silent->warnings, SP_REASON_CHECK_BETWEEN);
  ck_assert (said && said->CHECK_BETWEEN.points == 0 && said->CHECK_BETWEEN.high_hz == 1e9);
  g_autoptr (SpCheckResult) close = result_of (check, "flatness_db=0.12\n");
  sp_near ("no more than stated", "by hand", close->left[1].left_u_db, sqrt (1.5) * 0.12 / sqrt (3), 1e-12);
  ck_assert_uint_eq (count_of (close->warnings, SP_REASON_CHECK_BETWEEN), close->between_u_db > u ? 1 : 0);
}
END_TEST

START_TEST (other_settings)
{
  g_autoptr (SpCheck) check = check_from (HEAD FIVE "[at 10MHz 0dB]\nlevel=0\nshows=-0.55\n[at 10MHz 20dB]\nlevel=0\nshows=-0.62\n"
                                                    "[at 10MHz 30dB]\nlevel=0\nshows=-0.61\n[at 5MHz 20dB]\nlevel=0\nshows=-0.6\n");
  g_autoptr (SpCheckResult) result = result_of (check, STATED);
  double d = sqrt ((0.05 * 0.05 + 0.02 * 0.02 + 0.01 * 0.01) / 3);
  ck_assert (result->attenuation_db == 10 && result->n_differences == 3 && result->correction->n == 4);
  sp_near ("switching", "by hand", result->switch_u_db, d * sp_coverage_factor (3) / 2, 1e-12);
  ck_assert_uint_eq (count_of (result->warnings, SP_REASON_CHECK_SETTING), 1); /* 5 MHz */
  const SpReason *said = first_of (result->warnings, SP_REASON_CHECK_SWITCHING);
  ck_assert (said && said->CHECK_SWITCHING.attenuation_db == 10 && !said->CHECK_SWITCHING.stated);
  sp_near ("least", "by hand", said->CHECK_SWITCHING.least_db, -0.05, 1e-12);
  sp_near ("most", "by hand", said->CHECK_SWITCHING.most_db, 0.02, 1e-12);
  for (guint i = 0; i < result->n; i++)
    ck_assert_int_eq (result->points[i].on_curve, result->points[i].attenuation_db == 10);
  /* One difference alone tells next to nothing, however small. */
  g_autoptr (SpCheck) once = check_from (HEAD FIVE "[at 10MHz 0dB]\nlevel=0\nshows=-0.5\n");
  g_autoptr (SpCheckResult) bounded = result_of (once, STATED);
  sp_near ("as stated", "by hand", bounded->switch_u_db, 0.3 / sqrt (3), 1e-12);
  said = first_of (bounded->warnings, SP_REASON_CHECK_SWITCHING);
  ck_assert (said && said->CHECK_SWITCHING.stated && said->CHECK_SWITCHING.u_db == bounded->switch_u_db);
}
END_TEST

START_TEST (taken_over)
{
  g_autoptr (SpCheck) check = check_from (HEAD "interval_days=365\n" FIVE "[at 10MHz 0dB]\nlevel=0\nshows=-0.55\n[at 10MHz 20dB]\nlevel=0\n"
                                               "shows=-0.62\n[at 10MHz 30dB]\nlevel=0\nshows=-0.61\n");
  g_autoptr (SpAnalyzer) analyzer = profile_from (STATED "amplitude_correction=7\n");
  g_autoptr (SpCheckResult) result = sp_check_result (check, analyzer, NAN);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpAnalyzer) taken = sp_check_take_over (check, result, analyzer, &error);
  sp_no_error (error);
  ck_assert (sp_analyzer_checked (taken) && !sp_analyzer_checked (analyzer) && taken->interval_days == 365 && !isnan (taken->checked_day));
  for (guint i = 0; i < 4; i++) {
    sp_near ("value", "the check's", taken->amplitude_correction_db->value[i], result->correction->value[i], 5.1e-5);
    sp_near ("u", "the check's", taken->amplitude_correction_db->u[i], result->correction->u[i], 5.1e-5);
  }
  sp_near ("between", "the check's", taken->correction_between_u_db, result->between_u_db, 5.1e-5);
  sp_near ("switching", "the check's", sp_width_u_db (&taken->attenuator_switch), result->switch_u_db, 5.1e-5);
  ck_assert (taken->accuracy.width_db == 1 && taken->scale.width_db == 0.4); /* the corridor of the next check */
  gboolean inside;
  ck_assert (sp_analyzer_correction_u_db (analyzer, 1e7, &inside) == 0 && !inside);
  ck_assert (sp_analyzer_correction_u_db (taken, 1e7, &inside) > 0 && inside);
  ck_assert (taken->warnings->len <= analyzer->warnings->len && !sp_check_of_analyzer (analyzer, &error) && !error);
  g_autoptr (SpCheck) kept = sp_check_of_analyzer (taken, &error);
  sp_no_error (error);
  ck_assert_str_eq (kept->sha256, check->sha256); /* every reading, as it was */
  g_autoptr (SpAnalyzer) again = profile_from (strstr (taken->text, "\n") + strlen ("\nname=box\n"));
  ck_assert_str_eq (again->sha256, taken->sha256);
  g_autoptr (SpAnalyzer) twice = sp_check_take_over (check, result, taken, &error); /* in place of the readings before */
  sp_no_error (error);
  ck_assert_str_eq (twice->text, taken->text);
}
END_TEST

/* ---- a budget behind a check ---- */

static double
u_of (const SpBudget *budget, SpTermKind kind, SpBudgetColumn column)
{
  double sum = 0;
  for (guint i = 0; i < budget->n; i++)
    if (budget->terms[i].kind == kind)
      sum += sp_term_u_db (&budget->terms[i], column);
  return sum;
}

static void
budget_at (const SpAnalyzer *analyzer, double frequency_hz, gboolean differs, SpBudget *out)
{
  static const char text[] = "[chain]\nstages=lead\n[stage lead]\nkind=cable\npoints=1MHz 0 0; 10GHz 0 0\nvswr=1\n";
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "t.chain", NULL);
  g_autoptr (SpChain) chain = sp_chain_parse (file, NULL);
  SpBudgetView view = { .chain = chain,
                        .analyzer = analyzer,
                        .temperature_c = NAN,
                        .radio_vswr = 1,
                        .radio_harmonic_vswr = 1,
                        .fundamental_hz = 100e6,
                        .attenuation_differs = differs };
  SpBudgetReadings readings = { 0 };
  sp_budget (&view, frequency_hz, &readings, 0, out);
}

START_TEST (budget_of_a_checked_analyzer)
{
  g_autoptr (SpAnalyzer) plain = profile_from (STATED "amplitude_correction=100MHz 0.3; 400MHz 0.4\n"),
                         checked = profile_from (STATED
                                                 "amplitude_correction=100MHz 0.3 0.1; 400MHz 0.4 0.2\ncorrection_between_u_db=0.5\n");
  SpBudget before, inside, beyond, other, midway;
  budget_at (plain, 400e6, FALSE, &before);
  budget_at (checked, 400e6, FALSE, &inside);
  budget_at (checked, 800e6, FALSE, &beyond);
  budget_at (checked, 400e6, TRUE, &other);
  budget_at (checked, 200e6, FALSE, &midway);
  double flat = 0.8 / sqrt (3), switched = 0.3 / sqrt (3);
  ck_assert (u_of (&before, SP_TERM_ACCURACY, SP_BUDGET_LEVEL) > 0.5 && u_of (&before, SP_TERM_CORRECTION, SP_BUDGET_LEVEL) == 0);
  ck_assert (u_of (&before, SP_TERM_ATTENUATOR_SWITCH, SP_BUDGET_LEVEL) == 0);
  ck_assert (u_of (&inside, SP_TERM_ACCURACY, SP_BUDGET_LEVEL) == 0 && u_of (&inside, SP_TERM_FLATNESS, SP_BUDGET_DBC) == 0);
  sp_near ("level", "the point's u", u_of (&inside, SP_TERM_CORRECTION, SP_BUDGET_LEVEL), 0.2, 1e-12);
  sp_near ("midway", "root of both squares", u_of (&midway, SP_TERM_CORRECTION, SP_BUDGET_LEVEL), hypot (0.15, 0.5), 1e-12);
  sp_near ("P", "the point's u", u_of (&inside, SP_TERM_CORRECTION, SP_BUDGET_POWER), 0.1, 1e-12);
  sp_near ("dBc", "both", u_of (&inside, SP_TERM_CORRECTION, SP_BUDGET_DBC), hypot (0.1, 0.2), 1e-12);
  sp_near ("switching", "as stated", u_of (&inside, SP_TERM_ATTENUATOR_SWITCH, SP_BUDGET_LEVEL), switched, 1e-12);
  ck_assert (u_of (&inside, SP_TERM_ATTENUATOR_SWITCH, SP_BUDGET_DBC) == 0);
  sp_near ("another setting", "as stated", u_of (&other, SP_TERM_ATTENUATOR_SWITCH, SP_BUDGET_DBC), switched, 1e-12);
  sp_near ("beyond the points", "flatness at both ends", u_of (&beyond, SP_TERM_FLATNESS, SP_BUDGET_LEVEL), M_SQRT2 * flat, 1e-12);
  ck_assert_double_ge (u_of (&beyond, SP_TERM_CORRECTION, SP_BUDGET_LEVEL), 0.2);
  ck_assert (u_of (&beyond, SP_TERM_ACCURACY, SP_BUDGET_LEVEL) == 0 && inside.expanded_level_db < before.expanded_level_db);
  for (SpBudget *b[] = { &before, &inside, &beyond, &other, &midway }, **one = b; one < b + G_N_ELEMENTS (b); one++)
    g_free ((*one)->terms);
}
END_TEST

/* Nothing stated but a name: every width assumed, and said; no noise, no products, no damage level. */
START_TEST (a_blank_one)
{
  g_autoptr (SpAnalyzer) blank = sp_analyzer_blank ("My analyzer");
  ck_assert_str_eq (blank->name, "My analyzer");
  ck_assert (isnan (blank->damage_dbm) && !blank->danl_dbm_hz && !blank->intercept_dbm[2]
             && isnan (sp_analyzer_noise_dbm (blank, 1e8, 1e4, 0)));
  ck_assert (count_of (blank->warnings, SP_REASON_U_ASSUMED) == 6 && count_of (blank->warnings, SP_REASON_RATING_MISSING) == 1);
  g_autofree char *path = sp_test_path ("samples/blank.analyzer");
  g_autoptr (SpAnalyzer) sample = sp_analyzer_read (path, NULL);
  ck_assert_str_eq (sample->text, blank->text);
  g_autoptr (SpAnalyzer) odd = sp_analyzer_blank ("a\nb");
  ck_assert_ptr_nonnull (odd);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("check");
  TCase *t = tcase_create ("check");
  tcase_add_test (t, by_hand);
  tcase_add_test (t, pooled);
  tcase_add_loop_test (t, digits, 0, 4);
  tcase_add_test (t, beyond_what_is_stated);
  tcase_add_test (t, between_the_points);
  tcase_add_test (t, other_settings);
  tcase_add_test (t, taken_over);
  tcase_add_test (t, budget_of_a_checked_analyzer);
  tcase_add_test (t, a_blank_one);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
