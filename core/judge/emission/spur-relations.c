/* spur-relations.c - the possible relation of a spur's frequency to the fundamental and the clocks */
#include "core/judge/emission/spur-relations.h"

#include "core/judge/emission/emission.h"

#include <math.h>

/* State of one search: the question, the best relation so far, and the covered share of the octaves round f. */
typedef struct {
  double f, half_hz, f0, f0_half_hz;
  double covered_hz, nearest; /* nearest: distance divided by tolerance */
  SpRelation best;
} Search;

static void
try_one (Search *s, guint n, guint divisor, int m, double clock_hz)
{
  double fundamental = n ? n * s->f0 / divisor : 0, clock = m ? m * clock_hz : 0;
  double at = fabs (fundamental + clock);
  double tolerance = s->half_hz + (n ? n * s->f0_half_hz / divisor : 0) + fabs (clock) * SP_CLOCK_RELATIVE;
  if (isnan (at))
    return;
  double low = fmax (at - tolerance, s->f / 2), high = fmin (at + tolerance, 2 * s->f);
  s->covered_hz += fmax (0, high - low);
  double distance = fabs (at - s->f) / tolerance;
  if (distance > 1 || distance >= s->nearest)
    return;
  s->nearest = distance;
  s->best = (SpRelation){ n, divisor, m, m ? clock_hz : NAN, at, NAN };
}

static void
try_order (Search *s, guint order, guint n_clocks, const double *clock_hz)
{
  for (guint divisor = 1; divisor <= 3 && divisor <= order; divisor++) {
    guint n = order - (divisor - 1);
    if (divisor == 1 ? n >= 2 : n % divisor != 0) /* the fundamental itself explains nothing */
      try_one (s, n, divisor, 0, NAN);
  }
  for (guint i = 0; i < n_clocks; i++)
    for (guint m = 1; m <= order; m++) {
      guint n = order - m;
      try_one (s, n, 1, (int) m, clock_hz[i]);
      if (n > 0)
        try_one (s, n, 1, -(int) m, clock_hz[i]);
    }
}

gboolean
sp_relation_find (double f, double half_hz, double f0, double f0_half_hz, guint n_clocks, const double *clock_hz, SpRelation *found)
{
  Search s = { f, half_hz, f0, f0_half_hz, 0, INFINITY, { 0 } };
  if (!(f > 0) || !(half_hz >= 0))
    return FALSE;
  for (guint order = 2; order <= SP_RELATION_MOST; order++) {
    if (order == 2)
      try_order (&s, 1, n_clocks, clock_hz); /* a clock alone */
    try_order (&s, order, n_clocks, clock_hz);
    double chance = s.covered_hz / (1.5 * f);
    if (chance > SP_RELATION_CHANCE)
      return FALSE;
    if (s.nearest <= 1) {
      *found = s.best;
      found->chance = chance;
      return TRUE;
    }
  }
  return FALSE;
}

/* Relative distance from the fundamental: one frequency in fifty is within this of a harmonic (common practice, no source) */
#define ANOTHER_SHARE 0.01

/* A residual response of the profile keeps its frequency, and its level follows only the analyzer's attenuation. */
static SpReason *
residual (const SpJudging *c, const SpEmission *e, double half_hz)
{
  const double *listed = (const double *) (void *) c->analyzer->residuals->data;
  const SpJudgedSweep *s = &c->sweeps[e->corrected];
  double attenuation = isnan (s->trace->settings.attenuation_db) ? 0 : s->trace->settings.attenuation_db;
  for (guint i = 0; i + 1 < c->analyzer->residuals->len; i += 2)
    if (fabs (listed[i] - e->frequency_hz) <= half_hz && e->reading_dbm <= listed[i + 1] + attenuation + SP_RESIDUAL_OVER_DB)
      return sp_reason (SPUR_RESIDUAL, .analyzer = c->analyzer->name, .listed_hz = listed[i], .listed_dbm = listed[i + 1],
                        .off_hz = e->frequency_hz - listed[i]);
  return NULL;
}

/* The relation of a spur, by its frequency. */
static SpReason *
relation_of_spur (const SpJudging *c, const SpEmission *e)
{
  const SpJudgedSweep *s = &c->sweeps[e->corrected];
  const GArray *clocks = c->condition->clocks_hz;
  double ppm = isnan (c->analyzer->frequency_ppm) ? 0 : c->analyzer->frequency_ppm;
  double half = s->spacing_hz / 2 + e->frequency_hz * ppm * 1e-6;
  SpRelation r;
  SpReason *listed = residual (c, e, fmax (half, isfinite (s->rbw_hz) ? s->rbw_hz / 2 : 0));
  if (listed
      || !sp_relation_find (e->frequency_hz, half, c->out->fundamental_hz, c->carrier_half_hz, clocks ? clocks->len : 0,
                            clocks ? (const double *) (void *) clocks->data : NULL, &r))
    return listed;
  return sp_reason (SPUR_RELATION, .times = r.n, .divisor = r.divisor, .clock_times = r.m, .clock_hz = r.clock_hz,
                    .off_hz = e->frequency_hz - r.frequency_hz, .chance_percent = 100 * r.chance);
}

SpReason *
sp_judging_relation (const SpJudging *c, const SpEmission *e)
{
  if (!e->detected)
    return NULL;
  if (!e->order)
    return relation_of_spur (c, e);
  return e->frequency_half_hz > ANOTHER_SHARE * c->out->fundamental_hz
             ? sp_reason (HARMONIC_OR_OTHER, .order = e->order, .at_hz = e->frequency_hz, .half_hz = e->frequency_half_hz)
             : NULL;
}
