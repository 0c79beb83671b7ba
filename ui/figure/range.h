/* range.h - the visible range at each mixer level: noise, the product and their floor, against each harmonic's limit
 *
 * Levels below the carrier against the level at the mixer. A higher mixer level lifts the carrier out of the noise but also the
 * analyzer's products; the best level is between. Where the chosen harmonic's floor is above its limit the paper is missing. A point
 * can be moved along the mixer level; at the right each harmonic's floor and limit at that point. All numbers are in the SpRange: the
 * point is one of its grid's.
 */
#pragma once

#include "core/plan/plan.h"
#include "ui/figure/pen/pen.h"

typedef struct {
  const SpRange *range;
  const SpOutlook *outlook; /* one for each of the range's curves, at the point; NULL: not known, no glyphs */
  guint chosen;             /* index of the highlighted curve */
  guint at;                 /* index on the grid: the point */
} SpRangeView;

/* Draws into `rect`, with numbers. */
void sp_range_draw (SpPen *pen, const SpRangeView *view, const SpRect *rect);

/* Index on the grid of the point at x; -1: beside the area. */
int sp_range_at (const SpRangeView *view, const SpRect *rect, double x, double y);
/* Index of the curve whose column at the right holds x; -1: none. */
int sp_range_column_at (const SpRangeView *view, const SpRect *rect, double x, double y);

/* The best advised mixer level, at most the safe one. NaN: none. */
double sp_range_best (const SpRange *range);
/* TRUE if it is only the level that is assumed safe, since nobody states one. */
gboolean sp_range_best_is_assumed (const SpRange *range);

/* The grid's index next to a mixer level. */
guint sp_range_nearest (const SpRange *range, double mixer_dbm);

/* The figure in a sentence or two, for a screen reader. (transfer full) */
char *sp_range_says (const SpRangeView *view);
