/* plan.c - what must hold of every outlook, of what would prove a place, and of the advised sweep */
#include "tests/suite.h"

#include "core/bench/edit/edit.h"
#include "core/plan/plan-private.h"
#include "tests/plan/shop.h"

static SpOutlook
second (Shop *shop, const SpSetting *s)
{
  g_autoptr (SpPlan) plan = sp_plan_new (&shop->task);
  return sp_plan_harmonic (plan, s, 2);
}

START_TEST (test_noise_follows_rbw_and_attenuation)
{
  Shop shop = plan_shop (PLAN_INTERCEPTS PLAN_MEANS, PLAN_MASK);
  SpSetting a = everyday (), b = a;
  a.detector = b.detector = SP_DETECTOR_SAMPLE; /* one look a point, whatever the RBW */
  b.rbw_hz = a.rbw_hz / 10;
  SpOutlook at = second (&shop, &a), narrow = second (&shop, &b);
  ck_assert_double_eq_tol (at.noise_dbm - narrow.noise_dbm, 10, 1e-9);
  ck_assert_double_eq_tol (at.threshold_dbm - narrow.threshold_dbm, 10, 1e-9);
  b = a;
  b.attenuation_db -= 10;
  SpOutlook less = second (&shop, &b);
  ck_assert_double_eq_tol (at.noise_dbm - less.noise_dbm, 10, 1e-9);
  ck_assert_double_eq_tol (less.product_dbm - at.product_dbm, 10, 1e-9); /* 2 * 10 at the mixer, 10 less behind it */
  ck_assert_double_eq_tol (less.product_high_dbm - at.product_high_dbm, 10, 1e-9);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_outlook_is_worked_out_by_hand)
{
  Shop shop = plan_shop (PLAN_INTERCEPTS PLAN_MEANS, PLAN_MASK);
  SpSetting s = everyday ();
  s.detector = SP_DETECTOR_SAMPLE;
  s.rbw_hz = 10e6; /* points within the RBW: no sampling loss to speak of, one look */
  SpOutlook o = second (&shop, &s);
  double noise = -150 + 10 * log10 (10e6 * sqrt (G_PI / (4 * G_LN2))) + 20 + 40, p = 10 * log10 (5000);
  ck_assert_double_eq_tol (o.noise_dbm, noise, 1e-9);
  ck_assert_double_eq_tol (o.limit_dbm, p - 60, 1e-9);
  ck_assert_double_eq_tol (o.product_dbm, 2 * (p - 60) - 40 + 60, 1e-9);
  double u = hypot (2 * sqrt (0.4 * 0.4 + 0.3 * 0.3 + 0.2 * 0.2) / sqrt (3), 1.0); /* u(Pm) twice, u(I2) once: 1 dB assumed */
  ck_assert_double_eq_tol (o.product_high_dbm, o.product_dbm + 2 * u, 1e-9);
  ck_assert_double_eq_tol (o.floor_dbm, 10 * log10 (pow (10, o.detection_dbm / 10) + pow (10, o.product_high_dbm / 10)), 1e-9);
  ck_assert_double_eq_tol (o.missing_db, o.floor_dbm + o.expanded_db - o.limit_dbm, 1e-9);
  ck_assert_int_eq (o.cause, o.product_high_dbm > o.detection_dbm ? SP_CAUSE_PRODUCT : SP_CAUSE_NOISE);
  shop.task.decision_rule = SP_DECISION_RULE_SIMPLE;
  ck_assert_double_eq_tol (second (&shop, &s).missing_db, o.floor_dbm - o.limit_dbm, 1e-9);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_unknown_is_said_as_unknown)
{
  Shop shop = plan_shop (PLAN_MEANS, PLAN_MASK);
  SpSetting s = everyday ();
  SpOutlook o = second (&shop, &s);
  ck_assert (isnan (o.product_dbm) && isnan (o.product_high_dbm));
  ck_assert (isfinite (o.floor_dbm) && o.cause == SP_CAUSE_NOISE);
  ck_assert (o.phase_noise_dbm == -INFINITY);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_safe_is_what_mixer_and_input_take)
{
  Shop shop = plan_shop (PLAN_INTERCEPTS PLAN_MEANS, PLAN_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting s = everyday ();
  ck_assert_double_eq_tol (sp_plan_mixer_dbm (plan, &s), 10 * log10 (5000) - 60, 1e-9);
  ck_assert_int_eq (sp_plan_unsafe (plan, &s), SP_UNSAFE_NOT);
  s.attenuation_db = sp_plan_attenuation_db (plan, &s, -19.9);
  ck_assert_int_eq (sp_plan_unsafe (plan, &s), SP_UNSAFE_MIXER);
  shop.task.power_w = 100; /* the first pad takes 50 W */
  g_autoptr (SpPlan) hot = sp_plan_new (&shop.task);
  s.attenuation_db = 40;
  ck_assert_int_eq (sp_plan_unsafe (hot, &s), SP_UNSAFE_STAGE);
  ck_assert (!sp_plan_advise (hot).any);
  plan_shop_close (&shop);
}
END_TEST

/* What would prove it does, changes something, and is within the user's means. */
static void
check_found (SpPlan *plan, const SpSetting *today, guint order)
{
  SpSetting found;
  g_autoptr (SpReason) reason = sp_plan_prove (plan, today, order, order * F0, &found);
  if (!reason) {
    ck_assert (sp_plan_proves (plan, today, order, order * F0) || isnan (sp_plan_harmonic (plan, today, order).limit_dbm));
    return;
  }
  if (reason->code == SP_REASON_PROVE_FLOOR)
    return;
  ck_assert (reason->code == SP_REASON_PROVE_SETTING || reason->code == SP_REASON_PROVE_NOTCH);
  ck_assert (sp_plan_proves (plan, &found, order, order * F0));
  SpOutlook o = sp_plan_harmonic (plan, &found, order);
  ck_assert_double_eq_tol (reason->PROVE_SETTING.floor_dbm, o.floor_dbm, 1e-9);
  ck_assert (o.floor_dbm + o.expanded_db + SP_PROVE_RESERVE_DB <= o.limit_dbm);
  ck_assert_int_eq (found.notch_db > 0, reason->code == SP_REASON_PROVE_NOTCH);
  ck_assert_int_eq (isnan (reason->PROVE_SETTING.attenuation_db), found.attenuation_db == today->attenuation_db);
  ck_assert_int_eq (isnan (reason->PROVE_SETTING.rbw_hz), found.rbw_hz == today->rbw_hz);
  ck_assert (fmod (found.attenuation_db, 10) == 0 && found.points <= 1001);
  if (found.notch_db > 0) { /* no shallower one */
    SpSetting shallower = found;
    shallower.notch_db -= 1;
    ck_assert (shallower.notch_db == 0 || !sp_plan_proves (plan, &shallower, order, order * F0));
  }
}

START_TEST (test_what_would_prove_it_does)
{
  static const char *const intercepts[] = { PLAN_INTERCEPTS, "second_intercept_dbm=20\nthird_harmonic_intercept_dbm=5\n", "" };
  for (guint k = 0; k < G_N_ELEMENTS (intercepts); k++) {
    g_autofree char *extra = g_strconcat (intercepts[k], PLAN_MEANS, NULL);
    Shop shop = plan_shop (extra, PLAN_MASK);
    for (double w = 0.05; w < 20; w *= 10) {
      shop.task.power_w = w;
      g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
      SpSetting s = everyday ();
      for (s.attenuation_db = 0; s.attenuation_db <= 40; s.attenuation_db += 10)
        for (s.rbw_hz = 1e3; s.rbw_hz <= 1e5; s.rbw_hz *= 10)
          for (guint order = 2; order <= 5; order++)
            check_found (plan, &s, order);
    }
    plan_shop_close (&shop);
  }
}
END_TEST

START_TEST (test_the_least_change_is_named)
{
  Shop shop = plan_shop (PLAN_MEANS, PLAN_MASK); /* only noise counts */
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting s = everyday (), found;
  s.attenuation_db = 40;
  s.rbw_hz = 30e3;
  SpOutlook o = sp_plan_harmonic (plan, &s, 2);
  ck_assert_double_gt (o.missing_db, 0);
  ck_assert_double_lt (o.missing_db, 17); /* so that 20 dB less attenuation is more than enough */
  g_autoptr (SpReason) reason = sp_plan_prove (plan, &s, 2, 2 * F0, &found);
  ck_assert_int_eq (reason->code, SP_REASON_PROVE_SETTING);
  ck_assert_double_eq (found.rbw_hz, s.rbw_hz); /* time is dearer than the attenuator */
  ck_assert_double_lt (found.attenuation_db, s.attenuation_db);
  SpSetting less = found;
  less.attenuation_db += 10;
  ck_assert (less.attenuation_db == s.attenuation_db || !sp_plan_proves (plan, &less, 2, 2 * F0));
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_a_notch_is_named_where_nothing_else_helps)
{
  Shop shop = plan_shop ("second_intercept_dbm=0\n" PLAN_MEANS, PLAN_MASK); /* a mixer that no step saves: -2 dBc a dB */
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting s = everyday (), found;
  g_autoptr (SpReason) reason = sp_plan_prove (plan, &s, 2, 2 * F0, &found);
  ck_assert_int_eq (reason->code, SP_REASON_PROVE_NOTCH);
  ck_assert_double_eq (reason->PROVE_NOTCH.notch_db, found.notch_db);
  ck_assert_double_ge (found.notch_db, 1);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_measured_noise_takes_the_profiles_place)
{
  Shop shop = plan_shop (PLAN_MEANS "phase_noise_dbc_hz=10kHz -100; 1MHz -130\n", PLAN_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting s = everyday ();
  SpOutlook before = sp_plan_harmonic (plan, &s, 2);
  sp_plan_measured (plan, 2, 2 * F0, &s, before.noise_dbm);
  ck_assert_double_eq_tol (sp_plan_harmonic (plan, &s, 2).noise_dbm, before.noise_dbm, 1e-9);
  sp_plan_measured (plan, 2, 2 * F0, &s, before.noise_dbm + 7);
  ck_assert_double_eq_tol (sp_plan_harmonic (plan, &s, 2).noise_dbm, before.noise_dbm + 7, 1e-9);
  SpSetting less = s;
  less.attenuation_db -= 10;
  double fall = before.noise_dbm + 7 - sp_plan_harmonic (plan, &less, 2).noise_dbm;
  ck_assert_double_lt (fall, 10); /* what phase noise makes of it does not follow */
  ck_assert_double_gt (fall, 5);
  sp_plan_measured (plan, 2, 2 * F0, &s, NAN);
  ck_assert_double_eq_tol (sp_plan_harmonic (plan, &s, 2).noise_dbm, before.noise_dbm, 1e-9);
  sp_plan_measured (plan, 2, 2 * F0, &s, before.phase_noise_dbm - 3); /* quieter than the profile's phase noise: that is too high then */
  ck_assert_double_eq_tol (sp_plan_harmonic (plan, &s, 2).noise_dbm, before.phase_noise_dbm - 3, 0.05);
  plan_shop_close (&shop);
}
END_TEST

/* The cheap look before the dear one never turns away what the dear one would take. */
START_TEST (test_nothing_that_proves_is_cut_off)
{
  static const struct {
    SpDetector detector;
    SpAverage average;
    double averages;
  } way[] = {
    { SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 10 },  { SP_DETECTOR_SAMPLE, SP_AVERAGE_VOLTAGE, 4 }, { SP_DETECTOR_AVERAGE, SP_AVERAGE_LOG, 1 },
    { SP_DETECTOR_UNKNOWN, SP_AVERAGE_NONE, 1 }, { SP_DETECTOR_NORMAL, SP_AVERAGE_NONE, 1 },    { SP_DETECTOR_PEAK, SP_AVERAGE_LOG, 10 },
  };
  Shop shop = plan_shop (PLAN_MEANS, PLAN_MASK);
  SpSetting s = everyday ();
  s.detector = way[_i].detector;
  s.average = way[_i].average;
  s.averages = way[_i].averages;
  s.points = 20001;
  guint proved = 0;
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpPlanLine *p = sp_plan_line (plan, 2, 2 * F0);
  for (s.attenuation_db = 10; s.attenuation_db <= 50; s.attenuation_db += 0.5) {
    SpOutlook o = sp_plan_outlook (plan, &s, p, sp_plan_points (plan, &s, 2));
    gboolean proves = sp_outlook_proves (plan, &s, &o);
    ck_assert (!proves || sp_plan_may_prove (plan, &s, p));
    proved += proves;
  }
  ck_assert_uint_ge (proved, 5); /* both sides of the edge were tried */
  ck_assert_uint_le (proved, 75);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_a_pad_at_hand_saves_a_mixer_without_steps)
{
  static const SpPad pads[] = { { 3, 1 }, { 10, 1 }, { 20, 1 } };
  Shop shop = plan_shop (
      "second_intercept_dbm=30\nbest_mixer_dbm=-30\nattenuator_steps_db=10\nrbw_steps=1kHz;10kHz;100kHz\npoints_max=1001\n", PLAN_MASK);
  SpSetting s = everyday (), found;
  s.attenuation_db = 10;
  s.rbw_hz = 1e3;
  g_autoptr (SpPlan) without = sp_plan_new (&shop.task);
  g_autoptr (SpReason) notch = sp_plan_prove (without, &s, 3, 3 * F0, &found);
  ck_assert_int_eq (notch->code, SP_REASON_PROVE_NOTCH); /* the mixer gets 7 dB too much */
  shop.task.pads = pads;
  shop.task.n_pads = G_N_ELEMENTS (pads);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  g_autoptr (SpReason) pad = sp_plan_prove (plan, &s, 3, 3 * F0, &found);
  ck_assert_int_eq (pad->code, SP_REASON_PROVE_SETTING);
  ck_assert_double_ge (found.pad_db, 10);
  ck_assert_double_eq (pad->PROVE_SETTING.pad_db, found.pad_db);
  ck_assert_int_eq (sp_plan_unsafe (plan, &found), SP_UNSAFE_NOT);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_a_pad_that_would_burn_is_never_advised)
{
  static const SpPad pads[] = { { 3, 6e-4 }, { 10, 6e-4 }, { 20, 6e-4 } };
  Shop shop = plan_shop (
      "second_intercept_dbm=30\nbest_mixer_dbm=-30\nattenuator_steps_db=10\nrbw_steps=1kHz;10kHz;100kHz\npoints_max=1001\n", PLAN_MASK);
  SpSetting s = everyday (), found;
  s.attenuation_db = 10;
  s.rbw_hz = 1e3;
  shop.task.pads = pads;
  shop.task.n_pads = G_N_ELEMENTS (pads);
  static const struct {
    double power_w, duty;
    SpReasonCode want;
  } rows[] = {
    /* 40 dB before them */
    { 5, 1, SP_REASON_PROVE_SETTING },  /* half a milliwatt */
    { 7, 1, SP_REASON_PROVE_NOTCH },    /* too much */
    { 7, 0.5, SP_REASON_PROVE_SETTING } /* not while it is keyed half the time */
  };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    shop.task.power_w = rows[i].power_w;
    shop.task.duty = rows[i].duty;
    g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
    g_autoptr (SpReason) reason = sp_plan_prove (plan, &s, 3, 3 * F0, &found);
    ck_assert_int_eq (reason->code, rows[i].want);
    ck_assert_int_eq (found.pad_db > 0, rows[i].want == SP_REASON_PROVE_SETTING);
  }
  plan_shop_close (&shop);
}
END_TEST

/* The upper end of what a step test showed outranks the profile, and moves as its order does. */
START_TEST (test_what_the_steps_showed_counts)
{
  Shop shop = plan_shop (PLAN_INTERCEPTS PLAN_MEANS, PLAN_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting s = everyday (), more = s, notched = s;
  SpOutlook before = sp_plan_harmonic (plan, &s, 2);
  more.attenuation_db += 10;
  notched.notch_db = 5;
  notched.notch_loss_db = 1;
  sp_plan_measured_product (plan, 2, 2 * F0, &s, 2, before.product_high_dbm + 15);
  ck_assert_double_eq_tol (sp_plan_harmonic (plan, &s, 2).product_high_dbm, before.product_high_dbm + 15, 1e-9);
  ck_assert_double_eq_tol (sp_plan_harmonic (plan, &more, 2).product_high_dbm, before.product_high_dbm + 5, 1e-9);
  ck_assert_double_eq_tol (sp_plan_harmonic (plan, &notched, 2).product_high_dbm, before.product_high_dbm + 15 - 10 + 1, 1e-9);
  sp_plan_measured_product (plan, 2, 2 * F0, &s, 0, before.product_high_dbm + 15); /* a residual rises */
  ck_assert_double_eq_tol (sp_plan_harmonic (plan, &more, 2).product_high_dbm, before.product_high_dbm + 25, 1e-9);
  sp_plan_measured_product (plan, 2, 2 * F0, &s, 2, before.product_high_dbm - 15);
  ck_assert_double_eq_tol (sp_plan_harmonic (plan, &s, 2).product_high_dbm, before.product_high_dbm, 1e-9);
  sp_plan_measured_product (plan, 2, 2 * F0, &s, 2, NAN);
  ck_assert_double_eq_tol (sp_plan_harmonic (plan, &s, 2).product_high_dbm, before.product_high_dbm, 1e-9);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_advice_knows_what_it_does_not_know)
{
  static const struct {
    const char *extra;
    guint unpredicted;
  } rows[] = { { PLAN_INTERCEPTS PLAN_MEANS, 0 }, { PLAN_MEANS, 4 }, { "second_intercept_dbm=40\n" PLAN_MEANS, 3 } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    Shop shop = plan_shop (rows[i].extra, PLAN_MASK);
    g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
    SpAdvice a = sp_plan_advise (plan);
    ck_assert (a.any && a.noise_known);
    ck_assert_uint_eq (a.unpredicted, rows[i].unpredicted);
    plan_shop_close (&shop);
  }
  Shop shop = plan_shop (PLAN_MEANS, PLAN_MASK);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpAnalyzer) deaf = sp_analyzer_set (shop.bench->analyzer, "danl_dbm_hz", NULL, &error);
  sp_no_error (error);
  shop.task.analyzer = deaf;
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  ck_assert (!sp_plan_advise (plan).noise_known);
  plan_shop_close (&shop);
}
END_TEST

/* The floor's cause goes with what does not help, and an unsafe chain is said before any setting. */
START_TEST (test_where_nothing_helps_the_cause_is_named)
{
  Shop shop = plan_shop ("second_intercept_dbm=0\n" PLAN_MEANS, PLAN_MASK);
  shop.task.power_w = 100; /* the first pad takes 50 W */
  g_autoptr (SpPlan) hot = sp_plan_new (&shop.task);
  SpSetting s = everyday ();
  g_autoptr (SpReason) reason = sp_plan_prove (hot, &s, 2, 2 * F0, NULL);
  ck_assert_int_eq (reason->code, SP_REASON_PROVE_FLOOR);
  ck_assert_int_eq (reason->PROVE_FLOOR.cause, SP_CAUSE_PRODUCT);
  ck_assert (reason->PROVE_FLOOR.unsafe);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_settings_given_then_the_traces_then_the_advised)
{
  Shop shop = plan_shop (PLAN_INTERCEPTS PLAN_MEANS, PLAN_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  const SpTrace *elsewhere = shop.bench->conditions[0].sweeps[0].trace; /* 1 to 2 MHz: does not hold f0 */
  SpAdvice advice = sp_plan_advise (plan);
  SpSetting none = sp_plan_setting (plan, NULL, NAN, NAN), given = sp_plan_setting (plan, NULL, 3e3, 30),
            trace = sp_plan_setting (plan, elsewhere, NAN, 5);
  ck_assert_double_eq (none.rbw_hz, advice.setting.rbw_hz);
  ck_assert_double_eq (none.attenuation_db, advice.setting.attenuation_db);
  ck_assert_double_eq (given.rbw_hz, 3e3);
  ck_assert_double_eq (given.attenuation_db, 30);
  ck_assert_double_eq (trace.rbw_hz, 100e3);
  ck_assert_double_eq (trace.attenuation_db, 5);
  ck_assert (trace.start_hz < F0 && trace.stop_hz > 5 * F0);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_settled_is_without_the_reserve)
{
  Shop shop = plan_shop (PLAN_MEANS, PLAN_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting s = everyday ();
  for (s.attenuation_db = 0; s.attenuation_db < 60; s.attenuation_db += 0.25) {
    SpOutlook o = sp_plan_harmonic (plan, &s, 2);
    ck_assert_int_eq (sp_plan_settled (plan, &s, 2, 2 * F0), o.missing_db <= 0);
    if (sp_plan_unsafe (plan, &s) == SP_UNSAFE_NOT)
      ck_assert_int_eq (sp_plan_proves (plan, &s, 2, 2 * F0), o.missing_db + SP_PROVE_RESERVE_DB <= 0);
  }
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_few_points_are_swept_in_parts)
{
  /* a search range asks for points within the RBW beside the carrier */
  static const char search[] = "[mask]\nname=W\nharmonics=3\nsearch=140MHz 450MHz\n[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 inf\n"
                               "emission=30MHz 3GHz\nattenuation_db=55\n";
  Shop shop = plan_shop (PLAN_INTERCEPTS PLAN_MEANS, search);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpAdvice a = sp_plan_advise (plan);
  ck_assert (a.any && a.proves);
  ck_assert_double_gt (a.setting.parts, 1);
  ck_assert_double_le (a.setting.parts, SP_PARTS_MOST);
  ck_assert_double_le (sp_setting_spacing_hz (&a.setting), a.setting.rbw_hz / 2 * (1 + 1e-9));
  ck_assert_double_le (a.setting.start_hz, 140e6);
  ck_assert_double_ge (a.setting.stop_hz, 450e6);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_range_has_its_best_point_where_noise_meets_product)
{
  Shop shop = plan_shop (PLAN_INTERCEPTS PLAN_MEANS, PLAN_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting s = everyday ();
  g_autoptr (SpRange) range = sp_plan_range (plan, &s, -80, 0, 81);
  ck_assert_uint_eq (range->n_curves, 4);
  for (guint k = 0; k < range->n_curves; k++) {
    const SpRangeCurve *c = &range->curves[k];
    for (guint i = 0; i < range->n; i++) {
      ck_assert_double_ge (c->floor_dbc[i], c->best_floor_dbc - 1e-9);
      if (i) {
        ck_assert_double_eq_tol (c->noise_dbc[i] - c->noise_dbc[i - 1], -1, 1e-9);
        ck_assert_double_eq_tol (c->product_dbc[i] - c->product_dbc[i - 1], c->order - 1.0, 1e-9);
      }
    }
    SpSetting best = s; /* there the one rises as fast as the other falls: d/dx of the sum is 0 */
    best.attenuation_db = sp_plan_attenuation_db (plan, &s, c->best_mixer_dbm);
    SpOutlook o = sp_plan_harmonic (plan, &best, c->order);
    ck_assert_double_eq_tol (o.detection_dbm - o.product_high_dbm, 10 * log10 (c->order - 1.0), 1e-3);
    ck_assert_double_eq_tol (c->limit_dbc, -60, 1e-9);
  }
  ck_assert_double_eq_tol (range->today_mixer_dbm, 10 * log10 (5000) - 60, 1e-9);
  plan_shop_close (&shop);
}
END_TEST

/* Today's own attenuation is had, whatever a grid's last digit is; more at the mixer than at 0 dB is not. */
START_TEST (test_todays_point_can_be_had)
{
  Shop shop = plan_shop (PLAN_INTERCEPTS PLAN_MEANS, PLAN_MASK);
  for (guint k = 1; k < 40; k++) {
    shop.task.power_w = 0.37 * k;
    g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
    SpSetting s = everyday ();
    s.attenuation_db = 0;
    double today_dbm = sp_plan_mixer_dbm (plan, &s), from_dbm = today_dbm - 0.5 * floor ((today_dbm + 70) / 0.5);
    guint at = (guint) lround ((today_dbm - from_dbm) / 0.5);
    g_autoptr (SpRange) range = sp_plan_range (plan, &s, from_dbm, from_dbm + 80, 161);
    ck_assert_double_eq (sp_plan_attenuation_db (plan, &s, range->mixer_dbm[at]), 0);
    ck_assert_double_eq_tol (sp_plan_attenuation_db (plan, &s, range->mixer_dbm[at + 1]), -0.5, 1e-9);
  }
  plan_shop_close (&shop);
}
END_TEST

/* Without a recommended level and without a product the best is the level that is assumed; an intercept brings it below that. */
START_TEST (test_an_assumed_best_level_is_said)
{
  static const struct {
    const char *profile;
    gboolean assumed;
  } rows[] = { { "", TRUE }, { "best_mixer_dbm=-10\n", FALSE }, { PLAN_INTERCEPTS, FALSE } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    Shop shop = plan_shop (rows[i].profile, PLAN_MASK);
    g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
    SpSetting s = everyday ();
    gboolean assumed;
    double best_dbm = sp_plan_best_mixer_dbm (plan, &s, &assumed);
    ck_assert_int_eq (assumed, rows[i].assumed);
    ck_assert (i == 2 ? best_dbm < SP_MIXER_ASSUMED_DBM - 1 : fabs (best_dbm - SP_MIXER_ASSUMED_DBM) < 1e-6);
    g_autoptr (SpRange) range = sp_plan_range (plan, &s, -80, 0, 81);
    ck_assert_int_eq (range->safe_assumed, i != 1);
    plan_shop_close (&shop);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("plan");
  TCase *t = tcase_create ("plan");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, test_noise_follows_rbw_and_attenuation);
  tcase_add_test (t, test_todays_point_can_be_had);
  tcase_add_test (t, test_an_assumed_best_level_is_said);
  tcase_add_test (t, test_outlook_is_worked_out_by_hand);
  tcase_add_test (t, test_unknown_is_said_as_unknown);
  tcase_add_test (t, test_safe_is_what_mixer_and_input_take);
  tcase_add_test (t, test_what_would_prove_it_does);
  tcase_add_test (t, test_the_least_change_is_named);
  tcase_add_test (t, test_a_notch_is_named_where_nothing_else_helps);
  tcase_add_test (t, test_measured_noise_takes_the_profiles_place);
  tcase_add_loop_test (t, test_nothing_that_proves_is_cut_off, 0, 6);
  tcase_add_test (t, test_a_pad_at_hand_saves_a_mixer_without_steps);
  tcase_add_test (t, test_a_pad_that_would_burn_is_never_advised);
  tcase_add_test (t, test_what_the_steps_showed_counts);
  tcase_add_test (t, test_advice_knows_what_it_does_not_know);
  tcase_add_test (t, test_where_nothing_helps_the_cause_is_named);
  tcase_add_test (t, test_settings_given_then_the_traces_then_the_advised);
  tcase_add_test (t, test_settled_is_without_the_reserve);
  tcase_add_test (t, test_few_points_are_swept_in_parts);
  tcase_add_test (t, test_range_has_its_best_point_where_noise_meets_product);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
