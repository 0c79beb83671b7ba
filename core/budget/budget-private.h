/* budget-private.h - the terms of a budget, one after the other
 */
#pragma once

#include "core/budget/budget.h"

/* All but what the readings add: analyzer, chain, mismatch. `pairs`: GArray of double, the pairs of reflections are added to it; NULL: not kept.
 * (transfer full) GArray of SpTerm. */
GArray *sp_budget_terms (const SpBudgetView *view, double frequency_hz, gboolean at_fundamental, GArray *pairs);
void sp_budget_add_readings (GArray *terms, const SpBudgetReadings *readings);
/* All of P alone: in the column of the level, which P is there. (transfer full) GArray of SpTerm. */
GArray *sp_budget_carrier_terms (const SpBudgetView *view, const SpBudgetReadings *readings, GArray *pairs);
void sp_budget_add_switching (GArray *terms, const SpBudgetView *view);
/* What the check source says about the evening. */
void sp_budget_add_drift (GArray *terms, const SpBudgetView *view);
/* Last: it changes what the others do to level, P and dBc. */
void sp_budget_put_meter (GArray *terms, const SpBudgetView *view);
