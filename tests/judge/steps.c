/* What one step may say and what not, and what a coarse sweep that shows a line says: on benches made on the spot from a stated truth. */
#include "tests/judge/found.h"

#define SHEET(condition)                                                                                                                   \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\ntemperature_c=23\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\n"   \
  "radio_harmonic_vswr=1.0\n[radio Testling]\nfundamental=146.2MHz\n" condition "\n"
#define SECOND 292.4e6
#define STEP SHEET ("keyed=k.csv\nstep=a.csv 10")

/* 5 W through 40 dB: -3 dBm at the input, -23 dBm at the mixer. Limit -16.02 dBm at the socket: -56.02 at the input. */
static const Sweep clean = { 1e6, 801e6, 16001, 100e3, 20, "sample", -95, { { 146.2e6, -3.01 } }, 7 };

#define QUIET 100 /* seeds from here on: 25 dB less noise, so that readings are told apart by the attenuator's and the scale's u alone */

/* The same radio with its second harmonic, another attenuation, noise that rises with it. */
static void
put (const char *shop, const char *name, double more_db, double level_dbm, guint32 seed)
{
  Sweep w = clean;
  w.attenuation_db += more_db;
  w.noise_dbm += more_db + (seed >= QUIET ? -25 : 0);
  w.lines[1] = (Line){ SECOND, level_dbm };
  w.seed = seed;
  shop_put_sweep (shop, name, &w);
}

/* Truth: the radio's, -20 dBm in both sweeps, on an analyzer that makes 2 (-23) - I2 + 60 dBm of it at the socket: 56 to 86 dB below. Not a word of an
 * analyzer worse than its profile, and the part is what was read, by the readings' own u and the scatter of 25 dB over the noise. */
START_TEST (no_product_at_all_fits_both_readings)
{
  static const char *const profiles[] = { "second_intercept_dbm=90\n", "second_intercept_dbm=105\n", "second_intercept_dbm=120\n" };
  char *shop = shop_open ();
  for (guint32 seed = 1; seed <= 10; seed++) {
    put (shop, "k.csv", 0, -60, 2 * seed);
    put (shop, "a.csv", 10, -60, 2 * seed + 1);
    g_autoptr (SpFindings) f = shop_judge (shop, profiles[seed % 3], STEP);
    const SpEmission *e = harmonic (f, 2);
    expect_origin (e, SP_ORIGIN_RADIO, SP_BASIS_STEP, SP_VERDICT_COMPLIES);
    ck_assert_ptr_null (warning (f, SP_REASON_WORSE_THAN_PROFILE));
    ck_assert_ptr_null (warning (f, SP_REASON_STEPS_CONTRADICT));
    const SpEvidencePoint *p = e->evidence->points;
    double u = 1 / hypot (1 / p[0].u_db, 1 / p[1].u_db); /* of the weighted mean */
    ck_assert_double_eq_tol (e->radio_high_dbm - e->radio_low_dbm, 4 * u,
                             0.03); /* Student's aside 2 u either side, and the bins' 0.05 dB */
    ck_assert (e->evidence->analyzer_high_dbm <= e->product_high_dbm && isinf (e->evidence->analyzer_dbm));
  }
  shop_close (shop);
}
END_TEST

/* Truth: the mixer is 60 dB worse than its papers say, and makes -6 dBm of what is read: it falls by the step. Or both have a part in it. */
START_TEST (a_product_beyond_the_profile_is_claimed)
{
  static const double after[] = { -56, -49.5 };
  char *shop = shop_open ();
  for (guint i = 0; i < G_N_ELEMENTS (after); i++) {
    put (shop, "k.csv", 0, -46, 5);
    put (shop, "a.csv", 10, after[i], 6);
    g_autoptr (SpFindings) f = shop_judge (shop, "second_intercept_dbm=90\n", STEP);
    const SpReason *worse = warning (f, SP_REASON_WORSE_THAN_PROFILE);
    ck_assert_ptr_nonnull (worse);
    ck_assert_double_gt (worse->WORSE_THAN_PROFILE.product_dbm, -20);
    ck_assert_int_ne (harmonic (f, 2)->origin, SP_ORIGIN_RADIO);
  }
  shop_close (shop);
}
END_TEST

