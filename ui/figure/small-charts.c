/* small-charts.c - a chart for each condition, side by side */
#include "ui/figure/small-charts.h"

#include "ui/figure/pen/glyph.h"
#include "ui/figure/pen/mark.h"
#include "ui/figure/pen/names.h"
#include "ui/figure/plot/plot.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LEFT 34 /* the levels' numbers */
#define FOOT 18 /* the orders' */
#define GAP 14
#define HEAD 20
#define FEW_ROWS 2 /* of charts: each may be as high as this: */
#define HIGH 230
#define COLUMNS 4
#define MOST_COLUMNS 6 /* of MANY charts on a WIDE sheet */
#define MANY 24
#define WIDE 1700
#define DIFFERENCES 2 /* told at a chart's top */
#define REFERENCE 9   /* half of a reference's dash */

guint
sp_small_charts_columns (double width, guint n)
{
  guint fit = (guint) MAX (1, (width - LEFT) / (SP_SMALL_CHART_WIDTH + GAP));
  return MAX (1, MIN (MIN (fit, n >= MANY && width >= WIDE ? MOST_COLUMNS : COLUMNS), n));
}

double
sp_small_charts_height (double width, guint n)
{
  guint columns = sp_small_charts_columns (width, n), rows = (n + columns - 1) / columns;
  return rows * (rows <= FEW_ROWS ? HIGH : SP_SMALL_CHART_HEIGHT) + FOOT;
}

SpRect
sp_small_charts_place (const SpSmallCharts *charts, const SpRect *rect, guint i)
{
  guint columns = sp_small_charts_columns (rect->width, charts->n), rows = (charts->n + columns - 1) / columns;
  double width = (rect->width - LEFT) / columns, height = MAX ((rect->height - FOOT) / rows, HEAD + 40);
  return (SpRect){ rect->x + LEFT + i % columns * width, rect->y + i / columns * height, width - GAP, height };
}

int
sp_small_charts_at (const SpSmallCharts *charts, const SpRect *rect, double x, double y)
{
  for (guint i = 0; i < charts->n; i++) {
    SpRect place = sp_small_charts_place (charts, rect, i);
    if (x >= place.x && x < place.x + place.width && y >= place.y && y < place.y + place.height)
      return (int) i;
  }
  return -1;
}

/* ---- the common axes ---- */

typedef struct {
  SpPen *pen;
  const SpSmallCharts *charts;
  const SpFindings *findings;
  gboolean *hidden; /* all but the one that is drawn */
  guint most_order;
  double bottom_dbm, top_dbm;
} Sheet;

static SpPlot *
plot_of (Sheet *sheet, guint condition, const SpRect *inside)
{
  SpView view;
  const SpConditionFindings *c = &sheet->findings->conditions[condition];
  sp_view_init (&view);
  view.condition = condition;
  view.by_harmonic = view.bare = TRUE;
  view.all_sweeps = FALSE;
  view.dark = sheet->charts->dark;
  view.hidden = sheet->hidden;
  view.row = sheet->charts->row;
  view.bottom_dbm = sheet->bottom_dbm;
  view.top_dbm = sheet->top_dbm;
  if (c->fundamental_hz > 0) {
    view.from_hz = 0.5 * c->fundamental_hz;
    view.to_hz = (sheet->most_order + 0.5) * c->fundamental_hz;
  }
  sheet->hidden[condition] = FALSE;
  SpPlot *plot = sp_plot_new_again (sheet->pen, sheet->findings, &view, inside, sheet->charts->pyramids);
  sheet->hidden[condition] = TRUE;
  return plot;
}

/* From the lowest to the highest of all. */
static void
find_levels (Sheet *sheet)
{
  const SpRect any = { 0, 0, SP_SMALL_CHART_WIDTH, SP_SMALL_CHART_HEIGHT };
  double bottom = INFINITY, top = -INFINITY;
  for (guint i = 0; i < sheet->charts->n; i++) {
    g_autoptr (SpPlot) plot = plot_of (sheet, sheet->charts->conditions[i], &any);
    const SpAxis *levels = sp_plot_level_axis (plot);
    bottom = MIN (bottom, levels->from);
    top = MAX (top, levels->to);
  }
  sheet->bottom_dbm = bottom;
  sheet->top_dbm = top;
}

