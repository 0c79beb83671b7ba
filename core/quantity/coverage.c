#include "core/quantity/coverage.h"

#include <gsl/gsl_cdf.h>
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
  return fourths > 0 ? squares * squares / fourths : INFINITY;
}

double
sp_student_k (double dof)
{
  /* What rounding took from a whole number is given back. */
  return isfinite (dof) ? gsl_cdf_tdist_Pinv (0.5 + SP_COVERAGE / 2, fmax (floor (dof * (1 + 1e-12)), 1)) : 2;
}
