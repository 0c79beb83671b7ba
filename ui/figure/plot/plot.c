/* plot.c - a chart's data and scales, ready to be drawn */
#include "ui/figure/plot/plot-private.h"

#include "ui/figure/pen/names.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LEFT 46   /* level numbers */
#define TOP 44    /* ladder heads */
#define BOTTOM 24 /* frequency numbers */

static void
frequency_range (const SpPlot *plot, double *from, double *to)
{
  *from = INFINITY, *to = -INFINITY;
  for (guint i = 0; i < plot->findings->n; i++) {
    const SpConditionFindings *c = &plot->findings->conditions[i];
    if (c != plot->chosen)
      continue;
    for (guint k = 0; k < c->n_corrected; k++)
      if (c->corrected[k].n) {
        *from = MIN (*from, c->corrected[k].frequency_hz[0]);
        *to = MAX (*to, c->corrected[k].frequency_hz[c->corrected[k].n - 1]);
      }
  }
  if (!isnan (plot->view.from_hz))
    *from = plot->view.from_hz;
  if (!isnan (plot->view.to_hz))
    *to = plot->view.to_hz;
  if (!isfinite (*from) || !isfinite (*to) || !(*from < *to)) { /* nothing swept: still a sheet with axes */
    *from = isfinite (*from) ? *from : 0;
    *to = MAX (*from * 2, 1e9);
  }
  if (plot->view.logarithmic) {
    /* zero has no place on this scale: three decades are as much as a bench's sweep says anything about */
    double least = plot->chosen && plot->chosen->fundamental_hz > 0 ? plot->chosen->fundamental_hz / 4 : *to / 1000;
    *from = MAX (*from, MIN (least, *to / 10));
  }
}

static void
level_range (const SpPlot *plot, double *bottom, double *top)
{
  double low = INFINITY, high = -INFINITY;
  for (guint i = 0; i < plot->traces->len; i++) {
    const SpReduced *trace = &g_array_index (plot->traces, SpReduced, i);
    for (guint k = 0; k < trace->n; k++)
      if (trace->columns[k].count) {
        low = MIN (low, trace->columns[k].middle);
        high = MAX (high, trace->columns[k].greatest);
      }
  }
  for (guint i = 0; i < plot->n; i++)
    if (!isnan (plot->limit_dbm[i])) {
      low = MIN (low, plot->limit_dbm[i]);
      high = MAX (high, plot->limit_dbm[i]);
    }
  if (!isfinite (low) || !isfinite (high))
    low = -80, high = 20;
  double space = (high - low) * 0.12 + 4;
  *bottom = isnan (plot->view.bottom_dbm) ? low - space * 1.3 : plot->view.bottom_dbm;
  *top = isnan (plot->view.top_dbm) ? high + space * 0.45 : plot->view.top_dbm;
  if (!(*bottom < *top))
    *top = *bottom + 10;
}

/* Room at the right for the names at the line ends and the dBc numbers. */
static double
right_margin (const SpPlot *plot, SpPen *pen)
{
  double widest = 0;
  for (guint i = 0; i < plot->findings->n; i++) {
    if (!sp_view_shows (&plot->view, plot->findings, i))
      continue;
    double width = sp_pen_text_width (pen, SP_TEXT_BOLD, sp_view_radio_name (plot->findings, i));
    if (sp_name_is_shared (&plot->view, plot->findings, i))
      width += sp_pen_text_width (pen, SP_TEXT_SMALL, sp_view_condition_name (plot->findings, i)) + 5;
    widest = MAX (widest, width);
  }
  const SpCorrected *other;
  for (guint k = 0; (other = sp_view_other (&plot->view, plot->findings, k)); k++) {
    g_autofree char *name = sp_name_other (plot->findings, plot->view.condition, other);
    widest = MAX (widest, sp_pen_text_width (pen, SP_TEXT_SMALL, name));
  }
  return MIN (widest, plot->outer.width * 0.14) + 22 + SP_PLOT_DBC_WIDTH;
}

