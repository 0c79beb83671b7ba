/* range.c - noise and the product below the carrier against mixer level */
#include "core/plan/plan-private.h"

#include <math.h>

#define GOLDEN_STEPS 48    /* 1e-10 of the span; calculated: 0.618^48 */
#define AT_THE_END_DB 1e-6 /* a minimum at the end of 100 dB is found within 1e-8; calculated */

double
sp_dynamic_range_db (guint order, double intercept_dbm, double noise_dbm, double noise_margin_db, double product_margin_db,
                     double *mixer_dbm)
{
  double n = order, noise = noise_dbm + noise_margin_db;
  if (mixer_dbm)
    *mixer_dbm = ((n - 1) * intercept_dbm + noise - product_margin_db) / n;
  return (n - 1) / n * (intercept_dbm - noise) - product_margin_db / n;
}

static SpOutlook
at_mixer (SpPlan *plan, const SpSetting *setting, guint order, double mixer_dbm)
{
  SpSetting s = *setting;
  s.attenuation_db = sp_plan_attenuation_db (plan, setting, mixer_dbm);
  return sp_plan_harmonic (plan, &s, order);
}

/* order 0: the worst of all harmonics, by missing dB if there are limits, else by the floor. Each is convex in the mixer level, and so
 * is their maximum. */
static double
badness (SpPlan *plan, const SpSetting *setting, guint order, double mixer_dbm)
{
  if (order)
    return at_mixer (plan, setting, order, mixer_dbm).floor_dbm;
  double missing = NAN, floor_dbm = NAN;
  for (guint n = 2; n <= plan->harmonics; n++) {
    SpOutlook o = at_mixer (plan, setting, n, mixer_dbm);
    missing = fmax (missing, o.missing_db);
    floor_dbm = fmax (floor_dbm, o.floor_dbm);
  }
  return isnan (missing) ? floor_dbm : missing;
}

/* Golden section search for the mixer level of the minimum. */
static double
least (SpPlan *plan, const SpSetting *setting, guint order, double from, double to)
{
  const double golden = (sqrt (5) - 1) / 2;
  double a = to - golden * (to - from), b = from + golden * (to - from);
  double at_a = badness (plan, setting, order, a), at_b = badness (plan, setting, order, b);
  if (isnan (at_a))
    return NAN;
  for (int i = 0; i < GOLDEN_STEPS; i++) {
    if (at_a <= at_b) {
      to = b, b = a, at_b = at_a;
      a = to - golden * (to - from);
      at_a = badness (plan, setting, order, a);
    } else {
      from = a, a = b, at_a = at_b;
      b = from + golden * (to - from);
      at_b = badness (plan, setting, order, b);
    }
  }
  return (from + to) / 2;
}

static void
fill_curve (SpPlan *plan, const SpSetting *setting, const SpRange *range, SpRangeCurve *curve, guint order)
{
  double p = plan->power_dbm, from = range->mixer_dbm[0], to = range->mixer_dbm[range->n - 1];
  curve->order = order;
  curve->limit_dbc = plan->places[order].limit.limit_dbm - p;
  curve->noise_dbc = g_new (double, range->n);
  curve->floor_dbc = g_new (double, range->n);
  gboolean known = !isnan (plan->places[order].intercept_dbm) || !isnan (plan->places[order].shown_dbm);
  curve->product_dbc = known ? g_new (double, range->n) : NULL;
  for (guint i = 0; i < range->n; i++) {
    SpOutlook o = at_mixer (plan, setting, order, range->mixer_dbm[i]);
    curve->noise_dbc[i] = o.detection_dbm - p;
    curve->floor_dbc[i] = o.floor_dbm - p;
    if (curve->product_dbc)
      curve->product_dbc[i] = o.product_high_dbm - p;
  }
  curve->best_mixer_dbm = least (plan, setting, order, from, to);
  curve->best_floor_dbc = badness (plan, setting, order, curve->best_mixer_dbm) - p;
}

double
sp_plan_safe_mixer_dbm (const SpAnalyzer *analyzer)
{
  return isnan (analyzer->best_mixer_dbm) ? SP_MIXER_ASSUMED_DBM : analyzer->best_mixer_dbm;
}

double
sp_plan_best_mixer_dbm (SpPlan *plan, const SpSetting *setting, gboolean *assumed)
{
  double safe = sp_plan_safe_mixer_dbm (plan->task.analyzer), best = least (plan, setting, 0, safe - 100, safe);
  if (assumed)
    *assumed = isnan (plan->task.analyzer->best_mixer_dbm) && !(best < safe - AT_THE_END_DB);
  return isnan (best) ? safe : best;
}

SpRange *
sp_plan_range (SpPlan *plan, const SpSetting *setting, double from_dbm, double to_dbm, guint n)
{
  g_return_val_if_fail (n >= 2 && from_dbm < to_dbm, NULL);
  SpRange *range = g_new0 (SpRange, 1);
  range->n = n;
  range->mixer_dbm = g_new (double, n);
  for (guint i = 0; i < n; i++)
    range->mixer_dbm[i] = from_dbm + (to_dbm - from_dbm) * i / (n - 1);
  range->n_curves = plan->harmonics - 1;
  range->curves = g_new0 (SpRangeCurve, range->n_curves);
  range->best_missing_db = NAN;
  for (guint i = 0; i < range->n_curves; i++)
    fill_curve (plan, setting, range, &range->curves[i], i + 2);
  range->today_mixer_dbm = sp_plan_mixer_dbm (plan, setting);
  range->safe_mixer_dbm = sp_plan_safe_mixer_dbm (plan->task.analyzer);
  range->safe_assumed = isnan (plan->task.analyzer->best_mixer_dbm);
  range->best_mixer_dbm = least (plan, setting, 0, from_dbm, to_dbm);
  for (guint i = 0; i < range->n_curves; i++)
    if (!isnan (range->curves[i].limit_dbc))
      range->best_missing_db = badness (plan, setting, 0, range->best_mixer_dbm);
  return range;
}

void
sp_range_free (SpRange *range)
{
  if (!range)
    return;
  for (guint i = 0; i < range->n_curves; i++) {
    g_free (range->curves[i].noise_dbc);
    g_free (range->curves[i].product_dbc);
    g_free (range->curves[i].floor_dbc);
  }
  g_free (range->curves);
  g_free (range->mixer_dbm);
  g_free (range);
}
