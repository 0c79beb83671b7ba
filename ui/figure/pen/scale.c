/* scale.c - scales between values and places, and their ticks */
#include "ui/figure/pen/scale.h"

#include <math.h>

static double
linear_to_unit (double value, double from, double to)
{
  return (value - from) / (to - from);
}

static double
linear_from_unit (double unit, double from, double to)
{
  return from + unit * (to - from);
}

static gboolean
linear_has (double value)
{
  return isfinite (value);
}

double
sp_nice_step (double span, guint most)
{
  if (!(span > 0) || !isfinite (span))
    return 1;
  double raw = span / MAX (most, 1), decade = pow (10, floor (log10 (raw)));
  static const double steps[] = { 1, 2, 5, 10 };
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (steps[i] * decade >= raw * (1 - 1e-9))
      return steps[i] * decade;
  return 10 * decade;
}

static guint
linear_ticks (double from, double to, guint most, SpTick *out)
{
  double step = sp_nice_step (to - from, most), slack = step * 1e-9;
  guint n = 0;
  for (double k = ceil ((from - slack) / step); k * step <= to + slack && n < SP_TICKS_MAX; k++)
    out[n++] = (SpTick){ k == 0 ? 0 : k * step, TRUE };
  return n;
}

static double
log_to_unit (double value, double from, double to)
{
  return log (value / from) / log (to / from);
}

static double
log_from_unit (double unit, double from, double to)
{
  return from * exp (unit * log (to / from));
}

static gboolean
log_has (double value)
{
  return isfinite (value) && value > 0;
}

/* Within a decade the numbers 1 2 5 are written where there is room, else 1 and 3, else whole decades, every other one and so on. */
static gboolean
log_labelled (int mantissa, int decade, double decades, guint most)
{
  if (decades * 3 <= most)
    return mantissa == 1 || mantissa == 2 || mantissa == 5;
  if (decades * 2 <= most)
    return mantissa == 1 || mantissa == 3;
  int every = (int) ceil (decades / MAX (most, 1));
  return mantissa == 1 && decade % MAX (every, 1) == 0;
}

static guint
log_ticks (double from, double to, guint most, SpTick *out)
{
  double decades = log10 (to / from);
  if (decades < 0.8) /* less than a decade: even steps read better */
    return linear_ticks (from, to, most, out);
  guint n = 0;
  for (int decade = (int) floor (log10 (from)); decade <= (int) ceil (log10 (to)); decade++)
    for (int mantissa = 1; mantissa < 10 && n < SP_TICKS_MAX; mantissa++) {
      double value = mantissa * pow (10, decade);
      if (value >= from * (1 - 1e-9) && value <= to * (1 + 1e-9))
        out[n++] = (SpTick){ value, log_labelled (mantissa, decade, decades, most) };
    }
  return n;
}

const SpScale sp_scale_linear = { linear_to_unit, linear_from_unit, linear_has, linear_ticks };
const SpScale sp_scale_logarithmic = { log_to_unit, log_from_unit, log_has, log_ticks };

double
sp_axis_at (const SpAxis *axis, double value)
{
  return axis->start + axis->scale->to_unit (value, axis->from, axis->to) * (axis->end - axis->start);
}

double
sp_axis_value (const SpAxis *axis, double place)
{
  return axis->scale->from_unit ((place - axis->start) / (axis->end - axis->start), axis->from, axis->to);
}
