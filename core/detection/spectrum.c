#include "core/detection/spectrum.h"

#include <float.h>
#include <math.h>
#include <string.h>

#define STEPS_PER_DB   64
#define LEVEL_LIMIT_DB 1000.
#define BLOCK_BITS     8 /* 256 steps = 4 dB a block: the search skips empty stretches a block at a time */
#define SKIPPED        G_MAXUINT32

/* Counts of the quantised values in the window, and a pointer that follows the quantile: noise moves it by a few steps a point. */
typedef struct {
  guint32 *count, *block;
  guint32 at;    /* step that holds the wanted rank */
  guint64 below; /* values in steps under `at` */
  guint64 total;
} Histogram;

static inline double
clip (double level)
{
  level = level < LEVEL_LIMIT_DB ? level : LEVEL_LIMIT_DB; /* fmin() is a call */
  return level > -LEVEL_LIMIT_DB ? level : -LEVEL_LIMIT_DB;
}

static inline void
histogram_add (Histogram *h, guint32 step, int by)
{
  if (step == SKIPPED)
    return;
  h->count[step] += by;
  h->block[step >> BLOCK_BITS] += by;
  h->total += by;
  h->below += step < h->at ? by : 0;
}

static inline void
histogram_seek (Histogram *h, guint64 rank)
{
  const guint32 block_mask = (1u << BLOCK_BITS) - 1;

  while (h->below > rank) {
    if ((h->at & block_mask) == 0 && h->below - h->block[(h->at >> BLOCK_BITS) - 1] > rank) {
      h->at -= 1u << BLOCK_BITS;
      h->below -= h->block[h->at >> BLOCK_BITS];
    } else
      h->below -= h->count[--h->at];
  }
  while (h->below + h->count[h->at] <= rank) {
    if ((h->at & block_mask) == 0 && h->below + h->block[h->at >> BLOCK_BITS] <= rank) {
      h->below += h->block[h->at >> BLOCK_BITS];
      h->at += 1u << BLOCK_BITS;
    } else
      h->below += h->count[h->at++];
  }
}

/* Steps over the lowest level; *lowest in dB; returns how many different steps there can be. */
static guint32
quantise (guint64 n, const double *x, const guint8 *skip, guint32 *step, double *lowest)
{
  double low = LEVEL_LIMIT_DB, high = -LEVEL_LIMIT_DB;

  for (guint64 i = 0; i < n; i++) {
    double level = clip (x[i]);
    low = level < low ? level : low;
    high = level > high ? level : high;
  }
  for (guint64 i = 0; i < n; i++)
    step[i] = skip && skip[i] ? SKIPPED : (guint32)((clip (x[i]) - low) * STEPS_PER_DB + 0.5);
  *lowest = low;
  return (guint32)((high - low) * STEPS_PER_DB + 0.5) + 1;
}

/* NaN takes the nearest number; FALSE if there is none. */
static gboolean
hold_nearest (guint64 n, double *out)
{
  guint64 last = n; /* index of the last number, n: none yet */

  for (guint64 i = 0; i < n; i++) {
    if (isnan (out[i]))
      continue;
    guint64 gap = last == n ? 0 : last + 1;
    guint64 middle = last == n ? 0 : last + (i - last) / 2 + 1;
    for (; gap < i; gap++)
      out[gap] = gap < middle ? out[last] : out[i];
    last = i;
  }
  if (last == n)
    return FALSE;
  for (guint64 i = last + 1; i < n; i++)
    out[i] = out[last];
  return TRUE;
}

void
sp_running_quantile (guint64 n, const double *x, const guint8 *skip, guint64 half, double p, double *out)
{
  if (n == 0)
    return;
  guint64 width = half < n / 2 ? 2 * half + 1 : n;
  double lowest;
  g_autofree guint32 *step = g_new (guint32, n);
  guint32 steps = quantise (n, x, skip, step, &lowest);
  guint32 blocks = (steps >> BLOCK_BITS) + 1;
  g_autofree guint32 *count = g_new0 (guint32, (gsize)blocks << BLOCK_BITS);
  g_autofree guint32 *block = g_new0 (guint32, blocks);
  Histogram h = { .count = count, .block = block };

  for (guint64 i = 0; i < width; i++)
    histogram_add (&h, step[i], 1);
  for (guint64 i = 0; i < n; i++) {
    if (i > half && i + half < n && width < n) {
      histogram_add (&h, step[i - half - 1], -1);
      histogram_add (&h, step[i + half], 1);
    }
    if (h.total == 0) {
      out[i] = NAN;
      continue;
    }
    guint64 rank = (guint64)(p * (double)h.total);
    histogram_seek (&h, MIN (rank, h.total - 1));
    out[i] = lowest + (double)h.at / STEPS_PER_DB;
  }
  if (skip && !hold_nearest (n, out))
    sp_running_quantile (n, x, NULL, half, p, out);
}

