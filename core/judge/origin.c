#include "core/judge/case.h"

#include <math.h>

/* Amplitude sum and difference of two levels: the ends for an unknown phase (AN 150, p. 77). */
static double
add_amplitudes_dbm (double a_dbm, double b_dbm, int sign)
{
  double a = pow (10, a_dbm / 20), b = pow (10, b_dbm / 20), sum = a + sign * b;
  return sum > 0 ? 20 * log10 (sum) : -INFINITY;
}

/* A prediction says radio or mixed, never analyzer (computation, section 10). Without one: untested. */
void
sp_case_origin (SpEmission *e)
{
  e->origin = SP_ORIGIN_NONE;
  e->origin_basis = SP_BASIS_NONE;
  if (!e->detected)
    return;
  double q = e->distortion_high_dbm;
  if (isnan (q)) {
    e->origin = SP_ORIGIN_UNTESTED;
    return;
  }
  e->origin = e->level_dbm - q >= 6 ? SP_ORIGIN_RADIO : SP_ORIGIN_MIXED;
  e->origin_basis = SP_BASIS_PREDICTED;
  e->radio_low_dbm = add_amplitudes_dbm (e->level_dbm, q, -1);
  e->radio_high_dbm = add_amplitudes_dbm (e->level_dbm, q, 1);
}
