/* close.c - the sweep that closes a gap: that it does, that none is cheaper, and what is said where there is none; and key-down times by hand */
#include "tests/suite.h"

#include "core/plan/plan-private.h"
#include "tests/plan/shop.h"

#define SEARCH_MASK                                                                                                                        \
  "[mask]\nname=Test limit\nharmonics=5\nsearch=9kHz 3GHz\n[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 inf\nemission=1kHz "              \
  "3GHz\nattenuation_db=60\n"
#define OWN_HZ 40e3 /* 2.5 times the necessary bandwidth of 16 kHz */

/* By the public outlook at 2001 places, and the zones as mask.h and analyzer.h have them. */
static gboolean
closes (SpPlan *plan, const SpSetting *s, double from_hz, double to_hz)
{
  double nearest = from_hz > F0 ? from_hz - F0 : to_hz < F0 ? F0 - to_hz : OWN_HZ;
  nearest = fmax (nearest, OWN_HZ);
  if (3 * s->rbw_hz > nearest * (1 + 1e-6) || 5 * s->rbw_hz > from_hz * (1 + 1e-6) || s->start_hz > from_hz || s->stop_hz < to_hz)
    return FALSE;
  if (sp_plan_unsafe (plan, s) != SP_UNSAFE_NOT || sp_plan_keying (plan, s).too_long || s->parts > SP_PARTS_MOST)
    return FALSE;
  if (sp_setting_spacing_hz (s) > nearest) /* the carrier's own bucket reaches into it */
    return FALSE;
  if (s->detector != SP_DETECTOR_PEAK && sp_setting_spacing_hz (s) > s->rbw_hz)
    return FALSE;
  for (guint i = 0; i <= 2000; i++) {
    double f = from_hz + (to_hz - from_hz) * i / 2000;
    if (fabs (f - F0) <= OWN_HZ)
      continue;
    SpOutlook o = sp_plan_spur (plan, s, f);
    if (!(o.floor_dbm + o.expanded_db + SP_PROVE_RESERVE_DB <= o.limit_dbm + 1e-6) || !o.calibrated)
      return FALSE;
  }
  return TRUE;
}

static const struct {
  double from_hz, to_hz;
} gaps[] = {
  { F0 - 300e3, F0 - OWN_HZ },
  { F0 + OWN_HZ, F0 + 300e3 },
  { F0 - 300e3, F0 + 300e3 },
  { F0 + 300e3, F0 + 500e3 },
  { 1e6, 1.4e6 },
  { 30e6, 60e6 },
  { 200e6, 290e6 },
  { F0 + 1e6, 1e9 },
};

