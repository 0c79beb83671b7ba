/* floor.c - what 'not seen' is worth at each frequency, as a wash under a contour that names its cause */
#include "ui/figure/plot/plot-private.h"

#include "ui/words/words.h"

#include <math.h>

#define OTHERS 0.3 /* strength of the contours of conditions that are not chosen */
#define NARROW 40  /* points: a narrower run of one cause is named beside it, once */

/* Reduces one sweep's floor to columns: the lowest of the sweeps, the highest within a column. A column between two points interpolates. */
static void
merge_sweep (SpPlot *plot, SpPlotGround *ground, const SpCorrected *sweep, SpColumn *columns)
{
  const double *f = sweep->frequency_hz, *floor_dbm = sweep->floor_dbm;
  const SpPyramid *pyramid = sp_pyramids_of (plot->pyramids, sweep->n, floor_dbm);
  sp_reduce (&ground->x, sweep->n, f, floor_dbm, pyramid, plot->n, columns);
  for (guint i = 0; i < plot->n; i++) {
    double high;
    guint64 at = columns[i].first;
    if (columns[i].count) {
      high = columns[i].greatest;
      at = sp_column_peak (&columns[i], floor_dbm, pyramid);
    } else {
      if (at == 0 || at >= sweep->n)
        continue;
      double here = sp_axis_value (&ground->x, sp_plot_column_x (plot, i)), part = (here - f[at - 1]) / (f[at] - f[at - 1]);
      high = isfinite (floor_dbm[at]) && isfinite (floor_dbm[at - 1]) ? floor_dbm[at - 1] + part * (floor_dbm[at] - floor_dbm[at - 1])
                                                                      : MAX (floor_dbm[at], floor_dbm[at - 1]);
    }
    if (isnan (ground->floor_dbm[i]) || high < ground->floor_dbm[i]) {
      ground->floor_dbm[i] = high;
      ground->cause[i] = sweep->floor_cause[at];
    }
  }
}

void
sp_plot_reduce_floor (SpPlot *plot, SpPlotGround *ground)
{
  const SpConditionFindings *c = sp_plot_draws (plot, ground->condition) ? &plot->findings->conditions[ground->condition] : NULL;
  ground->floor_dbm = g_new (double, plot->n);
  ground->cause = g_new0 (guint8, plot->n);
  for (guint i = 0; i < plot->n; i++)
    ground->floor_dbm[i] = NAN;
  g_autofree SpColumn *columns = g_new (SpColumn, plot->n);
  for (guint k = 0; c && k < c->n_corrected; k++)
    if (c->corrected[k].n && c->corrected[k].floor_dbm)
      merge_sweep (plot, ground, &c->corrected[k], columns);
}

/* The contour from column `from` up to `to` (not included), as a path that begins with `first`. */
static void
contour (const SpPlot *plot, SpPen *pen, const SpPlotGround *ground, guint from, guint to, gboolean move)
{
  for (guint i = from; i < to; i++) {
    double x = sp_plot_column_x (plot, i), y = sp_plot_y (plot, ground->floor_dbm[i]);
    /* level stretches need no points of their own */
    if (i > from && i + 1 < to && fabs (sp_plot_y (plot, ground->floor_dbm[i - 1]) - y) < 0.02
        && fabs (sp_plot_y (plot, ground->floor_dbm[i + 1]) - y) < 0.02)
      continue;
    if (move && i == from)
      cairo_move_to (pen->cr, x, y);
    else
      cairo_line_to (pen->cr, x, y);
  }
}

/* The end of the columns from `from` on that have a floor. */
static guint
swept_end (const SpPlot *plot, const SpPlotGround *ground, guint from)
{
  guint to = from;
  while (to < plot->n && !isnan (ground->floor_dbm[to]))
    to++;
  return to;
}

static void
draw_wash (const SpPlot *plot, SpPen *pen, const SpPlotGround *ground, guint from, guint to)
{
  double foot = plot->area.y + plot->area.height;
  cairo_move_to (pen->cr, sp_plot_column_x (plot, from), foot);
  contour (plot, pen, ground, from, to, FALSE);
  cairo_line_to (pen->cr, sp_plot_column_x (plot, to - 1), foot);
  cairo_close_path (pen->cr);
  sp_pen_colour (pen, &pen->palette->floor_edge, 0.17);
  cairo_fill (pen->cr);
}

/* The wash of the chosen one's only: twelve would be a dark sheet. */
static void
draw_ground (const SpPlot *plot, SpPen *pen, const SpPlotGround *ground, gboolean chosen)
{
  for (guint from = 0, to; from < plot->n; from = to + 1) {
    to = swept_end (plot, ground, from);
    if (to == from)
      continue;
    if (chosen)
      draw_wash (plot, pen, ground, from, to);
    for (guint at = from; at + 1 < to; at += 32) { /* in pieces: one long stroke is slow */
      contour (plot, pen, ground, at, MIN (at + 33, to), TRUE);
      cairo_set_line_width (pen->cr, 1);
      sp_pen_colour (pen, &pen->palette->floor_edge, chosen ? 1 : OTHERS);
      cairo_stroke (pen->cr);
    }
  }
}

