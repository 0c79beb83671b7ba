/* range.h - how deep can be looked at each mixer level: noise, distortion and the floor that they make, against each harmonic's limit
 *
 * Levels below the carrier against the level at the mixer. More at the mixer lifts the carrier out of the noise, and lifts the analyzer's own products
 * out of it too: between the two lies the best level. Where the chosen harmonic's floor lies above its limit the paper is missing. A point can be moved
 * along the mixer level; at the right each harmonic's floor and limit at that point. Every number comes with the SpRange: the point is one of its grid's.
 */
#pragma once

#include "core/plan/plan.h"
#include "ui/figure/pen/pen.h"

typedef struct {
  const SpRange *range;
  const SpOutlook *outlook; /* one for each of the range's curves, at the point; NULL: none is known, no glyphs */
  guint chosen;             /* index of the curve that is brought out */
  guint at;                 /* index on the grid: the point */
} SpRangeView;

/* Draws into `rect`, numbers and all. */
void sp_range_draw (SpPen *pen, const SpRangeView *view, const SpRect *rect);

/* Where the point would be at x: an index on the grid; -1: beside the area. */
int sp_range_at (const SpRangeView *view, const SpRect *rect, double x, double y);
/* The harmonic whose column at the right holds x: an index of a curve; -1: none. */
int sp_range_column_at (const SpRangeView *view, const SpRect *rect, double x, double y);

/* The best mixer level that is advised: no greater than the safe one. NaN: none. */
double sp_range_best (const SpRange *range);

/* The grid's index next to a mixer level. */
guint sp_range_nearest (const SpRange *range, double mixer_dbm);

/* The figure in a sentence or two, for a screen reader. (transfer full) */
char *sp_range_says (const SpRangeView *view);
