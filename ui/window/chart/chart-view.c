/* chart-view.c - which frequencies are on show, and how that moves */
#include "ui/window/chart/chart-private.h"

#include <math.h>

#define LEAST_POINTS 10   /* nearer than so many points there is nothing more to see */
#define LEAST_LEVELS_DB 4 /* nearer than so there is nothing more to see: U is about one */
#define SETTLE_MS 300
#define WHOLE 0.9999 /* as much of the whole is the whole */

/* Points of the sweep that is closest spaced, as a span. */
static double
least_span (SpChart *self)
{
  const SpFindings *findings = sp_session_findings (self->session);
  const SpConditionFindings *c = &findings->conditions[sp_session_condition (self->session)];
  double least = INFINITY;
  for (guint i = 0; i < c->n_corrected; i++) {
    const SpCorrected *sweep = &c->corrected[i];
    if (sweep->n > 1)
      least = MIN (least, (sweep->frequency_hz[sweep->n - 1] - sweep->frequency_hz[0]) / (double) (sweep->n - 1) * LEAST_POINTS);
  }
  return least > 0 && isfinite (least) ? least : (self->fit.to - self->fit.from) / 1000;
}

static void
set_view (SpChart *self, double from_hz, double to_hz)
{
  if ((from_hz == self->from_hz && to_hz == self->to_hz) || (isnan (from_hz) && isnan (self->from_hz)))
    return;
  self->from_hz = from_hz;
  self->to_hz = to_hz;
  sp_chart_drop_layers (self);
}

void
sp_chart_show (SpChart *self, double from_hz, double to_hz)
{
  if (!sp_chart_axis (self))
    return;
  const SpAxis *whole = &self->fit;
  if (!isfinite (from_hz) || !isfinite (to_hz) || !(to_hz - from_hz >= 0.999 * least_span (self)) || !whole->scale->has (from_hz))
    return;
  double from = whole->scale->to_unit (from_hz, whole->from, whole->to), to = whole->scale->to_unit (to_hz, whole->from, whole->to);
  if (to - from >= WHOLE) {
    set_view (self, NAN, NAN);
    return;
  }
  double shift = from < 0 ? -from : to > 1 ? 1 - to : 0;
  if (shift != 0) { /* otherwise to the last bit what was asked for */
    from_hz = MAX (whole->from, whole->scale->from_unit (from + shift, whole->from, whole->to));
    to_hz = MIN (whole->to, whole->scale->from_unit (to + shift, whole->from, whole->to));
  }
  if (from_hz < to_hz)
    set_view (self, from_hz, to_hz);
}

/* Parts of an axis' length as a view. */
static void
show_part (SpChart *self, const SpAxis *axis, double from, double to)
{
  sp_chart_show (self, axis->scale->from_unit (from, axis->from, axis->to), axis->scale->from_unit (to, axis->from, axis->to));
}

static double
unit_at (const SpAxis *axis, double x)
{
  return (x - axis->start) / (axis->end - axis->start);
}

void
sp_chart_zoom (SpChart *self, double x, double factor)
{
  const SpAxis *axis = sp_chart_axis (self);
  if (!axis || !(factor > 0) || !isfinite (factor))
    return;
  double unit = CLAMP (unit_at (axis, x), 0, 1), nearest = least_span (self) / (axis->to - axis->from);
  factor = factor < 1 ? MIN (1, MAX (factor, nearest)) : factor;
  SpAxis start = *axis;
  show_part (self, &start, unit * (1 - factor), unit + (1 - unit) * factor);
}

void
sp_chart_pan (SpChart *self, const SpAxis *start, double dx)
{
  double shift = -dx / (start->end - start->start);
  SpAxis axis = *start;
  show_part (self, &axis, shift, 1 + shift);
}

/* ---- levels ---- */

const SpAxis *
sp_chart_levels (SpChart *self)
{
  return sp_chart_axis (self) ? sp_plot_level_axis (self->plot) : NULL;
}

