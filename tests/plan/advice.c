/* advice.c - the advised sweep: nothing that cannot be had, no longer than the radio may be keyed, never one that judging could not use */
#include "tests/suite.h"

#include "core/plan/plan-private.h"
#include "tests/plan/shop.h"

#include "core/bench/edit/edit.h"

#define TOP_MASK(harmonics, last)                                                                                                          \
  "[mask]\nname=Top\nharmonics=" harmonics "\n[rule 1]\nfundamental=30MHz 500MHz\npower_w=0 inf\nemission=30MHz " last                     \
  "\nattenuation_db=60\n"
#define HIGH_F0 440e6

/* The chain is calibrated to 3 GHz: of 9 harmonics of 440 MHz those from the 7th on, 3.08 GHz, are not. The rest is planned as if it were alone. */
START_TEST (test_what_is_not_calibrated_is_set_apart)
{
  Shop nine = plan_shop (PLAN_INTERCEPTS PLAN_MEANS, TOP_MASK ("9", "6GHz")),
       six = plan_shop (PLAN_INTERCEPTS PLAN_MEANS, TOP_MASK ("6", "6GHz"));
  nine.task.fundamental_hz = six.task.fundamental_hz = HIGH_F0;
  nine.task.fundamental_half_hz = six.task.fundamental_half_hz = SP_STATED_RELATIVE * HIGH_F0;
  g_autoptr (SpPlan) plan = sp_plan_new (&nine.task), alone = sp_plan_new (&six.task);
  SpAdvice a = sp_plan_advise (plan), b = sp_plan_advise (alone);
  ck_assert (a.any && a.proves && b.any && b.proves);
  ck_assert_uint_eq (a.n_unprovable, 3);
  for (guint i = 0; i < 3; i++) {
    ck_assert_uint_eq (a.unprovable[i].order, 7 + i);
    ck_assert_int_eq (a.unprovable[i].obstacle, SP_OBSTACLE_CALIBRATION);
  }
  ck_assert_uint_eq (b.n_unprovable, 0);
  ck_assert_double_eq (a.setting.rbw_hz, b.setting.rbw_hz);
  ck_assert_double_eq (a.setting.attenuation_db, b.setting.attenuation_db);
  ck_assert_double_eq (a.setting.stop_hz, b.setting.stop_hz);
  ck_assert_double_eq (a.setting.parts, b.setting.parts);
  ck_assert_double_eq (a.keying.keyed_s, b.keying.keyed_s);
  ck_assert_double_eq (a.worst_missing_db, b.worst_missing_db);
  plan_shop_close (&nine);
  plan_shop_close (&six);
}
END_TEST

/* A second rule asks 20 dB more at the 5th alone, more than any sweep shows; the other three cost no more for it. */
START_TEST (test_a_limit_out_of_reach_is_set_apart)
{
  const char *mask = TOP_MASK ("5",
                               "3GHz") "[rule 2]\nfundamental=30MHz 500MHz\npower_w=0 inf\nemission=700MHz 800MHz\nattenuation_db=110\n";
  Shop shop = plan_shop (PLAN_MEANS, mask), easy = plan_shop (PLAN_MEANS, TOP_MASK ("5", "3GHz"));
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task), other = sp_plan_new (&easy.task);
  SpAdvice a = sp_plan_advise (plan), b = sp_plan_advise (other);
  ck_assert (a.proves && b.proves);
  ck_assert_uint_eq (a.n_unprovable, 1);
  ck_assert_uint_eq (a.unprovable[0].order, 5);
  ck_assert_int_eq (a.unprovable[0].obstacle, SP_OBSTACLE_NOISE);
  ck_assert_double_gt (a.unprovable[0].missing_db, -SP_PROVE_RESERVE_DB);
  ck_assert_double_eq (a.keying.keyed_s, b.keying.keyed_s);
  for (guint order = 2; order <= 4; order++)
    ck_assert (sp_plan_proves (plan, &a.setting, order, order * F0));
  plan_shop_close (&shop);
  plan_shop_close (&easy);
}
END_TEST

