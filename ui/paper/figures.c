/* figures.c - lays out figures side by side, and draws each by the house's own plots, in ink on white */
#include "ui/paper/layout.h"

#include "core/findings/digest.h"
#include "ui/figure/deciding-margins.h"
#include "ui/figure/evidence.h"
#include "ui/figure/losscurve.h"
#include "ui/figure/panels.h"
#include "ui/figure/plot/plot.h"
#include "ui/figure/small-charts.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define SCALE 0.62 /* the plots' type is made for screens: 11.5 points become 7 */
#define ABREAST_GAP 12
#define TITLE_ROW 14

/* ---- views ---- */

static void
view_of (const SpFindings *findings, const SpPaperFigure *figure, const FigureAxes *axes, gboolean *hidden, guint *rows, SpView *view)
{
  double from_hz, to_hz;
  sp_view_init (view);
  view->condition = figure->condition;
  view->bottom_dbm = axes->bottom_dbm;
  view->top_dbm = axes->top_dbm;
  view->from_hz = axes->from_hz;
  view->to_hz = axes->to_hz;
  view->right = axes->right;
  view->hidden = hidden;
  view->row = figure->rows ? figure->rows : rows;
  view->all_sweeps = figure->all_sweeps;
  view->alone = figure->kind == SP_FIGURE_CHART;
  view->one_scale = !figure->all_sweeps;
  view->by_harmonic = figure->kind == SP_FIGURE_OVERLAY;
  for (guint i = 0; i < findings->n; i++) { /* its own number is 1: how many others there are does not show */
    hidden[i] = i != figure->condition;
    rows[i] = i < figure->condition ? i + 2 : i + 1;
  }
  rows[figure->condition] = 1;
  for (guint i = 0; i < figure->n_conditions; i++)
    hidden[figure->conditions[i]] = FALSE;
  if (!isnan (axes->from_hz))
    view->logarithmic = axes->logarithmic;
  else if (sp_digest_swept (&findings->conditions[figure->condition], &from_hz, &to_hz))
    view->logarithmic = !view->by_harmonic && to_hz >= FIGURE_LOGARITHMIC * from_hz;
}

/* A frame of hairlines that says why it is empty. */
static void
draw_nothing (SpPen *pen, const SpRect *rect)
{
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_line (pen, rect->x, rect->y, rect->x + rect->width, rect->y, 0.5);
  sp_pen_line (pen, rect->x, rect->y + rect->height, rect->x + rect->width, rect->y + rect->height, 0.5);
  sp_pen_line (pen, rect->x, rect->y, rect->x, rect->y + rect->height, 0.5);
  sp_pen_line (pen, rect->x + rect->width, rect->y, rect->x + rect->width, rect->y + rect->height, 0.5);
  sp_pen_text (pen, rect->x + rect->width / 2, rect->y + rect->height / 2, SP_TEXT_BODY, &pen->palette->ink, 0.5, _ ("No sweep was taken"));
}

static void
draw_plot (SpPen *pen, const SpFindings *findings, const SpPaperFigure *figure, const FigureAxes *axes, const SpRect *rect)
{
  g_autofree gboolean *hidden = g_new0 (gboolean, findings->n + 1);
  g_autofree guint *rows = g_new0 (guint, findings->n + 1);
  SpView view;
  if (findings->conditions[figure->condition].n_corrected == 0 && figure->n_conditions == 0) {
    draw_nothing (pen, rect);
    return;
  }
  view_of (findings, figure, axes, hidden, rows, &view);
  g_autoptr (SpPlot) plot = sp_plot_new (pen, findings, &view, rect);
  sp_plot_draw (plot, pen);
}

