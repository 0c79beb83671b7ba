#include "core/budget/budget-private.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#define COVERAGE 0.954499736103642 /* erf(sqrt 2): k = 2 for a normal law */

double
sp_coverage_factor (double dof)
{
  return isfinite (dof) ? gsl_cdf_tdist_Pinv (0.5 + COVERAGE / 2, fmax (floor (dof), 1)) : 2;
}

double
sp_student_below (double t, double dof)
{
  return isfinite (dof) ? gsl_cdf_tdist_P (t, dof) : gsl_cdf_ugaussian_P (t);
}

const char *
sp_distribution_name (SpDistribution distribution)
{
  static const char *const names[] = { "normal", "rectangular", "U-shaped", "one-sided" };
  return names[distribution];
}

/* Welch-Satterthwaite (JCGM 100, G.4.1) over one column of the terms; dof truncated to a whole number (G.4.2). */
static SpCombined
sum_column (const GArray *terms, gsize column)
{
  double squares = 0, fourths = 0;
  for (guint i = 0; i < terms->len; i++) {
    const SpTerm *t = &g_array_index (terms, SpTerm, i);
    double v = *(const double *) ((const char *) t + column);
    squares += v * v;
    if (isfinite (t->dof))
      fourths += v * v * v * v / t->dof;
  }
  SpCombined sum = { .u_db = sqrt (squares), .dof = fourths > 0 ? fmax (1, floor (squares * squares / fourths)) : INFINITY };
  sum.k = sp_coverage_factor (sum.dof);
  sum.expanded_db = sum.k * sum.u_db;
  return sum;
}

static void
put (SpCombined sum, double *u, double *k, double *dof, double *expanded)
{
  *u = sum.u_db;
  *k = sum.k;
  *dof = sum.dof;
  *expanded = sum.expanded_db;
}

static void
put_all (SpBudget *out, SpCombined level, SpCombined power, SpCombined dbc, SpCombined margin)
{
  put (level, &out->u_level_db, &out->k_level, &out->dof_level, &out->expanded_level_db);
  put (power, &out->u_power_db, &out->k_power, &out->dof_power, &out->expanded_power_db);
  put (dbc, &out->u_dbc_db, &out->k_dbc, &out->dof_dbc, &out->expanded_dbc_db);
  put (margin, &out->u_margin_db, &out->k_margin, &out->dof_margin, &out->expanded_margin_db);
}

static void
finish (GArray *terms, double slope, SpBudget *out)
{
  for (guint i = 0; i < terms->len; i++) {
    SpTerm *t = &g_array_index (terms, SpTerm, i);
    double l = t->u_level_db * t->u_level_db, p = t->u_power_db * t->u_power_db, d = t->u_dbc_db * t->u_dbc_db;
    /* u^2(level) + k^2 u^2(P) - 2 k cov, with cov = (l + p - d)/2 */
    t->u_margin_db = sqrt (fmax (0, (1 - slope) * l + slope * (slope - 1) * p + slope * d));
  }
  put_all (out, sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_level_db)), sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_power_db)),
           sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_dbc_db)), sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_margin_db)));
  out->n = terms->len;
  out->terms = (SpTerm *) g_array_steal (terms, NULL);
}

void
sp_budget (const SpBudgetView *view, double frequency_hz, const SpBudgetReadings *readings, double slope, SpBudget *out)
{
  GArray *terms = sp_budget_terms (view, frequency_hz, FALSE);
  sp_budget_add_readings (terms, readings);
  sp_budget_add_switching (terms, view);
  sp_budget_put_meter (terms, view);
  finish (terms, slope, out);
  g_array_unref (terms);
}

void
sp_budget_none (SpBudget *out)
{
  SpCombined none = { NAN, NAN, NAN, NAN };
  put_all (out, none, none, none, none);
  out->n = 0;
  out->terms = NULL;
}

SpCombined
sp_budget_power (const SpBudgetView *view, const SpBudgetReadings *readings)
{
  GArray *terms = sp_budget_terms (view, view->fundamental_hz, TRUE);
  sp_budget_add_carrier (terms, readings);
  SpCombined sum = sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_level_db));
  g_array_unref (terms);
  return sum;
}

double
sp_budget_level_u (const SpBudgetView *view, double frequency_hz, gboolean at_fundamental)
{
  GArray *terms = sp_budget_terms (view, frequency_hz, at_fundamental);
  sp_budget_put_meter (terms, view);
  double u = sum_column (terms, G_STRUCT_OFFSET (SpTerm, u_level_db)).u_db;
  g_array_unref (terms);
  return u;
}
