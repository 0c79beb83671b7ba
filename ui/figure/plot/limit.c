/* limit.c - the limit of the chosen condition: a line with ticks on its forbidden side */
#include "ui/figure/plot/plot-private.h"

#include "core/quantity/units.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define TICK_EVERY 9
#define TICK_LENGTH 6
#define SAME 1.5           /* points: nearer limits are one line */
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

/* (transfer full) */
static double *
reduce (const SpPlot *plot, const SpAxis *x, const GArray *segments)
{
  double *limit_dbm = g_new (double, plot->n);
  guint at = 0;
  for (guint i = 0; i < plot->n; i++) {
    double f = sp_axis_value (x, sp_plot_column_x (plot, i));
    while (segments && at < segments->len && g_array_index (segments, SpLimitSegment, at).to_hz < f)
      at++;
    const SpLimitSegment *segment = segments && at < segments->len ? &g_array_index (segments, SpLimitSegment, at) : NULL;
    limit_dbm[i] = segment && segment->from_hz <= f ? segment_at (segment, f) : NAN;
  }
  return limit_dbm;
}

void
sp_plot_reduce_limit (SpPlot *plot, SpPlotGround *ground)
{
  gboolean drawn = sp_plot_draws (plot, ground->condition);
  const SpConditionFindings *second = drawn && ground->condition == plot->view.condition
                                          ? sp_findings_second (plot->findings, ground->condition)
                                          : NULL;
  ground->limit_dbm = reduce (plot, &ground->x, drawn ? plot->findings->conditions[ground->condition].limit : NULL);
  ground->second_dbm = second ? reduce (plot, &ground->x, second->limit) : NULL;
}

/* Columns [from, to) where the limit runs on without a gap or a step. */
static guint
run_end (const SpPlot *plot, const double *limit_dbm, guint from)
{
  guint to = from + 1;
  while (to < plot->n && !isnan (limit_dbm[to]) && fabs (sp_plot_y (plot, limit_dbm[to]) - sp_plot_y (plot, limit_dbm[to - 1])) < 3)
    to++;
  return to;
}

static void
draw_line (const SpPlot *plot, SpPen *pen, const double *limit_dbm, guint from, guint to, double width)
{
  double half = plot->area.width / plot->n / 2, left = sp_plot_column_x (plot, from) - half, right = sp_plot_column_x (plot, to - 1) + half;
  double first = sp_plot_y (plot, limit_dbm[from]), last = sp_plot_y (plot, limit_dbm[to - 1]);
  sp_pen_colour (pen, &pen->palette->limit, 1);
  if (first == last) {
    sp_pen_line (pen, left, first, right, last, width);
    return;
  }
  cairo_set_line_width (pen->cr, width);
  cairo_move_to (pen->cr, left, first);
  for (guint i = from + 8; i < to; i += 8)
    cairo_line_to (pen->cr, sp_plot_column_x (plot, i), sp_plot_y (plot, limit_dbm[i]));
  cairo_line_to (pen->cr, right, last);
  cairo_stroke (pen->cr);
}

static void
draw_ticks (const SpPlot *plot, SpPen *pen, const SpPlotGround *ground, guint from, guint to)
{
  double half = plot->area.width / plot->n / 2, left = sp_plot_column_x (plot, from) - half, right = sp_plot_column_x (plot, to - 1) + half;
  cairo_set_line_width (pen->cr, 1);
  for (double x = ceil (left / TICK_EVERY) * TICK_EVERY; x + TICK_LENGTH * 0.7 < right; x += TICK_EVERY) {
    guint column = (guint) CLAMP ((x - plot->area.x) / plot->area.width * plot->n, from, to - 1);
    double y = sp_plot_y (plot, ground->limit_dbm[column]);
    if (ground->floor_dbm[column] > ground->limit_dbm[column]) /* fog lies on the forbidden side: what is missing cannot be hatched */
      continue;
    cairo_move_to (pen->cr, x, y - 1);
    cairo_line_to (pen->cr, x + TICK_LENGTH * 0.7, y - 1 - TICK_LENGTH);
  }
  cairo_stroke (pen->cr);
}

