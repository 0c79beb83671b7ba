/* verdict.h - the verdict table on one emission, the gaps, the verdict on a condition (private to judging) */
#pragma once

#include "core/judge/sweep/judging.h"

/* Guards of the decision. For *complies*: the whole U with the possible loss of a line between two points. For *exceeds*: without it,
 * since such a line only reads low (core/budget/budget.h). Both guards are 0 under the simple rule. */
typedef struct {
  double high_db, expanded_db;
  double low_db, expanded_low_db;
} SpGuard;

/* verdict-facts.c: the guard of an emission with a budget; the U that its margin is compared with; the ends of the radio's part (both the
 * level if no part is known); and the facts of the verdict table, bits of SpVerdictFact. */
SpGuard sp_judging_guard (const SpJudging *c, const SpEmission *e);
double sp_judging_guard_margin_db (const SpEmission *e, const SpGuard *guard);
void sp_judging_part (const SpEmission *e, double *low_dbm, double *high_dbm);
guint sp_judging_facts (const SpJudging *c, const SpEmission *e, const SpGuard *guard);
/* Of those, OVER, BELOW and GROSS, for a part with these ends. */
guint sp_judging_facts_of_part (const SpEmission *e, double low_dbm, double high_dbm, const SpGuard *guard);

/* row-reasons.c: the reason for e->row. (transfer full) */
SpReason *sp_judging_row_reason (const SpJudging *c, const SpEmission *e, const SpGuard *guard);

/* verdict.c: the decision on an emission that has limit, budget and origin; members as in SpEmission. */
typedef struct {
  double margin_db, conformity;
  guint facts;
  SpVerdictRow row;
  SpVerdict verdict;
  SpDecision decision;
  SpReason *reason; /* (transfer full) */
} SpDecided;
SpDecided sp_judging_verdict (const SpJudging *c, const SpEmission *emission);

/* decision.c: the quantity that decides the verdict; and SpConditionFindings.unsettled_emission, after worst_emission. */
SpDecision sp_judging_decision (const SpEmission *e, const SpGuard *guard);
int sp_judging_unsettled (const SpConditionFindings *found);

/* assumed.c: an assumed self-heating or temperature term among the two largest of a margin's u; NULL: none. */
const SpTerm *sp_budget_assumed_of_weight (const SpBudget *budget, SpBudgetColumn column);
/* Adds a warning if the condition's verdict depends on such a term. */
void sp_judging_assumed (const SpJudging *c, GPtrArray *warnings);

/* overloaded.c: puts before the warnings an OVERLOAD for each judged sweep whose carrier stands over the mixer's best level. */
void sp_judging_overloads (const SpJudging *c, GPtrArray *warnings);

/* gaps.c: required ranges that were not swept, and parts of a search range that were not seen deep enough. */
typedef struct {
  GArray *gaps; /* SpGap (transfer full) */
  double clear_room_db;
  gboolean searched;
} SpGaps; /* as in SpConditionFindings */
SpGaps sp_judging_gaps (const SpJudging *c);

/* seams.c: (transfer full) frequencies where sweeps of unequal span begin and end inside the whole range. */
SpSeam *sp_judging_seams (const SpJudging *c, guint *n);

/* summary.c: the condition's verdict, as in SpConditionFindings. */
typedef struct {
  SpVerdict verdict;
  double worst_margin_db;
  int worst_emission;
} SpSummary;
SpSummary sp_judging_summary (const SpJudging *c);

/* statement.c: the sentence on a condition, after its summary. (transfer full) */
SpReason *sp_judging_statement (const SpJudging *c);
