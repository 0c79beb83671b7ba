/* resolve.c - can a sweep tell a harmonic from what stands beside it? */
#include "core/judge/case.h"

#include <math.h>

#define SKIRT_RBWS 3.0 /* a line shows this far from its place (mask.h leaves as much round the fundamental) */

gboolean
sp_case_unresolved (const SpCase *c, const SpCaseSweep *s, guint order, guint *other)
{
  double f0 = c->out->fundamental_hz, rbw = isfinite (s->rbw_hz) ? s->rbw_hz : 0;
  if (order < 2 || isnan (f0) || !sp_case_holds (s, order * f0))
    return FALSE;
  double spacing = sp_case_spacing (s, MIN (sp_trace_find (s->trace, order * f0), s->trace->n - 1));
  double half = fmax (rbw, spacing) + order * c->carrier_half_hz, shows = fmax (SKIRT_RBWS * rbw, spacing);
  guint found = G_MAXUINT;
  if (order * f0 - half <= sp_case_zero_hertz_end (s))
    found = 0;
  if (f0 <= half + shows + (order + 1) * c->carrier_half_hz) /* the next one reads in this one's window */
    found = order + 1;
  if ((order - 1) * f0 <= half + shows + c->carrier_half_hz)
    found = 1;
  if (other && found != G_MAXUINT)
    *other = found;
  return found != G_MAXUINT;
}