static void
lay_out (SpPlot *plot, SpPen *pen)
{
  const SpRect *outer = &plot->outer;
  double right = right_margin (plot, pen);
  plot->area = (SpRect){ outer->x + LEFT, outer->y + TOP, MAX (20, outer->width - LEFT - right), MAX (20, outer->height - TOP - BOTTOM) };
  plot->area.x = sp_pen_snap (pen, plot->area.x, 1);
  double from, to;
  frequency_range (plot, &from, &to);
  plot->x = (SpAxis){ plot->view.logarithmic ? &sp_scale_logarithmic : &sp_scale_linear, from, to, plot->area.x,
                      plot->area.x + plot->area.width };
}

SpPlot *
sp_plot_new (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect)
{
  return sp_plot_new_again (pen, findings, view, rect, NULL);
}

SpPlot *
sp_plot_new_again (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect, SpPyramids *pyramids)
{
  SpPlot *plot = g_new0 (SpPlot, 1);
  plot->findings = sp_findings_ref (findings);
  plot->pyramids = pyramids;
  plot->view = *view;
  plot->chosen = view->condition < findings->n ? &findings->conditions[view->condition] : NULL;
  plot->outer = *rect;
  plot->traces = g_array_new (FALSE, TRUE, sizeof (SpReduced));
  plot->taken = g_array_new (FALSE, FALSE, sizeof (SpRect));
  plot->blind = g_array_new (FALSE, FALSE, sizeof (SpBlindRun));
  lay_out (plot, pen);
  plot->n = (guint) MAX (2, plot->area.width / pen->column);
  sp_plot_reduce_traces (plot, pen);
  sp_plot_reduce_floor (plot);
  sp_plot_reduce_limit (plot);
  sp_plot_find_blind (plot);
  double bottom, top;
  level_range (plot, &bottom, &top);
  plot->y = (SpAxis){ &sp_scale_linear, bottom, top, plot->area.y + plot->area.height, plot->area.y };
  return plot;
}

void
sp_plot_free (SpPlot *plot)
{
  if (!plot)
    return;
  for (guint i = 0; i < plot->traces->len; i++)
    g_free (g_array_index (plot->traces, SpReduced, i).columns);
  g_array_unref (plot->traces);
  g_array_unref (plot->taken);
  g_array_unref (plot->blind);
  g_free (plot->floor_dbm);
  g_free (plot->cause);
  g_free (plot->limit_dbm);
  sp_findings_unref (plot->findings);
  g_free (plot);
}

const SpRect *
sp_plot_area (const SpPlot *plot)
{
  return &plot->area;
}

const SpAxis *
sp_plot_frequency_axis (const SpPlot *plot)
{
  return &plot->x;
}

const SpAxis *
sp_plot_level_axis (const SpPlot *plot)
{
  return &plot->y;
}

double
sp_plot_column_x (const SpPlot *plot, guint column)
{
  return plot->area.x + (column + 0.5) * plot->area.width / plot->n;
}

double
sp_plot_y (const SpPlot *plot, double level_dbm)
{
  return CLAMP (sp_axis_at (&plot->y, level_dbm), plot->area.y - 1, plot->area.y + plot->area.height + 1);
}

gboolean
sp_plot_is_free (const SpPlot *plot, const SpRect *rect)
{
  for (guint i = 0; i < plot->taken->len; i++) {
    const SpRect *other = &g_array_index (plot->taken, SpRect, i);
    if (rect->x < other->x + other->width && other->x < rect->x + rect->width && rect->y < other->y + other->height
        && other->y < rect->y + rect->height)
      return FALSE;
  }
  return TRUE;
}

void
sp_plot_take (SpPlot *plot, const SpRect *rect)
{
  g_array_append_val (plot->taken, *rect);
}

