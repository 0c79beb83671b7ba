/* propagate.h - Monte Carlo propagation of distributions (JCGM 101), for any model and for a budget
 *
 * Pure: the same seed gives the same draws on any thread. It includes the effects that the first order leaves out: a model's
 * curvature, and distributions that are not normal. If a sensitivity is 0 at the estimate, the first order gives u = 0 but the draws
 * do not (JCGM 101, 9.4).
 */
#pragma once

#include "core/budget/budget.h"

#include <gio/gio.h>
#include <gsl/gsl_rng.h>

#define SP_DRAWS_LEAST 100      /* needed for a tail of 2.3 %; calculated: two draws lie beyond */
#define SP_DRAWS_MOST 100000000 /* each is kept as a double, for sorting; bounds memory */

/* One draw of a quantity; it may draw any number of inputs. */
typedef double (*SpDraw) (const gsl_rng *rng, gpointer model);

/* Results of n draws. Intervals hold `probability`: the symmetric one excludes equal shares below and above, the shortest is the
 * shortest (JCGM 101, 7.7; an end between two draws is the lower one). */
typedef struct {
  double mean, u;   /* u: standard deviation of the draws */
  double low, high; /* probabilistically symmetric */
  double shortest_low, shortest_high;
  double above_zero; /* share of draws >= 0 */
} SpPropagated;

/* FALSE and *out NaN: cancelled, or n outside SP_DRAWS_LEAST .. SP_DRAWS_MOST. cancellable may be NULL. */
gboolean sp_propagate (SpDraw draw, gpointer model, guint64 n, guint64 seed, double probability, GCancellable *cancellable,
                       SpPropagated *out);

/* A draw about 0 with standard uncertainty `u` (JCGM 101, 6.4). Normal with finite dof: Student's t scaled by u (6.4.9), whose
 * standard deviation is greater, and infinite up to 2 dof. One-sided: uniform over 0 .. u sqrt 3; u is the root mean square about the
 * estimate, which is not moved. */
double sp_draw (const gsl_rng *rng, SpDistribution distribution, double u, double dof);

/* Draws of a budget's level, P, their dBc and the margin, as deviations from the estimates, dB. The first-order model, except for two
 * terms that keep their shape:
 * mismatch  20 lg|1 + m e^(j phi)|, m = u sqrt 2 / 8.686 (1 at most), phi uniform: at most +6 dB, without lower bound. Each pair of
 * reflections (SpBudget.pair_u_db) has its own phase; those under a twentieth of the whole are one normal term.
 * noise  20 lg|1 + s z|, s = u / 8.686, z complex normal, less its mean, which the level already excludes. Near the floor its
 * quadrature part dominates, which the first order ignores.
 * "product" moves level and dBc but not the margin, since the radio's part includes it.
 * A term's shares of level and P are drawn with the correlation that its dBc implies; margin = slope P - level. */
typedef struct {
  SpPropagated column[SP_BUDGET_COLUMNS];
} SpBudgetDrawn;

/* margin_db is added to the draws of the margin, so that its above_zero is the probability of conformity; NaN: 0. FALSE as sp_propagate. */
gboolean sp_budget_draw (const SpBudget *budget, double slope, double margin_db, guint64 n, guint64 seed, GCancellable *cancellable,
                         SpBudgetDrawn *out);
/* The margin alone, in a quarter of the time. */
gboolean sp_budget_draw_margin (const SpBudget *budget, double slope, double margin_db, guint64 n, guint64 seed, GCancellable *cancellable,
                                SpPropagated *out);