void
sp_noise_floor (guint64 n, const double *x, guint64 half, double p, double exclude_db, guint64 guard, double *level)
{
  if (n == 0)
    return;
  sp_running_quantile (n, x, NULL, half, p, level);

  g_autofree guint8 *skip = g_new0 (guint8, n);
  gboolean any = FALSE;
  guint64 marked = 0; /* all below are decided, so that a broad signal costs no more than a narrow one */

  for (guint64 i = 0; i < n; i++) {
    if (!(x[i] > level[i] + exclude_db))
      continue;
    guint64 from = MAX (marked, i > guard ? i - guard : 0);
    guint64 to = guard < n - i ? i + guard + 1 : n;
    if (to > from)
      memset (skip + from, 1, to - from);
    marked = to;
    any = TRUE;
  }
  if (any)
    sp_running_quantile (n, x, skip, half, p, level);
}

/* Eight at a time, in lanes that do not wait for each other. */
#define LANES 8

static double
lowest_of (guint64 n, const double *x)
{
  double lane[LANES], lowest = INFINITY;
  guint64 i = 0;
  for (guint k = 0; k < LANES; k++)
    lane[k] = INFINITY;
  for (; i + LANES <= n; i += LANES)
    for (guint k = 0; k < LANES; k++)
      lane[k] = x[i + k] < lane[k] ? x[i + k] : lane[k];
  for (guint k = 0; k < LANES; k++)
    lowest = lane[k] < lowest ? lane[k] : lowest;
  for (; i < n; i++)
    lowest = x[i] < lowest ? x[i] : lowest;
  return lowest;
}

/* The next point from `i` on that rises by `rise` over the lowest since and reaches `least`; n: none. */
static guint64
climb (guint64 n, const double *x, guint64 i, double least, double rise)
{
  double lowest = x[i];
  for (; i < n; i++) {
    while (x[i] < least && i + LANES <= n) { /* a stretch of noise alone */
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

/* Plateaus of x within [from, to) that stand at `level`, at their middles; more than one where equal maxima lie less than the prominence apart. */
static void
take_plateaus (GArray *peaks, guint64 from, guint64 to, const double *x, const double *height, double level)
{
  for (guint64 i = from; i < to; i++) {
    guint64 end = i;
    while (end < to && x[end] == level)
      end++;
    if (end == i)
      continue;
    guint64 middle = i + (end - 1 - i) / 2;
    if (level >= height[middle])
      g_array_append_val (peaks, middle);
    i = end;
  }
}

/* A maximum has the prominence exactly if the trace rises to it by that much, and falls from it by that much before it rises above it: so one
 * walk finds all, by turns up and down. Lower maxima than `least` can neither be peaks nor end a peak's descent. */
GArray *
sp_find_peaks (guint64 n, const double *x, const double *height, double prominence_db)
{
  GArray *peaks = g_array_new (FALSE, FALSE, sizeof (guint64));
  double least = lowest_of (n, height), swing = MAX (prominence_db, DBL_TRUE_MIN);
  guint64 i = n ? climb (n, x, 0, least, swing) : n;
  while (i < n) {
    guint64 first = i, last = i;
    double highest = x[i];
    for (i++; i < n && highest - x[i] < swing; i++)
      if (x[i] >= highest) {
        first = x[i] > highest ? i : first;
        last = i;
        highest = x[i];
      }
    if (i == n)
      break;
    if (first < last)
      take_plateaus (peaks, first, last + 1, x, height, highest);
    else if (highest >= height[first])
      g_array_append_val (peaks, first);
    i = climb (n, x, i, least, swing);
  }
  return peaks;
}

void
sp_parabola (double left_db, double middle_db, double right_db, double *offset, double *level_db)
{
  double bend = left_db - 2 * middle_db + right_db; /* < 0 at a maximum, 0 on a plateau */

  *offset = bend < 0 ? 0.5 * (left_db - right_db) / bend : 0;
  *level_db = middle_db - 0.25 * (left_db - right_db) * *offset;
}
