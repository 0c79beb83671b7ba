/* running.c - a running quantile over a sliding window */
#include "core/detection/running.h"

#include "core/detection/spectrum.h"

#define LONG_POINTS 100000 /* a millisecond's work; a thread costs a twentieth of that; bounds time */

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

static Histogram
histogram_new (guint32 steps)
{
  return (Histogram){ .count = g_new0 (guint32, steps), .some = g_new0 (guint64, steps / 64 + 1) };
}

void
sp_histogram_clear (Histogram *h)
{
  g_free (h->count);
  g_free (h->some);
}

void
sp_running_init (Running *r, guint64 n, const double *x, const guint8 *skip, guint64 half, double p)
{
  *r = (Running){ .n = n, .half = half, .width = half < n / 2 ? 2 * half + 1 : n, .p = p, .x = x, .skip = skip };
  r->lowest = clip (lowest_of (n, x));
  r->steps = (guint32) ((clip (highest_of (n, x)) - r->lowest) * STEPS_PER_DB + 0.5) + 1;
  r->histogram = histogram_new (r->steps);
}

/* Replaces NaN by the nearest number; FALSE: there is none. */
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

/* First point of the window round i: cut and shifted at the ends. */
static guint64
window_start (const Running *r, guint64 i)
{
  return i <= r->half || r->width == r->n ? 0 : MIN (i - r->half, r->n - r->width);
}

/* Fills out[from .. to). */
static void
run_stretch (const Running *r, guint64 from, guint64 to, double *out)
{
  Histogram h = r->histogram; /* a local copy keeps its state in registers */
  guint64 start = window_start (r, from);

  for (guint64 j = start; j < start + r->width; j++)
    enter (r, &h, j);
  for (guint64 i = from; i < to; i++) {
    if (window_start (r, i) > start) {
      leave (r, &h, start);
      enter (r, &h, start + r->width);
      start++;
    }
    out[i] = h.total > 0 ? quantile_of (r, &h) : NAN;
  }
  for (guint64 j = start; j < start + r->width; j++)
    leave (r, &h, j);
}

typedef struct {
  Running running; /* has a histogram of its own */
  double *out;
} Half;

static gpointer
run_second_half (gpointer data)
{
  Half *half = data;
  run_stretch (&half->running, half->running.n / 2, half->running.n, half->out);
  return NULL;
}

/* Fills out[0 .. n). Long arrays run in two threads, one half each; a point depends on its window only, so the result is bit-identical. */
void
sp_running_all (const Running *r, double *out)
{
  if (r->n < LONG_POINTS) {
    run_stretch (r, 0, r->n, out);
    return;
  }
  Half second = { *r, out };
  second.running.histogram = histogram_new (r->steps);
  GThread *thread = g_thread_try_new ("noise", run_second_half, &second, NULL);
  run_stretch (r, 0, r->n / 2, out);
  if (thread)
    g_thread_join (thread);
  else /* there is no memory for one */
    run_second_half (&second);
  sp_histogram_clear (&second.running.histogram);
}

void
sp_running_quantile (guint64 n, const double *x, const guint8 *skip, guint64 half, double p, double *out)
{
  Running r;
  if (n == 0)
    return;
  sp_running_init (&r, n, x, skip, half, p);
  sp_running_all (&r, out);
  sp_histogram_clear (&r.histogram);
  if (skip && !hold_nearest (n, out))
    sp_running_quantile (n, x, NULL, half, p, out);
}