/* ---- one chart ---- */

/* "room +3.7, U 1.0 dB", or without U where there is none or little space. (transfer full) */
static char *
room_text (const SpConditionFindings *c, gboolean with_u)
{
  g_autofree char *margin = sp_words_deciding_margin (c, SP_HAND_SCREEN);
  const SpEmission *deciding = sp_findings_deciding (c);
  double u_db = deciding && !isnan (sp_emission_room_db (deciding)) ? sp_emission_deciding_expanded_db (deciding) : NAN;
  g_autofree char *u = sp_words_number (u_db, 1, SP_HAND_SCREEN);
  if (!*margin || !isfinite (u_db))
    return g_steal_pointer (&margin);
  return with_u ? g_strdup_printf (_ ("room %s, U %s\342\200\257dB"), margin, u) : g_steal_pointer (&margin);
}

/* Number, name, verdict and room; where they lack the space the verdict's word goes first, then the room's U: a name's end is what differs. */
static void
draw_head (Sheet *sheet, guint condition, const SpRect *place)
{
  SpPen *pen = sheet->pen;
  const SpConditionFindings *c = &sheet->findings->conditions[condition];
  gboolean reference = (int) condition == sheet->charts->reference;
  g_autofree char *name = sp_name_short (sheet->findings, condition);
  const char *word = sp_words_verdict (c->verdict);
  double base = place->y + 14, x = place->x;
  g_autofree char *number = g_strdup_printf ("%u", sheet->charts->row ? sheet->charts->row[condition] : condition + 1);
  g_autofree char *whole = room_text (c, TRUE), *bare = room_text (c, FALSE);
  double fixed = sp_pen_text_width (pen, SP_TEXT_BOLD, number) + 5 + sp_pen_text_width (pen, SP_TEXT_BOLD, name) + 24
                 + (reference ? 16 : 0);
  double said = sp_pen_text_width (pen, SP_TEXT_SMALL, word) + 4, room = sp_pen_text_width (pen, SP_TEXT_SMALL, whole) + 8;
  gboolean has_word = fixed + said + room <= place->width, has_u = has_word || fixed + room <= place->width;
  double taken = sp_pen_text (pen, place->x + place->width, base, SP_TEXT_SMALL, &pen->palette->ink, 1, has_u ? whole : bare);
  x += sp_pen_text (pen, x, base, SP_TEXT_BOLD, &pen->palette->soft, 0, number) + 5;
  x += sp_pen_text_fit (pen, x, base, SP_TEXT_BOLD, &pen->palette->ink, MAX (24, place->x + place->width - taken - 32 - x), name) + 8;
  if (reference) {
    sp_mark_reference (pen, x + 5, base - 4);
    x += 16;
  }
  sp_glyph_verdict (pen, x + 6, base - 4, 12, c->verdict);
  if (has_word)
    sp_pen_text (pen, x + 16, base, SP_TEXT_SMALL, &pen->palette->ink, 0, word);
}

/* The reference's levels as dashes at its harmonics, and the first differences. */
static void
draw_against (Sheet *sheet, SpPlot *plot, guint condition, const SpRect *inside)
{
  SpPen *pen = sheet->pen;
  const SpCompareRow *row = &sheet->charts->comparison->rows[condition],
                     *reference = &sheet->charts->comparison->rows[sheet->charts->reference];
  const SpAxis *x_axis = sp_plot_frequency_axis (plot), *y_axis = sp_plot_level_axis (plot);
  g_autoptr (GString) text = g_string_new (NULL);
  guint told = 0;
  sp_pen_colour (pen, &pen->palette->ink, 1);
  for (guint order = 2; order <= sheet->most_order; order++) {
    const SpEmission *there = sp_compare_harmonic (reference, order);
    double x = sp_axis_at (x_axis, order * row->found->fundamental_hz), over_db = sp_compare_over_db (row, reference, order);
    if (there && there->detected) {
      double y = sp_axis_at (y_axis, there->level_dbm);
      cairo_save (pen->cr);
      sp_pen_dash (pen, &(SpDash){ 2, { 4, 3 } }, 0);
      sp_pen_line (pen, x - REFERENCE, y, x + REFERENCE, y, 1.2);
      cairo_restore (pen->cr);
    }
    if (isnan (over_db) || told++ >= DIFFERENCES)
      continue;
    g_autofree char *name = sp_name_emission (sp_compare_harmonic (row, order)), *over = sp_words_signed (over_db, 1, SP_HAND_SCREEN);
    g_string_append_printf (text, "%s%s %s", text->len ? "   " : "", name, over);
  }
  g_autofree char *said = text->len ? g_strdup_printf ("%s\342\200\257dB", text->str) : g_strdup (_ ("nothing seen to compare"));
  sp_pen_text (pen, inside->x + inside->width - 2, inside->y + 12, SP_TEXT_TINY, &pen->palette->soft, 1, said);
}

