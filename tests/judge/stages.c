/* stages.c - stages of judging asked alone: whose an emission is, and what the rule's facts are at their edges */
#include "core/findings/rule.h"
#include "core/judge/emission/emission-stages.h"
#include "core/judge/origin/origin-stages.h"
#include "core/judge/verdict/verdict-stages.h"
#include "tests/suite.h"

#define LEVEL (-40.0)
#define U 1.5

static SpEmission
seen (double product_dbm)
{
  SpEmission e;
  sp_emission_init (&e, 3, 438e6);
  e.swept = e.detected = e.calibrated = TRUE;
  e.level_dbm = LEVEL;
  e.distortion_high_dbm = product_dbm;
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
  SpBench bench = { .rule = SP_RULE_GUARDED };
  SpMask mask = { 0 };
  SpConditionFindings out = { .power_dbm = 37, .fundamental_hz = 146e6, .by_meter = TRUE };
  SpJudging c = { .bench = &bench, .mask = &mask, .out = &out };
  for (int simple = 0; simple < 2; simple++)
    for (int side = -1; side <= 1; side++) {
      bench.rule = simple ? SP_RULE_SIMPLE : SP_RULE_GUARDED;
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
  ck_assert (sp_proof_asks_more (far, near) && !sp_proof_asks_more (near, far) && !sp_proof_asks_more (far, far));
  g_autoptr (SpReason) low = sp_reason (PROVE_SWEEP, .to_hz = 1e9), high = sp_reason (PROVE_SWEEP, .to_hz = 1.5e9);
  ck_assert (sp_proof_asks_more (high, low) && !sp_proof_asks_more (low, high));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/stages");
  TCase *t = tcase_create ("stages");
  tcase_add_test (t, a_prediction_bounds_the_part_by_amplitudes);
  tcase_add_test (t, steps_outrank_a_prediction_and_contradictions_settle_nothing);
  tcase_add_test (t, what_stands_unkeyed_widens_the_part_or_is_all_of_it);
  tcase_add_test (t, the_guard_is_the_edge_of_acceptance);
  tcase_add_test (t, of_two_proposals_one_serves_both);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
