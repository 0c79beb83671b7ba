#include "core/judge/findings.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>

/* A draw of unit standard uncertainty about the estimate (JCGM 101, 6.4). One-sided: what a line lost, 0 .. width, uniform, with
 * u = width / sqrt 3 about the estimate that was not moved; it only ever raises the level. */
static double
draw (const gsl_rng *rng, SpDistribution distribution)
{
  switch (distribution) {
  case SP_DISTRIBUTION_RECTANGULAR:
    return gsl_ran_flat (rng, -sqrt (3), sqrt (3));
  case SP_DISTRIBUTION_U_SHAPED:
    return M_SQRT2 * sin (gsl_ran_flat (rng, -M_PI, M_PI));
  case SP_DISTRIBUTION_ONE_SIDED:
    return gsl_ran_flat (rng, 0, sqrt (3));
  default:
    return gsl_ran_gaussian_ziggurat (rng, 1);
  }
}

/* Deviation of limit - level from one term: the level's and P's shares are drawn with the correlation that their dBc leaves. */
static double
draw_margin (const gsl_rng *rng, const SpTerm *t, double slope)
{
  double level = t->u_level_db, power = t->u_power_db, first = draw (rng, t->distribution);
  if (slope == 0 || power == 0)
    return -level * first;
  double second = draw (rng, t->distribution);
  if (level == 0)
    return slope * power * second;
  double r = (level * level + power * power - t->u_dbc_db * t->u_dbc_db) / (2 * level * power);
  r = CLAMP (r, -1, 1);
  return -level * first + slope * power * (r * first + sqrt (1 - r * r) * second);
}

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

SpMonteCarlo
sp_emission_monte_carlo (const SpEmission *emission, guint64 n, guint64 seed)
{
  SpMonteCarlo result = { NAN, NAN, NAN };
  if (isnan (emission->margin_db) || n < 100)
    return result;
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  gsl_rng_set (rng, (unsigned long) seed);
  g_autofree double *deviation = g_new (double, n);
  double sum = 0, squares = 0;
  guint64 conform = 0;
  for (guint64 i = 0; i < n; i++) {
    double d = 0;
    for (guint j = 0; j < emission->budget.n; j++)
      d += draw_margin (rng, &emission->budget.terms[j], emission->limit_slope);
    deviation[i] = d;
    sum += d;
    squares += d * d;
    conform += emission->margin_db + d >= 0;
  }
  gsl_rng_free (rng);
  double mean = sum / (double) n;
  qsort (deviation, n, sizeof (double), compare_doubles);
  guint64 tail = (guint64) ((double) n * 0.02275);
  result.margin_u_db = sqrt (fmax (0, squares / (double) n - mean * mean));
  result.margin_expanded_db = (deviation[n - 1 - tail] - deviation[tail]) / 2;
  if (!isnan (emission->conformity))
    result.conformity = (double) conform / (double) n;
  return result;
}
