/* samples.c - mean, spread and tolerance limit of the samples of one model */
#include "core/compare/samples.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sf_gamma.h>
#include <math.h>
#include <string.h>

/* ---- the factor ---- */

#define STEPS 4000 /* of the integral over the deviation: enough for nine digits (calculated, tests/outside/samples.c) */

/* Density of s / sigma with `dof` degrees of freedom: the chi law's, scaled. */
static double
deviation_density (double s, double dof)
{
  return 2 * exp (dof / 2 * log (dof / 2) - gsl_sf_lngamma (dof / 2) - dof * s * s / 2) * pow (s, dof - 1);
}

/* Chance that mean + k s of n samples lies over the share's quantile z: the mean is normal, the deviation independent of it; Simpson's rule. */
static double
confidence (double k, guint n, double z)
{
  double dof = n - 1, top = sqrt (gsl_cdf_chisq_Qinv (1e-15, dof) / dof), step = top / STEPS, sum = 0;
  for (guint i = 0; i <= STEPS; i++) {
    double s = i * step, weight = i == 0 || i == STEPS ? 1 : i % 2 ? 4 : 2;
    sum += weight * deviation_density (s, dof) * gsl_cdf_ugaussian_P (sqrt (n) * (k * s - z));
  }
  return sum * step / 3;
}

double
sp_tolerance_factor (guint n)
{
  double z = gsl_cdf_ugaussian_Pinv (SP_TOLERANCE_SHARE), low = 0, high = 100; /* of two samples 26 */
  g_return_val_if_fail (n >= 2, NAN);
  for (guint i = 0; i < 60; i++) {
    double middle = (low + high) / 2;
    if (confidence (middle, n, z) < SP_TOLERANCE_CONFIDENCE)
      low = middle;
    else
      high = middle;
  }
  return (low + high) / 2;
}

/* ---- which are samples ---- */

/* Length of a name without a number at its end; 0: it has none. */
static gsize
model_length (const char *name)
{
  gsize end = strlen (name), length;
  while (end > 0 && g_ascii_isdigit (name[end - 1]))
    end--;
  for (length = end; length > 0 && name[length - 1] == ' ';)
    length--;
  return name[end] && length < end ? length : 0;
}

static gboolean
is_same_model (const SpComparison *comparison, guint a, guint b)
{
  const SpCompareRow *p = &comparison->rows[a], *q = &comparison->rows[b];
  gsize length = model_length (p->radio);
  return length && length == model_length (q->radio) && strncmp (p->radio, q->radio, length) == 0
         && strcmp (p->condition, q->condition) == 0
         && sp_compare_waveband (comparison->findings, a) == sp_compare_waveband (comparison->findings, b);
}

/* ---- their levels ---- */

/* The radio's own level of an order; NaN: not seen so. */
static double
own_level_dbm (const SpCompareRow *row, guint order)
{
  if (order == 1)
    return row->found->power_dbm;
  const SpEmission *e = sp_compare_harmonic (row, order);
  return e && e->detected && (e->origin == SP_ORIGIN_RADIO || e->origin == SP_ORIGIN_UNTESTED || e->origin == SP_ORIGIN_NONE) ? e->level_dbm
                                                                                                                              : NAN;
}

static void
put_statistics (SpSampleLevel *level, guint n, double factor)
{
  double sum = 0, squares = 0;
  if (level->n_seen < n)
    return;
  for (guint i = 0; i < n; i++)
    sum += level->level_dbm[i];
  level->mean_dbm = sum / n;
  for (guint i = 0; i < n; i++)
    squares += pow (level->level_dbm[i] - level->mean_dbm, 2);
  level->s_db = sqrt (squares / (n - 1));
  level->mean_within_db = gsl_cdf_tdist_Pinv (0.975, n - 1) * level->s_db / sqrt (n);
  level->most_dbm = level->mean_dbm + (level->order == 1 ? -1 : 1) * factor * level->s_db;
}

static SpSampleLevel
level_of (const SpComparison *comparison, const SpSamples *samples, guint order)
{
  SpSampleLevel level = { .order = order, .mean_dbm = NAN, .s_db = NAN, .mean_within_db = NAN, .most_dbm = NAN, .floor_dbm = NAN };
  double limit_dbm = INFINITY;
  level.level_dbm = g_new (double, samples->n);
  for (guint i = 0; i < samples->n; i++) {
    const SpCompareRow *row = &comparison->rows[samples->rows[i]];
    const SpEmission *e = sp_compare_harmonic (row, order);
    level.level_dbm[i] = own_level_dbm (row, order);
    level.n_seen += isnan (level.level_dbm[i]) ? 0 : 1;
    if (e && isnan (level.level_dbm[i]))
      level.floor_dbm = fmax (level.floor_dbm, e->floor_dbm);
    limit_dbm = e && !isnan (e->limit_dbm) ? MIN (limit_dbm, e->limit_dbm) : limit_dbm;
  }
  put_statistics (&level, samples->n, samples->factor);
  level.room_db = isfinite (limit_dbm) ? limit_dbm - level.mean_dbm : NAN;
  return level;
}

static void
put_levels (const SpComparison *comparison, SpSamples *samples)
{
  g_autoptr (GArray) levels = g_array_new (FALSE, FALSE, sizeof (SpSampleLevel));
  samples->worst = -1;
  samples->worst_over_db = NAN;
  for (guint order = 1; order <= comparison->most_order; order++) {
    SpSampleLevel level = level_of (comparison, samples, order);
    double over_db = level.most_dbm - level.mean_dbm - level.room_db;
    if (order > 1 && level.n_seen == 0) {
      g_free (level.level_dbm);
      continue;
    }
    if (!isnan (over_db) && !(over_db <= samples->worst_over_db)) {
      samples->worst = (int) levels->len;
      samples->worst_over_db = over_db;
    }
    g_array_append_val (levels, level);
  }
  samples->n_levels = levels->len;
  samples->levels = (SpSampleLevel *) (void *) g_array_free (g_steal_pointer (&levels), FALSE);
}

static void
samples_free (void *data)
{
  SpSamples *samples = data;
  for (guint i = 0; i < samples->n_levels; i++)
    g_free (samples->levels[i].level_dbm);
  g_free (samples->levels);
  g_free (samples->rows);
  g_free (samples->model);
  g_free (samples);
}

static SpSamples *
samples_of (const SpComparison *comparison, guint first)
{
  SpSamples *samples = g_new0 (SpSamples, 1);
  const char *name = comparison->rows[first].radio;
  samples->model = g_strndup (name, model_length (name));
  samples->rows = g_new (guint, comparison->n);
  samples->all_comply = TRUE;
  for (guint i = first; i < comparison->n; i++)
    if (i == first || is_same_model (comparison, first, i)) {
      samples->rows[samples->n++] = i;
      samples->all_comply &= comparison->rows[i].found->verdict == SP_VERDICT_COMPLIES;
    }
  return samples;
}

GPtrArray *
sp_compare_samples (const SpComparison *comparison)
{
  GPtrArray *models = g_ptr_array_new_with_free_func (samples_free);
  for (guint i = 0; i < comparison->n; i++) {
    gboolean before = FALSE;
    for (guint k = 0; k < i; k++)
      before |= is_same_model (comparison, k, i);
    SpSamples *samples = before ? NULL : samples_of (comparison, i);
    if (!samples)
      continue;
    if (samples->n < 2) {
      samples_free (samples);
      continue;
    }
    samples->factor = sp_tolerance_factor (samples->n);
    put_levels (comparison, samples);
    g_ptr_array_add (models, samples);
  }
  return models;
}
