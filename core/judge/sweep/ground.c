/* ground.c - the sweep's noise around a point on a wider scale */
#include "core/detection/spectrum.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* The running quantile follows a signal wider than half its window. A low quantile over windows ten and a hundred times as wide, and
 * over the whole sweep, shows such a signal (core/docs/computation.md, section 15). */

#define SPREAD_POINTS 2048 /* bounds time */
#define SCALES 3           /* room for those in sp_judging_lay_ground() */
#define LOW_QUANTILE 0.25  /* common practice, no source */

static guint64
point_of (const SpJudgedSweep *s, guint j)
{
  guint n = s->cache->ground.n;
  return n > 1 ? (guint64) j * (s->trace->n - 1) / (n - 1) : 0;
}

guint
sp_judging_ground_index (const SpJudgedSweep *s, guint64 i)
{
  return (guint) (i * (s->cache->ground.n - 1) / MAX (s->trace->n - 1, 1));
}

double
sp_judging_trace_to_socket_db (const SpJudgedSweep *s, guint64 i)
{
  return s->out->level_dbm[i] - s->trace->reading_dbm[i];
}

double
sp_judging_ground_hz (const SpJudgedSweep *s, guint j)
{
  return s->trace->frequency_hz[point_of (s, j)];
}

void
sp_judging_lay_ground (const SpJudgedSweep *s)
{
  static const double scale[SCALES] = { 10, 100, INFINITY }; /* core/docs/computation.md, section 15 */
  SpGround *g = &s->cache->ground;
  if (g->n > 0)
    return;
  g->n = (guint) MIN (s->trace->n, SPREAD_POINTS);
  g->noise_dbm = g_new (double, 2 * g->n);
  g->around_dbm = g->noise_dbm + g->n;
  g_autofree double *low = g_new (double, g->n);
  for (guint j = 0; j < g->n; j++) {
    guint64 i = point_of (s, j);
    g->noise_dbm[j] = s->out->noise_dbm[i] - sp_judging_trace_to_socket_db (s, i);
    g->around_dbm[j] = INFINITY;
  }
  double window = s->band.noise_reach_hz / s->spacing_hz * (double) g->n / (double) s->trace->n; /* in spread points */
  for (guint k = 0; k < SCALES; k++) {
    guint64 half = (guint64) fmin (fmax (2, ceil (scale[k] * window)), g->n);
    sp_running_quantile (g->n, g->noise_dbm, NULL, half, LOW_QUANTILE, low);
    for (guint j = 0; j < g->n; j++)
      g->around_dbm[j] = fmin (g->around_dbm[j], low[j]);
  }
}

double
sp_judging_ground_dbm (const SpJudgedSweep *s, guint64 i)
{
  sp_judging_lay_ground (s);
  const SpGround *g = &s->cache->ground;
  guint j = sp_judging_ground_index (s, i);
  if (g->noise_dbm[j] <= g->around_dbm[j] + SP_RISES_DB)
    return INFINITY;
  return g->around_dbm[j] + sp_judging_trace_to_socket_db (s, i);
}
