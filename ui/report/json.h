/* json.h - writes findings, chain, mask, headroom and traces as JSON for other programs
 *
 * UTF-8, one object that ends with a newline, "schema": 1, SI units in the key's name. Numbers have all their digits (17 significant);
 * null: not known, not finite or not defined. Keys and strings are a stable interface: new ones may be added, none changes.
 * `n_draws` 0: no Monte Carlo; else each judged emission gets "monte_carlo" from that many draws, seeded by `seed`.
 */
#pragma once

#include "core/budget/propagate.h"
#include "core/check/check.h"
#include "core/compare/compare.h"
#include "core/width/width.h"

/* All functions: (transfer full) */
char *sp_json_findings (const SpFindings *findings, guint64 n_draws, guint64 seed);
/* Loss at n frequencies, in the order given. */
char *sp_json_chain (const SpChain *chain, guint n, const double *frequency_hz);
/* The built-in masks: an array of SpMask*. */
char *sp_json_masks (GPtrArray *masks);
/* One mask evaluated; `segments` from sp_mask_segments. */
char *sp_json_mask (const SpMask *mask, GArray *segments, const SpReason *none); /* `none`: why there is no limit; NULL */
/* Conditions side by side; `moves` NULL: "moved" is empty. */
char *sp_json_compare (const SpComparison *comparison, const SpMoves *moves, SpMovesShown shown);
/* The sources of a level's U. `drawn` NULL: no Monte Carlo. The level's u and dof are "u_db" and "dof"; "sums" is null if not swept. */
char *sp_json_budget (const SpUncertaintySource *source, const SpChain *chain, const SpBudgetDrawn *drawn, guint64 n_draws, guint64 seed);
/* A substitution run: "dof" truncated to whole numbers, "lines" the stage's group to paste. */
char *sp_json_run (const SpRun *run, const SpRunResult *result);
/* An analyzer's check likewise, "lines" the keys of its profile; "left": what the check leaves of the stated errors. */
char *sp_json_check (const SpCheck *check, const SpCheckResult *result, const SpAnalyzer *analyzer);
/* Floor against limit at one setting, the advice for each harmonic, and the advised sweep: "sweep" is null if none would prove
 * everything; "deepest_sweep" then misses least (null: nothing is safe). */
char *sp_json_range (SpPlan *plan, const SpSetting *setting);
char *sp_json_headroom (const SpHeadroom *headroom, const SpChain *chain);
/* The traces as the reader understood them: an array of SpTrace*. */
char *sp_json_traces (GPtrArray *traces);
/* The width of a trace's signal. */
char *sp_json_widths (const SpWidths *widths);
