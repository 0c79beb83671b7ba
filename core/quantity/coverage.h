/* coverage.h - how sure a combined uncertainty is of itself, and what expands it */
#pragma once

#include <glib.h>

#define SP_COVERAGE 0.954499736103642 /* erf(sqrt 2): k = 2 for a normal law; calculated */

#define SP_DOF_MANY 1e9 /* that many degrees of freedom and more count as infinite: k is 2 to 3e-9; calculated: k = 2 + 5/(2 dof) */

/* Welch-Satterthwaite (JCGM 100, G.2b): u^4 over the sum of u_i^4/dof_i; infinite where no term with finite dof has an u. Not truncated. */
double sp_effective_dof (guint n, const double *u, const double *dof);
/* The same from u^4 and that sum. */
double sp_dof_from_fourths (double fourth, double fourths);

/* The coverage factor k: Student's for SP_COVERAGE, two-sided (JCGM 100, table G.2): dof truncated to a whole number (G.4.2), at least 1; infinite or
 * NaN: 2. */
double sp_coverage_factor (double dof);

/* The law that a term of a budget is taken to follow: of the level's budget or of a substitution run. STUDENT: of a run's repeats. */
typedef enum {
  SP_DISTRIBUTION_NORMAL,
  SP_DISTRIBUTION_STUDENT,
  SP_DISTRIBUTION_RECTANGULAR,
  SP_DISTRIBUTION_U_SHAPED,
  SP_DISTRIBUTION_ONE_SIDED
} SpDistribution;
const char *sp_distribution_name (SpDistribution distribution); /* "normal" "student" "rectangular" "U-shaped" "one-sided" */