gboolean
sp_plot_write (SpPlot *plot, SpPen *pen, SpTextStyle style, const SpColour *colour, const char *text, const SpSpot *places, guint n)
{
  double width = sp_pen_text_width (pen, style, text), height = sp_pen_line_height (style);
  for (guint i = 0; i < n; i++) {
    SpRect rect = { places[i].x - 2, places[i].baseline - height + 3, width + 4, height };
    if (rect.x < plot->area.x || rect.x + rect.width > plot->area.x + plot->area.width || rect.y < plot->area.y
        || rect.y + rect.height > plot->area.y + plot->area.height || !sp_plot_is_free (plot, &rect))
      continue;
    sp_plot_take (plot, &rect);
    sp_pen_text_halo (pen, places[i].x, places[i].baseline, style, colour, 0, text, &pen->palette->sheet);
    return TRUE;
  }
  return FALSE;
}

gboolean
sp_plot_emission_place (const SpPlot *plot, const SpEmission *emission, double *x, double *y)
{
  if (!emission->detected || isnan (emission->level_dbm) || emission->frequency_hz < plot->x.from || emission->frequency_hz > plot->x.to
      || emission->level_dbm < plot->y.from || emission->level_dbm > plot->y.to)
    return FALSE;
  *x = sp_axis_at (&plot->x, emission->frequency_hz);
  *y = sp_plot_y (plot, emission->level_dbm);
  return TRUE;
}

const char *
sp_plot_unit (const SpPlot *plot, double *factor)
{
  double top = plot->x.to;
  *factor = top >= 20e9 ? 1e9 : top >= 2e6 ? 1e6 : 1e3;
  return top >= 20e9 ? "GHz" : top >= 2e6 ? "MHz" : "kHz";
}

/* Of the levels over `origin` dBm, no closer than `least` points. */
static guint
level_ticks (const SpPlot *plot, double origin, double least, SpTick *ticks)
{
  return plot->y.scale->ticks (plot->y.from - origin, plot->y.to - origin, (guint) MAX (2, plot->area.height / least), ticks);
}

/* Light paper only has vertical lines: on dark paper they would make an instrument's screen of it. */
static void
draw_grid (SpPlot *plot, SpPen *pen)
{
  SpTick ticks[SP_TICKS_MAX];
  const SpRect *area = &plot->area;
  sp_pen_colour (pen, &pen->palette->floor_edge, 0.2);
  guint n = plot->x.scale->ticks (plot->x.from, plot->x.to, (guint) (area->width / 80), ticks);
  for (guint i = 0; i < n; i++) {
    double x = sp_axis_at (&plot->x, ticks[i].value);
    if (x > area->x + 1 && !plot->view.dark)
      sp_pen_line (pen, x, area->y, x, area->y + area->height, ticks[i].labelled ? 1 : 0.5);
  }
  double origin = sp_view_level_origin_dbm (&plot->view, plot->findings);
  n = level_ticks (plot, origin, 26, ticks);
  for (guint i = 0; i < n; i++) {
    double y = sp_axis_at (&plot->y, origin + ticks[i].value);
    sp_pen_line (pen, area->x, y, area->x + area->width, y, 1);
  }
}

static void
draw_frequency_axis (SpPlot *plot, SpPen *pen)
{
  SpTick ticks[SP_TICKS_MAX];
  const SpRect *area = &plot->area;
  double foot = area->y + area->height, factor, last = -INFINITY;
  const char *unit = sp_plot_unit (plot, &factor);
  double unit_width = sp_pen_text_width (pen, SP_TEXT_SMALL, unit);
  guint n = plot->x.scale->ticks (plot->x.from, plot->x.to, (guint) (area->width / 80), ticks);
  double step = n > 1 ? (ticks[1].value - ticks[0].value) / factor : 1;
  int decimals = plot->view.logarithmic ? 0 : CLAMP ((int) ceil (-log10 (step) - 1e-9), 0, 6);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_line (pen, area->x, foot, area->x + area->width, foot, 1);
  for (guint i = 0; i < n; i++) {
    double x = sp_axis_at (&plot->x, ticks[i].value), shown = ticks[i].value / factor;
    sp_pen_colour (pen, &pen->palette->ink, 1);
    if (x > area->x + 1)
      sp_pen_line (pen, x, foot, x, foot - (ticks[i].labelled ? 6 : 3), 1);
    if (!ticks[i].labelled)
      continue;
    int more = plot->view.logarithmic && shown < 1 ? (int) ceil (-log10 (shown) - 1e-9) : 0;
    g_autofree char *text = sp_words_number (shown, decimals + more, SP_HAND_SCREEN);
    double width = sp_pen_text_width (pen, SP_TEXT_BODY, text);
    if (x - width / 2 < last + 8 || x + width / 2 > area->x + area->width - unit_width - 6)
      continue;
    sp_pen_text (pen, x, foot + 18, SP_TEXT_BODY, &pen->palette->ink, 0.5, text);
    last = x + width / 2;
  }
  sp_pen_text (pen, area->x + area->width, foot + 18, SP_TEXT_SMALL, &pen->palette->soft, 1, unit);
}

