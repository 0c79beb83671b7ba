/* alone.c - functions of judging asked alone: P of several carriers, shift and floor of a sweep, whose an emission is, the rule at its edges */
#include "core/findings/verdict-table.h"
#include "core/judge/emission/emission.h"
#include "core/judge/origin/origin.h"
#include "core/judge/sweep/sweep.h"
#include "core/judge/verdict/verdict.h"
#include "tests/mask/masks.h"

#include <math.h>

#define LEVEL (-40.0)
#define U 1.5

static SpEmission
seen (double product_dbm)
{
  SpEmission e;
  sp_emission_init (&e, 3, 438e6);
  e.swept = e.detected = e.calibrated = TRUE;
  e.level_dbm = LEVEL;
  e.product_high_dbm = product_dbm;
  e.repeats = 1;
  return e;
}

/* Amplitudes of unknown phase add and subtract: EA-4/02 M takes the worst of them (calculated: 20 lg (1 +- 10^(-d/20))). */
START_TEST (a_prediction_bounds_the_part_by_amplitudes)
{
  SpEmission e = seen (LEVEL - 6);
  SpWhose whose = sp_judging_origin (&e);
  ck_assert_int_eq (whose.origin, SP_ORIGIN_RADIO);
  ck_assert_int_eq (whose.basis, SP_BASIS_PREDICTED);
  sp_outside ("a product 6 dB below takes off", "calculated: 20 lg (1 - 10^(-6/20))", whose.radio_low_dbm - LEVEL, -6.0412, 1e-3);
  sp_outside ("a product 6 dB below adds", "calculated: 20 lg (1 + 10^(-6/20))", whose.radio_high_dbm - LEVEL, 3.5287, 1e-3);
  e = seen (LEVEL - 5.99);
  ck_assert_int_eq (sp_judging_origin (&e).origin, SP_ORIGIN_MIXED);
  e = seen (LEVEL + 3); /* all of it may be the product */
  ck_assert (isinf (sp_judging_origin (&e).radio_low_dbm));
  e = seen (NAN);
  ck_assert_int_eq (sp_judging_origin (&e).origin, SP_ORIGIN_UNTESTED);
  ck_assert (isnan (sp_judging_origin (&e).radio_high_dbm));
  e.detected = FALSE;
  ck_assert_int_eq (sp_judging_origin (&e).origin, SP_ORIGIN_NONE);
}
END_TEST

START_TEST (steps_outrank_a_prediction_and_contradictions_settle_nothing)
{
  SpEvidencePoint points[2] = { { .level_dbm = LEVEL }, { .level_dbm = LEVEL + 4 } };
  SpEvidence v = { .n = 2, .points = points, .p_radio = 0.99, .radio_low_dbm = LEVEL - 1, .radio_high_dbm = LEVEL + 1 };
  SpEmission e = seen (LEVEL - 30);
  e.evidence = &v;
  ck_assert_int_eq (sp_judging_origin (&e).origin, SP_ORIGIN_RADIO);
  ck_assert_int_eq (sp_judging_origin (&e).basis, SP_BASIS_STEP);
  v.may_cancel = TRUE;
  ck_assert_int_eq (sp_judging_origin (&e).origin, SP_ORIGIN_MIXED);
  v.may_cancel = FALSE;
  v.p_radio = 0;
  v.p_analyzer = 0.99;
  ck_assert_int_eq (sp_judging_origin (&e).origin, SP_ORIGIN_ANALYZER);
  v.contradicts = TRUE;
  SpWhose whose = sp_judging_origin (&e);
  ck_assert_int_eq (whose.origin, SP_ORIGIN_MIXED);
  ck_assert_double_eq (whose.radio_high_dbm, LEVEL + 4);
}
END_TEST

START_TEST (what_stands_unkeyed_widens_the_part_or_is_all_of_it)
{
  SpEvidence v = { .ambient_known = TRUE, .ambient_seen = TRUE, .ambient_dbm = LEVEL - 3 };
  SpEmission e = seen (LEVEL - 40);
  e.evidence = &v;
  ck_assert_int_eq (sp_judging_origin (&e).origin, SP_ORIGIN_AMBIENT);
  v.ambient_dbm = LEVEL - 20;
  SpWhose with = sp_judging_origin (&e);
  v.ambient_seen = FALSE;
  SpWhose without = sp_judging_origin (&e);
  ck_assert_int_eq (with.origin, SP_ORIGIN_RADIO);
  ck_assert (with.radio_low_dbm < without.radio_low_dbm && with.radio_high_dbm > without.radio_high_dbm);
}
END_TEST

