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

/* A prediction says radio or mixed, never analyzer (core/docs/computation.md, section 10). Without one: untested. */
static SpWhose
by_prediction (const SpEmission *e)
{
  double q = e->distortion_high_dbm;
  if (isnan (q))
    return (SpWhose){ SP_ORIGIN_UNTESTED, SP_BASIS_NONE, NAN, NAN };
  return (SpWhose){ e->level_dbm - q >= 6 ? SP_ORIGIN_RADIO : SP_ORIGIN_MIXED, SP_BASIS_PREDICTED, add_amplitudes_dbm (e->level_dbm, q, -1),
                    add_amplitudes_dbm (e->level_dbm, q, 1) };
}

/* Readings that no model fits say nothing of whose it is; the highest of them bounds it. */
static SpWhose
by_contradiction (const SpEmission *e, const SpEvidence *v)
{
  double high = e->level_dbm;
  for (guint k = 0; k < v->n; k++)
    high = fmax (high, v->points[k].level_dbm);
  return (SpWhose){ SP_ORIGIN_MIXED, SP_BASIS_STEP, -INFINITY, high };
}

static SpWhose
by_step (const SpEvidence *v)
{
  SpOrigin origin = v->may_cancel                   ? SP_ORIGIN_MIXED
                    : v->p_radio >= SP_STEP_SURE    ? SP_ORIGIN_RADIO
                    : v->p_analyzer >= SP_STEP_SURE ? SP_ORIGIN_ANALYZER
                                                    : SP_ORIGIN_MIXED;
  return (SpWhose){ origin, SP_BASIS_STEP, v->radio_low_dbm, v->radio_high_dbm };
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
static SpWhose
with_ambient (const SpEmission *e, SpWhose whose)
{
  double low, high;
  if (!sp_judging_less_ambient (e, &low, &high))
    return whose;
  double seen = e->evidence->ambient_dbm, ambient = seen + AMBIENT_DB;
  if (seen >= e->level_dbm - AMBIENT_DB)
    return (SpWhose){ SP_ORIGIN_AMBIENT, SP_BASIS_UNKEYED, -INFINITY, high };
  gboolean bounded = !isnan (whose.radio_high_dbm);
  whose.radio_low_dbm = bounded ? add_amplitudes_dbm (whose.radio_low_dbm, ambient, -1) : -INFINITY;
  whose.radio_high_dbm = bounded ? add_amplitudes_dbm (whose.radio_high_dbm, ambient, 1) : high;
  return whose;
}

/* The greatest of n readings of one level stands so many of their standard deviations higher than one alone, where a level that is high by chance is to
 * be found as seldom as with one: 0.977^(1/n) of a normal law, less 2. */
static double
greatest_of (guint n)
{
  return gsl_cdf_ugaussian_Pinv (pow (SP_DETECTION, 1. / n)) - gsl_cdf_ugaussian_Pinv (SP_DETECTION);
}

SpWhose
sp_judging_origin (const SpEmission *e)
{
  const SpEvidence *v = e->evidence;
  if (!e->detected)
    return (SpWhose){ SP_ORIGIN_NONE, SP_BASIS_NONE, NAN, NAN };
  SpWhose whose = !v || v->n == 0 ? by_prediction (e) : v->contradicts ? by_contradiction (e, v) : by_step (v);
  whose = with_ambient (e, whose);
  if (e->repeats > 1)
    whose.radio_low_dbm -= greatest_of (e->repeats) * e->repeat_scatter_db;
  return whose;
}
