/* axes.c - the frequencies' axis, by harmonic one for each condition, and the axes' drawing */
#include "ui/figure/plot/plot-private.h"

#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define FAN 0.4 /* of one order's width, that all conditions share: every carrier is plainly at 1 */
#define MOST_ASIDE 10
#define NUMBER_WIDTH 17 /* of a row's number, with space */
#define MOST_HEIGHTS 6
#define HEIGHTS_PART 0.17 /* of the plot, for all of them */
#define BEYOND 0.5        /* orders before the carrier and after the last harmonic */
#define DECADES 3         /* of a sweep from zero on, where no carrier is known */

/* ---- by frequency ---- */

static void
widen (const SpConditionFindings *c, double *from, double *to)
{
  for (guint k = 0; k < c->n_corrected; k++)
    if (c->corrected[k].n) {
      *from = MIN (*from, c->corrected[k].frequency_hz[0]);
      *to = MAX (*to, c->corrected[k].frequency_hz[c->corrected[k].n - 1]);
    }
}

/* Zero has no place on a logarithmic scale: it begins two octaves below the lowest carrier shown then. */
static double
least_logarithmic (const SpPlot *plot, double to)
{
  double least = INFINITY;
  for (guint i = 0; i < plot->findings->n; i++)
    if (sp_view_shows (&plot->view, plot->findings, i) && plot->findings->conditions[i].fundamental_hz > 0)
      least = MIN (least, plot->findings->conditions[i].fundamental_hz / 4);
  return isfinite (least) ? MIN (least, to / 10) : to / pow (10, DECADES);
}

/* The chosen condition's sweeps; on a logarithmic scale, which has room for them, all that are shown. */
static void
frequency_range (const SpPlot *plot, double *from, double *to)
{
  *from = INFINITY, *to = -INFINITY;
  for (guint i = 0; i < plot->findings->n; i++)
    if (&plot->findings->conditions[i] == plot->chosen || (plot->view.logarithmic && sp_view_shows (&plot->view, plot->findings, i)))
      widen (&plot->findings->conditions[i], from, to);
  if (!isnan (plot->view.from_hz))
    *from = plot->view.from_hz;
  if (!isnan (plot->view.to_hz))
    *to = plot->view.to_hz;
  if (!isfinite (*from) || !isfinite (*to) || !(*from < *to)) { /* nothing swept: still a sheet with axes */
    *from = isfinite (*from) ? *from : 0;
    *to = MAX (*from * 2, 1e9);
  }
  if (plot->view.logarithmic && !(*from > 0))
    *from = least_logarithmic (plot, *to);
}

/* ---- by harmonic ---- */

static guint
highest_order (const SpPlot *plot)
{
  guint highest = 2;
  for (guint i = 0; i < plot->findings->n; i++)
    for (guint k = 0; sp_view_shows (&plot->view, plot->findings, i) && k < plot->findings->conditions[i].n_emissions; k++)
      highest = MAX (highest, plot->findings->conditions[i].emissions[k].order);
  return highest;
}

/* Places in list order; the chosen one has one even where it is not drawn. */
static void
place_conditions (SpPlot *plot)
{
  guint n = plot->findings->n;
  plot->place = g_new (guint, n);
  for (guint i = 0; i < n; i++) {
    gboolean drawn = sp_view_shows (&plot->view, plot->findings, i) && plot->findings->conditions[i].fundamental_hz > 0;
    plot->place[i] = drawn ? 0 : G_MAXUINT;
    plot->n_shown += drawn ? 1 : 0;
  }
  for (guint i = 0; i < n; i++)
    for (guint k = 0; plot->place[i] != G_MAXUINT && k < n; k++)
      if (plot->place[k] != G_MAXUINT && sp_view_row (&plot->view, k) < sp_view_row (&plot->view, i))
        plot->place[i]++;
}

