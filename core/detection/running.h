/* running.h - the working data of a running quantile (private to the folder)
 *
 * Written by hand because GSL's moving windows have no quantile of a window with points left out, and sort each window again.
 */
#pragma once

#include <glib.h>
#include <math.h>

#define STEPS_PER_DB 64      /* bounds memory; an error under 0.01 dB */
#define LEVEL_LIMIT_DB 1000. /* bounds what can be meant */

/* Counts of the quantised values in the window, a bit for each non-empty step, and a pointer to the quantile. A point moves the
 * pointer by at most one non-empty step. */
typedef struct {
  guint32 *count;
  guint64 *some; /* step s: bit s % 64 of word s / 64 */
  guint32 at;    /* step with the wanted rank */
  guint64 below; /* values in steps under `at` */
  guint64 total;
} Histogram;

static inline double
clip (double level)
{
  level = level < LEVEL_LIMIT_DB ? level : LEVEL_LIMIT_DB; /* faster than fmin(), which is a call */
  return level > -LEVEL_LIMIT_DB ? level : -LEVEL_LIMIT_DB;
}

static inline void
histogram_add (Histogram *h, guint32 step)
{
  h->count[step]++;
  h->some[step / 64] |= (guint64) 1 << step % 64;
  h->total++;
  h->below += step < h->at;
}

static inline void
histogram_remove (Histogram *h, guint32 step)
{
  h->some[step / 64] &= ~((guint64) (--h->count[step] == 0) << step % 64);
  h->total--;
  h->below -= step < h->at;
}

/* The next non-empty step above, or below. */
static inline guint32
step_above (const Histogram *h, guint32 step)
{
  guint32 word = step / 64;
  guint64 some = h->some[word] & ~(guint64) 1 << step % 64;
  while (some == 0)
    some = h->some[++word];
  return word * 64 + (guint32) __builtin_ctzll (some);
}

static inline guint32
step_below (const Histogram *h, guint32 step)
{
  guint32 word = step / 64;
  guint64 some = h->some[word] & (((guint64) 1 << step % 64) - 1);
  while (some == 0)
    some = h->some[--word];
  return word * 64 + 63 - (guint32) __builtin_clzll (some);
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

/* Least and greatest, eight at a time in independent lanes; bounds time */
#define LANES 8

static inline double
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

/* Working data of a running quantile; the histogram is reused for several ranges. A level is quantised on entry and again on exit,
 * which costs less than storing a million steps. */
typedef struct {
  guint64 n, half, width;
  double p, lowest;
  guint32 steps;
  const double *x;
  const guint8 *skip;  /* NULL: none */
  Histogram histogram; /* empty between the ranges */
} Running;

/* Prepares for n points; sp_histogram_clear (&r->histogram) ends it. */
void sp_running_init (Running *r, guint64 n, const double *x, const guint8 *skip, guint64 half, double p);
void sp_histogram_clear (Histogram *h);
/* Fills out[0 .. n). */
void sp_running_all (const Running *r, double *out);

static inline guint32
step_of (const Running *r, guint64 i)
{
  return (guint32) ((clip (r->x[i]) - r->lowest) * STEPS_PER_DB + 0.5);
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

/* Quantile of a non-empty window. */
static inline double
quantile_of (const Running *r, Histogram *h)
{
  guint64 rank = (guint64) (r->p * (double) h->total);
  histogram_seek (h, MIN (rank, h->total - 1));
  return r->lowest + (double) h->at / STEPS_PER_DB;
}
