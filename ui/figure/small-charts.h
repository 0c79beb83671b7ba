/* small-charts.h - a small chart for each condition, all on one pair of axes by harmonic: number, name, verdict and room over it; limit, floor, blind
 * zone and what is the analyzer's in it
 */
#pragma once

#include "core/compare/compare.h"
#include "ui/figure/pen/pen.h"
#include "ui/figure/pen/view.h"
#include "ui/figure/plot/pyramid.h"

#define SP_SMALL_CHART_WIDTH 230 /* at least */
#define SP_SMALL_CHART_HEIGHT 150

typedef struct {
  const SpComparison *comparison;
  const guint *conditions; /* in the order of the charts */
  guint n;
  int reference;    /* a condition whose levels stand dashed in the others; -1: none */
  int chosen;       /* washed; -1: none */
  const guint *row; /* of each condition: its number in the list; NULL: as in the bench */
  gboolean dark;
  SpPyramids *pyramids; /* of these findings, for who draws again; NULL */
} SpSmallCharts;

/* Columns for `n` charts in that width, and the height of all of them. */
guint sp_small_charts_columns (double width, guint n);
double sp_small_charts_height (double width, guint n);
void sp_small_charts_draw (SpPen *pen, const SpSmallCharts *charts, const SpRect *rect);
/* Where the i-th chart stands. */
SpRect sp_small_charts_place (const SpSmallCharts *charts, const SpRect *rect, guint i);
/* Which chart a point lies in: an index into conditions[]; -1: none. */
int sp_small_charts_at (const SpSmallCharts *charts, const SpRect *rect, double x, double y);
