/* carrier.c - finds the carrier of a sweep: a local maximum at the stated frequency or nearby, clipped or not */
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* The sheet gives the nominal frequency; the carrier is searched at least this far round it (common practice, no source). */
#define NOMINAL_RELATIVE 2e-4
/* A line at the stated frequency is preferred to a stronger one beside it, unless it is weaker by more than this: it is then a product
 * of that one. */
#define HONOURED_DB 20.0 /* common practice, no source */
/* A line at least this near to the carrier's level adds noticeably to a sum of powers: 0.4 dB (calculated). */
#define BESIDE_DB 10.0
/* Least dip between two lines. Two RBW apart it is at least 6 dB without noise (calculated, Gaussian), but their phases may fill it. */
#define BESIDE_DIP_DB 3.0

double
sp_judging_zero_hertz_end (const SpJudgedSweep *s)
{
  return SP_ZERO_HERTZ_RBWS * (isfinite (s->rbw_hz) ? s->rbw_hz : s->spacing_hz);
}

/* Tolerance of a stated frequency: both clocks, or half the signal's width. */
static double
stated_half_hz (const SpJudging *c, double f0)
{
  double ppm = isnan (c->analyzer->frequency_ppm) ? 0 : c->analyzer->frequency_ppm;
  return fmax (c->out->necessary_bandwidth_hz / 2, f0 * fmax (NOMINAL_RELATIVE, ppm * 1e-6));
}

/* A line within this of the stated frequency is at that frequency, as far as filter and points can show. */
static double
near_half (const SpJudging *c, const SpJudgedSweep *s, double f0)
{
  return stated_half_hz (c, f0) + fmax (isfinite (s->rbw_hz) ? s->rbw_hz : 0, 1.5 * s->spacing_hz);
}

/* Three RBW, or points, at the least (common practice, no source). */
static double
search_half (const SpJudging *c, const SpJudgedSweep *s, double f0)
{
  double rbw = isfinite (s->rbw_hz) ? s->rbw_hz : 0;
  return fmax (near_half (c, s, f0), fmax (3 * rbw, 3 * s->spacing_hz));
}

/* A local maximum. A slope that continues out of the sweep or to zero hertz is a skirt. The response at zero hertz does not matter if
 * the points are three RBW apart, so that a line fills only its own bucket: -27 dB at its edge (calculated, Gaussian). */
static gboolean
is_peak (const SpJudgedSweep *s, guint64 i, double f0)
{
  const double *level = s->out->level_dbm, *f = s->trace->frequency_hz;
  guint64 n = s->trace->n;
  double spacing_hz = sp_judging_spacing (s, i), zero = sp_judging_zero_hertz_end (s);
  if ((i == 0 || i + 1 == n) && !(fabs (f[i] - f0) <= spacing_hz))
    return FALSE;
  double bucket = (sp_detector_traits (s->trace->settings.detector)->alternates ? 1.5 : 0.5) * spacing_hz;
  gboolean in_bucket_of_its_own = spacing_hz > 3 * s->rbw_hz && f[i] - bucket > zero;
  gboolean falls_below = i == 0 || level[i - 1] <= level[i] || (in_bucket_of_its_own && f[i - 1] <= zero);
  return falls_below && (i + 1 == n || level[i + 1] <= level[i]);
}

/* Over the noise. A modulated carrier as wide as the noise window raises the noise estimate, so the noise beside it counts too. */
static gboolean
stands_out (const SpJudging *c, const SpJudgedSweep *s, guint64 i, double f0)
{
  double level = s->out->level_dbm[i], f = s->trace->frequency_hz[i], half = c->out->necessary_bandwidth_hz;
  return level >= s->out->noise_dbm[i] + s->sweep_threshold_db
         || (!isnan (f0) && level >= sp_band_noise_beside_dbm (&s->band, f - half, f + half) + s->sweep_threshold_db);
}

/* The greatest peak within [from, to] over the noise; the trace's n: none. */
static guint64
greatest_peak (const SpJudging *c, const SpJudgedSweep *s, double from_hz, double to_hz, double f0)
{
  const double *level = s->out->level_dbm, *f = s->trace->frequency_hz;
  guint64 n = s->trace->n, best = n;
  for (guint64 i = sp_trace_find (s->trace, from_hz); i < n && f[i] <= to_hz; i++)
    if (f[i] >= from_hz && (best == n || level[i] > level[best]) && is_peak (s, i, f0) && stands_out (c, s, i, f0))
      best = i;
  return best;
}

