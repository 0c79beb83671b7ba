/* limit.c - the limit of the chosen condition: a line with ticks on its forbidden side */
#include "ui/figure/plot/plot-private.h"

#include "core/quantity/units.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define TICK_EVERY 9
#define TICK_LENGTH 6
#define LIMIT_FLAT_DB 0.05 /* closer levels read alike */

/* A segment's value at a frequency inside it: a straight line over log f, as core/mask/mask.h draws it. */
static double
segment_at (const SpLimitSegment *segment, double f)
{
  if (segment->limit_dbm == segment->limit_end_dbm || !(segment->from_hz > 0) || !(f > segment->from_hz))
    return segment->limit_dbm;
  return segment->limit_dbm
         + (segment->limit_end_dbm - segment->limit_dbm) * log (f / segment->from_hz) / log (segment->to_hz / segment->from_hz);
}

void
sp_plot_reduce_limit (SpPlot *plot)
{
  plot->limit_dbm = g_new (double, plot->n);
  const GArray *segments = plot->chosen ? plot->chosen->limit : NULL;
  guint at = 0;
  for (guint i = 0; i < plot->n; i++) {
    double f = sp_axis_value (&plot->x, sp_plot_column_x (plot, i));
    while (segments && at < segments->len && g_array_index (segments, SpLimitSegment, at).to_hz < f)
      at++;
    const SpLimitSegment *segment = segments && at < segments->len ? &g_array_index (segments, SpLimitSegment, at) : NULL;
    plot->limit_dbm[i] = segment && segment->from_hz <= f ? segment_at (segment, f) : NAN;
  }
}

/* Columns [from, to) where the limit runs on without a gap or a step. */
static guint
run_end (const SpPlot *plot, guint from)
{
  guint to = from + 1;
  while (to < plot->n && !isnan (plot->limit_dbm[to])
         && fabs (sp_plot_y (plot, plot->limit_dbm[to]) - sp_plot_y (plot, plot->limit_dbm[to - 1])) < 3)
    to++;
  return to;
}

static void
draw_run (SpPlot *plot, SpPen *pen, guint from, guint to)
{
  double half = plot->area.width / plot->n / 2, left = sp_plot_column_x (plot, from) - half, right = sp_plot_column_x (plot, to - 1) + half;
  double first = sp_plot_y (plot, plot->limit_dbm[from]), last = sp_plot_y (plot, plot->limit_dbm[to - 1]);
  sp_pen_colour (pen, &pen->palette->limit, 1);
  if (first == last) {
    sp_pen_line (pen, left, first, right, last, 2);
  } else {
    cairo_set_line_width (pen->cr, 2);
    cairo_move_to (pen->cr, left, first);
    for (guint i = from + 8; i < to; i += 8)
      cairo_line_to (pen->cr, sp_plot_column_x (plot, i), sp_plot_y (plot, plot->limit_dbm[i]));
    cairo_line_to (pen->cr, right, last);
    cairo_stroke (pen->cr);
  }
  cairo_set_line_width (pen->cr, 1);
  for (double x = ceil (left / TICK_EVERY) * TICK_EVERY; x + TICK_LENGTH * 0.7 < right; x += TICK_EVERY) {
    guint column = (guint) CLAMP ((x - plot->area.x) / plot->area.width * plot->n, from, to - 1);
    double y = sp_plot_y (plot, plot->limit_dbm[column]);
    if (plot->floor_dbm[column] > plot->limit_dbm[column]) /* fog lies on the forbidden side: what is missing cannot be hatched */
      continue;
    cairo_move_to (pen->cr, x, y - 1);
    cairo_line_to (pen->cr, x + TICK_LENGTH * 0.7, y - 1 - TICK_LENGTH);
  }
  cairo_stroke (pen->cr);
}

void
sp_plot_draw_limit (SpPlot *plot, SpPen *pen)
{
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, plot->area.x, plot->area.y, plot->area.width, plot->area.height);
  cairo_clip (pen->cr);
  for (guint from = 0, to; from < plot->n; from = to) {
    to = from + 1;
    if (isnan (plot->limit_dbm[from]))
      continue;
    to = run_end (plot, from);
    draw_run (plot, pen, from, to);
  }
  cairo_restore (pen->cr);
}

/* "-16.0 dBm", or from a first level to a last one. (transfer full) */
static char *
range_text (double first, double last, const char *unit)
{
  g_autofree char *begin = sp_words_number (first, 1, SP_HAND_SCREEN), *end = sp_words_number (last, 1, SP_HAND_SCREEN);
  return fabs (first - last) < LIMIT_FLAT_DB ? g_strdup_printf ("%s\342\200\257%s", begin, unit)
                                             : g_strdup_printf (_ ("%s to %s\342\200\257%s"), begin, end, unit);
}

/* With the watts of a flat limit; where the scale at the left is relative, as that has it first. (transfer full) */
static char *
limit_text (const SpPlot *plot, double first_dbm, double last_dbm)
{
  g_autofree char *level = range_text (first_dbm, last_dbm, _ ("dBm"));
  if (sp_view_level_origin_dbm (&plot->view, plot->findings) != 0) {
    g_autofree char *relative = range_text (sp_findings_dbc (plot->chosen, first_dbm), sp_findings_dbc (plot->chosen, last_dbm), _ ("dBc"));
    return g_strdup_printf (_ ("limit %s, %s"), relative, level);
  }
  if (fabs (first_dbm - last_dbm) >= LIMIT_FLAT_DB)
    return g_strdup_printf (_ ("limit %s"), level);
  g_autofree char *power = sp_words_power (sp_watt_from_dbm (first_dbm), SP_HAND_SCREEN);
  return g_strdup_printf (_ ("limit %s, %s"), level, power);
}

void
sp_plot_write_limit (SpPlot *plot, SpPen *pen)
{
  double told = NAN;
  for (guint from = 0, to; from < plot->n; from = to) {
    to = from + 1;
    if (isnan (plot->limit_dbm[from]))
      continue;
    to = run_end (plot, from);
    double left = sp_plot_column_x (plot, from), right = sp_plot_column_x (plot, to - 1);
    g_autofree char *text = limit_text (plot, plot->limit_dbm[from], plot->limit_dbm[to - 1]);
    double width = sp_pen_text_width (pen, SP_TEXT_BOLD, text);
    if (fabs (told - plot->limit_dbm[from]) < LIMIT_FLAT_DB || right - left < width + 12)
      continue;
    double under = sp_plot_y (plot, plot->limit_dbm[from]) + 17, over = under - 31;
    SpSpot places[12];
    for (guint i = 0; i < 10; i++) /* from the left on, under the line */
      places[i] = (SpSpot){ left + 6 + i * (right - left - width - 12) / 9, under };
    places[10] = (SpSpot){ left + 6, over };
    places[11] = (SpSpot){ right - width - 6, over };
    if (sp_plot_write (plot, pen, SP_TEXT_BOLD, &pen->palette->limit, text, places, G_N_ELEMENTS (places)))
      told = plot->limit_dbm[from];
  }
}
