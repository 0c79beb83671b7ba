#include "core/budget/budget-private.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "core/quantity/coverage.h"

typedef struct { double u_db, k, dof, expanded_db; } Combined;

double
sp_coverage_factor (double dof)
{
  return sp_student_k (dof);
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

/* A column of the terms: where its share stands, and that share's dof. */
typedef struct { gsize u, dof; } Column;
static const Column LEVEL = { G_STRUCT_OFFSET (SpTerm, u_level_db), G_STRUCT_OFFSET (SpTerm, dof) };
static const Column POWER = { G_STRUCT_OFFSET (SpTerm, u_power_db), G_STRUCT_OFFSET (SpTerm, dof_power) };
static const Column DBC = { G_STRUCT_OFFSET (SpTerm, u_dbc_db), G_STRUCT_OFFSET (SpTerm, dof_dbc) };
static const Column MARGIN = { G_STRUCT_OFFSET (SpTerm, u_margin_db), G_STRUCT_OFFSET (SpTerm, dof_margin) };

/* Welch-Satterthwaite (JCGM 100, G.4.1) over one column of the terms; dof truncated to a whole number (G.4.2). */
static Combined
sum_column (const GArray *terms, Column column)
{
  double squares = 0, fourths = 0;
  for (guint i = 0; i < terms->len; i++) {
    const char *t = (const char *) &g_array_index (terms, SpTerm, i);
    double v = *(const double *) (t + column.u), dof = *(const double *) (t + column.dof);
    squares += v * v;
    if (isfinite (dof))
      fourths += v * v * v * v / dof;
  }
  double dof = sp_dof_from_fourths (squares * squares, fourths);
  Combined sum = { .u_db = sqrt (squares), .dof = fmax (1, floor (dof * (1 + 1e-12))) };
  sum.k = sp_coverage_factor (sum.dof);
  sum.expanded_db = sum.k * sum.u_db;
  return sum;
}

static void
put (Combined sum, double *u, double *k, double *dof, double *expanded)
{
  *u = sum.u_db;
  *k = sum.k;
  *dof = sum.dof;
  *expanded = sum.expanded_db;
}

static void
put_all (SpBudget *out, Combined level, Combined power, Combined dbc, Combined margin)
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
    double shares[] = { t->u_level_db, slope * t->u_power_db }, dofs[] = { t->dof, t->dof_power };
    t->dof_margin = sp_effective_dof (2, shares, dofs);
  }
  put_all (out, sum_column (terms, LEVEL), sum_column (terms, POWER), sum_column (terms, DBC), sum_column (terms, MARGIN));
  out->n = terms->len;
  out->terms = (SpTerm *) g_array_steal (terms, NULL);
}

void
sp_budget (const SpBudgetView *view, double frequency_hz, const SpBudgetReadings *readings, double slope, SpBudget *out)
{
  GArray *terms = sp_budget_terms (view, frequency_hz, FALSE);
  sp_budget_add_readings (terms, readings);
  sp_budget_add_switching (terms, view);
  sp_budget_add_drift (terms, view);
  sp_budget_put_meter (terms, view);
  finish (terms, slope, out);
  g_array_unref (terms);
}

double
sp_budget_drift_u_db (const SpBench *bench)
{
  return copysign (sp_bench_drift_u_db (bench), sp_bench_drift_db (bench));
}

void
sp_budget_none (SpBudget *out)
{
  Combined none = { NAN, NAN, NAN, NAN };
  put_all (out, none, none, none, none);
  out->n = 0;
  out->terms = NULL;
}

void
sp_budget_power (const SpBudgetView *view, const SpBudgetReadings *readings, SpBudget *out)
{
  GArray *terms = sp_budget_carrier_terms (view, readings);
  for (guint i = 0; i < terms->len; i++) {
    SpTerm *t = &g_array_index (terms, SpTerm, i);
    t->u_power_db = t->u_level_db;
    t->dof_power = t->dof;
    t->u_dbc_db = 0;
    t->dof_dbc = INFINITY;
  }
  finish (terms, 1, out); /* P against itself: nothing is left of it */
  g_array_unref (terms);
}

double
sp_budget_level_u (const SpBudgetView *view, double frequency_hz, gboolean at_fundamental)
{
  GArray *terms = sp_budget_terms (view, frequency_hz, at_fundamental);
  sp_budget_add_drift (terms, view);
  sp_budget_put_meter (terms, view);
  double u = sum_column (terms, LEVEL).u_db;
  g_array_unref (terms);
  return u;
}
