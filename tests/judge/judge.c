/* Verdicts, reasons and margins of benches made on the spot, and judging as a pure function. */
#include "tests/judge/found.h"

#define SHEET(extra, condition)                                                                                                            \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\ntemperature_c=23\nnecessary_bandwidth=16kHz\nradio_vswr=1.0\n"   \
  "radio_harmonic_vswr=1.0\n" extra "\n[radio Testling]\nfundamental=146.2MHz\n" condition "\n"

/* 5 W through 40 dB: -3 dBm at the input; sampled well enough (s = B/2). */
static const Sweep clean = { 1e6, 1601e6, 32001, 100e3, 20, "sample", -90, { { 146.2e6, -3.01 } }, 7 };

static SpFindings *
judged (const char *shop, const Sweep *sweep, const char *analyzer, const char *sheet)
{
  shop_put_sweep (shop, "k.csv", sweep);
  return shop_judge (shop, analyzer, sheet);
}

START_TEST (clean_and_deep_complies)
{
  char *shop = shop_open ();
  g_autoptr (SpFindings) f = judged (shop, &clean, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  const SpConditionFindings *c = &f->conditions[0];
  ck_assert_int_eq (c->verdict, SP_VERDICT_NOT_PROVEN); /* beside the carrier an RBW of 100 kHz shows nothing */
  ck_assert_uint_eq (c->n_gaps, 2);
  ck_assert_double_eq_tol (c->gaps[0].from_hz, 146.2e6 - 300e3, 26e3);
  ck_assert_double_eq_tol (c->gaps[0].to_hz, 146.2e6 - 8e3, 1); /* half of 16 kHz is the fundamental's own */
  ck_assert_int_eq (c->gaps[1].why, SP_REASON_TOO_WIDE);
  ck_assert_uint_eq (c->n_emissions, 9);
  ck_assert_double_eq_tol (c->power_dbm, 36.99, 0.05);
  ck_assert_double_eq_tol (c->fundamental_hz, 146.2e6, 10e3);
  for (guint n = 2; n <= 10; n++) {
    const SpEmission *e = harmonic (f, n);
    ck_assert (!e->detected && e->swept && e->calibrated);
    expect (e, SP_VERDICT_COMPLIES, SP_REASON_FLOOR_BELOW_LIMIT);
    ck_assert_double_eq (e->level_dbm, e->floor_dbm);
    ck_assert_double_eq_tol (e->limit_dbm, -16.0206, 5e-5);
    /* noise -90 + 40 dB, five looks in the window: L_D about 12 dB, scalloping 0.75 dB */
    ck_assert_double_eq_tol (e->floor_dbm, -50 + 12.2 + 0.75, 1.0);
  }
  shop_close (shop);
}
END_TEST

START_TEST (spotless_screen_proves_nothing_above_the_limit)
{
  char *shop = shop_open ();
  Sweep deaf = clean;
  deaf.noise_dbm = -60; /* -20 dBm at the socket: nothing to be seen at -16 */
  g_autoptr (SpFindings) f = judged (shop, &deaf, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  ck_assert_int_eq (f->conditions[0].verdict, SP_VERDICT_NOT_PROVEN);
  const SpEmission *e = harmonic (f, 3);
  ck_assert (!e->detected);
  expect (e, SP_VERDICT_NOT_PROVEN, SP_REASON_FLOOR_ABOVE_LIMIT);
  ck_assert_double_lt (e->margin_db, 0);
  ck_assert_ptr_nonnull (e->would_prove);
  /* a setting whose floor lies below the limit by U and the reserve, by this sweep's own noise */
  ck_assert_int_eq (e->would_prove->code, SP_REASON_PROVE_SETTING);
  ck_assert_double_le (e->would_prove->PROVE_SETTING.floor_dbm + e->budget.expanded_margin_db + SP_PROVE_RESERVE_DB, e->limit_dbm);
  shop_close (shop);
}
END_TEST

START_TEST (own_harmonic_over_the_limit_exceeds)
{
  char *shop = shop_open ();
  Sweep dirty = clean;
  dirty.lines[1] = (Line){ 292.4e6, -46 }; /* -6 dBm at the socket, 10 over */
  g_autoptr (SpFindings) f = judged (shop, &dirty, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  const SpEmission *e = harmonic (f, 2);
  expect (e, SP_VERDICT_EXCEEDS, SP_REASON_ABOVE_LIMIT);
  ck_assert_int_eq (e->origin, SP_ORIGIN_RADIO);
  ck_assert_double_eq_tol (e->level_dbm, -6, 0.1);
  ck_assert_double_eq_tol (e->level_dbc, -43, 0.15);
  ck_assert_double_lt (e->conformity, 1e-6);
  ck_assert_int_eq (f->conditions[0].verdict, SP_VERDICT_EXCEEDS);
  ck_assert_double_eq (f->conditions[0].worst_margin_db, e->margin_db);
  shop_close (shop);
}
END_TEST

START_TEST (what_the_mixer_may_have_made_is_not_the_radios)
{
  char *shop = shop_open ();
  Sweep dirty = clean;
  dirty.lines[1] = (Line){ 292.4e6, -46 };
  /* Pm = -23 dBm, I2 = 2: q = -48 at the mixer, -28 at the input: 18 dB over what is seen */
  g_autoptr (SpFindings) f = judged (shop, &dirty, "second_intercept_dbm=2\n", SHEET ("", "keyed=k.csv"));
  const SpEmission *e = harmonic (f, 2);
  ck_assert_int_eq (e->origin, SP_ORIGIN_MIXED);
  ck_assert_int_eq (e->origin_basis, SP_BASIS_PREDICTED);
  expect (e, SP_VERDICT_NOT_PROVEN, SP_REASON_ANALYZER_POSSIBLE);
  ck_assert (isinf (e->radio_low_dbm));
  ck_assert (isnan (e->conformity));
  ck_assert_int_eq (harmonic (f, 2)->floor_cause, SP_CAUSE_PRODUCT);
  shop_close (shop);
}
END_TEST

START_TEST (untested_complies_as_it_stands_and_never_exceeds)
{
  char *shop = shop_open ();
  Sweep dirty = clean;
  dirty.lines[1] = (Line){ 292.4e6, -46 };
  dirty.lines[2] = (Line){ 438.6e6, -70 };
  g_autoptr (SpFindings) f = judged (shop, &dirty, "", SHEET ("", "keyed=k.csv"));
  expect (harmonic (f, 2), SP_VERDICT_NOT_PROVEN, SP_REASON_UNTESTED);
  expect (harmonic (f, 3), SP_VERDICT_COMPLIES, SP_REASON_BELOW_LIMIT);
  ck_assert (harmonic (f, 3)->detected);
  ck_assert_int_eq (harmonic (f, 3)->origin, SP_ORIGIN_UNTESTED);
  ck_assert (isnan (harmonic (f, 3)->radio_high_dbm));
  shop_close (shop);
}
END_TEST

START_TEST (not_swept_is_not_proven)
{
  char *shop = shop_open ();
  Sweep brief = clean;
  brief.stop_hz = 801e6;
  brief.points = 16001;
  g_autoptr (SpFindings) f = judged (shop, &brief, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  const SpEmission *e = harmonic (f, 6);
  expect (e, SP_VERDICT_NOT_PROVEN, SP_REASON_NOT_SWEPT);
  ck_assert (isnan (e->level_dbm) && isnan (e->floor_dbm) && isnan (e->margin_db) && isnan (e->budget.u_level_db));
  ck_assert_double_eq_tol (e->limit_dbm, -16.0206, 5e-5);
  ck_assert_uint_eq (f->conditions[0].n_gaps, 7); /* two beside the carrier, five harmonics */
  ck_assert_double_lt (f->conditions[0].gaps[2].from_hz, 6 * 146.2e6);
  shop_close (shop);
}
END_TEST

START_TEST (outside_calibration_never_complies)
{
  static const char short_chain[] = "[chain]\nname=Short\nstages=pad\n[stage pad]\nkind=pad\nrating_w=50\nvswr=1.0\n"
                                    "points=1MHz 40.0 0.05; 500MHz 40.0 0.05\n";
  char *shop = shop_open ();
  shop_put (shop, "short.chain", short_chain);
  Sweep dirty = clean;
  dirty.lines[1] = (Line){ 4 * 146.2e6, -54 };
  dirty.lines[2] = (Line){ 5 * 146.2e6, -30 };
  g_autoptr (SpFindings) f = judged (shop, &dirty, SHOP_INTERCEPTS, SHEET ("", "chain=short.chain\nkeyed=k.csv"));
  expect (harmonic (f, 3), SP_VERDICT_COMPLIES, SP_REASON_FLOOR_BELOW_LIMIT);
  expect (harmonic (f, 4), SP_VERDICT_NOT_PROVEN, SP_REASON_OUTSIDE_CALIBRATION); /* 2 dB over */
  expect (harmonic (f, 5), SP_VERDICT_EXCEEDS, SP_REASON_ABOVE_LIMIT);            /* 26 dB over */
  expect (harmonic (f, 6), SP_VERDICT_NOT_PROVEN, SP_REASON_OUTSIDE_CALIBRATION); /* deep floor, but of what? */
  ck_assert (!harmonic (f, 4)->calibrated && harmonic (f, 3)->calibrated);
  shop_close (shop);
}
END_TEST

static const char searching_mask[]
    = "[mask]\nname=House\nauthority=none\nclause=our own\nedition=2026\nsearch=30MHz 2GHz\nharmonics=3\nexclude=25\n"
      "[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 25\nemission=1MHz 3GHz\nceiling_dbm=-16\n";

START_TEST (a_search_range_wants_to_be_swept_whole)
{
  char *shop = shop_open ();
  shop_put (shop, "house.mask", searching_mask);
  g_autoptr (SpFindings) f = judged (shop, &clean, SHOP_INTERCEPTS, SHEET ("", "mask=house.mask\nkeyed=k.csv"));
  const SpConditionFindings *c = &f->conditions[0];
  ck_assert_uint_eq (c->n_emissions, 2);
  ck_assert_int_eq (harmonic (f, 2)->verdict, SP_VERDICT_COMPLIES);
  ck_assert_uint_eq (c->n_gaps, 1);
  ck_assert_int_eq (c->gaps[0].why, SP_REASON_NOT_SWEPT);
  ck_assert_double_eq_tol (c->gaps[0].from_hz, 1601e6, 1e5);
  ck_assert_double_eq (c->gaps[0].to_hz, 2e9);
  ck_assert_int_eq (c->verdict, SP_VERDICT_NOT_PROVEN);
  shop_close (shop);
}
END_TEST

START_TEST (a_search_range_seen_too_shallow_is_a_gap)
{
  char *shop = shop_open ();
  shop_put (shop, "house.mask", searching_mask);
  Sweep wide = clean, deaf = clean;
  wide.stop_hz = deaf.stop_hz = 2001e6;
  wide.points = deaf.points = 40001;
  deaf.noise_dbm = -66; /* -26 dBm at the socket: just short of a harmonic's window, 4 dB more for anywhere in the sweep */
  g_autoptr (SpFindings) deep = judged (shop, &wide, SHOP_INTERCEPTS, SHEET ("", "mask=house.mask\nkeyed=k.csv"));
  ck_assert_uint_eq (deep->conditions[0].n_gaps, 0);
  ck_assert_int_eq (deep->conditions[0].verdict, SP_VERDICT_COMPLIES);
  g_autoptr (SpFindings) f = judged (shop, &deaf, SHOP_INTERCEPTS, SHEET ("", "mask=house.mask\nkeyed=k.csv"));
  const SpConditionFindings *c = &f->conditions[0];
  ck_assert_uint_ge (c->n_gaps, 1);
  double blind = 0;
  for (guint i = 0; i < c->n_gaps; i++) {
    gboolean beside = fabs (c->gaps[i].from_hz - c->fundamental_hz) < 6e6 && fabs (c->gaps[i].to_hz - c->fundamental_hz) < 6e6;
    if (!beside) /* there more noise than the analyzer's own may be the radio's */
      ck_assert_int_eq (c->gaps[i].why, SP_REASON_FLOOR_ABOVE_LIMIT);
    blind += c->gaps[i].to_hz - c->gaps[i].from_hz;
  }
  ck_assert_double_gt (blind, 1.9e9);
  ck_assert_int_eq (c->verdict, SP_VERDICT_NOT_PROVEN);
  shop_close (shop);
}
END_TEST

START_TEST (repeats_show_the_worst_and_the_deepest_floor)
{
  char *shop = shop_open ();
  Sweep second = clean;
  second.seed = 9;
  second.noise_dbm = -95;
  second.lines[1] = (Line){ 292.4e6, -60 };
  shop_put_sweep (shop, "second.csv", &second);
  g_autoptr (SpFindings) f = judged (shop, &clean, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv;second.csv"));
  ck_assert_uint_eq (f->conditions[0].n_corrected, 2);
  ck_assert_int_eq (harmonic (f, 2)->sweep, 1); /* seen in one of them counts */
  ck_assert_double_eq_tol (harmonic (f, 2)->level_dbm, -20, 0.2);
  ck_assert_int_eq (harmonic (f, 4)->sweep, 1);
  ck_assert_double_lt (harmonic (f, 4)->floor_dbm, -40);
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_REPEATS));
  shop_close (shop);
}
END_TEST

START_TEST (what_stands_at_the_pointer_agrees_with_the_table)
{
  char *shop = shop_open ();
  Sweep dirty = clean;
  dirty.lines[1] = (Line){ 292.4e6, -46 };
  g_autoptr (SpFindings) f = judged (shop, &dirty, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  SpAt at = sp_findings_at (f, 0, harmonic (f, 2)->frequency_hz), nowhere = sp_findings_at (f, 0, 5e9),
       carrier = sp_findings_at (f, 0, 146.2e6);
  ck_assert_double_eq (at.order, 2);
  ck_assert_double_eq_tol (at.level_dbm, harmonic (f, 2)->level_dbm, 0.5);
  ck_assert_double_eq_tol (at.limit_dbm, -16.0206, 5e-5);
  ck_assert_double_eq_tol (at.loss_db, 40, 1e-9);
  ck_assert_double_eq_tol (at.expanded_db, 2 * harmonic (f, 2)->budget.u_margin_db,
                           0.02); /* the level's, without what the mixer adds to this one */
  ck_assert (!nowhere.swept && isnan (nowhere.level_dbm));
  ck_assert_double_eq (carrier.order, 1);
  ck_assert (isnan (carrier.limit_dbm));
  shop_close (shop);
}
END_TEST

/* The trace's own noise holds the phase noise: a pessimistic table far from the carrier hides nothing that stands clear. */
START_TEST (a_held_table_hides_nothing)
{
  char *shop = shop_open ();
  Sweep quiet = clean;
  quiet.noise_dbm = -100;
  quiet.lines[1] = (Line){ 292.4e6, -75 };
  g_autoptr (SpFindings) f = judged (shop, &quiet, SHOP_INTERCEPTS "phase_noise_dbc_hz=10kHz -95; 100kHz -110; 1MHz -125\n",
                                     SHEET ("", "keyed=k.csv"));
  ck_assert (harmonic (f, 2)->detected);
  ck_assert_double_eq_tol (harmonic (f, 2)->level_dbm, -35, 0.6);
  ck_assert_double_lt (harmonic (f, 4)->floor_dbm, -45);
  shop_close (shop);
}
END_TEST

/* Where the chain's loss at f0 is not known a meter still tells P, but shifts nothing. */
START_TEST (a_meter_mends_no_missing_calibration)
{
  static const char high_chain[] = "[chain]\nname=High\nstages=pad\n[stage pad]\nkind=pad\nrating_w=50\nvswr=1.0\n"
                                   "power_coefficient=0\npoints=200MHz 40.0 0.05; 3GHz 40.0 0.05\n";
  char *shop = shop_open ();
  shop_put (shop, "high.chain", high_chain);
  Sweep strong = clean; /* 50 W: the limit follows P */
  strong.lines[0].level_dbm += 10;
  g_autoptr (SpFindings) f = judged (shop, &strong, SHOP_INTERCEPTS, SHEET ("", "chain=high.chain\nkeyed=k.csv"));
  expect (harmonic (f, 2), SP_VERDICT_NOT_PROVEN, SP_REASON_OUTSIDE_CALIBRATION);
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_OUTSIDE_CALIBRATION));
  g_autoptr (SpFindings) g = judged (shop, &strong, SHOP_INTERCEPTS,
                                     SHEET ("", "chain=high.chain\nkeyed=k.csv\nmeter_dbm=50\nmeter_u_db=0.1"));
  ck_assert (g->conditions[0].by_meter && !g->conditions[0].anchored);
  ck_assert_double_eq (g->conditions[0].power_dbm, 50);
  ck_assert_double_eq (harmonic (g, 2)->shift_db, harmonic (f, 2)->shift_db);
  shop_close (shop);
}
END_TEST

START_TEST (no_number_above_225_mhz)
{
  char *shop = shop_open ();
  Sweep uhf = clean;
  uhf.lines[0].frequency_hz = 434e6;
  uhf.lines[1] = (Line){ 868e6, -40 };
  shop_put_sweep (shop, "k.csv", &uhf);
  g_autoptr (SpBench) bench
      = shop_bench (shop, SHOP_INTERCEPTS,
                    "[bench]\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\nnecessary_bandwidth=16kHz\n[radio A]\nkeyed=k.csv\n");
  g_autoptr (SpFindings) f = sp_judge (bench);
  ck_assert_int_eq (f->conditions[0].verdict, SP_VERDICT_NO_LIMIT);
  expect (harmonic (f, 2), SP_VERDICT_NO_LIMIT, SP_REASON_NO_NUMBER);
  expect (harmonic (f, 5), SP_VERDICT_NO_LIMIT, SP_REASON_NO_NUMBER); /* not even swept */
  ck_assert (harmonic (f, 2)->detected && !harmonic (f, 5)->swept);
  ck_assert (isnan (f->conditions[0].worst_margin_db));
  shop_close (shop);
}
END_TEST

START_TEST (a_sampled_comb_is_blind_between_its_points)
{
  char *shop = shop_open ();
  Sweep comb = clean;
  comb.points = 1001; /* 1.6 MHz apart at 100 kHz */
  comb.lines[0].frequency_hz = 1e6 + 1.6e6 * 91;
  g_autoptr (SpFindings) f = judged (shop, &comb, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  expect (harmonic (f, 3), SP_VERDICT_NOT_PROVEN, SP_REASON_UNDERSAMPLED);
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_UNDERSAMPLED));
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_CARRIER_UNDERSAMPLED));
  ck_assert (isnan (f->conditions[0].mixer_dbm)); /* an undersampled carrier tells no mixer level */
  shop_close (shop);
}
END_TEST

