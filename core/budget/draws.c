/* draws.c - draws from a budget for Monte Carlo */
#include "core/budget/propagate.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_expint.h>
#include <math.h>
#include <string.h>

#include "core/quantity/coverage.h"

#define DB_PER_NEPER 8.685889638065035 /* calculated: 20/ln 10; SP_DB_PER_NEPER but for the last place, so that draws keep their bits */
#define SMALL_PAIR 0.05                /* relative to the whole u: 0.25 % of its square; bounds time; calculated */

typedef struct {
  const SpBudget *budget;
  double slope, margin_db;
  SpBudgetColumn column;
} Model;

/* |1 + m e^(j phi)|^2 */
static double
draw_pair (const gsl_rng *rng, double u)
{
  double m = fmin (1, u * M_SQRT2 / DB_PER_NEPER), square = 1 + m * m + 2 * m * cos (gsl_ran_flat (rng, 0, 2 * M_PI));
  return fmax (square, 1e-30);
}

/* Each pair of reflections has its own phase; many small ones together are normal. Without pairs: one of standard uncertainty u. */
static double
draw_mismatch (const gsl_rng *rng, double u, guint n, const double *pair_u_db)
{
  double product = 1, small = 0;
  for (guint i = 0; i < n; i++)
    if (pair_u_db[i] < SMALL_PAIR * u)
      small += pair_u_db[i] * pair_u_db[i];
    else
      product *= draw_pair (rng, pair_u_db[i]);
  if (n == 0)
    product = draw_pair (rng, u);
  double value = DB_PER_NEPER / 2 * log (fmax (product, 1e-300)); /* a dozen deep fades would make it 0 */
  return small > 0 ? value + gsl_ran_gaussian_ziggurat (rng, sqrt (small)) : value;
}

/* 20 lg|1 + s z| less its mean, 10/ln 10 E1(1 / (2 s^2)): ln|1 + w|^2 of a complex normal w of mean power p has the mean E1(1/p). */
static double
draw_noise (const gsl_rng *rng, double u)
{
  double s = u / DB_PER_NEPER, along = 1 + gsl_ran_gaussian_ziggurat (rng, s), across = gsl_ran_gaussian_ziggurat (rng, s);
  gsl_sf_result mean = { 0, 0 };
  if (s > 0.03) /* below, E1 (500) is 0 in double precision */
    gsl_sf_expint_E1_e (1 / (2 * s * s), &mean);
  return -DB_PER_NEPER / 2 * (log (along * along + across * across) - mean.val);
}

/* One draw of a term; the share of the level, or of P, has standard uncertainty u. */
static double
draw_share (const gsl_rng *rng, const SpBudget *budget, const SpTerm *t, gboolean of_power, double u, double dof)
{
  if (t->distribution == SP_DISTRIBUTION_U_SHAPED)
    return draw_mismatch (rng, u, of_power ? t->n_power_pairs : t->n_level_pairs,
                          budget->pair_u_db + t->first_pair + (of_power ? t->n_level_pairs : 0));
  if (t->kind == SP_TERM_NOISE)
    return draw_noise (rng, u);
  double value = sp_draw (rng, t->distribution, u, dof);
  return t->side < 0 ? -value : value;
}

/* Both shares of a term, correlated as dBc implies. */
static void
draw_term (const gsl_rng *rng, const SpBudget *budget, const SpTerm *t, double *level, double *power)
{
  double l = t->u_level_db, p = t->u_power_db;
  double first = draw_share (rng, budget, t, l == 0, l > 0 ? l : p, l > 0 ? t->dof : t->dof_power);
  *level += l > 0 ? first : 0;
  if (p == 0)
    return;
  if (l == 0) {
    *power += first;
    return;
  }
  double r = CLAMP ((l * l + p * p - t->u_dbc_db * t->u_dbc_db) / (2 * l * p), -1, 1);
  double power_alone_db = r * r < 1 ? draw_share (rng, budget, t, TRUE, p, t->dof_power) : 0;
  *power += r * first * p / l + sqrt (1 - r * r) * power_alone_db;
}

static double
draw_model (const gsl_rng *rng, gpointer data)
{
  const Model *model = data;
  double level = 0, power = 0, between = 0;
  for (guint i = 0; i < model->budget->n; i++) {
    const SpTerm *t = &model->budget->terms[i];
    if (t->by_part && model->column == SP_BUDGET_MARGIN)
      continue;
    if (t->u_level_db == 0 && t->u_power_db == 0)
      between += draw_share (rng, model->budget, t, FALSE, t->u_dbc_db, t->dof_dbc); /* between two sweeps: in dBc alone */
    else
      draw_term (rng, model->budget, t, &level, &power);
  }
  switch (model->column) {
  case SP_BUDGET_LEVEL: return level;
  case SP_BUDGET_POWER: return power;
  case SP_BUDGET_DBC: return level - power + between;
  case SP_BUDGET_MARGIN: return model->margin_db + model->slope * power - level - sqrt (fmax (0, model->slope)) * between;
  case SP_BUDGET_COLUMNS: break;
  }
  g_return_val_if_reached (NAN);
}

gboolean
sp_budget_draw_margin (const SpBudget *budget, double slope, double margin_db, guint64 n, guint64 seed, GCancellable *cancellable,
                       SpPropagated *out)
{
  Model model = { budget, slope, isnan (margin_db) ? 0 : margin_db, SP_BUDGET_MARGIN };
  return sp_propagate (draw_model, &model, n, seed, SP_COVERAGE, cancellable, out);
}

gboolean
sp_budget_draw (const SpBudget *budget, double slope, double margin_db, guint64 n, guint64 seed, GCancellable *cancellable,
                SpBudgetDrawn *out)
{
  gboolean done = TRUE;
  for (guint i = 0; i < SP_BUDGET_COLUMNS; i++) {
    Model model = { budget, slope, isnan (margin_db) ? 0 : margin_db, (SpBudgetColumn) i };
    done = sp_propagate (draw_model, &model, n, seed, SP_COVERAGE, cancellable, &out->column[i]) && done;
  }
  return done;
}
