#include "ui/figure/reduce.h"

#include <math.h>

#define AROUND 12      /* columns to either side that make the surroundings of a peak */
#define STAND_OUT_DB 6 /* and how far above them it is one, at least */

static guint64
lower_bound_from (guint64 low, guint64 n, const double *x, double value)
{
  guint64 high = n;
  while (low < high) {
    guint64 middle = low + (high - low) / 2;
    if (x[middle] < value)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

guint64
sp_lower_bound (guint64 n, const double *x, double value)
{
  return lower_bound_from (0, n, x, value);
}

/* Four lanes, because one chain of additions waits for itself. */
static void
scan (const double *y, guint64 count, SpColumn *column)
{
  double least[4], greatest[4], sum[4] = { 0 };
  for (guint lane = 0; lane < 4; lane++)
    least[lane] = greatest[lane] = y[0];
  guint64 i = 0;
  for (; i + 4 <= count; i += 4)
    for (guint lane = 0; lane < 4; lane++) {
      double value = y[i + lane];
      least[lane] = value < least[lane] ? value : least[lane];
      greatest[lane] = value > greatest[lane] ? value : greatest[lane];
      sum[lane] += value;
    }
  for (; i < count; i++) {
    least[0] = MIN (least[0], y[i]);
    greatest[0] = MAX (greatest[0], y[i]);
    sum[0] += y[i];
  }
  column->least = MIN (MIN (least[0], least[1]), MIN (least[2], least[3]));
  column->greatest = MAX (MAX (greatest[0], greatest[1]), MAX (greatest[2], greatest[3]));
  column->middle = (sum[0] + sum[1] + sum[2] + sum[3]) / (double) count;
}

void
sp_reduce (const SpAxis *axis, guint64 n, const double *x, const double *y, guint n_columns, SpColumn *columns)
{
  guint64 at = lower_bound_from (0, n, x, axis->from);
  for (guint i = 0; i < n_columns; i++) {
    guint64 next;
    if (i + 1 < n_columns)
      next = lower_bound_from (at, n, x, axis->scale->from_unit ((i + 1.0) / n_columns, axis->from, axis->to));
    else
      for (next = lower_bound_from (at, n, x, axis->to); next < n && x[next] <= axis->to;)
        next++;
    columns[i] = (SpColumn) { at, next - at, NAN, NAN, NAN, FALSE };
    if (next > at)
      scan (y + at, next - at, &columns[i]);
    at = next;
  }
}

static int
ascending (const void *a, const void *b)
{
  double difference = *(const double *) a - *(const double *) b;
  return (difference > 0) - (difference < 0);
}

static double
median_around (guint n, const SpColumn *columns, guint at, gboolean of_greatest)
{
  double values[2 * AROUND + 1];
  guint used = 0;
  guint low = at > AROUND ? at - AROUND : 0, high = MIN (n - 1, at + AROUND);
  for (guint i = low; i <= high; i++)
    if (columns[i].count)
      values[used++] = of_greatest ? columns[i].greatest : columns[i].middle;
  qsort (values, used, sizeof *values, ascending);
  return used ? values[used / 2] : NAN;
}

void
sp_reduce_peaks (guint n_columns, SpColumn *columns)
{
  double usual = NAN, spread = 0;
  for (guint i = 0; i < n_columns; i++) {
    if (i % 4 == 0) { /* the surroundings change slowly */
      usual = median_around (n_columns, columns, i, TRUE);
      spread = usual - median_around (n_columns, columns, i, FALSE);
    }
    columns[i].stands_out = columns[i].count && columns[i].greatest > usual + MAX (STAND_OUT_DB, 2 * spread);
  }
}

guint64
sp_column_peak (const SpColumn *column, const double *y)
{
  guint64 best = column->first;
  while (y[best] < column->greatest && best + 1 < column->first + column->count)
    best++;
  return best;
}
