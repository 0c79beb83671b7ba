/* prove.c - what planning advises does prove: its sweep is made by the same profile and judged */
#include "tests/suite.h"

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
  "[mask]\nname=Wide\nharmonics=4\nsearch=130MHz 700MHz\n[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 inf\nemission=30MHz 3GHz\nattenuation_db=55\n",
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
    ck_assert_msg (c->verdict == SP_VERDICT_COMPLIES, "mask %d, %g W: %s", _i, w, sp_verdict_name (c->verdict));
    for (guint i = 0; i < c->n_emissions; i++)
      if (c->emissions[i].order && !c->emissions[i].detected) /* the floor was foretold */
        ck_assert_double_eq_tol (c->emissions[i].floor_dbm, sp_plan_harmonic (plan, &advice.setting, c->emissions[i].order).floor_dbm, 1.0);
  }
  plan_shop_close (&shop);
}
END_TEST

/* Today's setting with what the reason says. */
static SpSetting
follow (SpSetting s, const SpReason *r)
{
  double *const knob[] = { &s.attenuation_db, &s.rbw_hz, &s.points, &s.averages, &s.parts };
  for (guint i = 0; i < G_N_ELEMENTS (knob); i++)
    if (!isnan (r->value[i]))
      *knob[i] = r->value[i];
  if (r->text[0])
    s.detector = g_str_equal (r->text[0], "peak") ? SP_DETECTOR_PEAK : SP_DETECTOR_SAMPLE;
  if (r->text[1])
    s.average = g_str_equal (r->text[1], "power") ? SP_AVERAGE_POWER : SP_AVERAGE_NONE;
  return s;
}

/* Not proven today; with the one change that the findings name it is. */
START_TEST (test_what_would_prove_it_proves_it)
{
  static const struct { double rbw_hz, attenuation_db; SpDetector detector; double points; } today[] = {
    { 300e3, 40, SP_DETECTOR_PEAK, 1001 }, { 100e3, 40, SP_DETECTOR_SAMPLE, 20001 }, { 1e6, 30, SP_DETECTOR_SAMPLE, 2001 },
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
    ck_assert_double_eq_tol (now->floor_dbm, e->would_prove->value[6], 1.2); /* noise on today's noise */
    followed++;
  }
  ck_assert_uint_ge (followed, 1);
  plan_shop_close (&shop);
}
END_TEST

/* Where the settings are not known nothing can be searched: the general sentence stands. */
START_TEST (test_unknown_settings_are_not_searched)
{
  Shop shop = plan_shop (INTERCEPTS PLAN_MEANS, PLAN_MASK);
  Sweep deaf = { .start_hz = 100e6, .stop_hz = 800e6, .points = 3001, .rbw_hz = 1e6, .attenuation_db = NAN, .detector = "sample", .noise_dbm = -45,
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
  tcase_add_loop_test (t, test_what_would_prove_it_proves_it, 0, 4);
  tcase_add_test (t, test_unknown_settings_are_not_searched);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