/* How far a condition stands right of the middle of the fans, in points. */
static double
aside_of (const SpPlot *plot, guint condition)
{
  return plot->place[condition] == G_MAXUINT ? 0 : (plot->place[condition] - (plot->n_shown - 1) / 2.0) * plot->aside;
}

static void
harmonic_range (SpPlot *plot, double *from, double *to)
{
  double f0 = plot->chosen->fundamental_hz, width = plot->area.width;
  place_conditions (plot);
  plot->most_order = highest_order (plot);
  double low = BEYOND, high = plot->most_order + BEYOND, zoomed = plot->view.to_hz - plot->view.from_hz;
  double order = width * (zoomed > 0 ? f0 / zoomed : 1 / (high - low));
  plot->aside = MIN (MOST_ASIDE, FAN * order / MAX (plot->n_shown, 1));
  double shift = aside_of (plot, plot->view.condition) / order;
  *from = isnan (plot->view.from_hz) ? (low - shift) * f0 : plot->view.from_hz;
  *to = isnan (plot->view.to_hz) ? (high - shift) * f0 : plot->view.to_hz;
  if (!(*from < *to))
    *to = *from + f0;
}

double
sp_plot_order_x (const SpPlot *plot, double order)
{
  return sp_axis_at (&plot->x, order * plot->chosen->fundamental_hz) - aside_of (plot, plot->view.condition);
}

double
sp_plot_fan (const SpPlot *plot)
{
  double order = sp_plot_order_x (plot, 2) - sp_plot_order_x (plot, 1);
  return MAX (plot->n_shown * plot->aside, MIN (order * FAN, 24)) / 2;
}

guint
sp_plot_number_heights (const SpPlot *plot)
{
  double most = CLAMP (plot->area.height * HEIGHTS_PART / SP_PLOT_NUMBER_LINE, 1, MOST_HEIGHTS);
  return (guint) CLAMP (ceil (NUMBER_WIDTH / plot->aside), 1, most);
}

SpAxis
sp_plot_axis_of (const SpPlot *plot, guint condition)
{
  SpAxis axis = plot->x;
  if (!plot->by_harmonic || condition == plot->view.condition || !(plot->findings->conditions[condition].fundamental_hz > 0))
    return axis;
  double ratio = plot->findings->conditions[condition].fundamental_hz / plot->chosen->fundamental_hz;
  double shift = (aside_of (plot, condition) - aside_of (plot, plot->view.condition)) / plot->area.width * (axis.to - axis.from);
  axis.from = (plot->x.from - shift) * ratio;
  axis.to = (plot->x.to - shift) * ratio;
  return axis;
}

void
sp_plot_lay_axis (SpPlot *plot)
{
  double from, to;
  if (plot->by_harmonic)
    harmonic_range (plot, &from, &to);
  else
    frequency_range (plot, &from, &to);
  gboolean logarithmic = plot->view.logarithmic && !plot->by_harmonic;
  plot->x = (SpAxis){ logarithmic ? &sp_scale_logarithmic : &sp_scale_linear, from, to, plot->area.x, plot->area.x + plot->area.width };
}

/* ---- their drawing ---- */

