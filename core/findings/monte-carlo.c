/* monte-carlo.c - checks the first-order uncertainty of each margin by Monte Carlo */
#include "core/budget/propagate.h"
#include "core/findings/findings.h"

#include <math.h>

SpMonteCarlo
sp_emission_monte_carlo (const SpEmission *emission, guint64 n, guint64 seed)
{
  SpMonteCarlo result = { NAN, NAN, NAN };
  SpPropagated drawn;
  if (isnan (emission->margin_db)
      || !sp_budget_draw_margin (&emission->budget, emission->limit_slope, emission->margin_db, n, seed, NULL, &drawn))
    return result;
  result.margin_u_db = drawn.u;
  result.margin_expanded_db = (drawn.high - drawn.low) / 2;
  if (!isnan (emission->conformity))
    result.conformity = drawn.above_zero;
  return result;
}
