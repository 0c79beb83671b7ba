#include "core/detection/spectrum.h"

#include <float.h>
#include <math.h>
#include <string.h>

#define STEPS_PER_DB   64
#define LEVEL_LIMIT_DB 1000.
#define LONG_POINTS    100000 /* a millisecond's work: a thread costs a twentieth of that */

/* Counts of the quantised values in the window, a bit for each step that holds any, and a pointer that follows the quantile: a point moves it to
 * the next such step at most, or leaves it. */
typedef struct {
  guint32 *count;
  guint64 *some; /* step s: bit s % 64 of word s / 64 */
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
histogram_add (Histogram *h, guint32 step)
{
  h->count[step]++;
  h->some[step / 64] |= (guint64)1 << step % 64;
  h->total++;
  h->below += step < h->at;
}

static inline void
histogram_remove (Histogram *h, guint32 step)
{
  h->some[step / 64] &= ~((guint64)(--h->count[step] == 0) << step % 64);
  h->total--;
  h->below -= step < h->at;
}

/* There is a value in a step above, below it. */
static inline guint32
step_above (const Histogram *h, guint32 step)
{
  guint32 word = step / 64;
  guint64 some = h->some[word] & ~(guint64)1 << step % 64;
  while (some == 0)
    some = h->some[++word];
  return word * 64 + (guint32)__builtin_ctzll (some);
}

static inline guint32
step_below (const Histogram *h, guint32 step)
{
  guint32 word = step / 64;
  guint64 some = h->some[word] & (((guint64)1 << step % 64) - 1);
  while (some == 0)
    some = h->some[--word];
  return word * 64 + 63 - (guint32)__builtin_clzll (some);
}

static inline void
histogram_seek (Histogram *h, guint64 rank)
{
  while (h->below > rank) {
    h->at = step_below (h, h->at);
    h->below -= h->count[h->at];
  }
  while (h->below + h->count[h->at] <= rank) {
    h->below += h->count[h->at];
    h->at = step_above (h, h->at);
  }
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

/* Least and greatest, eight at a time, in lanes that do not wait for each other. */
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

static double
highest_of (guint64 n, const double *x)
{
  double lane[LANES], highest = -INFINITY;
  guint64 i = 0;
  for (guint k = 0; k < LANES; k++)
    lane[k] = -INFINITY;
  for (; i + LANES <= n; i += LANES)
    for (guint k = 0; k < LANES; k++)
      lane[k] = x[i + k] > lane[k] ? x[i + k] : lane[k];
  for (guint k = 0; k < LANES; k++)
    highest = lane[k] > highest ? lane[k] : highest;
  for (; i < n; i++)
    highest = x[i] > highest ? x[i] : highest;
  return highest;
}

/* A running quantile under way: the histogram serves several stretches. A level is quantised as it enters the window and again as it leaves: that
 * is less than an array of a million steps would cost to lay out. */
typedef struct {
  guint64 n, half, width;
  double p, lowest;
  guint32 steps;
  const double *x;
  const guint8 *skip; /* NULL: none */
  Histogram histogram; /* empty between the stretches */
} Running;

static Histogram
histogram_new (guint32 steps)
{
  return (Histogram){ .count = g_new0 (guint32, steps), .some = g_new0 (guint64, steps / 64 + 1) };
}

static void
histogram_clear (Histogram *h)
{
  g_free (h->count);
  g_free (h->some);
}

static void
running_init (Running *r, guint64 n, const double *x, const guint8 *skip, guint64 half, double p)
{
  *r = (Running){ .n = n, .half = half, .width = half < n / 2 ? 2 * half + 1 : n, .p = p, .x = x, .skip = skip };
  r->lowest = clip (lowest_of (n, x));
  r->steps = (guint32)((clip (highest_of (n, x)) - r->lowest) * STEPS_PER_DB + 0.5) + 1;
  r->histogram = histogram_new (r->steps);
}

static inline guint32
step_of (const Running *r, guint64 i)
{
  return (guint32)((clip (r->x[i]) - r->lowest) * STEPS_PER_DB + 0.5);
}

static inline void
enter (const Running *r, Histogram *h, guint64 i)
{
  if (!r->skip || !r->skip[i])
    histogram_add (h, step_of (r, i));
}

static inline void
leave (const Running *r, Histogram *h, guint64 i)
{
  if (!r->skip || !r->skip[i])
    histogram_remove (h, step_of (r, i));
}

/* First point of the window round i: cut at the ends and shifted. */
static guint64
window_start (const Running *r, guint64 i)
{
  return i <= r->half || r->width == r->n ? 0 : MIN (i - r->half, r->n - r->width);
}

/* out[from .. to) */
static void
run_stretch (const Running *r, guint64 from, guint64 to, double *out)
{
  Histogram h = r->histogram; /* a copy, so that its state stays in registers */
  guint64 start = window_start (r, from);

  for (guint64 j = start; j < start + r->width; j++)
    enter (r, &h, j);
  for (guint64 i = from; i < to; i++) {
    if (window_start (r, i) > start) {
      leave (r, &h, start);
      enter (r, &h, start + r->width);
      start++;
    }
    if (h.total == 0) {
      out[i] = NAN;
      continue;
    }
    guint64 rank = (guint64)(r->p * (double)h.total);
    histogram_seek (&h, MIN (rank, h.total - 1));
    out[i] = r->lowest + (double)h.at / STEPS_PER_DB;
  }
  for (guint64 j = start; j < start + r->width; j++)
    leave (r, &h, j);
}

typedef struct {
  Running running; /* with a histogram of its own */
  double *out;
} Half;

static gpointer
run_second_half (gpointer data)
{
  Half *half = data;
  run_stretch (&half->running, half->running.n / 2, half->running.n, half->out);
  return NULL;
}

/* out[0 .. n). A long one in two halves at once: what stands at a point depends on its window alone, so the bits are the same. */
static void
run_all (const Running *r, double *out)
{
  if (r->n < LONG_POINTS) {
    run_stretch (r, 0, r->n, out);
    return;
  }
  Half second = { *r, out };
  second.running.histogram = histogram_new (r->steps);
  GThread *thread = g_thread_new ("noise", run_second_half, &second);
  run_stretch (r, 0, r->n / 2, out);
  g_thread_join (thread);
  histogram_clear (&second.running.histogram);
}

void
sp_running_quantile (guint64 n, const double *x, const guint8 *skip, guint64 half, double p, double *out)
{
  Running r;
  if (n == 0)
    return;
  running_init (&r, n, x, skip, half, p);
  run_all (&r, out);
  histogram_clear (&r.histogram);
  if (skip && !hold_nearest (n, out))
    sp_running_quantile (n, x, NULL, half, p, out);
}

/* Marks what stands more than `exclude_db` above the level, with `guard` points either side; FALSE: nothing does. */
static gboolean
mark_signals (guint64 n, const double *x, const double *level, double exclude_db, guint64 guard, guint8 *skip)
{
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
  return any;
}

/* The next skipped point at or after i; n: none. */
static guint64
next_skipped (guint64 n, const guint8 *skip, guint64 i)
{
  const guint8 *found = i < n ? memchr (skip + i, 1, n - i) : NULL;
  return found ? (guint64)(found - skip) : n;
}

void
sp_noise_floor (guint64 n, const double *x, guint64 half, double p, double exclude_db, guint64 guard, double *level)
{
  Running r;
  if (n == 0)
    return;
  g_autofree guint8 *skip = g_new0 (guint8, n);
  running_init (&r, n, x, NULL, half, p);
  run_all (&r, level);
  /* where all of it stands out nothing is a signal */
  if (mark_signals (n, x, level, exclude_db, guard, skip) && memchr (skip, 0, n)) {
    r.skip = skip;
    /* only windows that hold a skipped point change: those within a window's length, which is what the ends' shift comes to */
    for (guint64 i = next_skipped (n, skip, 0), done = 0; i < n;) {
      guint64 from = MAX (done, i > r.width ? i - r.width : 0), last = i, next;
      while ((next = next_skipped (n, skip, last + 1)) < n && next - last <= 2 * r.width)
        last = next;
      done = MIN (n, last + r.width + 1);
      run_stretch (&r, from, done, level);
      i = next;
    }
    hold_nearest (n, level);
  }
  histogram_clear (&r.histogram);
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

/* Plateaus of x within [from, to) that stand as high as x[from], at their middles; more than one where equal maxima lie less than the prominence apart. */
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

/* a or b, by a mask: compilers take a branch for ?: here. */
static inline guint64
pick (gboolean is_a, guint64 a, guint64 b)
{
  guint64 mask = -(guint64)is_a;
  return (a & mask) | (b & ~mask);
}

/* A maximum has the prominence exactly if the trace rises to it by that much, and falls from it by that much before it rises above it: so one
 * walk finds all, by turns up and down. Lower maxima than `least` can neither be peaks nor end a peak's descent. */
GArray *
sp_find_peaks (guint64 n, const double *x, const double *base, double over_db, double prominence_db)
{
  g_autofree guint64 *found = g_new (guint64, n / 2 + 2); /* what is not written to costs nothing */
  guint64 *peak = found;
  double least = lowest_of (n, base) + over_db, swing = MAX (prominence_db, DBL_TRUE_MIN);
  guint64 i = n ? climb (n, x, 0, least, swing) : n;
  while (i < n) {
    guint64 first = i, last = i;
    double highest = x[i];
    for (i++; i < n && highest - x[i] < swing; i++) { /* without a branch: in noise each would be guessed wrong half of the time */
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
  return g_array_append_vals (peaks, found, (guint)(peak - found));
}

void
sp_parabola (double left_db, double middle_db, double right_db, double *offset, double *level_db)
{
  double bend = left_db - 2 * middle_db + right_db; /* < 0 at a maximum, 0 on a plateau */

  *offset = bend < 0 ? 0.5 * (left_db - right_db) / bend : 0;
  *level_db = middle_db - 0.25 * (left_db - right_db) * *offset;
}