void
sp_plot_draw_floor (SpPlot *plot, SpPen *pen)
{
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, plot->area.x, plot->area.y, plot->area.width, plot->area.height);
  cairo_clip (pen->cr);
  for (guint k = plot->grounds->len; k-- > 0;)
    draw_ground (plot, pen, &g_array_index (plot->grounds, SpPlotGround, k), k == 0);
  cairo_restore (pen->cr);
}

/* ---- its causes, of the chosen condition's ---- */

static guint
cause_end (const SpPlot *plot, guint from)
{
  guint to = from + 1;
  while (to < plot->n && !isnan (sp_plot_ground (plot)->floor_dbm[to])
         && sp_plot_ground (plot)->cause[to] == sp_plot_ground (plot)->cause[from])
    to++;
  return to;
}

static double
run_width (const SpPlot *plot, guint from, guint to)
{
  return (to - from) * plot->area.width / plot->n;
}

/* A wide run continues across narrow runs of another cause. */
static guint
wide_end (const SpPlot *plot, guint from)
{
  guint end = cause_end (plot, from);
  for (guint next = end; next < plot->n && !isnan (sp_plot_ground (plot)->floor_dbm[next]);) {
    guint to = cause_end (plot, next);
    if (sp_plot_ground (plot)->cause[next] == sp_plot_ground (plot)->cause[from])
      end = to;
    else if (run_width (plot, next, to) >= NARROW)
      break;
    next = to;
  }
  return end;
}

/* Along the contour, above its highest part there. */
static void
write_along (SpPlot *plot, SpPen *pen, guint from, guint to)
{
  const char *text = sp_words_cause (sp_plot_ground (plot)->cause[from]);
  double width = sp_pen_text_width (pen, SP_TEXT_SMALL, text), left = sp_plot_column_x (plot, from),
         right = sp_plot_column_x (plot, to - 1);
  SpSpot places[4];
  for (guint i = 0; i < G_N_ELEMENTS (places); i++) {
    double x = right - width - 4 - i * MAX (0, right - left - width - 10) / 3, top = INFINITY;
    for (guint k = from; k < to; k++)
      if (sp_plot_column_x (plot, k) >= x && sp_plot_column_x (plot, k) <= x + width)
        top = MIN (top, sp_plot_y (plot, sp_plot_ground (plot)->floor_dbm[k]));
    places[i] = (SpSpot){ x, top - 5 };
  }
  sp_plot_write (plot, pen, SP_TEXT_SMALL, &pen->palette->floor_ink, text, places, G_N_ELEMENTS (places));
}

/* Beside the flank of a run that is too narrow for a label along it. */
static gboolean
write_beside (SpPlot *plot, SpPen *pen, guint from, guint to)
{
  const char *text = sp_words_cause (sp_plot_ground (plot)->cause[from]);
  double width = sp_pen_text_width (pen, SP_TEXT_SMALL, text);
  guint peak = from;
  for (guint k = from; k < to; k++)
    if (sp_plot_ground (plot)->floor_dbm[k] > sp_plot_ground (plot)->floor_dbm[peak])
      peak = k;
  double x = sp_plot_column_x (plot, peak), y = sp_plot_y (plot, sp_plot_ground (plot)->floor_dbm[peak]);
  double level = MIN (y + 60, plot->area.y + plot->area.height - 8);
  const SpSpot places[] = {
    { x + 9, level }, { x - 9 - width, level }, { x + 9, level - 22 }, { x - 9 - width, level - 22 }, { x + 12, y - 4 }
  };
  return sp_plot_write (plot, pen, SP_TEXT_SMALL, &pen->palette->floor_ink, text, places, G_N_ELEMENTS (places));
}

/* Labels the causes: along each wide run, and once for the narrow runs of a cause that has none. */
void
sp_plot_draw_causes (SpPlot *plot, SpPen *pen)
{
  guint told = 0;
  for (guint pass = 0; pass < 2; pass++)
    for (guint from = 0, to; from < plot->n; from = to) {
      to = from + 1;
      if (isnan (sp_plot_ground (plot)->floor_dbm[from]))
        continue;
      to = cause_end (plot, from);
      gboolean wide = run_width (plot, from, to) >= NARROW;
      if (pass == 0 && wide) {
        to = wide_end (plot, from);
        write_along (plot, pen, from, to);
        told |= 1u << sp_plot_ground (plot)->cause[from];
      } else if (pass == 1 && !wide && !(told & 1u << sp_plot_ground (plot)->cause[from]) && write_beside (plot, pen, from, to)) {
        told |= 1u << sp_plot_ground (plot)->cause[from];
      }
    }
}
