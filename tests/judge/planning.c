/* The plan of a judged condition: what was measured stands in it, and what it says of today's sweep is what judging found. */
#include "tests/suite.h"

#include "core/bench/sheet/sheet.h"
#include "core/findings/plan-inputs.h"
#include "core/judge/judge.h"

#include <glib/gstdio.h>

#define BRUNDLOW 3 /* nothing seen, floor over the limit */

static SpFindings *findings;

static void
set_up (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path ("samples/club.sheet");
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  sp_no_error (error);
  findings = sp_judge (bench);
}

static void
tear_down (void)
{
  g_clear_pointer (&findings, sp_findings_unref);
}

START_TEST (today_is_as_it_was_judged)
{
  for (guint i = 0; i < findings->n; i++) {
    const SpConditionFindings *c = &findings->conditions[i];
    SpSetting today;
    gboolean advised = TRUE;
    g_autoptr (SpPlan) plan = sp_findings_plan (findings, i, &today, &advised);
    ck_assert_ptr_nonnull (plan);
    ck_assert (!advised);
    ck_assert_double_eq_tol (sp_plan_mixer_dbm (plan, &today), c->mixer_dbm,
                             c->by_meter ? 0.3 : 0.05); /* P by the meter, Pm by the carrier */
    for (guint k = 0; k < c->n_emissions; k++) {
      const SpEmission *e = &c->emissions[k];
      if (!e->order || !e->swept || e->detected)
        continue;
      SpOutlook o = sp_plan_harmonic (plan, &today, e->order);
      ck_assert_msg (fabs (o.floor_dbm - e->floor_dbm) < 0.6, "%s, order %u: planned %.2f, judged %.2f", c->name, e->order, o.floor_dbm,
                     e->floor_dbm);
      /* What is planned will run at the mean power; what was judged goes by the power of its own sweep. */
      double other = c->power_repeats > 1 ? fabs (e->power_dbm - c->power_dbm) : 0;
      ck_assert (isnan (e->limit_dbm) ? isnan (o.limit_dbm) : fabs (o.limit_dbm - e->limit_dbm) < 1e-6 + other);
      ck_assert_double_eq_tol (o.expanded_db, e->budget.expanded_margin_db, c->power_repeats > 1 ? 0.05 : 1e-9);
    }
  }
}
END_TEST

/* Ten times the RBW is ten decibels more noise than was measured, not than the profile says. */
START_TEST (noise_is_the_measured_one)
{
  SpSetting today;
  g_autoptr (SpPlan) plan = sp_findings_plan (findings, BRUNDLOW, &today, NULL);
  SpOutlook before = sp_plan_harmonic (plan, &today, 4);
  today.attenuation_db -= 10;
  SpOutlook after = sp_plan_harmonic (plan, &today, 4);
  ck_assert_double_eq_tol (before.noise_dbm - after.noise_dbm, 10, 0.3);
  const SpConditionFindings *c = &findings->conditions[BRUNDLOW];
  for (guint k = 0; k < c->n_emissions; k++)
    if (c->emissions[k].order == 4)
      ck_assert_double_gt (c->emissions[k].floor_dbm, before.noise_dbm); /* the floor is over its noise */
}
END_TEST

START_TEST (what_would_prove_is_what_the_ledger_says)
{
  const SpConditionFindings *c = &findings->conditions[BRUNDLOW];
  guint compared = 0;
  SpSetting today;
  g_autoptr (SpPlan) plan = sp_findings_plan (findings, BRUNDLOW, &today, NULL);
  for (guint k = 0; k < c->n_emissions; k++) {
    const SpEmission *e = &c->emissions[k];
    if (!e->would_prove || e->would_prove->code != SP_REASON_PROVE_SETTING)
      continue;
    g_autoptr (SpReason) reason = sp_plan_prove (plan, &today, e->order, e->frequency_hz, NULL);
    ck_assert_ptr_nonnull (reason);
    ck_assert_int_eq (reason->code, e->would_prove->code);
    SpReason same = *reason; /* every knob; the floor is another: noise on noise */
    same.PROVE_SETTING.floor_dbm = e->would_prove->PROVE_SETTING.floor_dbm;
    ck_assert (sp_reason_equal (&same, e->would_prove));
    compared++;
  }
  ck_assert_uint_ge (compared, 5);
}
END_TEST