/* JCGM 106, 8.3.1.2: at the limit less the guard it is accepted, and the least above that it is not. */
START_TEST (the_guard_is_the_edge_of_acceptance)
{
  SpBench bench = { .decision_rule = SP_DECISION_RULE_GUARDED };
  SpMask mask = { 0 };
  SpConditionFindings out = { .power_dbm = 37, .fundamental_hz = 146e6, .by_meter = TRUE };
  SpJudging c = { .bench = &bench, .mask = &mask, .out = &out };
  for (int simple = 0; simple < 2; simple++)
    for (int side = -1; side <= 1; side++) {
      bench.decision_rule = simple ? SP_DECISION_RULE_SIMPLE : SP_DECISION_RULE_GUARDED;
      SpEmission e = seen (NAN);
      e.detected = FALSE;
      e.budget.expanded_margin_db = e.budget.expanded_margin_low_db = U;
      e.floor_dbm = e.level_dbm = LEVEL + side * 0.25;
      e.limit_dbm = LEVEL + (simple ? 0 : U);
      SpDecided decided = sp_judging_verdict (&c, &e);
      ck_assert_int_eq (decided.verdict, side > 0 ? SP_VERDICT_NOT_PROVEN : SP_VERDICT_COMPLIES);
      ck_assert_int_eq (decided.row, side > 0 ? SP_ROW_FLOOR_ABOVE : SP_ROW_FLOOR_BELOW);
      ck_assert_double_eq (decided.margin_db, e.limit_dbm - e.level_dbm);
      sp_reason_unref (decided.reason);
    }
}
END_TEST

/* A sweep with points that close serves the harmonic that wants them wider too; one that reaches further serves what stands nearer. */
START_TEST (of_two_proposals_one_serves_both)
{
  g_autoptr (SpReason) near = sp_reason (PROVE_RESOLVE, .spacing_hz = 18e6, .rbw_hz = NAN),
                       far = sp_reason (PROVE_RESOLVE, .spacing_hz = 9e6, .rbw_hz = NAN);
  ck_assert (sp_would_prove_asks_more (far, near) && !sp_would_prove_asks_more (near, far) && !sp_would_prove_asks_more (far, far));
  g_autoptr (SpReason) low = sp_reason (PROVE_SWEEP, .to_hz = 1e9), high = sp_reason (PROVE_SWEEP, .to_hz = 1.5e9);
  ck_assert (sp_would_prove_asks_more (high, low) && !sp_would_prove_asks_more (low, high));
}
END_TEST

/* ---- a sweep's stages ---- */

#define POINTS 201
#define F0 100e6
#define SPACING 1e3
#define NOISE (-110.0)
#define NBW 1e3

typedef struct {
  double frequency_hz[POINTS], level_dbm[POINTS], noise_dbm[POINTS];
  SpTrace trace;
  SpChain chain;
  SpCorrected corrected;
  SpSweepCache cache;
  SpJudgedSweep sweep;
  SpAnalyzer analyzer;
  SpBench bench;
  SpCondition condition;
  SpConditionFindings out;
  SpJudging c;
} Alone;

/* One keyed sweep round the carrier, flat noise, P 30 dBm through a path without loss. */
static void
set_alone (Alone *a)
{
  *a = (Alone){ .trace = { .file = (char *) "k.csv", .n = POINTS }, .bench = { .temperature_c = 23 } };
  for (guint i = 0; i < POINTS; i++) {
    a->frequency_hz[i] = F0 + ((double) i - POINTS / 2) * SPACING;
    a->level_dbm[i] = a->noise_dbm[i] = NOISE;
  }
  a->trace.frequency_hz = a->frequency_hz;
  a->trace.reading_dbm = a->level_dbm;
  a->corrected = (SpCorrected){ .n = POINTS, .frequency_hz = a->frequency_hz, .level_dbm = a->level_dbm, .noise_dbm = a->noise_dbm };
  a->sweep = (SpJudgedSweep){ .trace = &a->trace, .chain = &a->chain, .out = &a->corrected, .cache = &a->cache, .rbw_hz = NBW };
  a->sweep.nbw_hz = NBW;
  a->sweep.spacing_hz = SPACING;
  a->sweep.uniform = TRUE;
  a->sweep.noise_window_hz = 20e3;
  a->sweep.mixer.dbm = NAN;
  a->out = (SpConditionFindings){ .fundamental_hz = F0, .has_fundamental = TRUE, .power_dbm = 30, .trace_level_dbm = 30 };
  a->condition.meter_dbm = NAN;
  a->c = (SpJudging){ .bench = &a->bench, .condition = &a->condition, .chain = &a->chain, .analyzer = &a->analyzer, .out = &a->out };
  a->c.n = a->c.n_all = 1;
  a->c.sweeps = &a->sweep;
}

