/* reduce.c - a trace reduced to what a column of pixels shows */
#include "ui/figure/plot/reduce.h"

#include <math.h>

#include "core/quantity/ascending.h"

#define AROUND 12      /* columns to either side that make the surroundings of a peak */
#define STAND_OUT_DB 6 /* and how far above them it is one, at least */

static guint64
lower_bound_from (guint64 low, guint64 high, const double *x, double value)
{
  return low + sp_ascending_first (high - low, x + low, value);
}

/* The first not below `value`, where it is expected to be near `guess`: the points of a sweep lie about as far apart in this column as in the last. */
static guint64
lower_bound_near (guint64 low, guint64 guess, guint64 n, const double *x, double value)
{
  guint64 step = 2;
  guess = MIN (guess, n);
  if (guess < n && x[guess] < value) {
    for (low = guess + 1; low + step < n && x[low + step] < value; step *= 2)
      low += step + 1;
    return lower_bound_from (low, MIN (n, low + step), x, value);
  }
  guint64 high = guess;
  while (high > low + step && x[high - step] >= value) {
    high -= step;
    step *= 2;
  }
  return lower_bound_from (high > low + step ? high - step : low, high, x, value);
}

/* Four lanes, because one chain of additions waits for itself. */
void
sp_scan (const double *y, guint64 n, SpBlock *block)
{
  double least[4], greatest[4], sum[4] = { 0 };
  for (guint lane = 0; lane < 4; lane++)
    least[lane] = greatest[lane] = y[0];
  guint64 i = 0;
  for (; i + 4 <= n; i += 4)
    for (guint lane = 0; lane < 4; lane++) {
      double value = y[i + lane];
      least[lane] = value < least[lane] ? value : least[lane];
      greatest[lane] = value > greatest[lane] ? value : greatest[lane];
      sum[lane] += value;
    }
  for (; i < n; i++) {
    least[0] = MIN (least[0], y[i]);
    greatest[0] = MAX (greatest[0], y[i]);
    sum[0] += y[i];
  }
  block->least = MIN (MIN (least[0], least[1]), MIN (least[2], least[3]));
  block->greatest = MAX (MAX (greatest[0], greatest[1]), MAX (greatest[2], greatest[3]));
  block->sum = sum[0] + sum[1] + sum[2] + sum[3];
}

static void
join (SpBlock *all, const SpBlock *part)
{
  all->least = MIN (all->least, part->least);
  all->greatest = MAX (all->greatest, part->greatest);
  all->sum += part->sum;
}

/* Whole blocks within [from, to), as [*first, *last); none: FALSE. */
static gboolean
whole_blocks (const SpPyramid *pyramid, guint64 from, guint64 to, guint64 *first, guint64 *last)
{
  if (!pyramid)
    return FALSE;
  *first = (from + SP_BLOCK - 1) / SP_BLOCK;
  *last = MIN (to / SP_BLOCK, pyramid->n);
  return *first < *last;
}

static void
scan_part (const double *y, const SpPyramid *pyramid, guint64 from, guint64 to, SpBlock *all)
{
  guint64 first, last;
  if (!whole_blocks (pyramid, from, to, &first, &last)) {
    sp_scan (y + from, to - from, all);
    return;
  }
  *all = pyramid->blocks[first];
  for (guint64 i = first + 1; i < last; i++)
    join (all, &pyramid->blocks[i]);
  SpBlock edge;
  if (from < first * SP_BLOCK) {
    sp_scan (y + from, first * SP_BLOCK - from, &edge);
    join (all, &edge);
  }
  if (last * SP_BLOCK < to) {
    sp_scan (y + last * SP_BLOCK, to - last * SP_BLOCK, &edge);
    join (all, &edge);
  }
}

void
sp_reduce (const SpAxis *axis, guint64 n, const double *x, const double *y, const SpPyramid *pyramid, guint n_columns, SpColumn *columns)
{
  guint64 at = lower_bound_from (0, n, x, axis->from), count = 0;
  for (guint i = 0; i < n_columns; i++) {
    guint64 next;
    if (i + 1 < n_columns)
      next = lower_bound_near (at, at + count, n, x, axis->scale->from_unit ((i + 1.0) / n_columns, axis->from, axis->to));
    else
      for (next = lower_bound_from (at, n, x, axis->to); next < n && x[next] <= axis->to;)
        next++;
    count = next - at;
    columns[i] = (SpColumn){ at, count, NAN, NAN, NAN, FALSE };
    if (count) {
      SpBlock all;
      scan_part (y, pyramid, at, next, &all);
      columns[i].least = all.least;
      columns[i].greatest = all.greatest;
      columns[i].middle = all.sum / (double) count;
    }
    at = next;
  }
}

/* By insertion: for so few values a call for each comparison would cost the most. */
static void
sort (double *values, guint n)
{
  for (guint i = 1; i < n; i++) {
    double value = values[i];
    guint at = i;
    for (; at > 0 && values[at - 1] > value; at--)
      values[at] = values[at - 1];
    values[at] = value;
  }
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
  sort (values, used);
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
sp_column_peak (const SpColumn *column, const double *y, const SpPyramid *pyramid)
{
  guint64 at = column->first, end = column->first + column->count, first, last;
  if (whole_blocks (pyramid, at, end, &first, &last)) {
    while (at < first * SP_BLOCK && y[at] < column->greatest)
      at++;
    if (at == first * SP_BLOCK) {
      while (first < last && pyramid->blocks[first].greatest < column->greatest)
        first++;
      at = first * SP_BLOCK;
    }
  }
  while (at + 1 < end && y[at] < column->greatest)
    at++;
  return at;
}
