/* json.h - findings, chain, mask, headroom and traces as JSON, for programs that read us
 *
 * UTF-8, one object that ends with a newline, "schema": 1, SI units in the key's name. Numbers carry all their digits (17 significant);
 * what is not known, not finite or not defined is null. Keys and strings are a stable interface: they may be added to, never changed.
 * `n_draws` 0: no Monte Carlo; else each judged emission gets "monte_carlo" from that many draws, seeded by `seed`.
 */
#pragma once

#include "core/budget/propagate.h"
#include "core/compare/compare.h"
#include "core/width/width.h"

/* All: (transfer full) */
char *sp_json_findings (const SpFindings *findings, guint64 n_draws, guint64 seed);
/* Loss at n frequencies, in the order given. */
char *sp_json_chain (const SpChain *chain, guint n, const double *frequency_hz);
/* Masks known by name: an array of SpMask*. */
char *sp_json_masks (GPtrArray *masks);
/* One mask evaluated: `segments` as sp_mask_segments gives them. */
char *sp_json_mask (const SpMask *mask, GArray *segments, const SpReason *none); /* `none`: why there is no limit at all; NULL */
/* Conditions side by side; `moves` NULL: "moved" is empty. */
char *sp_json_compare (const SpComparison *comparison, const SpMoves *moves, SpMovesShown shown);
/* What a level's U stands on. `drawn` NULL: no Monte Carlo. Level's u and dof are "u_db" and "dof"; "sums" null where nothing was swept. */
char *sp_json_budget (const SpUncertaintySource *source, const SpChain *chain, const SpBudgetDrawn *drawn, guint64 n_draws, guint64 seed);
/* A substitution run: "dof" truncated to whole numbers, "lines" the stage's group to paste. */
char *sp_json_run (const SpRun *run, const SpRunResult *result);
/* Floor against limit at one setting, what would prove each, and the sweep to take: "sweep" null where none would prove everything; then
 * "deepest_sweep" misses least (null: nothing is safe). */
char *sp_json_range (SpPlan *plan, const SpSetting *setting);
char *sp_json_headroom (const SpHeadroom *headroom, const SpChain *chain);
/* What the reader understood: an array of SpTrace*. */
char *sp_json_traces (GPtrArray *traces);
/* How wide the signal in a trace is. */
char *sp_json_widths (const SpWidths *widths);