/* The profile's phase noise stands over the trace's noise only where the median is blunt; the sweep's own array stays as it was. */
START_TEST (the_floor_raises_noise_in_a_copy_of_it)
{
  Alone a;
  g_autoptr (GPtrArray) warnings = sp_reasons_new ();
  double offset[] = { 1e3, 50e3 }, dbc_hz[] = { -150, -150 };
  set_alone (&a);
  SpSweepFloor plain = sp_judging_floor (&a.c, &a.sweep, warnings);
  ck_assert_ptr_null (plain.noise_dbm);
  g_autoptr (SpCurve) table = sp_curve_new (SP_CURVE_LINEAR, 2, offset, dbc_hz, NULL, NULL, NULL);
  a.analyzer.phase_noise_dbc_hz = table;
  SpSweepFloor raised = sp_judging_floor (&a.c, &a.sweep, warnings);
  ck_assert_ptr_nonnull (raised.noise_dbm);
  for (guint i = 0; i < POINTS; i++) {
    double away = fabs (a.frequency_hz[i] - F0);
    gboolean inside = away >= 1e3 && away <= 20e3; /* the table's beginning, and the noise window */
    ck_assert_double_eq (a.noise_dbm[i], NOISE);
    ck_assert_double_eq_tol (raised.noise_dbm[i], inside ? 30 - 150 + 30 : NOISE, 1e-9);
    ck_assert_int_eq (plain.cause[i] == SP_CAUSE_PHASE_NOISE, FALSE);
  }
  ck_assert_int_eq (raised.cause[POINTS / 2 + 15], SP_CAUSE_PHASE_NOISE);
  ck_assert_int_eq (warnings->len, 1); /* beyond the table its last value is held, and the floor goes by it */
  ck_assert (sp_reasons_have (warnings, SP_REASON_PHASE_NOISE_HELD));
  g_free (plain.floor_dbm);
  g_free (plain.cause);
  g_free (raised.floor_dbm);
  g_free (raised.cause);
  g_free (raised.noise_dbm);
}
END_TEST

START_TEST (a_shift_makes_new_levels_and_none_without)
{
  Alone a;
  set_alone (&a);
  a.sweep.carrier = (SpSweepCarrier){ .found = TRUE, .level_dbm = 29.5 };
  SpShift none = sp_judging_shift (&a.c, &a.sweep);
  ck_assert_ptr_null (none.level_dbm);
  ck_assert_double_eq (none.shift_db, 0);
  a.sweep.warm_db = 0.25;
  a.out.anchored = TRUE;
  a.condition.meter_dbm = 31;
  SpShift shift = sp_judging_shift (&a.c, &a.sweep);
  ck_assert_double_eq_tol (shift.shift_db, 1.5, 1e-12); /* from 29.5 + 0.25 to the meter's 31, and the 0.25 itself */
  ck_assert_double_eq_tol (shift.level_dbm[7], NOISE + 1.5, 1e-12);
  ck_assert_double_eq_tol (shift.noise_dbm[7], NOISE + 1.5, 1e-12);
  ck_assert_double_eq (a.level_dbm[7], NOISE);
  g_free (shift.level_dbm);
  g_free (shift.noise_dbm);
}
END_TEST

#define WARMED "[chain]\nname=C\nstages=a\n[stage a]\nkind=pad\nrating_w=50\npower_coefficient=0.001\npoints=10MHz 30 0.1; 1GHz 30 0.1\n"

