/* budget.c - sums a budget's terms for level, dBc and margin, each with its degrees of freedom */
#include "core/budget/budget-private.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

#include "core/quantity/coverage.h"

double
sp_student_below (double t, double dof)
{
  return isfinite (dof) ? gsl_cdf_tdist_P (t, dof) : gsl_cdf_ugaussian_P (t);
}

const char *
sp_term_name (SpTermKind kind)
{
  static const char *const names[] = {
    "accuracy",    "flatness",     "correction",        "scale",          "repeatability",     "chain", "common",
    "temperature", "self-heating", "mismatch-inner",    "mismatch-radio", "mismatch-analyzer", "noise", "repeats",
    "sampling",    "product",      "attenuator-switch", "rbw-switch",     "check-drift",       "meter"
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (names) == SP_N_TERMS);
  g_return_val_if_fail ((guint) kind < SP_N_TERMS, NULL);
  return names[kind];
}

const char *
sp_budget_source_name (SpBudgetSource source)
{
  static const char *const names[] = { "profile", "chain", "radio",  "sweep",      "check", "meter",
                                       "step",    "run",   "points", "touchstone", "label", "nothing" };
  G_STATIC_ASSERT (G_N_ELEMENTS (names) == SP_N_BUDGET_SOURCES);
  g_return_val_if_fail ((guint) source < SP_N_BUDGET_SOURCES, NULL);
  return names[source];
}

double
sp_term_u_db (const SpTerm *term, SpBudgetColumn column)
{
  const double u[SP_BUDGET_COLUMNS] = { term->u_level_db, term->u_power_db, term->u_dbc_db, term->u_margin_db };
  return u[column];
}

double
sp_term_dof (const SpTerm *term, SpBudgetColumn column)
{
  const double dof[SP_BUDGET_COLUMNS] = { term->dof, term->dof_power, term->dof_dbc, term->dof_margin };
  return dof[column];
}

/* A cancelled term keeps rounding errors of 1e-17. */
gboolean
sp_term_cancels (const SpTerm *term)
{
  return term->u_level_db > 0 && term->u_power_db > 0 && term->u_dbc_db < 1e-9 * term->u_level_db;
}

const char *
sp_budget_column_name (SpBudgetColumn column)
{
  static const char *const names[SP_BUDGET_COLUMNS] = { "level", "power", "dbc", "margin" };
  return names[column];
}

SpSum
sp_budget_sum (const SpBudget *b, SpBudgetColumn column)
{
  const SpSum sums[SP_BUDGET_COLUMNS] = { { b->u_level_db, b->k_level, b->dof_level, b->expanded_level_db },
                                          { b->u_power_db, b->k_power, b->dof_power, b->expanded_power_db },
                                          { b->u_dbc_db, b->k_dbc, b->dof_dbc, b->expanded_dbc_db },
                                          { b->u_margin_db, b->k_margin, b->dof_margin, b->expanded_margin_db } };
  return sums[column];
}

static double
column_u_db (const SpTerm *term, SpBudgetColumn column)
{
  return column == SP_BUDGET_COLUMNS ? term->u_margin_low_db : sp_term_u_db (term, column);
}

/* Welch-Satterthwaite (JCGM 100, G.4.1) over one column; dof truncated to a whole number (G.4.2). SP_BUDGET_COLUMNS: the margin
 * without terms that only raise the level. */
static SpSum
sum_column (const GArray *terms, SpBudgetColumn column)
{
  double squares = 0, fourths = 0;
  for (guint i = 0; i < terms->len; i++) {
    const SpTerm *t = &g_array_index (terms, SpTerm, i);
    double v = column_u_db (t, column), dof = column == SP_BUDGET_COLUMNS ? t->dof_margin : sp_term_dof (t, column);
    squares += v * v;
    if (isfinite (dof))
      fourths += v * v * v * v / dof;
  }
  double dof = sp_dof_from_fourths (squares * squares, fourths);
  SpSum sum = { .u_db = sqrt (squares), .dof = fmax (1, floor (dof * (1 + 1e-12))) };
  sum.k = sp_coverage_factor (sum.dof);
  sum.expanded_db = sum.k * sum.u_db;
  return sum;
}

static void
put (SpSum sum, double *u, double *k, double *dof, double *expanded)
{
  *u = sum.u_db;
  *k = sum.k;
  *dof = sum.dof;
  *expanded = sum.expanded_db;
}

