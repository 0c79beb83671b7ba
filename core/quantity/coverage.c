/* coverage.c - coverage factors and effective degrees of freedom */
#include "core/quantity/coverage.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <math.h>

double
sp_effective_dof (guint n, const double *u, const double *dof)
{
  double squares = 0, fourths = 0;
  for (guint i = 0; i < n; i++) {
    squares += u[i] * u[i];
    if (isfinite (dof[i]))
      fourths += u[i] * u[i] * u[i] * u[i] / dof[i];
  }
  return sp_dof_from_fourths (squares * squares, fourths);
}

double
sp_dof_from_fourths (double fourth, double fourths)
{
  double dof = fourths > 0 ? fourth / fourths : INFINITY;
  return dof < SP_DOF_MANY ? dof : INFINITY;
}

/* Far out GSL's inverse does not converge, and would end the program: there the first terms of its expansion in 1/dof serve (Abramowitz and
 * Stegun, 26.7.5, at z = 2), wrong by less than 1e-13. */
#define EXPANDED_FROM 5000 /* calculated */

double
sp_coverage_factor (double dof)
{
  gsl_set_error_handler_off ();
  if (!isfinite (dof))
    return 2;
  double whole = fmax (floor (dof * (1 + 1e-12)), 1); /* what rounding took from a whole number is given back */
  if (whole < EXPANDED_FROM)
    return gsl_cdf_tdist_Pinv (0.5 + SP_COVERAGE / 2, whole);
  return 2 + 10 / (4 * whole) + 294 / (96 * whole * whole) + 1098 / (384 * whole * whole * whole);
}

const char *
sp_distribution_name (SpDistribution distribution)
{
  static const char *const names[] = { "normal", "student", "rectangular", "U-shaped", "one-sided" };
  g_return_val_if_fail ((guint) distribution < G_N_ELEMENTS (names), NULL);
  return names[distribution];
}
