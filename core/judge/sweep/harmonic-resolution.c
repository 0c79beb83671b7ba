/* harmonic-resolution.c - can a sweep resolve a harmonic? The rule is core/plan's, so that no advised sweep is useless to judging. */
#include "core/judge/sweep/sweep.h"

#include <math.h>

gboolean
sp_judging_unresolved (const SpJudging *c, const SpJudgedSweep *s, guint order, guint *other)
{
  double f0 = c->out->fundamental_hz, rbw = isfinite (s->rbw_hz) ? s->rbw_hz : 0;
  if (order < 2 || isnan (f0) || !sp_judging_holds (s, order * f0))
    return FALSE;
  double spacing = sp_judging_spacing (s, MIN (sp_trace_find (s->trace, order * f0), s->trace->n - 1));
  return sp_is_unresolved (order, f0, rbw, spacing, c->carrier_half_hz, sp_judging_zero_hertz_end (s), other);
}