/* 10 W for a tenth of the time warm the 30 dB pad by 1 W: 0.03 dB, where 10 W would be 0.3 dB (calculated: loss * coefficient * power). */
START_TEST (a_mixer_level_from_p_is_behind_a_chain_as_warm_as_it_is)
{
  Alone a;
  GError *error = NULL;
  set_alone (&a);
  g_autoptr (SpKeyFile) file = sp_key_file_parse (WARMED, strlen (WARMED), "c.chain", &error);
  g_autoptr (SpChain) chain = sp_chain_parse_with (file, NULL, &error);
  sp_no_error (error);
  a.sweep.chain = chain;
  a.bench.temperature_c = NAN; /* as calibrated */
  a.trace.settings.attenuation_db = 20;
  a.out.power_dbm = 40;
  a.condition.duty = 0.1;
  ck_assert (!sp_judging_has_carrier (&a.sweep));
  ck_assert_double_eq_tol (sp_judging_mixer_level (&a.c, &a.sweep).dbm, 40 - 30.03 - 20, 1e-9);
  a.condition.duty = 1;
  ck_assert_double_eq_tol (sp_judging_mixer_level (&a.c, &a.sweep).dbm, 40 - 30.3 - 20, 1e-9);
}
END_TEST

/* JCGM 100, 4.2.1 and 4.2.3: 30.0, 30.2 and 30.4 dBm have the mean 30.2 and the standard deviation of it 0.2/sqrt (3). */
START_TEST (carriers_that_agree_are_averaged_and_others_warned_of)
{
  Alone a;
  SpJudgedSweep sweeps[3];
  g_autoptr (GPtrArray) warnings = sp_reasons_new ();
  set_alone (&a);
  for (guint k = 0; k < 3; k++) {
    sweeps[k] = a.sweep;
    sweeps[k].carrier = (SpSweepCarrier){ .found = TRUE, .frequency_hz = F0 + k, .level_dbm = 30 + 0.2 * k, .noise_u_db = 0.01 };
  }
  a.c.n = a.c.n_all = 3;
  a.c.sweeps = sweeps;
  a.analyzer.best_mixer_dbm = NAN;
  SpTracePower power = sp_judging_combine (&a.c, warnings);
  ck_assert_int_eq (warnings->len, 0);
  ck_assert_uint_eq (power.repeats, 3);
  sp_outside ("mean of three carriers", "JCGM 100, 4.2.1", power.level_dbm, 30.2, 1e-9);
  sp_outside ("its type A", "JCGM 100, 4.2.3", power.repeat_u_db, 0.115470, 1e-6);
  sweeps[2].carrier.level_dbm = 33;
  power = sp_judging_combine (&a.c, warnings);
  ck_assert (power.carriers_differ && sp_reasons_have (warnings, SP_REASON_CARRIERS_DIFFER));
  ck_assert_double_eq (power.level_dbm, 30);
  sweeps[1].carrier.noise_u_db = 0.005; /* the best: 0.2 dB over one, 2.8 dB under the other */
  ck_assert_double_eq_tol (sp_judging_combine (&a.c, warnings).repeat_u_db, 2.8 / sqrt (3), 1e-9);
  sweeps[0].foreign = sweeps[1].foreign = sweeps[2].foreign = TRUE; /* lines, but no carrier */
  ck_assert_int_eq (sp_judging_combine (&a.c, warnings).sweep, -1);
}
END_TEST

/* The radio's power changes from sweep to sweep: 30.0, 30.2, 30.4 and 30.2 dBm have s^2 = 0.08/3, and one more occasion s sqrt (1 + 1/4). */
START_TEST (a_sweeps_emissions_go_by_its_own_carrier)
{
  Alone a;
  SpJudgedSweep sweeps[4];
  static const double over[] = { 0, 0.2, 0.4, 0.2 };
  g_autoptr (GPtrArray) warnings = sp_reasons_new ();
  set_alone (&a);
  for (guint k = 0; k < 4; k++) {
    sweeps[k] = a.sweep;
    sweeps[k].carrier = (SpSweepCarrier){ .found = TRUE, .frequency_hz = F0, .level_dbm = 30 + over[k], .noise_u_db = 0.01 };
  }
  a.c.n = a.c.n_all = 4;
  a.c.sweeps = sweeps;
  a.analyzer.best_mixer_dbm = NAN;
  SpTracePower power = sp_judging_combine (&a.c, warnings);
  sp_outside ("one more occasion about a mean of four", "JCGM 100, 4.2 and 5.1.2", power.occasion_u_db, 0.182574, 1e-6);
  a.c.occasion_u_db = power.occasion_u_db;
  a.out.power_dbm = power.level_dbm;
  ck_assert_double_eq_tol (sp_judging_power_dbm (&a.c, &sweeps[0]), 30.0, 1e-12);
  ck_assert_double_eq_tol (sp_judging_power_dbm (&a.c, &sweeps[2]), 30.4, 1e-12);
  sweeps[0].carrier.noise_u_db = 0.2; /* tells less than the others' scatter */
  ck_assert_double_eq_tol (sp_judging_power_dbm (&a.c, &sweeps[0]), 30.2, 1e-12);
  a.out.by_meter = TRUE;
  ck_assert_double_eq_tol (sp_judging_power_dbm (&a.c, &sweeps[2]), 30.2, 1e-12);
}
END_TEST

