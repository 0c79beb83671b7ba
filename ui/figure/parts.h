/* parts.h - what stands round the spectrum: each draws into its own rectangle, so that a window can place and cache it on its own
 *
 * None keeps anything. What does not fit is left out from the end and said ("and 3 more").
 */
#pragma once

#include "ui/figure/pen/pen.h"
#include "ui/figure/pen/view.h"

/* Level against place, from the radio to the mixer, of the chosen condition: treads whose drop is a stage's loss to scale, ratings as
 * hatched ceilings, headroom between; the worst single fault as a dotted ghost with its sentence. */
void sp_staircase_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect);
/* Where a stage (an index into the chain) has its place in that drawing; FALSE: there is none, *place is left alone. */
gboolean sp_staircase_place (const SpFindings *findings, const SpView *view, const SpRect *rect, int stage, SpRect *place);
/* The stage whose place is over or under a point of it; -1: the radio's, the analyzer's, none. */
int sp_staircase_stage_at (const SpFindings *findings, const SpView *view, const SpRect *rect, double x);

/* One row a condition: swatch, name, verdict, margin as a dot with its U whisker on a number line centred on the limit; below, what the
 * chosen one still wants. */
void sp_radios_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect);

/* The emissions that matter: each condition's worst, then what else stands near or over its limit; the worst first. */
void sp_ledger_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect);
/* The height that the ledger wants for `rows` rows. */
double sp_ledger_height (guint rows);

/* Bench, date, limit with clause, rule, sweep settings, chain with the first six digits of its hash. */
void sp_title_block_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect);

/* A margin on a small number line centred on the limit: better is left. NaN margin: the limit's tick alone. */
void sp_margin_line_draw (SpPen *pen, double x, double y, double width, double margin_db, double expanded_db);