/* Limits that only hours of sweeping would prove: no part keeps the key down for longer than stated, nor more than 60 s where nothing is. */
START_TEST (test_no_part_is_longer_than_the_radio_may_be_keyed)
{
  static const double longest[] = { 0, 5, 30, 300 };
  static const char *const masks[] = {
    PLAN_MASK, "[mask]\nname=Deep\nharmonics=5\n[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 inf\nemission=30MHz 3GHz\nattenuation_db=75\n"
  };
  guint divided = 0;
  for (guint m = 0; m < G_N_ELEMENTS (masks); m++) {
    Shop shop = plan_shop (PLAN_MEANS, masks[m]);
    for (guint i = 0; i < G_N_ELEMENTS (longest); i++) {
      shop.task.longest_key_down_s = longest[i];
      g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
      double most = longest[i] > 0 ? longest[i] : 60;
      SpAdvice a = sp_plan_advise (plan);
      ck_assert (a.any);
      ck_assert_double_le (a.keying.key_down_s, most * (1 + 1e-9));
      ck_assert_double_eq (a.keying.longest_s, most);
      ck_assert_int_eq (a.keying.longest_assumed, longest[i] == 0);
      ck_assert_double_le (a.setting.parts, SP_PARTS_MOST);
      divided += a.setting.parts > 1;
      SpSetting today = everyday (), found;
      today.attenuation_db = 40;
      for (guint order = 2; order <= 5; order++) {
        g_autoptr (SpReason) reason = sp_plan_prove (plan, &today, order, order * F0, &found);
        if (!reason || reason->code != SP_REASON_PROVE_SETTING)
          continue;
        SpKeying k = sp_plan_keying (plan, &found);
        ck_assert_double_le (k.key_down_s, most * (1 + 1e-9));
        ck_assert_double_eq (reason->PROVE_SETTING.key_down_parts, k.parts);
        ck_assert_double_eq (reason->PROVE_SETTING.key_down_s, k.key_down_s);
        ck_assert_double_eq (reason->PROVE_SETTING.pause_s, k.pause_s);
        ck_assert_int_eq (reason->PROVE_SETTING.basis, k.basis);
      }
    }
    plan_shop_close (&shop);
  }
  ck_assert_uint_ge (divided, 1);
}
END_TEST

/* A carrier of 300 kHz: an RBW of 100 kHz, or 1001 points as far apart, cannot tell its harmonics from one another. */
START_TEST (test_a_sweep_that_cannot_tell_harmonics_apart_is_never_advised)
{
  Shop shop = plan_shop (
      "best_mixer_dbm=-20\nattenuator_steps_db=0;10;20;30;40\nrbw_steps=1kHz;3kHz;10kHz;30kHz;100kHz;300kHz\npoints_max=201\n",
      "[mask]\nname=Low\nharmonics=5\n[rule 1]\nfundamental=1kHz 225MHz\npower_w=0 inf\nemission=1kHz 3GHz\nattenuation_db=20\n");
  shop.task.fundamental_hz = 3e6; /* calibrated from 1 MHz */
  shop.task.fundamental_half_hz = SP_STATED_RELATIVE * 3e6;
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpAdvice a = sp_plan_advise (plan);
  ck_assert (a.any && a.proves);
  SpSetting wide = a.setting;
  for (guint order = 2; order <= 5; order++)
    ck_assert (sp_plan_harmonic (plan, &a.setting, order).resolved);
  wide.rbw_hz = 1e6;
  SpOutlook o = sp_plan_harmonic (plan, &wide, 2);
  ck_assert (!o.resolved && o.missing_db < -SP_PROVE_RESERVE_DB); /* by the floor alone it would do */
  ck_assert (!sp_plan_proves (plan, &wide, 2, 6e6) && !sp_plan_settled (plan, &wide, 2, 6e6));
  SpSetting found;
  g_autoptr (SpReason) reason = sp_plan_prove (plan, &wide, 2, 6e6, &found);
  ck_assert_int_eq (reason->code, SP_REASON_PROVE_SETTING);
  ck_assert (sp_plan_harmonic (plan, &found, 2).resolved);
  plan_shop_close (&shop);
}
END_TEST