START_TEST (test_what_is_found_closes_the_gap_and_none_is_cheaper)
{
  Shop shop = plan_shop (PLAN_MEANS "phase_noise_dbc_hz=10kHz -115; 1MHz -135\n", SEARCH_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  double from = gaps[_i].from_hz, to = gaps[_i].to_hz;
  SpSetting found;
  g_autoptr (SpReason) why = NULL;
  ck_assert (sp_plan_close (plan, NULL, from, to, NAN, &found, &why));
  ck_assert_int_eq (why->code, SP_REASON_PROVE_SPAN);
  ck_assert (closes (plan, &found, from, to));
  SpKeying keying = sp_plan_keying (plan, &found);
  ck_assert (why->PROVE_SPAN.from_hz == found.start_hz && why->PROVE_SPAN.to_hz == found.stop_hz && why->PROVE_SPAN.rbw_hz == found.rbw_hz);
  ck_assert (why->PROVE_SPAN.points == found.points && why->PROVE_SPAN.parts == found.parts && why->PROVE_SPAN.averages == found.averages);
  ck_assert_double_eq (why->PROVE_SPAN.attenuation_db, found.attenuation_db);
  ck_assert_double_eq (why->PROVE_SPAN.key_down_s, keying.key_down_s);
  SpSettingChoices means = sp_plan_setting_choices (plan, NULL);
  for (guint i = 0; i < means.n_rbws; i++)
    for (guint j = 0; j < means.n_attenuations; j++)
      for (guint way = 1; way < SP_WAYS; way++) {
        SpSetting s = { .rbw_hz = means.rbws_hz[i],
                        .attenuation_db = means.attenuations_db[j],
                        .parts = 1,
                        .points = means.points,
                        .start_hz = found.start_hz,
                        .stop_hz = found.stop_hz,
                        .averages = 1 };
        if (sp_setting_choice (&means, way, &s)
            && sp_plan_effort_s (plan, &s) < 0.99 * sp_plan_effort_s (plan, &found)) /* the span begins at five RBW */
          ck_assert (!closes (plan, &s, from, to));
      }
  plan_shop_close (&shop);
}
END_TEST

static const struct {
  const char *analyzer, *mask;
  double from_hz, to_hz, longest_s;
  SpReasonCode code;
  const char *why;
} none[] = {
  { "phase_noise_dbc_hz=10kHz -75; 1MHz -75\n", SEARCH_MASK, F0 + OWN_HZ, F0 + 300e3, 60, SP_REASON_PROVE_SPAN_NOT, "phase noise" },
  { "phase_noise_dbc_hz=10kHz -75; 1MHz -75\n", SEARCH_MASK, F0 + 10e6, F0 + 20e6, 60, SP_REASON_PROVE_SPAN, NULL }, /* with a notch */
  { "rbw_steps=100kHz\n", SEARCH_MASK, F0 + OWN_HZ, F0 + 400e3, 60, SP_REASON_PROVE_SPAN_NOT, "skirt" },
  { "rbw_steps=300kHz\n", SEARCH_MASK, 1.2e6, 1.4e6, 60, SP_REASON_PROVE_SPAN_NOT, "zero hertz" },
  { "", SEARCH_MASK, F0 + OWN_HZ, F0 + 300e3, 1e-6, SP_REASON_PROVE_SPAN_NOT, "time" },
  { "", SEARCH_MASK, 500e3, 1.4e6, 60, SP_REASON_PROVE_CALIBRATION, NULL },
};

START_TEST (test_what_stands_in_the_way_is_said)
{
  g_autofree char *means = strstr (none[_i].analyzer, "rbw_steps") ? g_strdup ("attenuator_steps_db=0;10;20;30;40\npoints_max=1001\n")
                                                                   : g_strdup (PLAN_MEANS);
  g_autofree char *analyzer = g_strconcat (means, none[_i].analyzer, NULL);
  Shop shop = plan_shop (analyzer, none[_i].mask);
  shop.task.longest_key_down_s = none[_i].longest_s;
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting found = { 0 };
  g_autoptr (SpReason) why = NULL;
  gboolean any = sp_plan_close (plan, NULL, none[_i].from_hz, none[_i].to_hz, NAN, &found, &why);
  ck_assert_ptr_nonnull (why);
  ck_assert_str_eq (sp_reason_name (why->code), sp_reason_name (none[_i].code));
  ck_assert_int_eq (any, none[_i].code == SP_REASON_PROVE_SPAN);
  if (none[_i].why)
    ck_assert_str_eq (sp_obstacle_name (why->PROVE_SPAN_NOT.obstacle), none[_i].why);
  if (any)
    ck_assert_double_ge (found.notch_db, 1);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_a_range_without_a_limit_needs_nothing)
{
  Shop shop = plan_shop (PLAN_MEANS, PLAN_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpReason *why = NULL;
  ck_assert (!sp_plan_close (plan, NULL, 9e3, 20e6, NAN, NULL, &why));
  ck_assert_ptr_null (why);
  ck_assert (!sp_plan_close (plan, NULL, F0 - 30e3, F0 + 30e3, NAN, NULL, &why)); /* the fundamental's own */
  ck_assert_ptr_null (why);
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_a_stricter_limit_costs_more)
{
  Shop shop = plan_shop (PLAN_MEANS, SEARCH_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  double before = 0;
  for (double limit = 0; limit > -60; limit -= 5) {
    SpSetting found;
    if (!sp_plan_close (plan, NULL, 200e6, 400e6, limit, &found, NULL) || found.notch_db > 0)
      break;
    double effort = sp_plan_effort_s (plan, &found);
    ck_assert_double_ge (effort, before);
    before = effort;
  }
  ck_assert_double_gt (before, 1);
  plan_shop_close (&shop);
}
END_TEST

/* Hand-worked: 700 MHz at 100 kHz. */
START_TEST (test_key_down_by_hand)
{
  Shop shop = plan_shop (PLAN_MEANS, PLAN_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting s = everyday ();
  SpKeying k = sp_plan_keying (plan, &s);
  ck_assert_double_eq_tol (k.key_down_s, 0.175, 1e-12); /* 2.5 * 700e6 / 1e10 */
  ck_assert_int_eq (k.basis, SP_TIME_ASSUMED);
  ck_assert (k.longest_assumed && !k.too_long && k.longest_s == 60 && k.pause_s == 0);
  s.rbw_hz = 3e3;
  k = sp_plan_keying (plan, &s);
  ck_assert_double_eq_tol (k.key_down_s, 194.4444444, 1e-6); /* 2.5 * 700e6 / 9e6 */
  ck_assert (k.too_long);
  s.parts = 4;
  k = sp_plan_keying (plan, &s);
  ck_assert_double_eq_tol (k.key_down_s, 48.6111111, 1e-6);
  ck_assert_double_eq_tol (k.keyed_s, 194.4444444, 1e-6);
  ck_assert (!k.too_long);
  ck_assert_double_eq_tol (k.pause_s, 48.6111111, 1e-6); /* over 60 s in all: as long up as down */
  ck_assert_double_eq_tol (k.total_s, 194.4444444 + 3 * 48.6111111, 1e-6);
  s.averages = 10;
  ck_assert_double_eq_tol (sp_plan_keying (plan, &s).key_down_s, 486.111111, 1e-5);
  plan_shop_close (&shop);
}
END_TEST

/* The first pad takes 50 W; 40 W keyed all the time, half of the rating on average: up for 40/25 - 1 = 0.6 of the time down. */
START_TEST (test_a_pad_near_its_rating_gets_a_pause)
{
  Shop shop = plan_shop (PLAN_MEANS, PLAN_MASK);
  SpSetting s = everyday ();
  s.rbw_hz = 10e3;
  s.parts = 4; /* 17.5 s in all */
  static const struct {
    double power_w, duty, pause_s;
  } rows[] = { { 40, 1, 0.6 * 4.375 }, { 40, 0.5, 0 }, { 20, 1, 0 }, { 50, 1, 4.375 } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) {
    shop.task.power_w = rows[i].power_w;
    shop.task.duty = rows[i].duty;
    g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
    SpKeying k = sp_plan_keying (plan, &s);
    ck_assert_double_eq_tol (k.key_down_s, 4.375, 1e-9);
    ck_assert_double_eq_tol (k.pause_s, rows[i].pause_s, 1e-9);
  }
  plan_shop_close (&shop);
}
END_TEST

START_TEST (test_the_profile_outranks_the_sweep_and_that_common_practice)
{
  Shop assumed = plan_shop (PLAN_MEANS, PLAN_MASK), stated = plan_shop (PLAN_MEANS "sweep_s=10kHz 1GHz 20; 100kHz 1GHz 0.2\n", PLAN_MASK);
  SpSetting s = everyday ();
  s.rbw_hz = 10e3;
  assumed.task.swept_s = stated.task.swept_s = 3;
  assumed.task.swept_span_hz = stated.task.swept_span_hz = 100e6;
  assumed.task.swept_rbw_hz = stated.task.swept_rbw_hz = 30e3;
  g_autoptr (SpPlan) by_sweep = sp_plan_new (&assumed.task), by_profile = sp_plan_new (&stated.task);
  SpKeying k = sp_plan_keying (by_sweep, &s);
  ck_assert_int_eq (k.basis, SP_TIME_SWEEP);
  ck_assert_double_eq_tol (k.key_down_s, 3.0 * 7 * 9, 1e-9); /* seven times the span, a third of the RBW */
  k = sp_plan_keying (by_profile, &s);
  ck_assert_int_eq (k.basis, SP_TIME_PROFILE);
  ck_assert_double_eq_tol (k.key_down_s, 14, 1e-9); /* 0.7 GHz of 20 s a GHz */
  static const struct {
    double rbw_hz, seconds;
  } rows[] = { { 31622.7766, 1.4 }, { 100e3, 0.14 }, { 1e6, 0.14 }, { 1e3, 1400 } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++) { /* between straight in the logarithms; above held; below 1/RBW^2 */
    s.rbw_hz = rows[i].rbw_hz;
    ck_assert_double_eq_tol (sp_plan_keying (by_profile, &s).key_down_s, rows[i].seconds, 1e-6 * rows[i].seconds);
  }
  plan_shop_close (&assumed);
  plan_shop_close (&stated);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("close");
  TCase *t = tcase_create ("close");
  tcase_add_loop_test (t, test_what_is_found_closes_the_gap_and_none_is_cheaper, 0, G_N_ELEMENTS (gaps));
  tcase_add_loop_test (t, test_what_stands_in_the_way_is_said, 0, G_N_ELEMENTS (none));
  tcase_add_test (t, test_a_range_without_a_limit_needs_nothing);
  tcase_add_test (t, test_a_stricter_limit_costs_more);
  tcase_add_test (t, test_key_down_by_hand);
  tcase_add_test (t, test_a_pad_near_its_rating_gets_a_pause);
  tcase_add_test (t, test_the_profile_outranks_the_sweep_and_that_common_practice);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
