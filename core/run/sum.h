/* sum.h - terms of an uncertainty, each of which moves the result dB for dB, and their sum: of a run's loss, of an analyzer's correction */
#pragma once

#include "core/curve/curve.h"
#include "core/quantity/coverage.h"

typedef struct {
  char *name;
  double u_db; /* standard, of the result (every sensitivity is 1) */
  double dof;  /* n - 1 for what was repeated, infinite else */
  SpDistribution distribution;
} SpRunTerm;

typedef struct {
  double u_db;
  double dof;            /* effective (Welch-Satterthwaite), not truncated; infinite */
  double k, expanded_db; /* 95.45 %; k by dof truncated to a whole number */
  guint n_terms;
  SpRunTerm *terms;
} SpRunSum;

/* The mean, and the experimental standard deviation of one (JCGM 100, 4.2.2); NaN for one alone. n >= 1. */
double sp_run_mean (guint n, const double *values_db, double *scatter_db);
/* |G| of a VSWR at f; `assumed` where there is none. */
double sp_run_reflection (const SpCurve *vswr, double frequency_hz, double assumed);

/* `terms`: GArray of SpRunTerm. The name is copied. */
void sp_run_add_term (GArray *terms, const char *name, double u_db, double dof, SpDistribution distribution);
/* A mismatch, u = 8.686 m / sqrt 2 (EA-4/02 M S7.6; Harris and Warner 1981). */
void sp_run_add_mismatch (GArray *terms, const char *name, double m);
/* Root of the sum of squares (JCGM 100, 5.1.2), dof by G.4.1, k by G.4.2. Takes `terms`. */
SpRunSum sp_run_sum (GArray *terms);
void sp_run_sum_clear (SpRunSum *sum);
/* Truncated to a whole number as it is printed and looked up (JCGM 100, G.4.2), at least 1; infinite stays. */
double sp_run_whole_dof (double dof);
