/* alike.c - compares two sweeps' settings, and gives the uncertainty of their difference */
#include "core/judge/sweep/sweep.h"

#include <math.h>

gboolean
sp_judging_equal_settings (const SpJudgedSweep *a, const SpJudgedSweep *b)
{
  const SpSettings *x = &a->trace->settings, *y = &b->trace->settings;
  gboolean attenuation = fabs (a->attenuation_db - b->attenuation_db) < SP_SAME_SETTING_DB
                         || (isnan (a->attenuation_db) && isnan (b->attenuation_db));
  gboolean rbw = x->rbw_hz == y->rbw_hz || (isnan (x->rbw_hz) && isnan (y->rbw_hz));
  return a->purpose == b->purpose && a->chain == b->chain && attenuation && rbw && x->detector == y->detector && x->average == y->average
         && x->hold == y->hold;
}

/* Spans that only touch share a point but no range. */
gboolean
sp_judging_are_repeats (const SpJudgedSweep *a, const SpJudgedSweep *b)
{
  const SpTrace *x = a->trace, *y = b->trace;
  double low = fmax (x->frequency_hz[0], y->frequency_hz[0]), high = fmin (x->frequency_hz[x->n - 1], y->frequency_hz[y->n - 1]);
  double widest = fmax ((x->frequency_hz[x->n - 1] - x->frequency_hz[0]) / (double) x->n,
                        (y->frequency_hz[y->n - 1] - y->frequency_hz[0]) / (double) y->n);
  return sp_judging_equal_settings (a, b) && high - low > 2 * widest;
}

double
sp_judging_differential_u_db (const SpJudging *c, const SpJudgedSweep *first, const SpJudgedSweep *s, double frequency_hz)
{
  double u = sp_width_u_db (&c->analyzer->repeatability);
  if (s == first)
    return u;
  u = hypot (u, sp_width_u_db (&c->analyzer->scale));
  if (s->attenuation_db != first->attenuation_db)
    u = hypot (u, sp_width_u_db (&c->analyzer->attenuator_switch));
  if (s->rbw_hz != first->rbw_hz)
    u = hypot (u, sp_width_u_db (&c->analyzer->rbw_switch));
  if (s->chain != first->chain)
    u = hypot (u, hypot (sp_chain_loss (s->chain, frequency_hz, c->bench->temperature_c, 0, NULL).u_independent_db,
                         sp_chain_loss (first->chain, frequency_hz, c->bench->temperature_c, 0, NULL).u_independent_db));
  return u;
}