static SpFindings *
judged_text (const char *radio)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *samples = sp_test_path ("samples"), *folder = g_canonicalize_filename (samples, NULL),
                  *place = g_dir_make_tmp ("planning-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (place, "t.sheet", NULL);
  g_autofree char *text = g_strdup_printf (
      "[bench]\ntitle=t\nchain=%s/club.chain\nanalyzer=%s/club.analyzer\nmask=us-amateur\n[radio A]\n%s", folder, folder, radio);
  ck_assert (g_file_set_contents (path, text, -1, &error));
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  g_unlink (path);
  g_rmdir (place);
  sp_no_error (error);
  return sp_judge (bench);
}

START_TEST (before_keying_the_advice_stands_for_today)
{
  g_autoptr (SpFindings) stated = judged_text ("fundamental=146MHz\nrated_w=5\n");
  SpSetting today;
  gboolean advised = FALSE;
  g_autoptr (SpPlan) plan = sp_findings_plan (stated, 0, &today, &advised);
  ck_assert_ptr_nonnull (plan);
  ck_assert (advised);
  SpAdvice advice = sp_plan_advise (plan);
  ck_assert (advice.any);
  ck_assert_double_eq (today.attenuation_db, advice.setting.attenuation_db);
  ck_assert_double_eq (today.rbw_hz, advice.setting.rbw_hz);
}
END_TEST

/* Power and frequency are all that is known: the whole sweep is told, with every number that its setting has. */
START_TEST (a_planned_radio_is_told_the_whole_sweep)
{
  g_autoptr (SpFindings) stated = judged_text ("fundamental=146MHz\nrated_w=5\nlongest_key_down_s=20\n");
  const SpConditionFindings *c = &stated->conditions[0];
  SpSetting today;
  g_autoptr (SpPlan) plan = sp_findings_plan (stated, 0, &today, NULL);
  SpAdvice advice = sp_plan_advise (plan);
  guint told = 0, set_apart = 0;
  for (guint i = 0; i < c->n_emissions; i++) {
    const SpEmission *e = &c->emissions[i];
    if (isnan (sp_plan_harmonic (plan, &today, e->order).limit_dbm))
      continue;
    ck_assert_ptr_nonnull (e->would_prove);
    if (e->would_prove->code == SP_REASON_PROVE_CALIBRATION) {
      set_apart++;
      continue;
    }
    ck_assert_int_eq (e->would_prove->code, SP_REASON_PROVE_SPAN);
    const __typeof__ (e->would_prove->PROVE_SPAN) *span = &e->would_prove->PROVE_SPAN;
    const SpSetting *s = &advice.setting;
    ck_assert (span->from_hz == s->start_hz && span->to_hz == s->stop_hz && span->rbw_hz == s->rbw_hz);
    ck_assert (span->points == s->points && span->parts == s->parts && span->averages == s->averages);
    ck_assert_double_eq (span->attenuation_db, s->attenuation_db);
    ck_assert_double_eq (span->key_down_s, advice.keying.key_down_s);
    ck_assert_double_le (span->key_down_s, 20);
    ck_assert_int_eq (span->detector, (int) s->detector);
    told++;
  }
  ck_assert_uint_ge (told, 5);
  guint uncalibrated = 0;
  for (guint i = 0; i < advice.n_unprovable; i++)
    uncalibrated += advice.unprovable[i].obstacle == SP_OBSTACLE_CALIBRATION;
  ck_assert_uint_eq (set_apart, uncalibrated);
  ck_assert (advice.keying.longest_s == 20 && !advice.keying.longest_assumed);
}
END_TEST

START_TEST (without_power_or_frequency_there_is_no_plan)
{
  SpSetting today;
  g_autoptr (SpFindings) no_power = judged_text ("fundamental=146MHz\n");
  ck_assert_ptr_null (sp_findings_plan (no_power, 0, &today, NULL));
  g_autoptr (SpFindings) no_frequency = judged_text ("rated_w=5\n");
  ck_assert_ptr_null (sp_findings_plan (no_frequency, 0, &today, NULL));
  ck_assert_ptr_null (sp_findings_plan (findings, findings->n, &today, NULL));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("planning");
  TCase *t = tcase_create ("planning");
  tcase_add_checked_fixture (t, set_up, tear_down);
  tcase_add_test (t, today_is_as_it_was_judged);
  tcase_add_test (t, noise_is_the_measured_one);
  tcase_add_test (t, what_would_prove_is_what_the_ledger_says);
  tcase_add_test (t, before_keying_the_advice_stands_for_today);
  tcase_add_test (t, a_planned_radio_is_told_the_whole_sweep);
  tcase_add_test (t, without_power_or_frequency_there_is_no_plan);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
