/* origin.c - whose an emission is: radio, analyzer, mixed, ambient or untested */
#include "core/judge/origin/origin-stages.h"
#include "core/judge/origin/step.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#define AMBIENT_DB 3.0 /* what stands unkeyed within this, or higher, can be all of it (core/docs/computation.md, section 10) */

/* Amplitude sum and difference of two levels: the ends for an unknown phase (core/docs/metrology.md, section 4.4). */
static double
add_amplitudes_dbm (double a_dbm, double b_dbm, int sign)
{
  double a = pow (10, a_dbm / 20), b = pow (10, b_dbm / 20), sum = a + sign * b;
  return sum > 0 ? 20 * log10 (sum) : -INFINITY;
}

static void
decide (SpEmission *e, SpOrigin origin, SpOriginBasis basis, double low, double high)
{
  e->origin = origin;
  e->origin_basis = basis;
  e->radio_low_dbm = low;
  e->radio_high_dbm = high;
}

/* A prediction says radio or mixed, never analyzer (core/docs/computation.md, section 10). Without one: untested. */
static void
by_prediction (SpEmission *e)
{
  double q = e->distortion_high_dbm;
  if (isnan (q))
    decide (e, SP_ORIGIN_UNTESTED, SP_BASIS_NONE, NAN, NAN);
  else
    decide (e, e->level_dbm - q >= 6 ? SP_ORIGIN_RADIO : SP_ORIGIN_MIXED, SP_BASIS_PREDICTED, add_amplitudes_dbm (e->level_dbm, q, -1),
            add_amplitudes_dbm (e->level_dbm, q, 1));
}

/* Readings that no model fits say nothing of whose it is; the highest of them bounds it. */
static void
by_contradiction (SpEmission *e, const SpEvidence *v)
{
  double high = e->level_dbm;
  for (guint k = 0; k < v->n; k++)
    high = fmax (high, v->points[k].level_dbm);
  decide (e, SP_ORIGIN_MIXED, SP_BASIS_STEP, -INFINITY, high);
}

static void
by_step (SpEmission *e, const SpEvidence *v)
{
  SpOrigin origin = v->may_cancel                   ? SP_ORIGIN_MIXED
                    : v->p_radio >= SP_STEP_SURE    ? SP_ORIGIN_RADIO
                    : v->p_analyzer >= SP_STEP_SURE ? SP_ORIGIN_ANALYZER
                                                    : SP_ORIGIN_MIXED;
  decide (e, origin, SP_BASIS_STEP, v->radio_low_dbm, v->radio_high_dbm);
}

gboolean
sp_judging_less_ambient (const SpEmission *e, double *low_dbm, double *high_dbm)
{
  const SpEvidence *v = e->evidence;
  if (!v || !v->ambient_known || !v->ambient_seen)
    return FALSE;
  *low_dbm = add_amplitudes_dbm (e->level_dbm, v->ambient_dbm + AMBIENT_DB, -1);
  *high_dbm = add_amplitudes_dbm (e->level_dbm, v->ambient_dbm + AMBIENT_DB, 1);
  return TRUE;
}

/* What stands there unkeyed adds to the radio's part in amplitude: one sweep sees one phase of it (core/docs/computation.md, section 10). It
 * may have faded or grown by AMBIENT_DB. Without a prediction the radio's part is bounded above all the same. */
static void
by_ambient (SpEmission *e, const SpEvidence *v)
{
  double low, high, ambient = v->ambient_dbm + AMBIENT_DB;
  if (!sp_judging_less_ambient (e, &low, &high))
    return;
  if (v->ambient_dbm >= e->level_dbm - AMBIENT_DB)
    decide (e, SP_ORIGIN_AMBIENT, SP_BASIS_UNKEYED, -INFINITY, high);
  else if (isnan (e->radio_high_dbm)) {
    e->radio_low_dbm = -INFINITY;
    e->radio_high_dbm = high;
  } else {
    e->radio_low_dbm = add_amplitudes_dbm (e->radio_low_dbm, ambient, -1);
    e->radio_high_dbm = add_amplitudes_dbm (e->radio_high_dbm, ambient, 1);
  }
}

/* The greatest of n readings of one level stands so many of their standard deviations higher than one alone, where a level that is high by chance is to
 * be found as seldom as with one: 0.977^(1/n) of a normal law, less 2. */
static double
greatest_of (guint n)
{
  return gsl_cdf_ugaussian_Pinv (pow (SP_DETECTION, 1. / n)) - gsl_cdf_ugaussian_Pinv (SP_DETECTION);
}

void
sp_judging_origin (SpEmission *e)
{
  const SpEvidence *v = e->evidence;
  e->origin = SP_ORIGIN_NONE;
  e->origin_basis = SP_BASIS_NONE;
  if (!e->detected)
    return;
  if (!v || v->n == 0)
    by_prediction (e);
  else if (v->contradicts)
    by_contradiction (e, v);
  else
    by_step (e, v);
  if (v)
    by_ambient (e, v);
  if (e->repeats > 1)
    e->radio_low_dbm -= greatest_of (e->repeats) * e->repeat_scatter_db;
}