/* Least level difference between neighbours near the carrier: the rounding of the export. */
static double
rounding_db (const SpJudgedSweep *s, guint64 i)
{
  const double *reading = s->trace->reading_dbm;
  double least = INFINITY;
  /* 500 points either way: bounds time */
  for (guint64 k = i > 500 ? i - 500 : 1; k < s->trace->n && k <= i + 500; k++)
    if (reading[k] != reading[k - 1])
      least = fmin (least, fabs (reading[k] - reading[k - 1]));
  return least;
}

/* Clipped: readings at or above the reference level, or a top flatter than filter and rounding explain. The carrier is between its ends. */
static void
find_plateau (const SpJudgedSweep *s, SpCarrier *at)
{
  const double *reading = s->trace->reading_dbm;
  double reference = s->trace->settings.reference_dbm;
  gboolean over = reading[at->index] >= reference;
  double least = over ? reference : reading[at->index];
  at->first = at->last = at->index;
  while (at->first > 0 && reading[at->first - 1] >= least)
    at->first--;
  while (at->last + 1 < s->trace->n && reading[at->last + 1] >= least)
    at->last++;
  double width = s->trace->frequency_hz[at->last] - s->trace->frequency_hz[at->first];
  double falls_db = -sp_filter_response_db (SP_FILTER_GAUSSIAN, width / 2, s->rbw_hz); /* from the middle to the ends of the top */
  /* Three equal readings within a fifth of an RBW are no flat top (common practice, no source). */
  gboolean flat = at->last - at->first >= 2 && !(width < 0.2 * s->rbw_hz) && !(falls_db <= rounding_db (s, at->index));
  at->clipped = over || flat;
}

/* A separate line beside the carrier, strong enough to count in a sum of powers: the carrier's room is half the distance to it.
 * 250 % of the necessary bandwidth (ITU-R SM.1539), 5 RBW (common practice, no source). */
static void
find_beside (const SpJudging *c, const SpJudgedSweep *s, SpCarrier *at)
{
  const double *level = s->out->level_dbm, *f = s->trace->frequency_hz;
  double f0 = f[at->index], near = near_half (c, s, f0), half = fmax (2.5 * c->out->necessary_bandwidth_hz, 5 * s->rbw_hz);
  at->beside = s->trace->n;
  if (!(half > near) || at->clipped)
    return;
  guint64 n = s->trace->n, sides[] = { greatest_peak (c, s, f0 - half, f0 - near, NAN), greatest_peak (c, s, f0 + near, f0 + half, NAN) };
  for (guint k = 0; k < 2; k++) {
    guint64 i = sides[k];
    if (i == n || level[i] < level[at->index] - BESIDE_DB || f[i] <= sp_judging_zero_hertz_end (s))
      continue;
    double dip = INFINITY;
    for (guint64 j = MIN (i, at->index); j <= MAX (i, at->index); j++)
      dip = fmin (dip, level[j]);
    gboolean apart = dip <= fmin (level[i], level[at->index]) - BESIDE_DIP_DB;
    if (apart && (at->beside == n || fabs (f[i] - f0) < fabs (f[at->beside] - f0)))
      at->beside = i;
  }
}

gboolean
sp_judging_find_carrier (const SpJudging *c, const SpJudgedSweep *s, double f0, SpCarrier *at)
{
  const SpTrace *t = s->trace;
  double zero = sp_judging_zero_hertz_end (s);
  *at = (SpCarrier){ .index = t->n };
  if (isnan (f0)) {
    at->index = greatest_peak (c, s, nextafter (zero, INFINITY), INFINITY, NAN);
  } else if (sp_judging_holds (s, f0) && f0 > zero) {
    double near = near_half (c, s, f0), half = search_half (c, s, f0), from = nextafter (zero, INFINITY);
    guint64 stated = greatest_peak (c, s, fmax (from, f0 - near), f0 + near, f0),
            any = greatest_peak (c, s, fmax (from, f0 - half), f0 + half, f0);
    at->elsewhere = any < t->n && (stated == t->n || s->out->level_dbm[any] > s->out->level_dbm[stated] + HONOURED_DB);
    at->index = at->elsewhere ? any : stated;
  }
  if (at->index == t->n)
    return FALSE;
  find_plateau (s, at);
  find_beside (c, s, at);
  return TRUE;
}