static void
draw_level_axis (SpPlot *plot, SpPen *pen)
{
  SpTick ticks[SP_TICKS_MAX];
  const SpRect *area = &plot->area;
  double origin = sp_view_level_origin_dbm (&plot->view, plot->findings);
  guint n = level_ticks (plot, origin, 40, ticks);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_line (pen, area->x, area->y, area->x, area->y + area->height, 1);
  for (guint i = 0; i < n; i++) {
    double y = sp_axis_at (&plot->y, origin + ticks[i].value);
    sp_pen_colour (pen, &pen->palette->ink, 1);
    sp_pen_line (pen, area->x, y, area->x + 6, y, 1);
    g_autofree char *text = sp_words_signed (ticks[i].value, 0, SP_HAND_SCREEN);
    sp_pen_text (pen, area->x - 8, y + 4.5, SP_TEXT_BODY, &pen->palette->ink, 1, text);
  }
  sp_pen_text (pen, area->x - 8, area->y - 9, SP_TEXT_SMALL, &pen->palette->soft, 1, origin == 0 ? _ ("dBm") : _ ("dBc"));
}

/* At the right, by the other origin: relative to the chosen condition's own carrier, or absolute where the left is relative. */
static void
draw_other_level_axis (SpPlot *plot, SpPen *pen)
{
  if (!plot->chosen || isnan (plot->chosen->power_dbm))
    return;
  SpTick ticks[SP_TICKS_MAX];
  gboolean absolute = sp_view_level_origin_dbm (&plot->view, plot->findings) != 0;
  double origin = absolute ? 0 : plot->chosen->power_dbm, right = plot->outer.x + plot->outer.width;
  guint n = level_ticks (plot, origin, 40, ticks), last = n; /* the uppermost has the unit */
  for (guint i = 0; i < n; i++)
    if (absolute || ticks[i].value <= 0)
      last = i;
  for (guint i = 0; i <= last && i < n; i++) {
    double y = sp_axis_at (&plot->y, origin + ticks[i].value);
    g_autofree char *number = sp_words_signed (ticks[i].value, 0, SP_HAND_SCREEN);
    g_autofree char *text = i == last ? g_strdup_printf ("%s\xe2\x80\xaf%s", number, absolute ? _ ("dBm") : _ ("dBc")) : g_strdup (number);
    sp_pen_text (pen, right, y + 4.5, SP_TEXT_BODY, &pen->palette->soft, 1, text);
  }
}

void
sp_plot_draw_ground (SpPlot *plot, SpPen *pen)
{
  cairo_save (pen->cr);
  draw_grid (plot, pen);
  sp_plot_draw_floor (plot, pen);
  sp_plot_draw_blind (plot, pen);
  sp_plot_draw_limit (plot, pen);
  draw_frequency_axis (plot, pen);
  draw_level_axis (plot, pen);
  draw_other_level_axis (plot, pen);
  cairo_restore (pen->cr);
}

void
sp_plot_draw (SpPlot *plot, SpPen *pen)
{
  sp_plot_draw_ground (plot, pen);
  sp_plot_draw_traces (plot, pen);
  sp_plot_draw_ladder (plot, pen);
  sp_plot_draw_pointer (plot, pen, plot->view.pointer_hz);
}
