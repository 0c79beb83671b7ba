#include "core/detection/spectrum.h"

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
  return fmax (-LEVEL_LIMIT_DB, fmin (LEVEL_LIMIT_DB, level));
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

/* A local maximum and the deepest point on each side before a higher one. */
typedef struct {
  guint64 at;
  double level, left, right; /* while scanning: lowest since the previous and until the next maximum */
} Candidate;

/* All local maxima of at least `least`: plateaus at their middle, the trace's ends never. Lower ones can neither be peaks nor end a peak's
 * descent. */
static GArray *
local_maxima (guint64 n, const double *x, double least)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (Candidate));
  double lowest = n ? x[0] : 0;

  for (guint64 i = 1; i + 1 < n; i++) {
    lowest = x[i] < lowest ? x[i] : lowest;
    if (x[i] < least || !(x[i - 1] < x[i]) || x[i + 1] > x[i])
      continue;
    guint64 end = i + 1;
    while (end < n && x[end] == x[i])
      end++;
    if (end < n && x[end] < x[i]) {
      if (found->len)
        g_array_index (found, Candidate, found->len - 1).right = lowest;
      Candidate one = { i + (end - 1 - i) / 2, x[i], lowest, lowest };
      g_array_append_val (found, one);
      lowest = x[i];
    }
    i = end - 1;
  }
  if (found->len) {
    Candidate *last = &g_array_index (found, Candidate, found->len - 1);
    for (guint64 i = last->at; i < n; i++)
      last->right = i == last->at ? x[i] : MIN (last->right, x[i]);
  }
  return found;
}

/* Widens each candidate's lowest point, on the side that `right` says, to all before a strictly higher candidate. Amortised one step each:
 * a candidate that is not higher than a later one is never looked at again. */
static void
widen (GArray *candidates, gboolean right)
{
  guint n = candidates->len, top = 0;
  g_autofree guint *stack = g_new (guint, MAX (n, 1));
  Candidate *c = (Candidate *)candidates->data;

  for (guint k = 0; k < n; k++) {
    guint i = right ? n - 1 - k : k;
    double *lowest = right ? &c[i].right : &c[i].left;
    while (top && c[stack[top - 1]].level <= c[i].level) {
      const Candidate *passed = &c[stack[--top]];
      *lowest = MIN (*lowest, right ? passed->right : passed->left);
    }
    stack[top++] = i;
  }
}

GArray *
sp_find_peaks (guint64 n, const double *x, const double *height, double prominence_db)
{
  GArray *peaks = g_array_new (FALSE, FALSE, sizeof (guint64));
  double least = INFINITY;

  for (guint64 i = 0; i < n; i++)
    least = height[i] < least ? height[i] : least;
  g_autoptr (GArray) candidates = local_maxima (n, x, least);
  widen (candidates, FALSE);
  widen (candidates, TRUE);
  for (guint i = 0; i < candidates->len; i++) {
    const Candidate *c = &g_array_index (candidates, Candidate, i);
    if (c->level >= height[c->at] && c->level - MAX (c->left, c->right) >= prominence_db)
      g_array_append_val (peaks, c->at);
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
