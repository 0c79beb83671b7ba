/* reduce.h - reduces a million points to columns: least, greatest and middle of each
 *
 * No cairo here. Nothing visible is lost: every extreme of the points is on an edge of its column.
 */
#pragma once

#include "ui/figure/pen/scale.h"
#include "ui/figure/plot/pyramid.h"

typedef struct {
  guint64 first, count;   /* the column's points */
  double least, greatest; /* NaN: no points */
  double middle;          /* mean of the values */
  gboolean stands_out;    /* its greatest value is a peak above its surroundings */
} SpColumn;

/* Least, greatest and sum of n >= 1 points. */
void sp_scan (const double *y, guint64 n, SpBlock *block);

/* Cuts the axis into `n_columns` equal parts and reduces y[] into them. x ascending, n points; y without NaN. Ignores points outside
 * the axis. Linear in the visible points, or with a pyramid of y (else NULL) in its blocks; plus a search for each column. */
void sp_reduce (const SpAxis *axis, guint64 n, const double *x, const double *y, const SpPyramid *pyramid, guint n_columns,
                SpColumn *columns);

/* Marks the columns whose greatest value exceeds that of their surroundings. */
void sp_reduce_peaks (guint n_columns, SpColumn *columns);

/* Index of the (first) greatest y of a column with points; pyramid: of y, or NULL. */
guint64 sp_column_peak (const SpColumn *column, const double *y, const SpPyramid *pyramid);
