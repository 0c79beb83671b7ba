/* prove.c - what planning advises does prove: its sweep is made by the same profile and judged */
#include "tests/suite.h"

#include "core/bench/edit/edit.h"
#include "core/judge/judge.h"
#include "tests/plan/shop.h"

static SpFindings *
judged (const Shop *shop, SpPlan *plan, const SpSetting *setting, guint32 seed)
{
  g_autofree char *name = g_strdup_printf ("made-%u", seed), *names = plan_put_sweeps (shop, plan, setting, name, seed);
  g_autoptr (SpBench) bench = plan_bench_of (shop, names);
  return sp_judge (bench);
}

#define INTERCEPTS "second_intercept_dbm=55\nthird_harmonic_intercept_dbm=20\nharmonic_intercepts_dbm=4 20; 5 20\n"
static const char *const masks[] = {
  PLAN_MASK,
  "[mask]\nname=Strict\nharmonics=5\n[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 inf\nemission=250MHz 3GHz\nattenuation_db=65\n",
  "[mask]\nname=Wide\nharmonics=4\nsearch=130MHz 700MHz\n[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 inf\nemission=30MHz "
  "3GHz\nattenuation_db=55\n",
};

/* The radio is clean: the advised sweep must say so. */
START_TEST (test_the_advised_sweep_proves)
{
  Shop shop = plan_shop (INTERCEPTS PLAN_MEANS, masks[_i]);
  for (double w = 0.5; w < 20; w *= 6) {
    shop.task.power_w = w;
    g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
    SpAdvice advice = sp_plan_advise (plan);
    ck_assert (advice.any && advice.proves);
    ck_assert_double_le (advice.worst_missing_db, -SP_PROVE_RESERVE_DB);
    g_autoptr (SpFindings) f = judged (&shop, plan, &advice.setting, 7);
    const SpConditionFindings *c = &f->conditions[0];
    ck_assert_double_eq_tol (c->power_dbm, sp_dbm_from_watt (w), 0.3);
    for (guint i = 0; i < c->n_emissions; i++) { /* beside the carrier another sweep is wanted */
      ck_assert_msg (c->emissions[i].verdict == SP_VERDICT_COMPLIES, "mask %d, %g W: %s", _i, w, sp_verdict_name (c->emissions[i].verdict));
      if (c->emissions[i].order && !c->emissions[i].detected) /* the floor was foretold */
        ck_assert_double_eq_tol (c->emissions[i].floor_dbm, sp_plan_harmonic (plan, &advice.setting, c->emissions[i].order).floor_dbm, 1.0);
    }
  }
  plan_shop_close (&shop);
}
END_TEST

/* With the second sweep that it asks for, close to the carrier, nothing that was swept is left open. */
START_TEST (test_the_advised_sweeps_leave_no_gap)
{
  Shop shop = plan_shop (INTERCEPTS PLAN_MEANS "phase_noise_dbc_hz=10kHz -115; 1MHz -140\n", masks[_i]);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpAdvice advice = sp_plan_advise (plan);
  ck_assert (advice.any && advice.proves && !advice.close_obstacle);
  ck_assert_int_eq (advice.close_by, _i != 1); /* the strict mask has no limit beside the carrier */
  g_autofree char *wide = plan_put_sweeps (&shop, plan, &advice.setting, "wide", 7);
  g_autofree char *close = advice.close_by ? plan_put_sweeps (&shop, plan, &advice.close, "close", 9) : NULL;
  g_autofree char *names = close ? g_strconcat (wide, ";", close, NULL) : g_strdup (wide);
  g_autoptr (SpBench) bench = plan_bench_of (&shop, names);
  g_autoptr (SpFindings) f = sp_judge (bench);
  const SpConditionFindings *c = &f->conditions[0];
  for (guint i = 0; i < c->n_gaps; i++)
    ck_abort_msg ("mask %d: %.0f to %.0f Hz, %s", _i, c->gaps[i].from_hz, c->gaps[i].to_hz, sp_reason_name (c->gaps[i].why));
  ck_assert_int_eq (c->verdict, SP_VERDICT_COMPLIES);
  plan_shop_close (&shop);
}
END_TEST