static void
draw_comparison (SpPen *pen, const SpFindings *findings, const SpPaperFigure *figure, const SpRect *rect)
{
  g_autoptr (SpComparison) comparison = sp_compare (findings);
  SpSmallCharts charts = { .comparison = comparison,
                           .conditions = figure->conditions,
                           .n = figure->n_conditions,
                           .reference = -1,
                           .chosen = -1,
                           .row = figure->rows };
  if (figure->kind == SP_FIGURE_SMALL)
    sp_small_charts_draw (pen, &charts, rect);
  else
    sp_deciding_margins_draw (pen, comparison, -1, rect);
}

double
small_charts_height (guint n, double width)
{
  return sp_small_charts_height (width / SCALE, n) * SCALE;
}

static void
draw_kind (SpPen *pen, const SpFindings *findings, const SpPaperFigure *figure, const FigureAxes *axes, const SpRect *rect)
{
  SpView view;
  switch (figure->kind) {
  case SP_FIGURE_CHART:
  case SP_FIGURE_OVERLAY: draw_plot (pen, findings, figure, axes, rect); break;
  case SP_FIGURE_EVIDENCE: sp_evidence_draw (pen, &findings->conditions[figure->condition].emissions[figure->emission], rect); break;
  case SP_FIGURE_STAIRCASE:
    sp_view_init (&view);
    view.condition = figure->condition;
    sp_staircase_draw (pen, findings, &view, rect);
    break;
  case SP_FIGURE_LOSS: sp_loss_curve_draw (pen, figure->chain, figure->stage, rect); break;
  case SP_FIGURE_MARGINS:
  case SP_FIGURE_SMALL: draw_comparison (pen, findings, figure, rect); break;
  }
}

gboolean
draw_figure_as (cairo_t *cr, const SpFindings *findings, const SpPaperFigure *figure, const FigureAxes *axes, const SpPalette *palette,
                double width, double height)
{
  cairo_save (cr);
  cairo_scale (cr, SCALE, SCALE);
  g_autoptr (SpPen) pen = sp_pen_new (cr, FALSE, NULL);
  pen->palette = palette;
  if (pen->vector) /* half a point of the paper, not of the plot: traces are the most of its bytes */
    pen->grain /= SCALE;
  SpRect rect = { 0, 0, width / SCALE, height / SCALE };
  draw_kind (pen, findings, figure, axes, &rect);
  cairo_restore (cr);
  return !sp_pen_failed (pen);
}

gboolean
draw_figure_alone (cairo_t *cr, const SpFindings *findings, const SpPaperFigure *figure, const FigureAxes *axes, double width,
                   double height)
{
  return draw_figure_as (cr, findings, figure, axes, sp_palette_paper (figure->kind != SP_FIGURE_OVERLAY), width, height);
}

gboolean
draw_figure (cairo_t *cr, const SpFindings *findings, const Item *item)
{
  cairo_save (cr);
  cairo_translate (cr, item->rect.x, item->rect.y);
  gboolean drawn = draw_figure_alone (cr, findings, item->figure, &item->axes, item->rect.width, item->rect.height);
  cairo_restore (cr);
  return drawn;
}

char *
figure_alt (const SpFindings *findings, const SpPaperFigure *figure)
{
  char *said = NULL;
  if (figure->kind == SP_FIGURE_EVIDENCE)
    said = sp_evidence_says (&findings->conditions[figure->condition].emissions[figure->emission]);
  else if (figure->kind == SP_FIGURE_LOSS)
    said = sp_loss_curve_says (figure->chain, figure->stage);
  return said ? said : g_strdup (figure->alt ? figure->alt : "");
}

static gboolean
has_area (const SpFindings *findings, const SpPaperFigure *figure)
{
  return figure->kind == SP_FIGURE_CHART && findings->conditions[figure->condition].n_corrected > 0;
}

