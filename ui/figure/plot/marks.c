/* marks.c - a mark at each emission: others' on sticks in their ink and dash, by harmonic with the number of their row in the list */
#include "ui/figure/plot/plot-private.h"

#include "ui/figure/pen/glyph.h"

#include <math.h>

#define MARK 2.8 /* radius of an origin mark */
#define STICK 1.5
#define STICK_OF_CHOSEN 3
#define LEADER_TRIES 6 /* up from a mark, to a free place for its number */

static const SpColour *
ink_of (const SpPlot *plot, const SpPen *pen, guint condition)
{
  return condition == plot->view.condition ? &pen->palette->ink : &pen->palette->trace[sp_view_ink (condition)];
}

static void
draw_whisker (SpPlot *plot, SpPen *pen, double x, const SpEmission *emission, const SpColour *ink)
{
  double expanded = emission->budget.expanded_level_db;
  if (!(expanded > 0) || !isfinite (expanded))
    return;
  double top = sp_plot_y (plot, emission->level_dbm + expanded), bottom = sp_plot_y (plot, emission->level_dbm - expanded);
  sp_pen_colour (pen, ink, 1);
  sp_pen_line (pen, x, top, x, bottom, 1.2);
  if (bottom - top < 2 * MARK + 1) /* hidden behind its own mark: caps would only blur that */
    return;
  sp_pen_line (pen, x - 3.5, top, x + 3.5, top, 1);
  sp_pen_line (pen, x - 3.5, bottom, x + 3.5, bottom, 1);
}

/* From a peak down to what its condition's traces show beside it. */
static void
draw_stick (SpPlot *plot, SpPen *pen, guint condition, double x, double y)
{
  double foot = sp_plot_foot_dbm (plot, condition, x), foot_y = sp_plot_y (plot, isnan (foot) ? plot->y.from : foot);
  if (!(foot_y > y))
    return;
  cairo_save (pen->cr);
  sp_pen_colour (pen, &pen->palette->trace[sp_view_ink (condition)], 1);
  sp_pen_dash (pen, sp_view_dash (pen->palette, condition), 0);
  sp_pen_line (pen, x, y, x, foot_y, condition == plot->view.condition ? STICK_OF_CHOSEN : STICK);
  cairo_restore (pen->cr);
}

/* The chosen condition's own line is its stick by frequency. */
static gboolean
has_sticks (const SpPlot *plot, guint condition)
{
  return plot->by_harmonic || condition != plot->view.condition;
}

static void
draw_emissions_of (SpPlot *plot, SpPen *pen, guint condition)
{
  const SpConditionFindings *c = &plot->findings->conditions[condition];
  const SpColour *ink = ink_of (plot, pen, condition);
  for (guint k = 0; k < c->n_emissions; k++) {
    double x, y;
    if (!sp_plot_emission_place (plot, condition, &c->emissions[k], &x, &y))
      continue;
    if (has_sticks (plot, condition))
      draw_stick (plot, pen, condition, x, y);
    draw_whisker (plot, pen, x, &c->emissions[k], ink);
    sp_glyph_origin (pen, x, y, MARK, c->emissions[k].origin, ink);
    SpRect mark = plot->by_harmonic ? (SpRect){ x - 4, y - 4, 8, 8 } : (SpRect){ x - 6, y - 7, 12, 14 };
    sp_plot_take (plot, &mark);
  }
}

static gboolean
carrier_place (const SpPlot *plot, guint condition, double *x, double *y)
{
  const SpConditionFindings *c = &plot->findings->conditions[condition];
  SpAxis axis = sp_plot_axis_of (plot, condition);
  if (!plot->by_harmonic || isnan (c->power_dbm) || !(c->fundamental_hz >= axis.from && c->fundamental_hz <= axis.to))
    return FALSE;
  *x = sp_axis_at (&axis, c->fundamental_hz);
  *y = sp_plot_y (plot, c->power_dbm);
  return TRUE;
}