/* Today's setting with what the reason says. */
static SpSetting
follow (SpSetting s, const SpReason *r)
{
  const __typeof__ (r->PROVE_SETTING) *to = &r->PROVE_SETTING;
  double *const knob[] = { &s.attenuation_db, &s.rbw_hz, &s.points, &s.averages, &s.parts, &s.pad_db };
  const double turned[] = { to->attenuation_db, to->rbw_hz, to->points, to->averages, to->parts, to->pad_db };
  for (guint i = 0; i < G_N_ELEMENTS (knob); i++)
    if (!isnan (turned[i]))
      *knob[i] = turned[i];
  if (to->detector != SP_NO_WORD)
    s.detector = (SpDetector) to->detector;
  if (to->average != SP_NO_WORD)
    s.average = (SpAverage) to->average;
  return s;
}

/* Not proven today; with the one change that the findings name it is. */
START_TEST (test_what_would_prove_it_proves_it)
{
  static const struct {
    double rbw_hz, attenuation_db;
    SpDetector detector;
    double points;
  } today[] = {
    { 300e3, 40, SP_DETECTOR_PEAK, 1001 },
    { 100e3, 40, SP_DETECTOR_SAMPLE, 20001 },
    { 1e6, 30, SP_DETECTOR_SAMPLE, 2001 },
    { 100e3, 30, SP_DETECTOR_SAMPLE, 15001 },
  };
  Shop shop = plan_shop (INTERCEPTS PLAN_MEANS, masks[1]);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting s = everyday ();
  s.rbw_hz = today[_i].rbw_hz;
  s.attenuation_db = today[_i].attenuation_db;
  s.detector = today[_i].detector;
  s.points = today[_i].points;
  g_autoptr (SpFindings) f = judged (&shop, plan, &s, 11);
  ck_assert_int_eq (f->conditions[0].verdict, SP_VERDICT_NOT_PROVEN);
  guint followed = 0;
  for (guint order = 2; order <= 5; order++) {
    const SpEmission *e = &f->conditions[0].emissions[order - 2];
    if (e->verdict != SP_VERDICT_NOT_PROVEN)
      continue;
    ck_assert_ptr_nonnull (e->would_prove);
    ck_assert_int_eq (e->would_prove->code, SP_REASON_PROVE_SETTING);
    SpSetting better = follow (s, e->would_prove);
    g_autoptr (SpFindings) again = judged (&shop, plan, &better, 13 + order);
    const SpEmission *now = &again->conditions[0].emissions[order - 2];
    ck_assert_msg (now->verdict == SP_VERDICT_COMPLIES, "order %u: %s", order, sp_verdict_name (now->verdict));
    ck_assert_double_eq_tol (now->floor_dbm, e->would_prove->PROVE_SETTING.floor_dbm, 1.2); /* noise on today's noise */
    followed++;
  }
  ck_assert_uint_ge (followed, 1);
  plan_shop_close (&shop);
}
END_TEST

static SpFindings *
judged_lines (const Shop *shop, const char *lines)
{
  g_autoptr (SpBench) bench = plan_bench_of (shop, lines);
  return sp_judge (bench);
}

#define CLEAN_ELSE "third_harmonic_intercept_dbm=60\nharmonic_intercepts_dbm=4 60; 5 60\n"
#define MANY_MEANS "best_mixer_dbm=-20\nattenuator_steps_db=0;10;20;30;40\nrbw_steps=1kHz;3kHz;10kHz;30kHz;100kHz\npoints_max=20001\n"
static const struct {
  double second_dbm, step_db;
  SpReasonCode want;
} worse[] = { { 22, 10, SP_REASON_PROVE_BESIDE }, { 30, 3, SP_REASON_PROVE_SETTING }, { 5, 10, SP_REASON_PROVE_NOTCH } };

/* "a.csv;b.csv" -> "a.csv 10;b.csv 10" (transfer full) */
static char *
as_steps (const char *names, double step_db)
{
  g_auto (GStrv) each = g_strsplit (names, ";", -1);
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; each[i]; i++)
    g_string_append_printf (text, "%s%s %g", i ? ";" : "", each[i], step_db);
  return g_strdup (text->str);
}

