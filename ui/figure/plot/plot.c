/* plot.c - a chart's data and scales, ready to be drawn */
#include "ui/figure/plot/plot-private.h"

#include "ui/figure/pen/names.h"

#include <math.h>

#define LEFT 46   /* level numbers */
#define TOP 44    /* ladder heads */
#define BOTTOM 24 /* frequency numbers */
#define ALONE 6   /* right of the area where no name stands there */
#define SAYING 14 /* by harmonic: what the axis is */

static void
take_limit (const SpPlot *plot, const double *limit_dbm, double *low, double *high)
{
  for (guint i = 0; limit_dbm && i < plot->n; i++)
    if (!isnan (limit_dbm[i])) {
      *low = MIN (*low, limit_dbm[i]);
      *high = MAX (*high, limit_dbm[i]);
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
  for (guint k = 0; k < plot->grounds->len; k++) {
    const SpPlotGround *ground = &g_array_index (plot->grounds, SpPlotGround, k);
    take_limit (plot, ground->limit_dbm, &low, &high);
    take_limit (plot, ground->second_dbm, &low, &high);
  }
  if (!isfinite (low) || !isfinite (high))
    low = -80, high = 20;
  double space = (high - low) * 0.12 + 4;
  double numbers = plot->by_harmonic && !plot->view.bare ? (sp_plot_number_heights (plot) + 1) * SP_PLOT_NUMBER_LINE / plot->area.height
                                                         : 0;
  *bottom = isnan (plot->view.bottom_dbm) ? low - space * 1.3 : plot->view.bottom_dbm;
  *top = isnan (plot->view.top_dbm) ? high + MAX (space * 0.45, numbers * (high - low + space) / MAX (1 - numbers, 0.3))
                                    : plot->view.top_dbm;
  if (!(*bottom < *top))
    *top = *bottom + 10;
}

double
sp_plot_scale_width (const SpPlot *plot)
{
  return plot->view.one_scale ? 0 : SP_PLOT_DBC_WIDTH;
}

/* Room at the right for the names at the line ends and the dBc numbers. */
static double
right_margin (const SpPlot *plot, SpPen *pen)
{
  double widest = 0;
  if (!isnan (plot->view.right))
    return plot->view.right;
  for (guint i = 0; i < plot->findings->n && !plot->view.alone; i++) {
    if (!sp_view_shows (&plot->view, plot->findings, i))
      continue;
    double width = sp_plot_name_width (plot, pen, i);
    widest = MAX (widest, width);
  }
  const SpCorrected *other;
  for (guint k = 0; (other = sp_view_other (&plot->view, plot->findings, k)); k++) {
    g_autofree char *name = sp_name_other (plot->findings, plot->view.condition, other);
    widest = MAX (widest, sp_pen_text_width (pen, SP_TEXT_SMALL, name));
  }
  return (widest > 0 ? MIN (widest, plot->outer.width * 0.14) + 22 : ALONE) + sp_plot_scale_width (plot);
}

static void
lay_out (SpPlot *plot, SpPen *pen)
{
  const SpRect *outer = &plot->outer;
  if (plot->view.bare) {
    plot->area = *outer;
    sp_plot_lay_axis (plot);
    plot->n = (guint) MAX (2, plot->area.width / pen->column);
    return;
  }
  double right = right_margin (plot, pen), bottom = plot->by_harmonic && !plot->view.one_scale ? BOTTOM + SAYING : BOTTOM;
  plot->area = (SpRect){ outer->x + LEFT, outer->y + TOP, MAX (20, outer->width - LEFT - right), MAX (20, outer->height - TOP - bottom) };
  plot->area.x = sp_pen_snap (pen, plot->area.x, 1);
  sp_plot_lay_axis (plot);
  plot->n = (guint) MAX (2, plot->area.width / pen->column);
}

/* By frequency another condition's lies under other carriers: none but the chosen one's. */
static void
lay_grounds (SpPlot *plot)
{
  SpPlotGround ground = { .condition = plot->view.condition, .x = plot->x };
  g_array_append_val (plot->grounds, ground);
  for (guint i = 0; plot->by_harmonic && i < plot->findings->n; i++) {
    ground = (SpPlotGround){ .condition = i, .x = sp_plot_axis_of (plot, i) };
    if (i != plot->view.condition && sp_plot_draws (plot, i))
      g_array_append_val (plot->grounds, ground);
  }
  for (guint k = 0; k < plot->grounds->len; k++) {
    SpPlotGround *laid = &g_array_index (plot->grounds, SpPlotGround, k);
    sp_plot_reduce_floor (plot, laid);
    sp_plot_reduce_limit (plot, laid);
    sp_plot_find_blind (plot, laid);
  }
}

static void
clear_ground (void *data)
{
  SpPlotGround *ground = data;
  g_free (ground->floor_dbm);
  g_free (ground->cause);
  g_free (ground->limit_dbm);
  g_free (ground->second_dbm);
  g_clear_pointer (&ground->blind, g_array_unref);
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
  plot->view.hidden = plot->hidden = g_memdup2 (view->hidden, view->hidden ? findings->n * sizeof *view->hidden : 0);
  plot->view.row = plot->row = g_memdup2 (view->row, view->row ? findings->n * sizeof *view->row : 0);
  plot->chosen = view->condition < findings->n ? &findings->conditions[view->condition] : NULL;
  plot->chosen_shown = plot->chosen && sp_view_shows (view, findings, view->condition);
  plot->by_harmonic = view->by_harmonic && plot->chosen && plot->chosen->fundamental_hz > 0;
  plot->outer = *rect;
  plot->traces = g_array_new (FALSE, TRUE, sizeof (SpReduced));
  plot->taken = g_array_new (FALSE, FALSE, sizeof (SpRect));
  plot->grounds = g_array_new (FALSE, TRUE, sizeof (SpPlotGround));
  g_array_set_clear_func (plot->grounds, clear_ground);
  lay_out (plot, pen);
  sp_plot_reduce_traces (plot, pen);
  lay_grounds (plot);
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
  g_array_unref (plot->grounds);
  g_free (plot->hidden);
  g_free (plot->row);
  g_free (plot->place);
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

const SpPlotGround *
sp_plot_ground (const SpPlot *plot)
{
  return &g_array_index (plot->grounds, SpPlotGround, 0);
}

gboolean
sp_plot_draws (const SpPlot *plot, guint condition)
{
  return plot->by_harmonic ? plot->place[condition] != G_MAXUINT : sp_view_shows (&plot->view, plot->findings, condition);
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
sp_plot_has_place (const SpPlot *plot, SpTextStyle style, double width, const SpSpot *spot, SpRect *rect)
{
  double height = sp_pen_line_height (style);
  *rect = (SpRect){ spot->x - 2, spot->baseline - height + 3, width + 4, height };
  return rect->x >= plot->area.x && rect->x + rect->width <= plot->area.x + plot->area.width && rect->y >= plot->area.y
         && rect->y + rect->height <= plot->area.y + plot->area.height && sp_plot_is_free (plot, rect);
}

int
sp_plot_write (SpPlot *plot, SpPen *pen, SpTextStyle style, const SpColour *colour, const char *text, const SpSpot *places, guint n)
{
  double width = sp_pen_text_width (pen, style, text);
  for (guint i = 0; i < n; i++) {
    SpRect rect;
    if (!sp_plot_has_place (plot, style, width, &places[i], &rect))
      continue;
    sp_plot_take (plot, &rect);
    sp_pen_text_halo (pen, places[i].x, places[i].baseline, style, colour, 0, text, &pen->palette->sheet);
    return (int) i;
  }
  return -1;
}

gboolean
sp_plot_emission_place (const SpPlot *plot, guint condition, const SpEmission *emission, double *x, double *y)
{
  SpAxis axis = sp_plot_axis_of (plot, condition);
  if (!emission->detected || isnan (emission->level_dbm) || emission->frequency_hz < axis.from || emission->frequency_hz > axis.to
      || emission->level_dbm < plot->y.from || emission->level_dbm > plot->y.to)
    return FALSE;
  *x = sp_axis_at (&axis, emission->frequency_hz);
  *y = sp_plot_y (plot, emission->level_dbm);
  return TRUE;
}

void
sp_plot_draw_ground (SpPlot *plot, SpPen *pen)
{
  cairo_save (pen->cr);
  sp_plot_draw_grid (plot, pen);
  sp_plot_draw_floor (plot, pen);
  sp_plot_draw_blind (plot, pen);
  sp_plot_draw_limit (plot, pen);
  sp_plot_draw_axes (plot, pen);
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