static void
draw_condition (SpPlot *plot, SpPen *pen, guint condition)
{
  double x, y;
  if (!sp_plot_draws (plot, condition))
    return;
  if (carrier_place (plot, condition, &x, &y))
    draw_stick (plot, pen, condition, x, y);
  if (plot->by_harmonic || condition == plot->view.condition)
    sp_plot_draw_parts (plot, pen, condition);
  draw_emissions_of (plot, pen, condition);
}

/* The chosen one's above the others'. */
void
sp_plot_draw_marks (SpPlot *plot, SpPen *pen)
{
  for (guint i = 0; i < plot->findings->n; i++)
    if (i != plot->view.condition)
      draw_condition (plot, pen, i);
  draw_condition (plot, pen, plot->view.condition);
}

/* ---- the numbers of the rows ---- */

static SpTextStyle
style_of (const SpPlot *plot, guint condition)
{
  return condition == plot->view.condition ? SP_TEXT_BOLD : SP_TEXT_TINY;
}

/* Above the mark, left, right; else further up, with a leader down to the mark. */
static void
number_mark (SpPlot *plot, SpPen *pen, guint condition, double x, double y)
{
  g_autofree char *number = g_strdup_printf ("%u", sp_view_row (&plot->view, condition));
  SpTextStyle style = style_of (plot, condition);
  double width = sp_pen_text_width (pen, style, number), step = sp_pen_line_height (style) - 2;
  SpSpot places[3 + LEADER_TRIES] = { { x - width / 2, y - 6 }, { x - width - 7, y + 4 }, { x + 7, y + 4 } };
  for (guint i = 0; i < LEADER_TRIES; i++)
    places[3 + i] = (SpSpot){ x - width / 2, y - 6 - (i + 1) * step };
  int at = sp_plot_write (plot, pen, style, &pen->palette->ink, number, places, G_N_ELEMENTS (places));
  if (at < 3)
    return;
  sp_pen_colour (pen, &pen->palette->soft, 0.8);
  sp_pen_line (pen, x, places[at].baseline + 2, x, y - MARK - 1, 0.75);
}

/* In turn at as many heights as let neighbours stand clear of each other, with a leader down. */
static void
number_carrier (SpPlot *plot, SpPen *pen, guint condition, double x, double y)
{
  g_autofree char *number = g_strdup_printf ("%u", sp_view_row (&plot->view, condition));
  SpTextStyle style = style_of (plot, condition);
  guint heights = sp_plot_number_heights (plot);
  double top = plot->area.y + 10 + (heights - 1 - plot->place[condition] % heights) * SP_PLOT_NUMBER_LINE;
  double width = sp_pen_text_width (pen, style, number);
  SpRect rect = { x - width / 2, top - SP_PLOT_NUMBER_LINE + 2, width, SP_PLOT_NUMBER_LINE - 1 };
  if (!sp_plot_is_free (plot, &rect)) /* too many for this height: its marks have it */
    return;
  sp_plot_take (plot, &rect);
  sp_pen_text_halo (pen, x, top, style, &pen->palette->ink, 0.5, number, &pen->palette->sheet);
  if (top + 4 < y - 2) {
    sp_pen_colour (pen, &pen->palette->soft, 0.8);
    sp_pen_line (pen, x, top + 3, x, y - 1, 0.75);
  }
}

/* The chosen one's first. */
void
sp_plot_number_carriers (SpPlot *plot, SpPen *pen)
{
  double x, y;
  if (carrier_place (plot, plot->view.condition, &x, &y) && sp_plot_draws (plot, plot->view.condition))
    number_carrier (plot, pen, plot->view.condition, x, y);
  for (guint i = 0; i < plot->findings->n; i++)
    if (i != plot->view.condition && sp_plot_draws (plot, i) && carrier_place (plot, i, &x, &y))
      number_carrier (plot, pen, i, x, y);
}

void
sp_plot_number_marks (SpPlot *plot, SpPen *pen)
{
  for (guint i = 0; plot->by_harmonic && i < plot->findings->n; i++) {
    const SpConditionFindings *c = &plot->findings->conditions[i];
    double x, y;
    for (guint k = 0; sp_plot_draws (plot, i) && k < c->n_emissions; k++)
      if (sp_plot_emission_place (plot, i, &c->emissions[k], &x, &y))
        number_mark (plot, pen, i, x, y);
  }
}
