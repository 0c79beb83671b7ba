/* panels.h - the panels round the spectrum: each draws into its own rectangle, so that a window can place and cache it separately
 *
 * None keeps anything. Items that do not fit are left out from the end and counted ("and 3 more").
 */
#pragma once

#include "ui/figure/pen/pen.h"
#include "ui/figure/pen/view.h"

/* The chosen condition's level along the chain, from the radio to the mixer: treads whose drop is a stage's loss to scale, ratings as
 * hatched ceilings, headroom between; the worst single fault as a dotted ghost with its sentence. */
void sp_staircase_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect);
/* Rectangle of a stage (an index into the chain) in that drawing; FALSE: none, *place is unchanged. */
gboolean sp_staircase_place (const SpFindings *findings, const SpView *view, const SpRect *rect, int stage, SpRect *place);
/* The stage drawn above or below a point; -1: the radio, the analyzer, or none. */
int sp_staircase_stage_at (const SpFindings *findings, const SpView *view, const SpRect *rect, double x);

/* The chosen condition in one sentence, with its verdict's glyph, on as many lines as there is height for. */
void sp_statement_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect);

/* One row for each condition: swatch, name, verdict, margin as a dot with its U whisker on a number line centred on the limit; below,
 * the advice for the chosen one. */
void sp_radios_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect);

/* The important emissions: each condition's worst, then others near or over the limit; the worst first. */
void sp_ledger_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect);
/* Height of the ledger for `rows` rows. */
double sp_ledger_height (guint rows);

/* Bench, date, limit with clause, rule, sweep settings, chain with the first six digits of its hash. */
void sp_title_block_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect);

/* A margin on a small number line centred on the limit: better is left. NaN margin: only the limit's tick. */
void sp_margin_line_draw (SpPen *pen, double x, double y, double width, double margin_db, double expanded_db);
/* The same of a margin that is at least that, since nothing was seen or only so much can be the radio's: dotted up to a bar. */
void sp_margin_line_draw_most (SpPen *pen, double x, double y, double width, double margin_db);