/* Truth: radio r = -14.5 dBm (1.5 dB over the limit), product 3.6 dB more, in opposition: both read about -20 dBm. With the second step it is plain. */
START_TEST (one_step_near_cancellation_asks_for_a_second)
{
  char *shop = shop_open ();
  double level[3];
  for (int k = 0; k < 3; k++) {
    double r = pow (10, -14.5 / 20), q = pow (10, (-10.9 - 5 * k) / 20); /* steps of 0, 5, 10 dB */
    level[k] = 20 * log10 (fabs (r - q)) - 40;
  }
  put (shop, "k.csv", 0, level[0], QUIET);
  put (shop, "a.csv", 10, level[2], QUIET + 1);
  put (shop, "b.csv", 5, level[1], QUIET + 2);
  const char *profile = "second_intercept_dbm=24.9\n"; /* 2 (-23) - 24.9 + 60 = -10.9 dBm */
  g_autoptr (SpFindings) one = shop_judge (shop, profile, STEP);
  const SpEmission *e = harmonic (one, 2);
  ck_assert_double_lt (e->level_dbm, -19); /* 3 dB and more under the limit, at either setting */
  ck_assert_double_lt (e->evidence->points[1].level_dbm, -19);
  ck_assert (e->evidence->may_cancel);
  expect_origin (e, SP_ORIGIN_MIXED, SP_BASIS_STEP, SP_VERDICT_NOT_PROVEN);
  ck_assert (e->radio_low_dbm < -14.5 && e->radio_high_dbm > -14.5);
  ck_assert_int_eq (e->would_prove->code, SP_REASON_PROVE_STEP);
  g_autoptr (SpFindings) two = shop_judge (shop, profile, SHEET ("keyed=k.csv\nstep=a.csv 10; b.csv 5"));
  e = harmonic (two, 2);
  ck_assert (!e->evidence->may_cancel && e->verdict != SP_VERDICT_COMPLIES);
  ck_assert (e->radio_low_dbm < -14.5 && e->radio_high_dbm > -14.5);
  /* An analyzer whose product lies far below what is read: one step settles it. */
  put (shop, "a.csv", 10, level[0], QUIET + 3);
  g_autoptr (SpFindings) sound = shop_judge (shop, "second_intercept_dbm=60\n", STEP);
  expect_origin (harmonic (sound, 2), SP_ORIGIN_RADIO, SP_BASIS_STEP, SP_VERDICT_COMPLIES);
  shop_close (shop);
}
END_TEST

/* ---- a line seen between points too far apart ---- */

/* Points 1 MHz apart at an RBW of 100 kHz: the harmonic happens to stand on one. A meter gives P, so the profile says whose it is. */
static const SpEmission *
coarse (const char *shop, double level_dbm, const char *rule, SpFindings **found)
{
  Sweep near = { 141.2e6, 151.2e6, 201, 100e3, 20, "sample", -95, { { 146.2e6, -3.01 } }, 7 };
  Sweep w = { 100.4e6, 800.4e6, 701, 100e3, 20, "sample", -95, { { 146.2e6, -3.01 }, { SECOND, level_dbm - 40 } }, 8 };
  g_autofree char *sheet
      = g_strdup_printf ("[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\ntemperature_c=23\nrule=%s\n"
                         "necessary_bandwidth=16kHz\nradio_vswr=1.0\nradio_harmonic_vswr=1.0\n[radio Testling]\n"
                         "fundamental=146.2MHz\nmeter_dbm=37\nmeter_u_db=0.1\nkeyed=near.csv; k.csv\n",
                         rule);
  shop_put_sweep (shop, "near.csv", &near);
  shop_put_sweep (shop, "k.csv", &w);
  *found = shop_judge (shop, SHOP_INTERCEPTS, sheet);
  return harmonic (*found, 2);
}

