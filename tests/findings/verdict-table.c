/* verdict-table.c - the decision rule over all that its facts can be, held against the table of core/docs/computation.md, section 13, and what must never be said */
#include "core/findings/verdict-table.h"
#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"
#include "tests/suite.h"

#define HAS(fact) ((facts & SP_FACT_##fact) != 0)

/* The same rule as questions one after the other, as section 13 puts them. */
static SpVerdict
by_questions (guint facts)
{
  if (!HAS (LIMIT) && !HAS (NEEDS_POWER))
    return SP_VERDICT_NO_LIMIT;
  if (!HAS (SWEPT) || !HAS (RESOLVED) || HAS (NEEDS_POWER) || !HAS (REFERRED))
    return SP_VERDICT_NOT_PROVEN;
  if (!HAS (CALIBRATED))
    return HAS (GROSS) ? SP_VERDICT_EXCEEDS : SP_VERDICT_NOT_PROVEN;
  if (!HAS (SEEN))
    return !HAS (BLIND) && HAS (FLOOR_BELOW) ? SP_VERDICT_COMPLIES : SP_VERDICT_NOT_PROVEN;
  if (HAS (COARSE) && !HAS (OVER))
    return SP_VERDICT_NOT_PROVEN;
  if (HAS (BELOW))
    return SP_VERDICT_COMPLIES;
  if (HAS (AMBIENT))
    return SP_VERDICT_NOT_PROVEN;
  if (HAS (AMBIENT_OPEN) && !HAS (OVER))
    return HAS (RADIO) ? SP_VERDICT_INCONCLUSIVE : SP_VERDICT_NOT_PROVEN;
  if (HAS (UNTESTED))
    return SP_VERDICT_NOT_PROVEN;
  if (HAS (OVER))
    return SP_VERDICT_EXCEEDS;
  return HAS (RADIO) && !HAS (BOUND_OPEN) ? SP_VERDICT_INCONCLUSIVE : SP_VERDICT_NOT_PROVEN;
}

START_TEST (the_table_says_what_the_page_says)
{
  for (guint facts = 0; facts < SP_VERDICT_FACTS_END; facts++)
    if (sp_verdict_of_facts (facts)->verdict != by_questions (facts))
      ck_abort_msg ("facts %#x: row %d", facts, sp_verdict_of_facts (facts)->row);
}
END_TEST

/* JCGM 106, 8.3: accepted only with the guard between it and the limit; and nothing seen proves nothing until the floor lies below the limit. */
START_TEST (complies_only_with_the_guard_below)
{
  guint needed = SP_FACT_LIMIT | SP_FACT_SWEPT | SP_FACT_RESOLVED | SP_FACT_REFERRED | SP_FACT_CALIBRATED;
  for (guint facts = 0; facts < SP_VERDICT_FACTS_END; facts++) {
    if (sp_verdict_of_facts (facts)->verdict != SP_VERDICT_COMPLIES)
      continue;
    ck_assert_uint_eq (facts & needed, needed);
    ck_assert (!HAS (NEEDS_POWER));
    ck_assert (HAS (SEEN) ? HAS (BELOW) : HAS (FLOOR_BELOW) && !HAS (BLIND));
  }
}
END_TEST

START_TEST (exceeds_only_over_the_limit_and_tested)
{
  for (guint facts = 0; facts < SP_VERDICT_FACTS_END; facts++) {
    if (sp_verdict_of_facts (facts)->verdict != SP_VERDICT_EXCEEDS)
      continue;
    ck_assert (HAS (LIMIT) && HAS (SWEPT) && HAS (RESOLVED) && HAS (REFERRED));
    ck_assert (HAS (CALIBRATED) ? HAS (OVER) && HAS (SEEN) && !HAS (UNTESTED) && !HAS (AMBIENT) : HAS (GROSS));
  }
}
END_TEST

START_TEST (every_row_is_reached_and_stands_in_the_order_of_its_enum)
{
  guint n;
  const SpVerdictEntry *lines = sp_verdict_table (&n);
  for (guint k = 0; k < n; k++) {
    ck_assert_uint_eq (lines[k].row, k);
    ck_assert_uint_eq (lines[k].yes & lines[k].no, 0);
    guint free = SP_VERDICT_FACTS_END - 1 - lines[k].no;
    gboolean reached = FALSE;
    for (guint facts = free; !reached && facts; facts = (facts - 1) & free)
      reached = sp_verdict_of_facts (facts) == &lines[k];
    ck_assert_msg (reached || sp_verdict_of_facts (0) == &lines[k], "row %u decides nothing", k);
  }
  ck_assert_uint_eq (n, SP_ROW_MORE_POWER);
  ck_assert_uint_eq (lines[n - 1].yes | lines[n - 1].no, 0);
}
END_TEST

static const char *const samples[] = { "samples/club.sheet", "samples/pocket.sheet" };

/* Of each emission: what its facts decide is what it says, in verdict and reason, unless something withheld it afterwards. */
START_TEST (findings_keep_the_row_that_decided)
{
  g_autofree char *path = sp_test_path (samples[_i]);
  GError *error = NULL;
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  sp_no_error (error);
  g_autoptr (SpFindings) findings = sp_judge (bench);
  guint held = 0;
  for (guint k = 0; k < findings->n; k++)
    for (guint j = 0; j < findings->conditions[k].n_emissions; j++) {
      const SpEmission *e = &findings->conditions[k].emissions[j];
      const SpVerdictEntry *line = sp_verdict_of_facts (e->facts);
      if (e->row > SP_ROW_ANALYZER_POSSIBLE) {
        ck_assert_int_eq (e->verdict, SP_VERDICT_NOT_PROVEN);
        continue;
      }
      ck_assert_int_eq (e->row, line->row);
      ck_assert_int_eq (e->verdict, line->verdict);
      ck_assert_str_eq (sp_reason_name (e->reason->code), sp_reason_name (line->reason));
      held++;
    }
  ck_assert_uint_gt (held, 10);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("findings/verdict-table");
  TCase *t = tcase_create ("verdict-table");
  tcase_set_timeout (t, 60);
  tcase_add_test (t, the_table_says_what_the_page_says);
  tcase_add_test (t, complies_only_with_the_guard_below);
  tcase_add_test (t, exceeds_only_over_the_limit_and_tested);
  tcase_add_test (t, every_row_is_reached_and_stands_in_the_order_of_its_enum);
  tcase_add_loop_test (t, findings_keep_the_row_that_decided, 0, G_N_ELEMENTS (samples));
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