/* An analyzer worse than its profile, and steps that show it: what is advised then is followed, and the radio, which is clean, complies. */
START_TEST (test_what_the_steps_showed_is_not_forgotten)
{
  g_autofree char *extra = g_strdup_printf ("second_intercept_dbm=%g\n" CLEAN_ELSE MANY_MEANS, worse[_i].second_dbm);
  Shop shop = plan_shop (extra, PLAN_MASK);
  g_autoptr (SpPlan) truth = sp_plan_new (&shop.task);
  SpSetting s = everyday (), step;
  s.detector = SP_DETECTOR_SAMPLE;
  s.average = SP_AVERAGE_POWER;
  s.averages = 10;
  s.points = 20001;
  step = s;
  step.attenuation_db += worse[_i].step_db;
  g_autofree char *k = plan_put_sweeps (&shop, truth, &s, "k", 3), *a = plan_put_sweeps (&shop, truth, &step, "a", 5);
  shop_put (shop.folder, "t.analyzer", SHOP_ANALYZER "second_intercept_dbm=55\n" CLEAN_ELSE MANY_MEANS);
  g_autofree char *before = g_strdup_printf ("%s\nmodulation=none\nlongest_key_down_s=120\nstep=%s %g", k, a, worse[_i].step_db);
  g_autoptr (SpFindings) f = judged_lines (&shop, before);
  const SpEmission *e = &f->conditions[0].emissions[0];
  ck_assert_int_eq (e->verdict, SP_VERDICT_NOT_PROVEN);
  ck_assert_int_eq (e->would_prove->code, worse[_i].want);
  if (e->would_prove->code != SP_REASON_PROVE_NOTCH) {
    SpSetting better = follow (s, e->would_prove);
    g_autofree char *b = plan_put_sweeps (&shop, truth, &better, "b", 7);
    g_autofree char *more = as_steps (b, better.attenuation_db - s.attenuation_db);
    gboolean beside = e->would_prove->code == SP_REASON_PROVE_BESIDE;
    g_autofree char *after = beside ? g_strdup_printf ("%s;%s", before, more) : g_strdup (b);
    g_autoptr (SpFindings) again = judged_lines (&shop, after);
    const SpEmission *now = &again->conditions[0].emissions[0];
    ck_assert_msg (now->verdict == SP_VERDICT_COMPLIES, "%s: %s", after, sp_verdict_name (now->verdict));
    if (beside)
      ck_assert_double_eq_tol (now->radio_high_dbm, e->would_prove->PROVE_BESIDE.part_dbm, SP_PROVE_RESERVE_DB);
  }
  plan_shop_close (&shop);
}
END_TEST

/* A line of the order, so far over the noise, untested and over the limit, in a sweep at 10 dB: which step? */
static const struct {
  const char *steps, *pads;
  guint order;
  double over_noise_db;
  SpReasonCode want;
  gboolean pad;
  double step_db;
} step_rows[] = {
  { "0;10;20", NULL, 2, 60, SP_REASON_PROVE_STEP, FALSE, 10 },
  { "0;10", NULL, 2, 60, SP_REASON_PROVE_STEP_PAD, FALSE, 10 }, /* it has no other step */
  { "0;10", "6 2; 3 2", 2, 60, SP_REASON_PROVE_STEP, TRUE, 6 },
  { "0;10", "6 1e-4", 2, 60, SP_REASON_PROVE_STEP_PAD, FALSE, 10 }, /* it gets half a milliwatt */
  { "0;5;10;15;20", NULL, 4, 24, SP_REASON_PROVE_STEP, FALSE, 5 },  /* 10 dB would drown it */
  { "0;5;10;15;20", NULL, 4, 16, SP_REASON_PROVE_STEP_NOISE, FALSE, 5 },
  { "0;10;40", NULL, 2, 30, SP_REASON_PROVE_STEP_PAD, FALSE, 10 }, /* 30 dB would drown it, a pad need not */
};
START_TEST (test_a_step_is_one_that_there_is)
{
  g_autofree char *extra = g_strdup_printf ("attenuator_steps_db=%s\nrbw_steps=1kHz;10kHz;100kHz\npoints_max=1001\n", step_rows[_i].steps);
  Shop shop = plan_shop (extra, PLAN_MASK);
  Sweep w = { .start_hz = 100e6,
              .stop_hz = 800e6,
              .points = 20001,
              .rbw_hz = 100e3,
              .attenuation_db = 10,
              .detector = "sample",
              .noise_dbm = -50 - step_rows[_i].over_noise_db,
              .lines = { { F0, -3 }, { step_rows[_i].order * F0, -50 } } };
  shop_put_sweep (shop.folder, "k.csv", &w);
  g_autoptr (SpBench) plain = plan_bench_of (&shop, "k.csv");
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) bench = sp_bench_set (plain, "pads_at_hand", step_rows[_i].pads, &error);
  sp_no_error (error);
  g_autoptr (SpFindings) f = sp_judge (bench);
  const SpEmission *e = &f->conditions[0].emissions[step_rows[_i].order - 2];
  ck_assert (e->detected && e->origin == SP_ORIGIN_UNTESTED);
  ck_assert_int_eq (e->would_prove->code, step_rows[_i].want);
  const SpReason *step = e->would_prove;
  gboolean other = step->code == SP_REASON_PROVE_STEP_PAD, noisy = step->code == SP_REASON_PROVE_STEP_NOISE;
  ck_assert_int_eq (other ? FALSE : noisy ? step->PROVE_STEP_NOISE.pad : step->PROVE_STEP.pad, step_rows[_i].pad);
  ck_assert_double_eq (other   ? step->PROVE_STEP_PAD.pad_db
                       : noisy ? step->PROVE_STEP_NOISE.step_db
                               : step->PROVE_STEP.step_db,
                       step_rows[_i].step_db);
  plan_shop_close (&shop);
}
END_TEST

