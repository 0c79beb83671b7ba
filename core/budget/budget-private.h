/* budget-private.h - functions for the terms of a budget */
#pragma once

#include "core/budget/budget.h"

/* All terms except those of the readings: analyzer, chain, mismatch. `pairs`: GArray of double that receives the pairs of reflections;
 * NULL: not kept. (transfer full) GArray of SpTerm. */
GArray *sp_budget_terms (const SpBudgetView *view, double frequency_hz, gboolean at_fundamental, GArray *pairs);
void sp_budget_add_readings (GArray *terms, const SpBudgetReadings *readings);
/* All terms of P alone, in the level's column. (transfer full) GArray of SpTerm. */
GArray *sp_budget_carrier_terms (const SpBudgetView *view, const SpBudgetReadings *readings, GArray *pairs);
void sp_budget_add_switching (GArray *terms, const SpBudgetView *view, double frequency_hz);
/* The same without another sweep to differ from. */
void sp_budget_add_own_switching (GArray *terms, const SpBudgetView *view, double frequency_hz);
/* Adds the drift shown by the check source. */
void sp_budget_add_drift (GArray *terms, const SpBudgetView *view);
/* Applies the meter; must be last, since it changes the other terms' shares of level, P and dBc. */
void sp_budget_put_meter (GArray *terms, const SpBudgetView *view);