static void
put_all (SpBudget *out, SpSum level, SpSum power, SpSum dbc, SpSum margin, SpSum margin_low)
{
  put (level, &out->u_level_db, &out->k_level, &out->dof_level, &out->expanded_level_db);
  put (power, &out->u_power_db, &out->k_power, &out->dof_power, &out->expanded_power_db);
  put (dbc, &out->u_dbc_db, &out->k_dbc, &out->dof_dbc, &out->expanded_dbc_db);
  put (margin, &out->u_margin_db, &out->k_margin, &out->dof_margin, &out->expanded_margin_db);
  put (margin_low, &out->u_margin_low_db, &out->k_margin_low, &out->dof_margin_low, &out->expanded_margin_low_db);
}

/* Terms and pairs as one block: g_free (terms) frees both. */
static void
keep (GArray *terms, const GArray *pairs, SpBudget *out)
{
  gsize size = terms->len * sizeof (SpTerm), more = pairs->len * sizeof (double);
  out->n = terms->len;
  out->terms = g_realloc (g_array_steal (terms, NULL), size + more);
  if (more)
    memcpy ((char *) out->terms + size, pairs->data, more);
  out->pair_u_db = more ? (const double *) (const void *) ((const char *) out->terms + size) : NULL;
}

static void
finish (GArray *terms, const GArray *pairs, double slope, SpBudget *out)
{
  for (guint i = 0; i < terms->len; i++) {
    SpTerm *t = &g_array_index (terms, SpTerm, i);
    double l = t->u_level_db * t->u_level_db, p = t->u_power_db * t->u_power_db, d = t->u_dbc_db * t->u_dbc_db;
    /* u^2(level) + c^2 u^2(P) - 2 c cov, with cov = (l + p - d)/2 */
    t->u_margin_db = sqrt (fmax (0, (1 - slope) * l + slope * (slope - 1) * p + slope * d));
    if (t->by_part)
      t->u_margin_db = 0;
    t->u_margin_low_db = t->lifts ? slope * t->u_power_db : t->u_margin_db;
    double shares[] = { t->by_part ? 0 : t->u_level_db, slope * t->u_power_db }, dofs[] = { t->dof, t->dof_power };
    t->dof_margin = sp_effective_dof (2, shares, dofs);
  }
  put_all (out, sum_column (terms, SP_BUDGET_LEVEL), sum_column (terms, SP_BUDGET_POWER), sum_column (terms, SP_BUDGET_DBC),
           sum_column (terms, SP_BUDGET_MARGIN), sum_column (terms, SP_BUDGET_COLUMNS));
  keep (terms, pairs, out);
}

void
sp_budget (const SpBudgetView *view, double frequency_hz, const SpBudgetReadings *readings, double slope, SpBudget *out)
{
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (double));
  GArray *terms = sp_budget_terms (view, frequency_hz, FALSE, pairs);
  sp_budget_add_readings (terms, readings);
  sp_budget_add_switching (terms, view, frequency_hz);
  sp_budget_add_drift (terms, view);
  sp_budget_put_meter (terms, view);
  finish (terms, pairs, slope, out);
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
  SpSum none = { NAN, NAN, NAN, NAN };
  put_all (out, none, none, none, none, none);
  out->n = 0;
  out->terms = NULL;
  out->pair_u_db = NULL;
}

void
sp_budget_power (const SpBudgetView *view, const SpBudgetReadings *readings, SpBudget *out)
{
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (double));
  GArray *terms = sp_budget_carrier_terms (view, readings, pairs);
  for (guint i = 0; i < terms->len; i++) {
    SpTerm *t = &g_array_index (terms, SpTerm, i);
    t->u_power_db = t->u_level_db;
    t->dof_power = t->dof;
    t->u_dbc_db = 0;
    t->dof_dbc = INFINITY;
  }
  finish (terms, pairs, 1, out); /* P relative to itself cancels */
  g_array_unref (terms);
}

SpSum
sp_budget_level (const SpBudgetView *view, double frequency_hz, gboolean at_fundamental)
{
  GArray *terms = sp_budget_terms (view, frequency_hz, at_fundamental, NULL);
  sp_budget_add_own_switching (terms, view, frequency_hz);
  sp_budget_add_drift (terms, view);
  sp_budget_put_meter (terms, view);
  SpSum sum = sum_column (terms, SP_BUDGET_LEVEL);
  g_array_unref (terms);
  return sum;
}
