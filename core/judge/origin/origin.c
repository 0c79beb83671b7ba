/* origin.c - the origin of an emission: radio, analyzer, mixed, ambient or untested */
#include "core/judge/origin/origin.h"
#include "core/judge/origin/step.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#define AMBIENT_DB 3.0 /* an unkeyed level this near, or higher, can be the whole emission (core/docs/computation.md, section 10) */

/* Amplitude sum and difference of two levels: the extremes for an unknown phase (core/docs/metrology.md, section 4.4). */
static double
add_amplitudes_dbm (double a_dbm, double b_dbm, int sign)
{
  double a = pow (10, a_dbm / 20), b = pow (10, b_dbm / 20), sum = a + sign * b;
  return sum > 0 ? 20 * log10 (sum) : -INFINITY;
}

/* A prediction gives radio or mixed, never analyzer (core/docs/computation.md, section 10). Without one: untested. */
static SpWhose
by_prediction (const SpEmission *e)
{
  double q = e->product_high_dbm;
  if (isnan (q))
    return (SpWhose){ SP_ORIGIN_UNTESTED, SP_BASIS_NONE, NAN, NAN };
  return (SpWhose){ e->level_dbm - q >= SP_STEP_APART_DB ? SP_ORIGIN_RADIO : SP_ORIGIN_MIXED, SP_BASIS_PREDICTED,
                    add_amplitudes_dbm (e->level_dbm, q, -1), add_amplitudes_dbm (e->level_dbm, q, 1) };
}

/* Contradicting readings give no origin; the highest reading bounds the radio's part. */
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

/* The ambient signal adds to the radio's part in amplitude, and one sweep sees one phase (core/docs/computation.md, section 10). It
 * may have changed by AMBIENT_DB. Without a prediction it still bounds the radio's part from above. */
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

/* Expected excess of the greatest of n readings, in their standard deviations, at the same one-sided probability as for one reading:
 * the normal quantile of 0.977^(1/n), less 2. */
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
