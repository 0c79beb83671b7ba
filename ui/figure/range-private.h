/* range-private.h - what range.c and range-columns.c share */
#pragma once

#include "ui/figure/pen/frame.h"
#include "ui/figure/range.h"

typedef struct {
  SpPen *pen; /* NULL: only laid out */
  const SpRangeView *view;
  SpFrame frame;
  SpRect columns; /* at the right, of the frame's height; empty: no space */
  double column_width;
  SpRect written[8]; /* where words stand in the area */
  guint n_written;
} SpRangeDrawing;

static inline double
sp_range_y (const SpRangeDrawing *d, double level_dbc)
{
  return sp_axis_at (&d->frame.y, CLAMP (level_dbc, -1000, 1000)); /* no product at all is minus infinity */
}

void sp_range_draw_columns (SpRangeDrawing *d);
