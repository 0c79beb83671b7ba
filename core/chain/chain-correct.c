/* chain-correct.c - adds the chain's loss to a whole trace without a logarithm or a cascade at every point */
#include "core/chain/chain-private.h"

#include <math.h>

/* Curves walk through their own segments (sp_curve_add_to). An exact cascade is smooth between the grid points of its Touchstone
 * files: a parabola through three of its values is checked at two more, and the interval is halved if it does not fit. */

#define PARABOLA_TOLERANCE_DB 1e-7 /* bounds what a value is wrong by */
#define PARABOLA_LEAST_POINTS 8    /* bounds time: fewer points are cascaded each */

/* Loss times factor. The interpolations are linear in their values: Steffen's slopes scale with them, and least squares too with
 * unchanged u. */
static SpCurve *
scaled_curve (const SpCurve *curve, double factor)
{
  if (factor == 1)
    return sp_curve_ref (curve);
  g_autofree double *value = g_new (double, curve->n);
  for (guint i = 0; i < curve->n; i++)
    value[i] = curve->value[i] * factor;
  return sp_curve_new (curve->kind, curve->n, curve->frequency_hz, value, curve->u, NULL, NULL);
}

/* The first grid frequency above f of all exactly cascaded stages; infinity. */
static double
next_knot (const SpChain *chain, double f)
{
  double knot = INFINITY;
  for (guint i = 0; i < chain->n; i++) {
    if (!sp_chain_is_joined (chain, i) && !(i > 0 && sp_chain_is_joined (chain, i - 1)))
      continue;
    const SpTwoPort *port = chain->stages[i]->two_port;
    guint low = 0, high = port->n;
    while (low < high) {
      guint middle = low + (high - low) / 2;
      if (port->frequency_hz[middle] > f)
        high = middle;
      else
        low = middle + 1;
    }
    if (low < port->n)
      knot = fmin (knot, port->frequency_hz[low]);
  }
  return knot;
}

static guint64
first_at_or_above (guint64 low, guint64 n, const double *frequency_hz, double f)
{
  while (low < n) {
    guint64 middle = low + (n - low) / 2;
    if (frequency_hz[middle] >= f)
      n = middle;
    else
      low = middle + 1;
  }
  return low;
}

/* Adds the interaction at n points with no grid point between them. */
static void
add_between_knots (const SpChain *chain, guint64 n, const double *f, double *level_db)
{
  if (n < PARABOLA_LEAST_POINTS) {
    for (guint64 i = 0; i < n; i++)
      level_db[i] += sp_chain_interaction_db (chain, f[i]);
    return;
  }
  double width = f[n - 1] - f[0], at[5];
  for (int k = 0; k < 5; k++)
    at[k] = sp_chain_interaction_db (chain, f[0] + width * k / 4);
  double c2 = 2 * (at[0] - 2 * at[2] + at[4]), c1 = at[4] - at[0] - c2;
  double miss = fmax (fabs (at[0] + c1 / 4 + c2 / 16 - at[1]), fabs (at[0] + 3 * c1 / 4 + 9 * c2 / 16 - at[3]));
  if (!(miss <= PARABOLA_TOLERANCE_DB)) {
    add_between_knots (chain, n / 2, f, level_db);
    add_between_knots (chain, n - n / 2, f + n / 2, level_db + n / 2);
    return;
  }
  for (guint64 i = 0; i < n; i++) {
    double t = (f[i] - f[0]) / width;
    level_db[i] += at[0] + t * (c1 + t * c2);
  }
}

static void
add_interaction (const SpChain *chain, guint64 n, const double *frequency_hz, double *level_db)
{
  gboolean any = FALSE;
  for (guint i = 0; i < chain->n; i++)
    any = any || sp_chain_is_joined (chain, i);
  for (guint64 i = 0; any && i < n;) {
    guint64 end = first_at_or_above (i, n, frequency_hz, next_knot (chain, frequency_hz[i]));
    add_between_knots (chain, end - i, frequency_hz + i, level_db + i);
    i = end;
  }
}

void
sp_chain_correct (const SpChain *chain, double temperature_c, guint64 n, const double *frequency_hz, double *level_db)
{
  double constant_db = 0;
  for (guint i = 0; i < chain->n; i++) {
    const SpStage *stage = chain->stages[i];
    double dt_k, factor = sp_stage_temperature_factor (chain, stage, temperature_c, &dt_k);
    if (!stage->loss) {
      constant_db += isnan (stage->label_db) ? 0 : stage->label_db * factor;
    } else {
      g_autoptr (SpCurve) curve = scaled_curve (stage->loss, factor);
      sp_curve_add_to (curve, n, frequency_hz, level_db);
    }
  }
  for (guint64 i = 0; constant_db != 0 && i < n; i++)
    level_db[i] += constant_db;
  add_interaction (chain, n, frequency_hz, level_db);
}