/* The rule by hand, at f0 1 MHz with everything else exact: window 100 kHz, the carrier shows 300 kHz from its place, so 0.5 MHz off is free. */
START_TEST (test_the_rule_of_resolution_by_hand)
{
  guint other = 99;
  ck_assert (!sp_is_unresolved (2, 1e6, 100e3, 10e3, 0, 500e3, &other));
  ck_assert (sp_is_unresolved (2, 1e6, 250e3, 10e3, 0, 0, &other)); /* 250 + 750 kHz reach the carrier */
  ck_assert_uint_eq (other, 1);
  ck_assert (sp_is_unresolved (3, 1e6, 250e3, 10e3, 0, 0, &other)); /* here only the 4th */
  ck_assert_uint_eq (other, 4);
  ck_assert (!sp_is_unresolved (3, 1e6, 249e3, 10e3, 0, 0, &other));
  ck_assert (sp_is_unresolved (2, 1e6, 10e3, 10e3, 0, 1.99e6, &other));
  ck_assert_uint_eq (other, 0);
  ck_assert (sp_is_unresolved (5, 1e6, 10e3, 400e3, 30e3, 0, &other)); /* 400 + 150 + 400 + 180 kHz */
  ck_assert_uint_eq (other, 6);
}
END_TEST

/* Fewest settings: where 10 dB less attenuation proves it, nothing else is turned, however little time another way would take. */
START_TEST (test_one_knob_goes_before_many)
{
  Shop shop = plan_shop (PLAN_MEANS, PLAN_MASK);
  g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
  SpSetting s = everyday (), found;
  guint asked = 0;
  for (s.attenuation_db = 20; s.attenuation_db <= 40; s.attenuation_db += 10)
    for (guint order = 2; order <= 5; order++) {
      SpSetting less = s;
      less.attenuation_db -= 10;
      if (sp_plan_proves (plan, &s, order, order * F0) || !sp_plan_proves (plan, &less, order, order * F0))
        continue;
      g_autoptr (SpReason) reason = sp_plan_prove (plan, &s, order, order * F0, &found);
      const __typeof__ (reason->PROVE_SETTING) *now = &reason->PROVE_SETTING;
      ck_assert_double_eq (now->attenuation_db, found.attenuation_db);
      ck_assert (isnan (now->rbw_hz) && isnan (now->points) && isnan (now->averages) && isnan (now->parts) && isnan (now->pad_db));
      ck_assert (now->detector == SP_NO_WORD && now->average == SP_NO_WORD && !now->no_hold);
      asked++;
    }
  ck_assert_uint_ge (asked, 1);
  plan_shop_close (&shop);
}
END_TEST

/* The least attenuation that is advised, for a first sweep and for what would prove a harmonic after one at 20 dB. */
static double
least_advised_db (const SpTask *task)
{
  g_autoptr (SpPlan) plan = sp_plan_new (task);
  SpAdvice advice = sp_plan_advise (plan);
  double least_db = advice.any ? advice.setting.attenuation_db : INFINITY;
  for (guint order = 2; order <= 5; order++) {
    SpSetting today = everyday (), found = { .attenuation_db = NAN };
    g_autoptr (SpReason) reason = sp_plan_prove (plan, &today, order, order * F0, &found);
    if (reason && reason->code == SP_REASON_PROVE_SETTING)
      least_db = fmin (least_db, found.attenuation_db);
  }
  return least_db;
}

START_TEST (test_no_less_attenuation_where_no_damage_level_is_stated)
{
  Shop shop = plan_shop ("best_mixer_dbm=10\nattenuator_steps_db=0;10;20;30;40\nrbw_steps=10kHz;100kHz\npoints_max=1001\n",
                         "[mask]\nname=Low\nharmonics=5\n[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 inf\nemission=30MHz 3GHz\n"
                         "attenuation_db=95\n");
  ck_assert_double_lt (least_advised_db (&shop.task), 20);
  g_autoptr (SpAnalyzer) unrated = sp_analyzer_set (shop.bench->analyzer, "damage_dbm", NULL, NULL);
  ck_assert (unrated && isnan (unrated->damage_dbm));
  shop.task.analyzer = unrated;
  ck_assert_double_ge (least_advised_db (&shop.task), 20);
  plan_shop_close (&shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("advice");
  TCase *t = tcase_create ("advice");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, test_what_is_not_calibrated_is_set_apart);
  tcase_add_test (t, test_a_limit_out_of_reach_is_set_apart);
  tcase_add_test (t, test_no_part_is_longer_than_the_radio_may_be_keyed);
  tcase_add_test (t, test_a_sweep_that_cannot_tell_harmonics_apart_is_never_advised);
  tcase_add_test (t, test_the_rule_of_resolution_by_hand);
  tcase_add_test (t, test_one_knob_goes_before_many);
  tcase_add_test (t, test_no_less_attenuation_where_no_damage_level_is_stated);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
