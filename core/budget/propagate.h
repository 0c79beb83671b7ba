/* propagate.h - Monte Carlo propagation of distributions (JCGM 101), of any model and of a budget
 *
 * Pure: the same seed gives the same draws, on any thread. It shows what the first order leaves out: a model's curvature, and laws that are not
 * normal. Where a sensitivity is 0 at the estimate the first order gives u = 0, the draws do not (JCGM 101, 9.4).
 */
#pragma once

#include "core/budget/budget.h"

#include <gio/gio.h>
#include <gsl/gsl_rng.h>

#define SP_DRAWS_LEAST 100      /* a tail of 2.3 % needs that many */
#define SP_DRAWS_MOST 100000000 /* kept one double each, to be sorted */

/* One draw of a quantity, from as many of its inputs as it likes to draw. */
typedef double (*SpDraw) (const gsl_rng *rng, gpointer model);

/* What n draws say. Intervals hold `probability`: the symmetric one leaves out as much below as above, the shortest is the shortest
 * (JCGM 101, 7.7; ends between two draws are the lower one). */
typedef struct {
  double mean, u;   /* u: standard deviation of the draws */
  double low, high; /* probabilistically symmetric */
  double shortest_low, shortest_high;
  double above_zero; /* share of the draws >= 0 */
} SpPropagated;

/* FALSE, *out NaN: cancelled, or n outside SP_DRAWS_LEAST .. SP_DRAWS_MOST. cancellable NULL: cannot be. */
gboolean sp_propagate (SpDraw draw, gpointer model, guint64 n, guint64 seed, double probability, GCancellable *cancellable,
                       SpPropagated *out);

/* A draw about 0 of standard uncertainty `u` (JCGM 101, 6.4). Normal with finite dof: Student's t scaled by u (6.4.9), whose standard deviation is
 * greater, and infinite to 2 dof. One-sided: 0 .. u sqrt 3, uniform: u is the root mean square about the estimate, which was not moved. */
double sp_draw (const gsl_rng *rng, SpDistribution distribution, double u, double dof);

/* What a budget says of a level, its P, their dBc and the margin, as draws: deviations from the estimates, dB. The model of the first order, with
 * two terms as they are and not straightened:
 *   mismatch  20 lg|1 + m e^(j phi)|, m = u sqrt 2 / 8.686 (1 at most), phi anywhere: over +6 dB it cannot help, below there is no end. A phase for each
 *             pair of reflections (SpBudget.pair_u_db), for each is a path of its own; those under a twentieth of the whole together as a normal law;
 *   noise     20 lg|1 + s z|, s = u / 8.686, z complex normal, less its mean, which the level has off already: its part across the line, of which the
 *             first order knows nothing, is all that is left near the floor.
 * What the radio's part holds already ("product") moves level and dBc, not the margin.
 * A term's shares of level and P are drawn with the correlation that its dBc leaves; margin = slope P - level. */
typedef struct {
  SpPropagated column[SP_BUDGET_COLUMNS];
} SpBudgetDrawn;

/* margin_db: added to the draws of the margin, so that the margin column's above_zero is the probability of conformity; NaN: 0. FALSE as sp_propagate. */
gboolean sp_budget_draw (const SpBudget *budget, double slope, double margin_db, guint64 n, guint64 seed, GCancellable *cancellable,
                         SpBudgetDrawn *out);
/* The margin alone: a quarter of the time. */
gboolean sp_budget_draw_margin (const SpBudget *budget, double slope, double margin_db, guint64 n, guint64 seed, GCancellable *cancellable,
                                SpPropagated *out);
