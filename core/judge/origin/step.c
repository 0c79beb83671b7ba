/* step.c - fits the radio's part and the analyzer's product to the readings of a step test */
#include "core/judge/origin/step.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#define RATIO_STEP_DB 0.1 /* bounds time */
#define RATIOS ((int) (SP_STEP_RANGE_DB / RATIO_STEP_DB))
#define PHASES 60            /* bounds time */
#define LEAST_AMPLITUDE 1e-6 /* relative to the greater part; stronger cancellations are left out; bounds what a logarithm takes */
#define TAIL 0.0227501319    /* probability on either side of 95.45 %; calculated */
#define LIKELY_CHI 4.0       /* chi-square of 95.45 % for one degree of freedom; calculated: 2^2 */

/* A distribution over levels, as a histogram; bounds time */
#define BIN_DB 0.05
#define BINS 4096 /* room for 204.8 dB */
typedef struct {
  double bottom, total;
  double weight[BINS];
} Spread;

static void
spread_add (Spread *s, double level, double weight)
{
  double at = (level - s->bottom) / BIN_DB;
  s->weight[at <= 0 ? 0 : at >= BINS - 1 ? BINS - 1 : (int) at] += weight;
  s->total += weight;
}

/* Level with cumulative probability p; each bin is widened by a normal distribution with standard deviation sigma. */
static double
spread_quantile (const Spread *s, double p, double sigma)
{
  double low = s->bottom, high = s->bottom + BINS * BIN_DB;
  for (int i = 0; i < 40; i++) {
    double middle = (low + high) / 2, below = 0;
    int from = (int) ((middle - 6 * sigma - s->bottom) / BIN_DB), to = (int) ((middle + 6 * sigma - s->bottom) / BIN_DB);
    for (int b = 0; b < BINS && b <= to; b++)
      if (s->weight[b] > 0)
        below += s->weight[b] * (b < from ? 1 : gsl_cdf_ugaussian_P ((middle - (s->bottom + (b + 0.5) * BIN_DB)) / sigma));
    *(below < p * s->total ? &low : &high) = middle;
  }
  return (low + high) / 2;
}

static SpInterval
spread_interval (const Spread *s, double sigma)
{
  return (SpInterval){ spread_quantile (s, TAIL, sigma), spread_quantile (s, 0.5, sigma), spread_quantile (s, 1 - TAIL, sigma) };
}

typedef struct {
  guint n;
  const SpStepReading *readings;
  double u[SP_STEP_MOST_READINGS], weight[SP_STEP_MOST_READINGS]; /* 1/u^2; 0 if not seen */
  double most_shift_db;                                           /* greatest shift of all readings, for the current order */
  guint most;                                                     /* index of that reading */
  double sum_weight, sigma;                                       /* for the greater part's level */
  double q_most_dbm;
  double chi_offset; /* 0; or the least chi-square of all if no fit is likely, so that the likeliest still counts */
  double cosine[PHASES];
  double p_radio, p_analyzer, order_weight, best_order_weight;
  SpStepFit *out;
  Spread *radio, *analyzer, *fit;
  SpStepEnds *ends; /* NULL: fit. Else only these are searched, over all cells up to chi_most */
  double chi_most;
} Work;

static void
prepare (Work *w)
{
  for (guint k = 0; k < w->n; k++) {
    w->u[k] = fmax (w->readings[k].u_db, SP_STEP_LEAST_U_DB);
    w->weight[k] = w->readings[k].seen ? 1 / (w->u[k] * w->u[k]) : 0;
    w->sum_weight += w->weight[k];
  }
  w->sigma = 1 / sqrt (w->sum_weight);
  for (int i = 0; i < PHASES; i++)
    w->cosine[i] = cos (M_PI * (i + 0.5) / PHASES);
}

static void
prepare_spreads (Work *w, Spread *spreads)
{
  w->radio = spreads;
  w->analyzer = spreads + 1;
  w->fit = spreads + 2;
  for (guint k = 0; k < w->n + 2; k++)
    spreads[k].bottom = w->readings[0].level_dbm - BINS * BIN_DB / 2;
}

