/* digest.c - what is chosen for a page is what the findings hold: nothing twice, nothing lost, the worst first, ages in days */
#include "tests/suite.h"

#include "core/bench/sheet/sheet.h"
#include "core/findings/digest.h"
#include "core/judge/judge.h"

#include <string.h>

static SpFindings *
judged (const char *sample)
{
  g_autofree char *path = sp_test_path (sample);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  sp_no_error (error);
  return sp_judge (bench);
}

static const char *const samples[] = { "samples/club.sheet", "samples/pocket.sheet" };

/* ---- rows ---- */

START_TEST (every_emission_has_a_row)
{
  g_autoptr (SpFindings) findings = judged (samples[_i]);
  for (guint i = 0; i < findings->n; i++) {
    const SpConditionFindings *found = &findings->conditions[i];
    guint n, all = 0, after = 1;
    g_autofree SpDigestRow *rows = sp_digest_whole (found, &n);
    for (guint k = 0; k < n; k++) {
      const SpEmission *e = &found->emissions[rows[k].emission];
      all += rows[k].n;
      ck_assert (rows[k].n == 1 || !e->detected);
      if (e->order) {
        ck_assert_uint_eq (rows[k].first_order, after + 1);
        ck_assert_uint_eq (rows[k].last_order, rows[k].first_order + rows[k].n - 1);
        after = rows[k].last_order;
      }
    }
    ck_assert_uint_eq (all, found->n_emissions);
  }
}
END_TEST

/* The one that decides is never left out of the short table, and of those not seen the row shows the least room. */
START_TEST (the_short_table_has_what_decides)
{
  g_autoptr (SpFindings) findings = judged (samples[_i]);
  for (guint i = 0; i < findings->n; i++) {
    const SpConditionFindings *found = &findings->conditions[i];
    const SpEmission *deciding = sp_findings_deciding (found);
    guint n, left_out, all = 0;
    g_autofree SpDigestRow *rows = sp_digest_short (found, 2, &n, &left_out);
    gboolean there = deciding == NULL;
    for (guint k = 0; k < n; k++) {
      const SpEmission *e = &found->emissions[rows[k].emission];
      double room = sp_emission_deciding_margin_db (e);
      all += rows[k].n;
      there = there || e == deciding || (deciding->verdict == e->verdict && room == sp_emission_deciding_margin_db (deciding))
              || (e->decision == SP_DECISION_BLIND && deciding->decision == SP_DECISION_BLIND);
      for (guint m = 0; m < found->n_emissions && rows[k].n > 1; m++) {
        const SpEmission *other = &found->emissions[m];
        if (other->order > 1 && !other->detected && other->verdict == e->verdict && e->decision != SP_DECISION_BLIND)
          ck_assert (!(sp_emission_deciding_margin_db (other) < room));
      }
    }
    ck_assert_msg (there, "%s: what decides has no row", found->name);
    ck_assert_uint_eq (all + left_out, found->n_emissions);
  }
}
END_TEST

START_TEST (counts_add_up)
{
  g_autoptr (SpFindings) findings = judged (samples[_i]);
  guint tally[SP_VERDICT_EXCEEDS + 1], all = 0;
  g_autofree guint *order = g_new (guint, findings->n);
  for (guint i = 0; i < findings->n; i++)
    order[i] = i;
  sp_digest_tally (findings, order, findings->n, tally);
  for (guint v = 0; v <= SP_VERDICT_EXCEEDS; v++)
    all += tally[v];
  ck_assert_uint_eq (all, findings->n);
  for (guint i = 0; i < findings->n; i++) {
    SpDigestShown shown = sp_digest_shown (&findings->conditions[i]);
    guint origins = 0;
    for (guint k = 0; k < G_N_ELEMENTS (shown.origins); k++)
      origins += shown.origins[k];
    ck_assert_uint_eq (origins, shown.seen);
    ck_assert_uint_le (shown.floor_over, shown.unseen);
    ck_assert_uint_le (shown.unseen, shown.harmonics);
  }
}
END_TEST

/* ---- spans and ages ---- */

START_TEST (sweeps_reach_from_end_to_end)
{
  g_autoptr (SpFindings) findings = judged (samples[0]);
  double from, to;
  ck_assert (sp_digest_swept (&findings->conditions[0], &from, &to));
  ck_assert_double_eq (from, 10e6); /* zelbridor.csv, and not its close sweep */
  ck_assert_double_eq (to, 610e6);
  SpConditionFindings none = { 0 };
  ck_assert (!sp_digest_swept (&none, &from, &to));
}
END_TEST