static void
draw_levels (Sheet *sheet, SpPlot *plot, const SpRect *inside)
{
  SpTick ticks[SP_TICKS_MAX];
  const SpAxis *axis = sp_plot_level_axis (plot);
  guint n = axis->scale->ticks (axis->from, axis->to, (guint) MAX (3, inside->height / 14), ticks);
  for (guint i = 0; i < n; i++) {
    g_autofree char *text = sp_words_signed (ticks[i].value, 0, SP_HAND_SCREEN);
    sp_pen_text (sheet->pen, inside->x - 5, sp_axis_at (axis, ticks[i].value) + 4, SP_TEXT_TINY, &sheet->pen->palette->ink, 1, text);
  }
}

static void
draw_orders (Sheet *sheet, SpPlot *plot, guint condition, const SpRect *inside)
{
  const SpAxis *axis = sp_plot_frequency_axis (plot);
  double f0 = sheet->findings->conditions[condition].fundamental_hz;
  for (guint order = 1; f0 > 0 && order <= sheet->most_order; order++) {
    g_autofree char *text = g_strdup_printf ("%u", order);
    sp_pen_text (sheet->pen, sp_axis_at (axis, order * f0), inside->y + inside->height + 13, SP_TEXT_TINY, &sheet->pen->palette->ink, 0.5,
                 text);
  }
}

static void
draw_chart (Sheet *sheet, guint i, const SpRect *rect)
{
  SpPen *pen = sheet->pen;
  guint condition = sheet->charts->conditions[i], columns = sp_small_charts_columns (rect->width, sheet->charts->n);
  SpRect place = sp_small_charts_place (sheet->charts, rect, i),
         inside = { place.x, place.y + HEAD, place.width, place.height - HEAD - 10 };
  if ((int) condition == sheet->charts->chosen) {
    SpRect wash = { place.x - 4, place.y, place.width + 8, place.height - 4 };
    sp_pen_colour (pen, &pen->palette->floor_edge, 0.15);
    sp_pen_box (pen, &wash);
  }
  draw_head (sheet, condition, &place);
  g_autoptr (SpPlot) plot = plot_of (sheet, condition, &inside);
  sp_plot_draw_ground (plot, pen);
  sp_plot_draw_traces (plot, pen);
  if (sheet->charts->reference >= 0 && (int) condition != sheet->charts->reference)
    draw_against (sheet, plot, condition, &inside);
  sp_plot_draw_marks (plot, pen);
  if (i % columns == 0)
    draw_levels (sheet, plot, &inside);
  if (i + columns >= sheet->charts->n)
    draw_orders (sheet, plot, condition, &inside);
}

void
sp_small_charts_draw (SpPen *pen, const SpSmallCharts *charts, const SpRect *rect)
{
  const SpFindings *findings = charts->comparison->findings;
  g_autofree gboolean *hidden = g_new (gboolean, findings->n + 1);
  Sheet sheet = { pen, charts, findings, hidden, MAX (charts->comparison->most_order, 2), NAN, NAN };
  for (guint i = 0; i < findings->n; i++)
    hidden[i] = TRUE;
  if (charts->n == 0)
    return;
  cairo_save (pen->cr);
  find_levels (&sheet);
  for (guint i = 0; i < charts->n; i++)
    draw_chart (&sheet, i, rect);
  cairo_restore (pen->cr);
}