/* ---- a clipped carrier: P is a lower bound, 30 dBm or more ---- */

#define RISING "[mask]\n[rule a]\nattenuation_db=50\nceiling_dbm=-13\n"            /* -20 dBm at P, -13 at most */
#define FALLING "[mask]\n[rule a]\nattenuation_db=60 + 20 log P\nrelief_dbm=-40\n" /* -30 dBm at P, -40 at least */
#define JUST 0.01

/* `bound_dbm`: the deciding end from which on the verdict holds for every P. */
typedef struct {
  const char *what, *mask;
  double limit_dbm, bound_dbm, excess_db;
  gboolean uncalibrated, unseen, part;
  SpVerdict verdict;
} MorePower;

static const MorePower more_power[] = {
  { "over the ceiling by U", RISING, -20, -13 + U, 0, FALSE, FALSE, FALSE, SP_VERDICT_EXCEEDS },
  { "an upper bound", RISING, -20, -13 + U + 3, 3, FALSE, FALSE, FALSE, SP_VERDICT_EXCEEDS },
  { "the part's lower end", RISING, -20, -13 + U, 0, FALSE, FALSE, TRUE, SP_VERDICT_EXCEEDS },
  { "not calibrated", RISING, -20, -13 + U + SP_UNCALIBRATED_EXTRA_DB, 0, TRUE, FALSE, FALSE, SP_VERDICT_EXCEEDS },
  { "not calibrated, an upper bound", RISING, -20, -13 + U + SP_UNCALIBRATED_EXTRA_DB + 3, 3, TRUE, FALSE, FALSE, SP_VERDICT_EXCEEDS },
  { "under the relief by U", FALLING, -30, -40 - U, 0, FALSE, FALSE, FALSE, SP_VERDICT_COMPLIES },
  { "an upper bound under it", FALLING, -30, -40 - U, 3, FALSE, FALSE, FALSE, SP_VERDICT_COMPLIES },
  { "the part's upper end", FALLING, -30, -40 - U, 0, FALSE, FALSE, TRUE, SP_VERDICT_COMPLIES },
  { "the floor", FALLING, -30, -40 - U, 0, FALSE, TRUE, FALSE, SP_VERDICT_COMPLIES },
};

static SpEmission
emission_at_bound (const MorePower *m, double bound_dbm)
{
  SpEmission e = seen (NAN);
  gboolean over = m->verdict == SP_VERDICT_EXCEEDS;
  e.detected = !m->unseen;
  e.calibrated = !m->uncalibrated;
  e.origin = m->unseen ? SP_ORIGIN_NONE : SP_ORIGIN_RADIO;
  e.level_dbm = e.floor_dbm = m->part ? bound_dbm + (over ? 1 : -1) : bound_dbm; /* the part's end is 1 dB nearer to the limit */
  e.radio_low_dbm = m->part ? e.level_dbm - 1 : NAN;
  e.radio_high_dbm = m->part ? e.level_dbm + 1 : NAN;
  e.excess_db = m->excess_db;
  e.limit_dbm = m->limit_dbm;
  e.budget.expanded_margin_db = e.budget.expanded_margin_low_db = U;
  return e;
}