/* One cell of the grid: g[k] is the model relative to the greater part's level. Returns the likelihood, and the best level in *level. */
static double
likelihood (const Work *w, const double *g, double *level, double *chi_square)
{
  double sum = 0, chi = 0;
  for (guint k = 0; k < w->n; k++)
    sum += w->weight[k] * (w->readings[k].level_dbm - g[k]);
  *level = sum / w->sum_weight;
  for (guint k = 0; k < w->n; k++) {
    double miss = w->readings[k].level_dbm - g[k] - *level;
    if (w->readings[k].seen)
      chi += miss * miss * w->weight[k];
    else
      chi -= 2 * log (fmax (gsl_cdf_ugaussian_P (miss / hypot (w->u[k], w->sigma)), 1e-300));
  }
  *chi_square = chi; /* beyond 60: e^-30, 1e-13 of the whole (calculated) */
  return chi - w->chi_offset > 60 ? 0 : exp ((w->chi_offset - chi) / 2);
}

static void
take_ends (Work *w, double radio, double analyzer, double chi)
{
  double reach = w->chi_most - chi;
  if (reach < 0)
    return;
  w->ends->low_dbm = fmin (w->ends->low_dbm, radio - w->sigma * sqrt (reach));
  w->ends->high_dbm = fmax (w->ends->high_dbm, radio + w->sigma * sqrt (reach));
  w->ends->close |= fabs (radio - analyzer) < SP_STEP_APART_DB;
}

static void
take_cell (Work *w, const double *g, double ratio_db, gboolean radio_greater)
{
  double level, chi, weight = likelihood (w, g, &level, &chi);
  double radio = radio_greater ? level : level - ratio_db, analyzer = (radio_greater ? level - ratio_db : level) - w->most_shift_db;
  if (analyzer > w->q_most_dbm)
    return;
  if (w->ends) {
    if (g[w->most] <= (radio_greater ? -ratio_db : 0) - SP_STEP_CANCELS_DB)
      take_ends (w, radio, analyzer, chi);
    return;
  }
  w->out->chi_square = fmin (w->out->chi_square, chi);
  if (weight == 0)
    return;
  spread_add (w->radio, radio, weight);
  spread_add (w->analyzer, analyzer, weight);
  for (guint k = 0; k < w->n; k++)
    spread_add (&w->fit[k], level + g[k], weight);
  w->order_weight += weight;
  if (fabs (radio - analyzer) >= SP_STEP_APART_DB)
    *(radio > analyzer ? &w->p_radio : &w->p_analyzer) += weight;
}

/* All phases at one ratio, taken at the reading with the greatest analyzer product. The greater part is 1. */
static void
take_ratio (Work *w, guint order, double ratio_db, gboolean radio_greater)
{
  double squares[SP_STEP_MOST_READINGS], product[SP_STEP_MOST_READINGS], g[SP_STEP_MOST_READINGS];
  double smaller = pow (10, -ratio_db / 20);
  for (guint k = 0; k < w->n; k++) {
    double moved = pow (10, (w->readings[k].product_shift_db[order] - w->most_shift_db) / 20);
    double r = radio_greater ? 1 : smaller, q = (radio_greater ? smaller : 1) * moved;
    squares[k] = r * r + q * q;
    product[k] = 2 * r * q;
  }
  for (int i = 0; i < PHASES; i++) {
    for (guint k = 0; k < w->n; k++)
      g[k] = 10 * log10 (fmax (squares[k] + product[k] * w->cosine[i], LEAST_AMPLITUDE * LEAST_AMPLITUDE));
    take_cell (w, g, ratio_db, radio_greater);
  }
}

static void
take_order (Work *w, guint order)
{
  w->order_weight = 0;
  w->most_shift_db = 0;
  w->most = 0;
  for (guint k = 0; k < w->n; k++)
    if (w->readings[k].product_shift_db[order] > w->most_shift_db) {
      w->most = k;
      w->most_shift_db = w->readings[k].product_shift_db[order];
    }
  int further = (int) (fmin (w->most_shift_db, SP_STEP_RANGE_DB)
                       / RATIO_STEP_DB); /* most that the analyzer's product may be over the radio's part there */
  for (int i = 0; i < RATIOS; i++)
    take_ratio (w, order, (i + 0.5) * RATIO_STEP_DB, TRUE);
  for (int i = 0; i < RATIOS + further; i++)
    take_ratio (w, order, (i + 0.5) * RATIO_STEP_DB, FALSE);
  if (!w->ends && w->order_weight > w->best_order_weight) {
    w->best_order_weight = w->order_weight;
    w->out->order = order;
  }
}