/* TRUE where a limit is drawn already, here or a step aside. */
static gboolean
is_drawn (const SpPlot *plot, guint k, guint column)
{
  double limit_dbm = g_array_index (plot->grounds, SpPlotGround, k).limit_dbm[column],
         same_db = SAME * (plot->y.to - plot->y.from) / plot->area.height;
  guint aside = (guint) (plot->n_shown * plot->aside / plot->area.width * plot->n) + 1;
  const guint columns[] = { column, column > aside ? column - aside : 0, MIN (column + aside, plot->n - 1) };
  for (guint i = 0; i < k; i++) {
    const double *before_dbm = g_array_index (plot->grounds, SpPlotGround, i).limit_dbm;
    for (guint c = 0; c < G_N_ELEMENTS (columns); c++)
      if (fabs (before_dbm[columns[c]] - limit_dbm) < same_db) /* FALSE for NaN */
        return TRUE;
  }
  return FALSE;
}

/* The k-th ground's: of the chosen condition whole and hatched, of another a thin line where none of those before has it. */
static void
draw_ground (const SpPlot *plot, SpPen *pen, guint k)
{
  const SpPlotGround *ground = &g_array_index (plot->grounds, SpPlotGround, k);
  for (guint from = 0, to; from < plot->n; from = to) {
    to = from + 1;
    if (isnan (ground->limit_dbm[from]) || (k > 0 && is_drawn (plot, k, from)))
      continue;
    guint end = run_end (plot, ground->limit_dbm, from);
    while (to < end && !(k > 0 && is_drawn (plot, k, to)))
      to++;
    draw_line (plot, pen, ground->limit_dbm, from, to, k ? 1 : 2);
    if (k == 0)
      draw_ticks (plot, pen, ground, from, to);
  }
}

/* The second mask's: thin and dashed, without ticks, since it decides nothing. */
static void
draw_second (const SpPlot *plot, SpPen *pen)
{
  static const SpDash dashes = { 2, { 6, 4 } };
  const double *limit_dbm = sp_plot_ground (plot)->second_dbm;
  sp_pen_dash (pen, &dashes, 0);
  for (guint from = 0, to; limit_dbm && from < plot->n; from = to) {
    to = isnan (limit_dbm[from]) ? from + 1 : run_end (plot, limit_dbm, from);
    if (!isnan (limit_dbm[from]))
      draw_line (plot, pen, limit_dbm, from, to, 1);
  }
  sp_pen_dash (pen, NULL, 0);
}

void
sp_plot_draw_limit (SpPlot *plot, SpPen *pen)
{
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, plot->area.x, plot->area.y, plot->area.width, plot->area.height);
  cairo_clip (pen->cr);
  for (guint k = plot->grounds->len; k-- > 0;)
    draw_ground (plot, pen, k);
  draw_second (plot, pen);
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

static void
write_chosen (SpPlot *plot, SpPen *pen)
{
  const SpPlotGround *ground = sp_plot_ground (plot);
  double told = NAN;
  for (guint from = 0, to; from < plot->n; from = to) {
    to = from + 1;
    if (isnan (ground->limit_dbm[from]))
      continue;
    to = run_end (plot, ground->limit_dbm, from);
    double left = sp_plot_column_x (plot, from), right = sp_plot_column_x (plot, to - 1);
    g_autofree char *text = limit_text (plot, ground->limit_dbm[from], ground->limit_dbm[to - 1]);
    double width = sp_pen_text_width (pen, SP_TEXT_BOLD, text);
    if (fabs (told - ground->limit_dbm[from]) < LIMIT_FLAT_DB || right - left < width + 12)
      continue;
    double under = sp_plot_y (plot, ground->limit_dbm[from]) + 17, over = under - 31;
    SpSpot places[12];
    for (guint i = 0; i < 10; i++) /* from the left on, under the line */
      places[i] = (SpSpot){ left + 6 + i * (right - left - width - 12) / 9, under };
    places[10] = (SpSpot){ left + 6, over };
    places[11] = (SpSpot){ right - width - 6, over };
    if (sp_plot_write (plot, pen, SP_TEXT_BOLD, &pen->palette->limit, text, places, G_N_ELEMENTS (places)) >= 0)
      told = ground->limit_dbm[from];
  }
}