/* The whole rule has to hold at the limit of every power from P up. */
START_TEST (a_clipped_carriers_verdict_holds_for_more_power)
{
  for (guint i = 0; i < G_N_ELEMENTS (more_power); i++) {
    const MorePower *m = &more_power[i];
    g_autoptr (SpMask) mask = parse (m->mask);
    Alone a;
    set_alone (&a);
    a.bench.decision_rule = SP_DECISION_RULE_GUARDED;
    a.out.necessary_bandwidth_hz = 16e3;
    a.c.mask = mask;
    a.c.carrier_calibrated = TRUE;
    for (int side = -1; side <= 1; side += 2) {
      gboolean beyond = (side > 0) == (m->verdict == SP_VERDICT_EXCEEDS);
      SpEmission e = emission_at_bound (m, m->bound_dbm + side * JUST);
      a.c.power_at_least = FALSE;
      SpDecided told = sp_judging_verdict (&a.c, &e);
      ck_assert_msg (told.verdict == m->verdict, "%s: %s at P", m->what, sp_verdict_name (told.verdict));
      a.c.power_at_least = TRUE;
      SpDecided decided = sp_judging_verdict (&a.c, &e);
      ck_assert_msg (decided.verdict == (beyond ? m->verdict : SP_VERDICT_NOT_PROVEN), "%s: %s", m->what,
                     sp_verdict_name (decided.verdict));
      ck_assert_int_eq (decided.row == SP_ROW_MORE_POWER, !beyond);
      sp_reason_unref (told.reason);
      sp_reason_unref (decided.reason);
    }
  }
}
END_TEST

/* ---- a line between two points may have lost: the margin has two U ---- */

#define U_LOW 0.5 /* without the possible loss */

typedef struct {
  double margin_db, low_db, high_db; /* limit less level; the part's ends over the level */
  SpVerdictRow row;
  double expanded_db; /* said in the reason */
} TwoU;

/* Below the limit the whole U counts, above it the one without loss. */
static const TwoU two_u[] = {
  { 1, -0.1, 0.8, SP_ROW_WITHIN_UNCERTAINTY, U },
  { 2, -0.1, 1.7, SP_ROW_PART_STRADDLES, U },
  { -0.4, -0.1, 0.1, SP_ROW_WITHIN_UNCERTAINTY, U_LOW },
  { -1, -3, 0.1, SP_ROW_PART_STRADDLES, U_LOW },
};

START_TEST (the_margins_sign_tells_which_u_counts)
{
  for (guint i = 0; i < G_N_ELEMENTS (two_u); i++) {
    const TwoU *t = &two_u[i];
    Alone a;
    set_alone (&a);
    a.bench.decision_rule = SP_DECISION_RULE_GUARDED;
    a.c.carrier_calibrated = TRUE;
    SpEmission e = seen (NAN);
    e.origin = SP_ORIGIN_RADIO;
    e.limit_dbm = LEVEL + t->margin_db;
    e.radio_low_dbm = LEVEL + t->low_db;
    e.radio_high_dbm = LEVEL + t->high_db;
    e.sampling_loss_db = 0.2;
    e.budget.expanded_margin_db = U;
    e.budget.expanded_margin_low_db = U_LOW;
    SpDecided decided = sp_judging_verdict (&a.c, &e);
    ck_assert_int_eq (decided.row, t->row);
    ck_assert_double_eq (t->row == SP_ROW_WITHIN_UNCERTAINTY ? decided.reason->WITHIN_UNCERTAINTY.expanded_db
                                                             : decided.reason->RADIO_PART_STRADDLES.expanded_db,
                         t->expanded_db);
    sp_reason_unref (decided.reason);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/stages");
  TCase *t = tcase_create ("alone");
  tcase_add_test (t, the_floor_raises_noise_in_a_copy_of_it);
  tcase_add_test (t, a_shift_makes_new_levels_and_none_without);
  tcase_add_test (t, a_mixer_level_from_p_is_behind_a_chain_as_warm_as_it_is);
  tcase_add_test (t, carriers_that_agree_are_averaged_and_others_warned_of);
  tcase_add_test (t, a_sweeps_emissions_go_by_its_own_carrier);
  tcase_add_test (t, a_prediction_bounds_the_part_by_amplitudes);
  tcase_add_test (t, steps_outrank_a_prediction_and_contradictions_settle_nothing);
  tcase_add_test (t, what_stands_unkeyed_widens_the_part_or_is_all_of_it);
  tcase_add_test (t, the_guard_is_the_edge_of_acceptance);
  tcase_add_test (t, a_clipped_carriers_verdict_holds_for_more_power);
  tcase_add_test (t, the_margins_sign_tells_which_u_counts);
  tcase_add_test (t, of_two_proposals_one_serves_both);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