/* The unit of the frequencies; *factor is its Hz. */
static const char *
unit_of (const SpPlot *plot, double *factor)
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
void
sp_plot_draw_grid (SpPlot *plot, SpPen *pen)
{
  SpTick ticks[SP_TICKS_MAX];
  const SpRect *area = &plot->area;
  sp_pen_colour (pen, &pen->palette->floor_edge, 0.2);
  guint n = plot->by_harmonic || plot->view.dark ? 0 : plot->x.scale->ticks (plot->x.from, plot->x.to, (guint) (area->width / 80), ticks);
  for (guint i = 0; i < n; i++) {
    double x = sp_axis_at (&plot->x, ticks[i].value);
    if (x > area->x + 1)
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
  const char *unit = unit_of (plot, &factor);
  double unit_width = sp_pen_text_width (pen, SP_TEXT_SMALL, unit);
  guint n = plot->x.scale->ticks (plot->x.from, plot->x.to, (guint) (area->width / 80), ticks);
  double step = n > 1 ? (ticks[1].value - ticks[0].value) / factor : 1;
  int decimals = plot->x.scale == &sp_scale_logarithmic ? 0 : CLAMP ((int) ceil (-log10 (step) - 1e-9), 0, 6);
  for (guint i = 0; i < n; i++) {
    double x = sp_axis_at (&plot->x, ticks[i].value), shown = ticks[i].value / factor;
    sp_pen_colour (pen, &pen->palette->ink, 1);
    if (x > area->x + 1)
      sp_pen_line (pen, x, foot, x, foot - (ticks[i].labelled ? 6 : 3), 1);
    if (!ticks[i].labelled)
      continue;
    int more = plot->x.scale == &sp_scale_logarithmic && shown < 1 ? (int) ceil (-log10 (shown) - 1e-9) : 0;
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
  if (!plot->chosen || plot->view.one_scale || isnan (plot->chosen->power_dbm))
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

/* Below the numbers, as wide as there is room: what stands under what. */
static void
write_saying (SpPlot *plot, SpPen *pen)
{
  const char *said = _ (
      "Each sweep over its own carrier, and a step to the right of the one above it in the list. Small figures: row in the list.");
  double right = plot->area.x + plot->area.width, left = plot->outer.x, width = sp_pen_text_width (pen, SP_TEXT_TINY, said);
  sp_pen_text_fit (pen, MAX (left, right - width), plot->outer.y + plot->outer.height - 2, SP_TEXT_TINY, &pen->palette->soft, right - left,
                   said);
}

static void
draw_order_axis (SpPlot *plot, SpPen *pen)
{
  const SpRect *area = &plot->area;
  double foot = area->y + area->height, right = area->x + area->width, last = -INFINITY;
  const char *unit = _ ("f / f0");
  double unit_left = right - sp_pen_text_width (pen, SP_TEXT_SMALL, unit);
  for (guint order = 1; order <= plot->most_order; order++) {
    double x = sp_plot_order_x (plot, order);
    g_autofree char *text = g_strdup_printf ("%u", order);
    double half = sp_pen_text_width (pen, SP_TEXT_BODY, text) / 2;
    if (x < area->x || x > right)
      continue;
    sp_pen_colour (pen, &pen->palette->ink, 1);
    sp_pen_line (pen, x, foot, x, foot - 6, 1);
    if (x - half < last + 8 || x + half > unit_left - 6)
      continue;
    sp_pen_text (pen, x, foot + 18, SP_TEXT_BODY, &pen->palette->ink, 0.5, text);
    last = x + half;
  }
  sp_pen_text (pen, right, foot + 18, SP_TEXT_SMALL, &pen->palette->soft, 1, unit);
  if (!plot->view.one_scale) /* a caption says it */
    write_saying (plot, pen);
}

/* Their lines and ticks. */
static void
draw_bare (SpPlot *plot, SpPen *pen)
{
  const SpRect *area = &plot->area;
  sp_pen_line (pen, area->x, area->y, area->x, area->y + area->height, 1);
  for (guint order = 1; plot->by_harmonic && order <= plot->most_order; order++) {
    double x = sp_plot_order_x (plot, order), foot = area->y + area->height;
    if (x >= area->x && x <= area->x + area->width)
      sp_pen_line (pen, x, foot, x, foot - 4, 1);
  }
}

void
sp_plot_draw_axes (SpPlot *plot, SpPen *pen)
{
  double foot = plot->area.y + plot->area.height;
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_line (pen, plot->area.x, foot, plot->area.x + plot->area.width, foot, 1);
  if (plot->view.bare) {
    draw_bare (plot, pen);
    return;
  }
  if (plot->by_harmonic)
    draw_order_axis (plot, pen);
  else
    draw_frequency_axis (plot, pen);
  draw_level_axis (plot, pen);
  draw_other_level_axis (plot, pen);
}