/* What rises with the attenuation no more attenuation settles: less of it, where that is safe and enough. */
START_TEST (test_a_residual_is_not_sent_up_the_attenuator)
{
  static const struct {
    double level_dbm;
    const char *best;
    SpReasonCode want;
  } rows[] = { { -60, "0", SP_REASON_PROVE_BESIDE }, { -60, "-20", SP_REASON_PROVE_RESIDUAL }, { -40, "0", SP_REASON_PROVE_RESIDUAL } };
  g_autofree char *extra = g_strdup_printf ("best_mixer_dbm=%s\nattenuator_steps_db=0;10;20;30\nrbw_steps=100kHz\npoints_max=20001\n",
                                            rows[_i].best);
  Shop shop = plan_shop (extra, PLAN_MASK);
  Sweep w = { .start_hz = 100e6,
              .stop_hz = 800e6,
              .points = 20001,
              .rbw_hz = 100e3,
              .attenuation_db = 10,
              .detector = "sample",
              .noise_dbm = -90,
              .lines = { { F0, -3 }, { 250e6, rows[_i].level_dbm } } };
  shop_put_sweep (shop.folder, "k.csv", &w);
  w.attenuation_db += 10;
  w.noise_dbm += 10;
  w.lines[1].level_dbm += 10;
  w.seed = 3;
  shop_put_sweep (shop.folder, "a.csv", &w);
  g_autoptr (SpFindings) f = judged_lines (&shop, "k.csv\nstep=a.csv 10");
  const SpEmission *e = &f->conditions[0].emissions[f->conditions[0].n_emissions - 1];
  ck_assert (!e->order && e->detected && e->evidence && e->evidence->order == 0 && e->verdict == SP_VERDICT_NOT_PROVEN);
  ck_assert_int_eq (e->would_prove->code, rows[_i].want);
  if (rows[_i].want == SP_REASON_PROVE_BESIDE)
    ck_assert_double_eq (e->would_prove->PROVE_BESIDE.attenuation_db, 0);
  plan_shop_close (&shop);
}
END_TEST

/* Where the settings are not known nothing can be searched: the general sentence stands. */
START_TEST (test_unknown_settings_are_not_searched)
{
  Shop shop = plan_shop (INTERCEPTS PLAN_MEANS, PLAN_MASK);
  Sweep deaf = { .start_hz = 100e6,
                 .stop_hz = 800e6,
                 .points = 3001,
                 .rbw_hz = 1e6,
                 .attenuation_db = NAN,
                 .detector = "sample",
                 .noise_dbm = -45,
                 .lines = { { F0, -3 } } };
  shop_put_sweep (shop.folder, "deaf.csv", &deaf);
  g_autoptr (SpBench) bench = plan_bench_of (&shop, "deaf.csv");
  g_autoptr (SpFindings) f = sp_judge (bench);
  ck_assert_int_eq (f->conditions[0].emissions[0].verdict, SP_VERDICT_NOT_PROVEN);
  ck_assert_int_eq (f->conditions[0].emissions[0].would_prove->code, SP_REASON_PROVE_FLOOR);
  plan_shop_close (&shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("prove");
  TCase *t = tcase_create ("prove");
  tcase_set_timeout (t, 120);
  tcase_add_loop_test (t, test_the_advised_sweep_proves, 0, G_N_ELEMENTS (masks));
  tcase_add_loop_test (t, test_the_advised_sweeps_leave_no_gap, 0, G_N_ELEMENTS (masks));
  tcase_add_loop_test (t, test_what_would_prove_it_proves_it, 0, 4);
  tcase_add_test (t, test_unknown_settings_are_not_searched);
  tcase_add_loop_test (t, test_what_the_steps_showed_is_not_forgotten, 0, G_N_ELEMENTS (worse));
  tcase_add_loop_test (t, test_a_step_is_one_that_there_is, 0, G_N_ELEMENTS (step_rows));
  tcase_add_loop_test (t, test_a_residual_is_not_sent_up_the_attenuator, 0, 3);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