START_TEST (a_calibration_ages_by_the_day)
{
  g_autoptr (SpFindings) findings = judged (samples[0]);
  const SpChain *chain = findings->bench->chain;
  SpAge age = sp_digest_chain_age (findings->bench, chain);
  sp_outside ("age of the chain's calibration", "calculated: 2026-10-17 to 2026-11-28, 14 + 28 days", age.age_days, 42, 1e-9);
  ck_assert (!age.overdue);
  SpBench later = *findings->bench;
  later.date_day += 324;
  ck_assert (sp_digest_chain_age (&later, chain).overdue); /* 366 days, good for 365 */
  later.date_day -= 1;
  ck_assert (!sp_digest_chain_age (&later, chain).overdue);
  later.date_day = NAN;
  age = sp_digest_stage_age (&later, chain, 0);
  ck_assert (isnan (age.age_days) && !age.overdue);
}
END_TEST

START_TEST (losses_are_the_chains_own)
{
  g_autoptr (SpFindings) findings = judged (samples[0]);
  const SpBench *bench = findings->bench;
  double sum = 0;
  SpDigestLoss all = sp_digest_loss (bench, bench->chain, -1, 146e6, 2);
  ck_assert_double_eq (all.frequency_hz, 292e6);
  for (guint i = 0; i < bench->chain->n; i++)
    sum += sp_digest_loss (bench, bench->chain, (int) i, 146e6, 2).loss_db;
  ck_assert_double_eq_tol (sum, all.loss_db, 1e-9);
  ck_assert_double_eq_tol (all.expanded_db, 2 * sp_chain_loss (bench->chain, 292e6, bench->temperature_c, 0, NULL).u_db, 1e-12);
}
END_TEST

START_TEST (of_two_sweeps_one_sees_deeper)
{
  g_autoptr (SpFindings) findings = judged (samples[1]);
  guint plain = G_MAXUINT, stub = G_MAXUINT;
  for (guint i = 0; i < findings->n; i++)
    if (strcmp (findings->conditions[i].name, "Fennimarch/plain") == 0)
      plain = i;
    else if (strcmp (findings->conditions[i].name, "Fennimarch/with the stub") == 0)
      stub = i;
  ck_assert_int_eq (sp_digest_deeper (findings, plain, stub), 1);
  ck_assert_int_eq (sp_digest_deeper (findings, stub, plain), -1);
  ck_assert_int_eq (sp_digest_deeper (findings, 0, stub), 0); /* another radio */
}
END_TEST

/* ---- names ---- */

START_TEST (a_proposal_names_no_other_radio)
{
  g_autoptr (SpFindings) findings = judged (samples[1]);
  g_autoptr (SpReason) proof = sp_reason (PROVE_STEP, .pad = FALSE, .condition = findings->conditions[0].name, .step_db = 10, .order = 2,
                                          .settles = 3);
  g_autoptr (SpReason) own = sp_digest_would_prove (findings, 0, proof);
  ck_assert (sp_reason_equal (own, proof));
  g_autoptr (SpReason) other = sp_digest_would_prove (findings, 1, proof);
  ck_assert_ptr_null (other->PROVE_STEP.condition);
  ck_assert_double_eq (other->PROVE_STEP.step_db, 10);
  ck_assert_ptr_null (sp_digest_would_prove (findings, 0, NULL));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("findings/digest");
  TCase *tc = tcase_create ("digest");
  tcase_add_loop_test (tc, every_emission_has_a_row, 0, (int) G_N_ELEMENTS (samples));
  tcase_add_loop_test (tc, the_short_table_has_what_decides, 0, (int) G_N_ELEMENTS (samples));
  tcase_add_loop_test (tc, counts_add_up, 0, (int) G_N_ELEMENTS (samples));
  tcase_add_test (tc, sweeps_reach_from_end_to_end);
  tcase_add_test (tc, a_calibration_ages_by_the_day);
  tcase_add_test (tc, losses_are_the_chains_own);
  tcase_add_test (tc, of_two_sweeps_one_sees_deeper);
  tcase_add_test (tc, a_proposal_names_no_other_radio);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