/* "5: limit -6.4 dBm" of another condition, once, at the right end of what is drawn of it. */
static void
write_other (SpPlot *plot, SpPen *pen, guint k)
{
  const SpPlotGround *ground = &g_array_index (plot->grounds, SpPlotGround, k);
  guint last = plot->n, first;
  while (last > 0 && (isnan (ground->limit_dbm[last - 1]) || is_drawn (plot, k, last - 1)))
    last--;
  for (first = last; first > 0 && !isnan (ground->limit_dbm[first - 1]) && !is_drawn (plot, k, first - 1);)
    first--;
  if (last == 0)
    return;
  g_autofree char *level = range_text (ground->limit_dbm[last - 1], ground->limit_dbm[last - 1], _ ("dBm"));
  g_autofree char *text = g_strdup_printf (_ ("%u: limit %s"), sp_view_row (&plot->view, ground->condition), level);
  double width = sp_pen_text_width (pen, SP_TEXT_SMALL, text), right = sp_plot_column_x (plot, last - 1) - 6;
  double y = sp_plot_y (plot, ground->limit_dbm[last - 1]);
  const SpSpot places[] = {
    { right - width, y - 4 }, { right - width, y + 14 }, { right - 2 * width, y - 4 }, { right - 2 * width, y + 14 }
  };
  if (right - sp_plot_column_x (plot, first) > width)
    sp_plot_write (plot, pen, SP_TEXT_SMALL, &pen->palette->limit, text, places, G_N_ELEMENTS (places));
}

/* By its mask's name, once: where its longest run stands. */
static void
write_second (SpPlot *plot, SpPen *pen)
{
  const double *limit_dbm = sp_plot_ground (plot)->second_dbm;
  guint first = 0, last = 0;
  for (guint from = 0, to; limit_dbm && from < plot->n; from = to) {
    to = isnan (limit_dbm[from]) ? from + 1 : run_end (plot, limit_dbm, from);
    if (!isnan (limit_dbm[from]) && to - from > last - first)
      first = from, last = to;
  }
  if (last == first)
    return;
  const SpBench *bench = plot->findings->bench;
  const SpMask *mask = sp_condition_second_mask (bench, &bench->conditions[plot->chosen->condition]);
  g_autofree char *level = range_text (limit_dbm[first], limit_dbm[last - 1], _ ("dBm")),
                  *text = g_strdup_printf (_ ("second: %s, %s"), mask->title ? mask->title : mask->name, level);
  double width = sp_pen_text_width (pen, SP_TEXT_SMALL, text), left = sp_plot_column_x (plot, first),
         right = sp_plot_column_x (plot, last - 1);
  double over = sp_plot_y (plot, limit_dbm[last - 1]) - 4, under = over + 18;
  SpSpot places[16];
  for (guint i = 0; i < 8; i++) { /* from the right on, over the line, then under it */
    double x = right - 6 - width - i * MAX (0, right - left - width - 12) / 7;
    places[i] = (SpSpot){ x, over };
    places[8 + i] = (SpSpot){ x, under };
  }
  sp_plot_write (plot, pen, SP_TEXT_SMALL, &pen->palette->limit, text, places, G_N_ELEMENTS (places));
}

void
sp_plot_write_limit (SpPlot *plot, SpPen *pen)
{
  write_chosen (plot, pen);
  write_second (plot, pen);
  for (guint k = 1; k < plot->grounds->len; k++)
    write_other (plot, pen, k);
}
