/* verdict-stages.h - the decision rule, what was not shown, the verdict on a condition (private to judging)
 */
#pragma once

#include "core/judge/judging.h"

/* What U allows: towards *complies* the whole of it, with what a line between two points may have lost; towards *exceeds* without, for such a line only
 * ever reads low (core/budget/budget.h). The guards are 0 under the simple rule. */
typedef struct {
  double high_db, expanded_db;
  double low_db, expanded_low_db;
} SpGuard;

/* rule-facts.c: the guard of an emission that has its budget; the U that its margin is held against; the ends of the radio's part (the level itself where
 * nothing else is known); and what the rule asks of it, bits of SpRuleFact. */
SpGuard sp_judging_guard (const SpJudging *c, const SpEmission *e);
double sp_judging_guard_margin_db (const SpEmission *e, const SpGuard *guard);
void sp_judging_part (const SpEmission *e, double *low_dbm, double *high_dbm);
guint sp_judging_facts (const SpJudging *c, const SpEmission *e, const SpGuard *guard);

/* rule-reasons.c: why e->row decided. (transfer full) */
SpReason *sp_judging_row_reason (const SpJudging *c, const SpEmission *e, const SpGuard *guard);

/* verdict.c: what is decided of an emission that has its limit, budget and origin, as SpEmission names it. */
typedef struct {
  double margin_db, conformity;
  guint facts;
  SpRuleRow row;
  SpVerdict verdict;
  SpDecision decision;
  SpReason *reason; /* (transfer full) */
} SpDecided;
SpDecided sp_judging_verdict (const SpJudging *c, const SpEmission *emission);

/* decision.c: what the verdict goes by, with what the rule lets U do towards *complies* and towards *exceeds*; and
 * SpConditionFindings.unsettled_emission, once worst_emission is known. */
SpDecision sp_judging_decision (const SpEmission *e, double guard_db, double guard_low_db);
int sp_judging_unsettled (const SpConditionFindings *found);

/* assumed.c: an assumed self-heating or temperature term among the two largest of a margin's u; NULL. */
const SpTerm *sp_budget_assumed_of_weight (const SpBudget *budget, SpBudgetColumn column);
/* Warning: the verdict of the condition stands on one. */
void sp_judging_assumed (SpJudging *c);

/* gaps.c: what was not swept of what the mask wants, and what of a search range was not seen deep enough into. */
void sp_judging_gaps (SpJudging *c);

/* seams.c: where sweeps of unequal span begin and end inside the whole. */
void sp_judging_seams (SpJudging *c);

/* summary.c: the condition's own verdict. */
void sp_judging_summary (SpJudging *c);