START_TEST (unknown_settings_are_said_and_taken_at_their_worst)
{
  char *shop = shop_open ();
  Sweep mute = clean;
  mute.attenuation_db = NAN;
  mute.detector = NULL;
  g_autoptr (SpFindings) f = judged (shop, &mute, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_DETECTOR_UNKNOWN));
  ck_assert (sp_reasons_have (f->conditions[0].warnings, SP_REASON_ATTENUATION_UNKNOWN));
  ck_assert (isnan (harmonic (f, 2)->product_high_dbm));
  g_autoptr (SpFindings) known = judged (shop, &clean, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  ck_assert_double_ge (harmonic (f, 4)->floor_dbm, harmonic (known, 4)->floor_dbm - 1e-9);
  shop_close (shop);
}
END_TEST

START_TEST (a_meter_anchors_every_level)
{
  char *shop = shop_open ();
  Sweep dirty = clean;
  dirty.lines[1] = (Line){ 292.4e6, -46 };
  g_autoptr (SpFindings) plain = judged (shop, &dirty, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  g_autoptr (SpFindings) anchored = judged (shop, &dirty, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv\nmeter_dbm=38.0\nmeter_u_db=0.1"));
  double shift = 38.0 - plain->conditions[0].power_dbm;
  ck_assert_double_eq (anchored->conditions[0].power_dbm, 38.0);
  ck_assert (anchored->conditions[0].by_meter);
  ck_assert_double_eq_tol (anchored->conditions[0].trace_level_dbm, plain->conditions[0].power_dbm, 1e-12);
  ck_assert_double_eq_tol (harmonic (anchored, 2)->level_dbm, harmonic (plain, 2)->level_dbm + shift, 1e-9);
  ck_assert_double_eq_tol (harmonic (anchored, 2)->level_dbc, harmonic (plain, 2)->level_dbc, 1e-9);
  ck_assert (sp_reasons_have (anchored->conditions[0].warnings, SP_REASON_METER_DISAGREES));
  /* u(level) = meter (+) dBc terms */
  ck_assert_double_eq_tol (harmonic (anchored, 2)->budget.u_level_db, hypot (0.1, harmonic (plain, 2)->budget.u_dbc_db), 1e-9);
  g_autoptr (SpFindings) checked = judged (shop, &dirty, SHOP_INTERCEPTS,
                                           SHEET ("", "keyed=k.csv\nmeter_dbm=38.0\nmeter_u_db=0.1\nmeter=check"));
  ck_assert_double_eq_tol (checked->conditions[0].power_dbm, plain->conditions[0].power_dbm, 1e-12);
  shop_close (shop);
}
END_TEST

/* Everything cancels in dBc but flatness (twice), scale, repeatability, the chain (twice) and noise. */
START_TEST (margin_follows_the_limits_slope)
{
  char *shop = shop_open ();
  Sweep dirty = clean;
  dirty.lines[1] = (Line){ 292.4e6, -46 };
  g_autoptr (SpFindings) f = judged (shop, &dirty, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  const SpBudget *b = &harmonic (f, 2)->budget;
  ck_assert_double_eq (harmonic (f, 2)->limit_slope, 0);
  double product = 20 * log10 (1 + pow (10, (harmonic (f, 2)->product_high_dbm - harmonic (f, 2)->level_dbm) / 20)); /* the level's alone */
  ck_assert_double_eq_tol (hypot (b->u_margin_db, product / sqrt (2)), b->u_level_db, 1e-12);
  double squares = (0.4 * 0.4 + 0.3 * 0.3 + 0.2 * 0.2 + 0.05 * 0.05) / 3 + 2 * 0.05 * 0.05;
  squares += pow (8.686, 2) / 2 / pow (10, 4.4); /* noise on one look, 44 dB below the line */
  ck_assert_double_eq_tol (b->u_margin_db, sqrt (squares), 5e-4);
  ck_assert_double_eq (b->k_margin, 2);
  /* at 50 W the limit is 60 dB below P: slope 1, and the accuracy no longer counts */
  Sweep strong = dirty;
  strong.lines[0].level_dbm += 10;
  strong.lines[1].level_dbm += 10;
  g_autoptr (SpFindings) g = judged (shop, &strong, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  const SpEmission *e = harmonic (g, 2);
  ck_assert_double_eq (e->limit_slope, 1);
  ck_assert_double_eq_tol (e->limit_dbm, g->conditions[0].power_dbm - 60, 1e-9);
  product = 20 * log10 (1 + pow (10, (e->product_high_dbm - e->level_dbm) / 20));
  ck_assert_double_eq_tol (hypot (e->budget.u_margin_db, product / sqrt (2)), e->budget.u_dbc_db, 1e-12);
  double relative = (2 * 0.3 * 0.3 + 0.2 * 0.2 + 0.05 * 0.05) / 3 + 4 * 0.05 * 0.05;
  relative += pow (8.686, 2) / 2 / pow (10, 5.4);
  ck_assert_double_eq_tol (e->budget.u_margin_db, sqrt (relative), 5e-4);
  shop_close (shop);
}
END_TEST

START_TEST (a_level_within_u_is_inconclusive_unless_the_rule_is_simple)
{
  char *shop = shop_open ();
  Sweep close = clean;
  close.lines[1] = (Line){ 292.4e6, -56.55 }; /* 0.5 dB of margin, U 0.64, and 0.4 dB for what the mixer may add */
  g_autoptr (SpFindings) guarded = judged (shop, &close, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  expect (harmonic (guarded, 2), SP_VERDICT_INCONCLUSIVE, SP_REASON_WITHIN_UNCERTAINTY);
  ck_assert_int_eq (harmonic (guarded, 2)->would_prove->code, SP_REASON_PROVE_UNCERTAINTY);
  g_autoptr (SpFindings) simple = judged (shop, &close, SHOP_INTERCEPTS, SHEET ("rule=simple", "keyed=k.csv"));
  expect (harmonic (simple, 2), SP_VERDICT_COMPLIES, SP_REASON_BELOW_LIMIT);
  ck_assert_double_eq (harmonic (simple, 2)->budget.u_margin_db, harmonic (guarded, 2)->budget.u_margin_db);
  shop_close (shop);
}
END_TEST

START_TEST (monte_carlo_agrees_with_the_first_order)
{
  char *shop = shop_open ();
  Sweep dirty = clean;
  dirty.lines[1] = (Line){ 292.4e6, -56.5 };
  g_autoptr (SpFindings) f = judged (shop, &dirty, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  const SpEmission *e = harmonic (f, 2);
  SpMonteCarlo once = sp_emission_monte_carlo (e, 200000, 42), again = sp_emission_monte_carlo (e, 200000, 42);
  ck_assert_double_eq (once.margin_u_db, again.margin_u_db);
  ck_assert_double_eq_tol (once.margin_u_db, e->budget.u_margin_db, 0.01 * e->budget.u_margin_db);
  /* rectangular terms have shorter tails than k = 2 allows for */
  ck_assert_double_le (once.margin_expanded_db, 2.02 * e->budget.u_margin_db);
  ck_assert_double_ge (once.margin_expanded_db, 1.7 * e->budget.u_margin_db);
  ck_assert_double_eq_tol (once.conformity, e->conformity, 0.02);
  shop_close (shop);
}
END_TEST

START_TEST (another_spur_is_listed_after_the_harmonics)
{
  char *shop = shop_open ();
  Sweep dirty = clean;
  dirty.lines[1] = (Line){ 300.5e6, -70 };
  dirty.lines[2] = (Line){ 73.1e6, -50 };
  g_autoptr (SpFindings) f = judged (shop, &dirty, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  const SpConditionFindings *c = &f->conditions[0];
  ck_assert_uint_eq (c->n_emissions, 11);
  ck_assert_double_eq_tol (c->emissions[9].frequency_hz, 73.1e6, 5e3);
  ck_assert_uint_eq (c->emissions[9].order, 0);
  expect (&c->emissions[9], SP_VERDICT_NOT_PROVEN, SP_REASON_UNTESTED);
  expect (&c->emissions[10], SP_VERDICT_COMPLIES, SP_REASON_BELOW_LIMIT);
  shop_close (shop);
}
END_TEST

static void *
judge_it (void *bench)
{
  return sp_judge (bench);
}

START_TEST (judging_is_a_pure_function)
{
  char *shop = shop_open ();
  Sweep dirty = clean;
  dirty.lines[1] = (Line){ 292.4e6, -46 };
  shop_put_sweep (shop, "k.csv", &dirty);
  g_autoptr (SpBench) bench = shop_bench (shop, SHOP_INTERCEPTS, SHEET ("", "keyed=k.csv"));
  GThread *threads[4];
  SpFindings *f[4];
  for (int i = 0; i < 4; i++)
    threads[i] = g_thread_new ("judge", judge_it, bench);
  for (int i = 0; i < 4; i++)
    f[i] = g_thread_join (threads[i]);
  for (int i = 1; i < 4; i++) {
    const SpCorrected *a = &f[0]->conditions[0].corrected[0], *b = &f[i]->conditions[0].corrected[0];
    ck_assert_mem_eq (a->level_dbm, b->level_dbm, a->n * sizeof (double));
    ck_assert_mem_eq (a->floor_dbm, b->floor_dbm, a->n * sizeof (double));
    for (guint j = 0; j < f[0]->conditions[0].n_emissions; j++) {
      const SpEmission *x = &f[0]->conditions[0].emissions[j], *y = &f[i]->conditions[0].emissions[j];
      ck_assert_mem_eq (&x->level_dbm, &y->level_dbm, sizeof (double));
      ck_assert_mem_eq (&x->budget.u_margin_db, &y->budget.u_margin_db, sizeof (double));
    }
    sp_findings_unref (f[i]);
  }
  sp_findings_unref (f[0]);
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge");
  TCase *t = tcase_create ("verdicts");
  tcase_add_test (t, clean_and_deep_complies);
  tcase_add_test (t, spotless_screen_proves_nothing_above_the_limit);
  tcase_add_test (t, own_harmonic_over_the_limit_exceeds);
  tcase_add_test (t, what_the_mixer_may_have_made_is_not_the_radios);
  tcase_add_test (t, untested_complies_as_it_stands_and_never_exceeds);
  tcase_add_test (t, not_swept_is_not_proven);
  tcase_add_test (t, outside_calibration_never_complies);
  tcase_add_test (t, a_search_range_wants_to_be_swept_whole);
  tcase_add_test (t, a_search_range_seen_too_shallow_is_a_gap);
  tcase_add_test (t, repeats_show_the_worst_and_the_deepest_floor);
  tcase_add_test (t, what_stands_at_the_pointer_agrees_with_the_table);
  tcase_add_test (t, a_held_table_hides_nothing);
  tcase_add_test (t, a_meter_mends_no_missing_calibration);
  tcase_add_test (t, no_number_above_225_mhz);
  tcase_add_test (t, a_sampled_comb_is_blind_between_its_points);
  tcase_add_test (t, unknown_settings_are_said_and_taken_at_their_worst);
  tcase_add_test (t, a_meter_anchors_every_level);
  tcase_add_test (t, margin_follows_the_limits_slope);
  tcase_add_test (t, a_level_within_u_is_inconclusive_unless_the_rule_is_simple);
  tcase_add_test (t, monte_carlo_agrees_with_the_first_order);
  tcase_add_test (t, another_spur_is_listed_after_the_harmonics);
  tcase_add_test (t, judging_is_a_pure_function);
  tcase_set_timeout (t, 120);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