/* Kept within the whole, whose span is the greatest. */
static void
show_levels (SpChart *self, double low_dbm, double high_dbm)
{
  double span = high_dbm - low_dbm, whole = self->fit_top_dbm - self->fit_bottom_dbm;
  if (!(span >= LEAST_LEVELS_DB))
    return;
  double low = CLAMP (low_dbm, self->fit_bottom_dbm, MAX (self->fit_bottom_dbm, self->fit_top_dbm - span));
  gboolean all = span >= WHOLE * whole;
  self->bottom_dbm = all ? NAN : low;
  self->top_dbm = all ? NAN : low + span;
  sp_chart_drop_layers (self);
}

void
sp_chart_zoom_levels (SpChart *self, double y, double factor)
{
  const SpAxis *axis = sp_chart_levels (self);
  if (!axis || !(factor > 0) || !isfinite (factor))
    return;
  double unit = CLAMP (unit_at (axis, y), 0, 1), span = axis->to - axis->from, at = axis->from + unit * span;
  double wanted = MAX (span * factor, MIN (span, LEAST_LEVELS_DB));
  show_levels (self, at - unit * wanted, at + (1 - unit) * wanted);
}

void
sp_chart_pan_levels (SpChart *self, const SpAxis *start, double dy)
{
  double shift = -dy / (start->end - start->start) * (start->to - start->from);
  if (sp_chart_axis (self) && !isnan (self->bottom_dbm))
    show_levels (self, start->from + shift, start->to + shift);
}

static void
box_levels (SpChart *self, double y1, double y2)
{
  SpAxis axis = *sp_chart_levels (self);
  double a = sp_axis_value (&axis, y1), b = sp_axis_value (&axis, y2), middle = (a + b) / 2, half = MAX (fabs (b - a), LEAST_LEVELS_DB) / 2;
  show_levels (self, middle - half, middle + half);
}

/* ---- both ---- */

void
sp_chart_box (SpChart *self, double x1, double x2, double y1, double y2)
{
  const SpAxis *shown = sp_chart_axis (self);
  if (!shown)
    return;
  SpAxis axis = *shown;
  double from = CLAMP (unit_at (&axis, MIN (x1, x2)), 0, 1), to = CLAMP (unit_at (&axis, MAX (x1, x2)), 0, 1);
  double from_hz = axis.scale->from_unit (from, axis.from, axis.to), to_hz = axis.scale->from_unit (to, axis.from, axis.to);
  double lack = least_span (self) - (to_hz - from_hz);
  if (lack > 0) { /* as near as it goes, about its middle */
    from_hz -= lack / 2;
    to_hz += lack / 2;
  }
  if (!isnan (y1))
    box_levels (self, y1, y2);
  sp_chart_show (self, from_hz, to_hz);
}

void
sp_chart_fit (SpChart *self)
{
  self->bottom_dbm = self->top_dbm = NAN;
  sp_chart_drop_layers (self);
  set_view (self, NAN, NAN);
  sp_chart_settle (self);
}

static void
reveal_level (SpChart *self, double level_dbm)
{
  double half = (self->top_dbm - self->bottom_dbm) / 2;
  if (!isfinite (level_dbm) || isnan (half) || (level_dbm >= self->bottom_dbm && level_dbm <= self->top_dbm))
    return;
  show_levels (self, level_dbm - half, level_dbm + half);
  sp_chart_settle (self);
}

void
sp_chart_reveal (SpChart *self, double frequency_hz, double level_dbm)
{
  reveal_level (self, level_dbm);
  const SpAxis *axis = sp_chart_axis (self); /* after it: the plot is a new one */
  if (!axis || !axis->scale->has (frequency_hz) || (frequency_hz >= axis->from && frequency_hz <= axis->to))
    return;
  SpAxis start = *axis;
  double shift = start.scale->to_unit (frequency_hz, start.from, start.to) - 0.5;
  show_part (self, &start, shift, 1 + shift);
  sp_chart_settle (self);
}

void
sp_chart_settle (SpChart *self)
{
  g_clear_handle_id (&self->settle_source, g_source_remove);
  sp_session_set_view (self->session, self->from_hz, self->to_hz, self->bottom_dbm, self->top_dbm);
}

static gboolean
settle (void *data)
{
  SpChart *self = data;
  self->settle_source = 0;
  sp_chart_settle (self);
  return G_SOURCE_REMOVE;
}

void
sp_chart_settle_soon (SpChart *self)
{
  g_clear_handle_id (&self->settle_source, g_source_remove);
  self->settle_source = g_timeout_add (SETTLE_MS, settle, self);
}
