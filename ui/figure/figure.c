/* figure.c - lays out and draws a whole figure */
#include "ui/figure/figure.h"

#include <math.h>

#define INSET 24
#define GUTTER 30
#define LEAST_FOOT 132 /* three cells of the title block */

SpFigureLayout
sp_figure_layout (double width, double height)
{
  gboolean narrow = width < 1300;
  double inset = width < 900 ? 14 : INSET, gutter = narrow ? 22 : GUTTER;
  double radios = CLAMP (width * 0.172, 196, 270), title = CLAMP (width * 0.225, 200, 350);
  double top = inset - 4, inner = width - 2 * inset;
  guint rows = (guint) CLAMP ((height - 440) / 70, 3, 6);
  double ledger = MAX (sp_ledger_height (rows), LEAST_FOOT), foot = height - inset + 8 - ledger, stair = CLAMP (height * 0.215, 120, 210);
  double said = 42; /* two lines of the statement */
  double right = inset + radios + gutter, rest = inner - radios - gutter;
  return (SpFigureLayout){
    .radios = { inset, top, radios, foot - 14 - top },
    .staircase = { right, top, rest, stair },
    .statement = { right, top + stair + 4, rest, said },
    .plot = { right, top + stair + said + 8, rest, foot - 16 - top - stair - said - 8 },
    .ledger = { inset, foot, inner - title - gutter, ledger },
    .title = { inset + inner - title, foot + 4, title, CLAMP (ledger - 8, LEAST_FOOT - 2, 150) },
  };
}

static void
draw_hairlines (SpPen *pen, const SpFigureLayout *layout, double width)
{
  double x = layout->staircase.x - 12, y = layout->ledger.y - 12, inset = layout->radios.x;
  sp_pen_colour (pen, &pen->palette->soft, 0.35);
  sp_pen_line (pen, x, layout->radios.y, x, y - 8, 1);
  sp_pen_line (pen, inset, y, width - inset, y, 1);
}

gboolean
sp_figure_draw (cairo_t *cr, double width, double height, const SpFindings *findings, const SpView *view)
{
  cairo_save (cr);
  g_autoptr (SpPen) pen = sp_pen_new (cr, view->dark, view->font);
  SpFigureLayout layout = sp_figure_layout (width, height);
  SpRect sheet = { 0, 0, width, height };
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  sp_pen_box (pen, &sheet);
  draw_hairlines (pen, &layout, width);
  sp_radios_draw (pen, findings, view, &layout.radios);
  sp_staircase_draw (pen, findings, view, &layout.staircase);
  sp_statement_draw (pen, findings, view, &layout.statement);
  g_autoptr (SpPlot) plot = sp_plot_new (pen, findings, view, &layout.plot);
  sp_plot_draw (plot, pen);
  sp_ledger_draw (pen, findings, view, &layout.ledger);
  sp_title_block_draw (pen, findings, view, &layout.title);
  cairo_restore (cr);
  return !sp_pen_failed (pen);
}
