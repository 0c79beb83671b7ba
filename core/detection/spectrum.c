/* spectrum.c - peaks of a trace and their prominence */
#include "core/detection/spectrum.h"

#include "core/detection/running.h"

#include <float.h>

/* The next point from `i` on that rises by `rise` over the lowest since and reaches `least`; n: none. */
static guint64
climb (guint64 n, const double *x, guint64 i, double least, double rise)
{
  double lowest = x[i];
  for (; i < n; i++) {
    while (x[i] < least && i + LANES <= n) { /* skips noise */
      gboolean any = FALSE;
      for (guint k = 0; k < LANES; k++)
        any |= x[i + k] >= least;
      if (any)
        break;
      lowest = MIN (lowest, lowest_of (LANES, x + i));
      i += LANES;
      if (i == n)
        return n;
    }
    lowest = x[i] < lowest ? x[i] : lowest;
    if (x[i] - lowest >= rise && x[i] >= least)
      return i;
  }
  return n;
}

/* Middles of the plateaus of x within [from, to) as high as x[from]; several if equal maxima are less than the prominence apart. */
static guint64 *
take_plateaus (guint64 *peak, guint64 from, guint64 to, const double *x, const double *base, double over_db)
{
  double level = x[from];
  for (guint64 i = from; i < to; i++) {
    guint64 end = i;
    while (end < to && x[end] == level)
      end++;
    if (end == i)
      continue;
    *peak = i + (end - 1 - i) / 2;
    peak += level >= base[*peak] + over_db;
    i = end;
  }
  return peak;
}

/* Selects a or b by a mask: compilers make a branch of ?: here. */
static inline guint64
pick (gboolean is_a, guint64 a, guint64 b)
{
  guint64 mask = -(guint64) is_a;
  return (a & mask) | (b & ~mask);
}

/* A maximum has the prominence exactly if the trace rises to it by that much, and falls by that much before it rises above it. So one
 * pass with alternating rises and falls finds all. Maxima under `least` are neither peaks nor the end of a descent. */
GArray *
sp_find_peaks (guint64 n, const double *x, const double *base, double over_db, double prominence_db)
{
  g_autofree guint64 *found = g_new (guint64, n / 2 + 2); /* unwritten memory costs nothing */
  guint64 *peak = found;
  double least = lowest_of (n, base) + over_db, swing = MAX (prominence_db, DBL_TRUE_MIN);
  guint64 i = n ? climb (n, x, 0, least, swing) : n;
  while (i < n) {
    guint64 first = i, last = i;
    double highest = x[i];
    for (i++; i < n && highest - x[i] < swing; i++) { /* branchless: in noise half the predictions would fail */
      first = pick (x[i] > highest, i, first);
      last = pick (x[i] >= highest, i, last);
      highest = x[i] > highest ? x[i] : highest;
    }
    if (i == n)
      break;
    if (first < last)
      peak = take_plateaus (peak, first, last + 1, x, base, over_db);
    else {
      *peak = first;
      peak += highest >= base[first] + over_db;
    }
    i = climb (n, x, i, least, swing);
  }
  GArray *peaks = g_array_new (FALSE, FALSE, sizeof (guint64));
  return g_array_append_vals (peaks, found, (guint) (peak - found));
}

void
sp_parabola (double left_db, double middle_db, double right_db, double *offset, double *level_db)
{
  double bend = left_db - 2 * middle_db + right_db; /* < 0 at a maximum, 0 on a plateau */

  *offset = bend < 0 ? 0.5 * (left_db - right_db) / bend : 0;
  *level_db = middle_db - 0.25 * (left_db - right_db) * *offset;
}