/* A lower end in the lowest quarter of what is searched (common practice, no source) means that the part may be absent. */
static SpInterval
part_interval (const Spread *s, double sigma, double other_middle)
{
  SpInterval i = spread_interval (s, sigma);
  if (i.low < other_middle - 0.75 * SP_STEP_RANGE_DB)
    i.low = -INFINITY;
  return i;
}

static void
summarise (Work *w)
{
  SpStepFit *out = w->out;
  double total = w->radio->total;
  double radio = spread_quantile (w->radio, 0.5, w->sigma), analyzer = spread_quantile (w->analyzer, 0.5, w->sigma);
  out->radio = part_interval (w->radio, w->sigma, fmax (radio, analyzer));
  out->analyzer = part_interval (w->analyzer, w->sigma, fmax (radio, analyzer));
  out->p_radio = w->p_radio / total;
  out->p_analyzer = w->p_analyzer / total;
  for (guint k = 0; k < w->n; k++)
    out->fit[k] = spread_interval (&w->fit[k], w->sigma);
}

/* Fits the radio's part alone: used if q cannot reach the grid. FALSE: the readings differ too much. */
static gboolean
take_alone (Work *w)
{
  const double none[SP_STEP_MOST_READINGS] = { 0 };
  double level, chi, weight = likelihood (w, none, &level, &chi);
  if (!(weight > 0))
    return FALSE;
  w->out->chi_square = chi;
  spread_add (w->radio, level, weight);
  for (guint k = 0; k < w->n; k++)
    spread_add (&w->fit[k], level, weight);
  w->out->radio = spread_interval (w->radio, w->sigma);
  w->out->analyzer = (SpInterval){ -INFINITY, -INFINITY, w->q_most_dbm };
  w->out->p_radio = 1;
  for (guint k = 0; k < w->n; k++)
    w->out->fit[k] = spread_interval (&w->fit[k], w->sigma);
  return TRUE;
}

gboolean
sp_step_ends (guint n, const SpStepReading *readings, guint n_orders, double q_most_dbm, double chi_square, SpStepEnds *out)
{
  g_return_val_if_fail (n >= 2 && n <= SP_STEP_MOST_READINGS && n_orders >= 1 && n_orders <= SP_STEP_MOST_ORDERS && readings[0].seen,
                        FALSE);
  *out = (SpStepEnds){ INFINITY, -INFINITY, FALSE };
  Work w = { .n = n, .readings = readings, .q_most_dbm = q_most_dbm, .ends = out, .chi_most = chi_square + LIKELY_CHI };
  prepare (&w);
  for (guint order = 0; order < n_orders; order++)
    take_order (&w, order);
  if (out->low_dbm < readings[0].level_dbm - 0.75 * SP_STEP_RANGE_DB) /* as in part_interval() */
    out->low_dbm = -INFINITY;
  return isfinite (out->high_dbm);
}

gboolean
sp_step_fit (guint n, const SpStepReading *readings, guint n_orders, double q_most_dbm, SpStepFit *out)
{
  g_return_val_if_fail (n >= 2 && n <= SP_STEP_MOST_READINGS && n_orders >= 1 && n_orders <= SP_STEP_MOST_ORDERS && readings[0].seen,
                        FALSE);
  g_autofree Spread *spreads = g_new0 (Spread, n + 2);
  *out = (SpStepFit){ .chi_square = INFINITY };
  Work w = { .n = n, .readings = readings, .q_most_dbm = q_most_dbm, .out = out };
  prepare (&w);
  prepare_spreads (&w, spreads);
  for (guint order = 0; order < n_orders; order++)
    take_order (&w, order);
  if (isinf (out->chi_square) && isfinite (q_most_dbm))
    return take_alone (&w);
  if (!(w.radio->total > 0)) {
    w.chi_offset = out->chi_square;
    for (guint order = 0; order < n_orders && isfinite (w.chi_offset); order++)
      take_order (&w, order);
  }
  if (!(w.radio->total > 0))
    return FALSE;
  summarise (&w);
  return TRUE;
}
