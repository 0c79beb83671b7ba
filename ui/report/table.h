/* table.h - writes findings, chain, mask, headroom and traces as text tables for a terminal
 *
 * The same fields as in json.h, rounded for reading, with decimal points. An unsafe chain is the first line.
 * `n_draws` 0: no Monte Carlo. All functions: (transfer full), text ending with a newline.
 */
#pragma once

#include "core/budget/propagate.h"
#include "core/check/check.h"
#include "core/compare/compare.h"
#include "core/width/width.h"

char *sp_table_findings (const SpFindings *findings, guint64 n_draws, guint64 seed);
char *sp_table_chain (const SpChain *chain, guint n, const double *frequency_hz);
char *sp_table_masks (GPtrArray *masks);
char *sp_table_mask (const SpMask *mask, GArray *segments, const SpReason *none); /* `none`: why there is no limit; NULL */
/* `drawn` NULL: no Monte Carlo. */
char *sp_table_budget (const SpUncertaintySource *source, const SpChain *chain, const SpBudgetDrawn *drawn, guint64 n_draws, guint64 seed);
char *sp_table_run (const SpRun *run, const SpRunResult *result);
char *sp_table_check (const SpCheck *check, const SpCheckResult *result, const SpAnalyzer *analyzer);
char *sp_table_range (SpPlan *plan, const SpSetting *setting);
char *sp_table_headroom (const SpHeadroom *headroom, const SpChain *chain);
/* `moves` may be NULL. */
char *sp_table_compare (const SpComparison *comparison, const SpMoves *moves, SpMovesShown shown);
char *sp_table_traces (GPtrArray *traces);
char *sp_table_widths (const SpWidths *widths);
