/* sum.c - adds up the terms of an uncertainty */
#include "core/run/sum.h"

#include <math.h>

#include "core/quantity/units.h"

double
sp_run_mean (guint n, const double *values_db, double *scatter_db)
{
  double mean = 0, squares = 0;
  for (guint i = 0; i < n; i++)
    mean += values_db[i] / n;
  for (guint i = 0; i < n; i++)
    squares += (values_db[i] - mean) * (values_db[i] - mean);
  *scatter_db = n > 1 ? sqrt (squares / (n - 1)) : NAN;
  return mean;
}

double
sp_run_reflection (const SpCurve *vswr, double frequency_hz, double assumed)
{
  return sp_reflection_from_vswr (vswr ? sp_curve_at (vswr, frequency_hz, 0).value : assumed);
}

void
sp_run_add_term (GArray *terms, const char *name, double u_db, double dof, SpDistribution distribution)
{
  SpRunTerm term = { g_strdup (name), fabs (u_db), dof, distribution };
  g_array_append_val (terms, term);
}

void
sp_run_add_mismatch (GArray *terms, const char *name, double m)
{
  sp_run_add_term (terms, name, sp_mismatch_u_db (m), INFINITY, SP_DISTRIBUTION_U_SHAPED);
}

SpRunSum
sp_run_sum (GArray *terms)
{
  g_autofree double *u = g_new (double, terms->len), *dof = g_new (double, terms->len);
  SpRunSum sum = { .n_terms = terms->len };
  double squares = 0;
  for (guint i = 0; i < terms->len; i++) {
    const SpRunTerm *term = &g_array_index (terms, SpRunTerm, i);
    u[i] = term->u_db;
    dof[i] = term->dof;
    squares += u[i] * u[i];
  }
  sum.u_db = sqrt (squares);
  sum.dof = sp_effective_dof (terms->len, u, dof);
  sum.k = sp_coverage_factor (sum.dof);
  sum.expanded_db = sum.k * sum.u_db;
  sum.terms = (SpRunTerm *) g_array_free (terms, FALSE);
  return sum;
}

void
sp_run_sum_clear (SpRunSum *sum)
{
  for (guint i = 0; i < sum->n_terms; i++)
    g_free (sum->terms[i].name);
  g_clear_pointer (&sum->terms, g_free);
  sum->n_terms = 0;
}

double
sp_run_whole_dof (double dof)
{
  return isfinite (dof) ? fmax (floor (dof * (1 + 1e-12)), 1) : dof;
}