/* It only ever reads low. */
START_TEST (a_line_between_coarse_points)
{
  static const struct {
    double level_dbm;
    SpVerdict verdict;
    SpReasonCode why;
  } cases[] = {
    { -6, SP_VERDICT_EXCEEDS, SP_REASON_ABOVE_LIMIT },        /* 10 dB over: it stands as high or higher */
    { -15.8, SP_VERDICT_NOT_PROVEN, SP_REASON_UNDERSAMPLED }, /* over, but within U without what sampling may have lost */
    { -26, SP_VERDICT_NOT_PROVEN, SP_REASON_UNDERSAMPLED },   /* 10 dB below: it may stand far higher */
  };
  char *shop = shop_open ();
  for (guint i = 0; i < 2 * G_N_ELEMENTS (cases); i++) {
    g_autoptr (SpFindings) f = NULL;
    gboolean simple = i >= G_N_ELEMENTS (cases);
    guint k = i % G_N_ELEMENTS (cases);
    const SpEmission *e = coarse (shop, cases[k].level_dbm, simple ? "simple" : "guarded", &f);
    ck_assert (e->detected && e->sampling_loss_db > SP_BLIND_LOSS_DB);
    if (simple && k == 1) { /* over by the level itself */
      expect (e, SP_VERDICT_NOT_PROVEN, SP_REASON_UNDERSAMPLED);
      continue;
    }
    expect (e, cases[k].verdict, cases[k].why);
    if (e->verdict == SP_VERDICT_EXCEEDS) {
      ck_assert_double_lt (e->reason->ABOVE_LIMIT.expanded_db, 1.5); /* the U that is told */
      ck_assert_double_lt (e->conformity, 1e-6);
      ck_assert_double_gt (e->budget.expanded_margin_db, 20);
    } else {
      ck_assert_int_ne (e->would_prove->code, SP_REASON_PROVE_UNCERTAINTY);
    }
  }
  shop_close (shop);
}
END_TEST

/* The two U of the margin differ by the level's sampling alone, and P's stays in both. */
START_TEST (what_sampling_lost_only_lifts_the_level)
{
  SpBudgetReadings readings = { .noise_u_db = 0.3, .loss_db = 3 * sqrt (3), .carrier_loss_db = 0.6 * sqrt (3) };
  char *shop = shop_open ();
  g_autoptr (SpBench) bench = shop_bench (shop, "", SHEET (""));
  SpBudgetView view = { .chain = sp_condition_chain (bench, &bench->conditions[0]),
                        .analyzer = sp_condition_analyzer (bench, &bench->conditions[0]),
                        .temperature_c = 23,
                        .radio_vswr = 1,
                        .radio_harmonic_vswr = 1,
                        .fundamental_hz = 146.2e6 };
  for (int slope = 0; slope < 2; slope++) {
    SpBudget b;
    sp_budget (&view, SECOND, &readings, slope, &b);
    double whole = b.u_margin_db * b.u_margin_db, low = b.u_margin_low_db * b.u_margin_low_db;
    ck_assert_double_eq_tol (whole - low, 9, 1e-9);
    ck_assert_double_eq_tol (b.expanded_margin_low_db, b.k_margin_low * b.u_margin_low_db, 1e-12);
    g_free (b.terms);
    readings.loss_db = 0;
    sp_budget (&view, SECOND, &readings, slope, &b);
    ck_assert (b.expanded_margin_low_db == b.expanded_margin_db); /* to the last bit */
    g_free (b.terms);
    readings.loss_db = 3 * sqrt (3);
  }
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/steps");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 60);
  tcase_add_test (c, no_product_at_all_fits_both_readings);
  tcase_add_test (c, a_product_beyond_the_profile_is_claimed);
  tcase_add_test (c, one_step_near_cancellation_asks_for_a_second);
  tcase_add_test (c, a_line_between_coarse_points);
  tcase_add_test (c, what_sampling_lost_only_lifts_the_level);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