/* From the lowest to the highest of several charts, so that they compare. */
void
share_levels (const SpFindings *findings, const GPtrArray *figures, double width, double height, FigureAxes *axes)
{
  g_autofree gboolean *hidden = g_new0 (gboolean, findings->n + 1);
  g_autofree guint *rows = g_new0 (guint, findings->n + 1);
  if (figures->len < 2)
    return;
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR, NULL);
  cairo_t *cr = cairo_create (surface);
  SpPen *pen = sp_pen_new (cr, FALSE, NULL);
  SpRect rect = { 0, 0, width / SCALE, height / SCALE };
  FigureAxes shared = *axes;
  for (guint i = 0; i < figures->len; i++) {
    const SpPaperFigure *figure = g_ptr_array_index (figures, i);
    SpView view;
    if (!has_area (findings, figure))
      continue;
    view_of (findings, figure, axes, hidden, rows, &view);
    g_autoptr (SpPlot) plot = sp_plot_new (pen, findings, &view, &rect);
    const SpAxis *levels = sp_plot_level_axis (plot);
    const SpRect *area = sp_plot_area (plot);
    shared.bottom_dbm = fmin (shared.bottom_dbm, levels->from);
    shared.top_dbm = fmax (shared.top_dbm, levels->to);
    shared.right = fmax (shared.right, rect.width - area->x - area->width);
  }
  *axes = shared;
  sp_pen_free (pen);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

void
share_rows (const SpFindings *findings, GArray *items)
{
  const SpPaperBlock *among = NULL;
  FigureAxes axes = FREE_AXES;
  for (guint i = 0; i < items->len; i++) {
    Item *item = &g_array_index (items, Item, i);
    if (item->kind != ITEM_FIGURE)
      continue;
    if (item->among != among) {
      among = item->among;
      axes = FREE_AXES;
      share_levels (findings, among->figures, item->rect.width, item->row_height, &axes);
    }
    item->axes = axes;
  }
}

/* ---- layout ---- */

static double
lay_titles (Layouter *layouter, const SpPaperFigure *figure, double x, double width, double y, Piece *piece)
{
  double taken = 0;
  if (!figure->title && !figure->aside)
    return 0;
  if (figure->aside) {
    PangoLayout *aside = type_text (layouter, TYPE_NOTE, figure->aside, 0);
    type_cut (aside, width * (figure->title ? 0.72 : 1));
    taken = type_width (aside) + 8;
    piece_text_on (piece, aside, x + width - taken + 8, y + 9, "P");
  }
  if (figure->title) {
    PangoLayout *title = type_text (layouter, TYPE_HEADING, figure->title, 0);
    type_cut (title, MAX (width - taken, 30));
    piece_text_on (piece, title, x, y + 9, "P");
  }
  return TITLE_ROW;
}

static void
lay_one (Layouter *layouter, const SpPaperFigure *figure, double x, double width, double height, Piece *piece)
{
  double title = lay_titles (layouter, figure, x, width, piece->height, piece);
  Item *item = piece_add (piece, ITEM_FIGURE, x, piece->height + title, width, height - title);
  item->figure = figure;
  item->tag = "Figure";
}

void
lay_figures (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece)
{
  guint n = block->figures->len, abreast = CLAMP (block->abreast, 1, MAX (n, 1));
  double height = block->least + (block->best - block->least) * layouter->stretch, part = (width - (abreast - 1) * ABREAST_GAP) / abreast;
  guint from = piece->items->len;
  layouter->by_stretch = TRUE;
  for (guint i = 0; i < n; i++) {
    if (i && i % abreast == 0)
      piece->height += height + 6;
    lay_one (layouter, g_ptr_array_index (block->figures, i), (i % abreast) * (part + ABREAST_GAP), part, height, piece);
  }
  piece->height += n ? height : 0;
  for (guint i = from; i < piece->items->len; i++) {
    g_array_index (piece->items, Item, i).among = block;
    g_array_index (piece->items, Item, i).row_height = height;
  }
  if (block->runs->len == 0)
    return;
  Item *caption = piece_text (piece, type_runs (layouter, TYPE_CAPTION, block->runs, width), 0, piece->height + 2, "Caption");
  piece->height += caption->rect.height + 2;
}
