/* range-columns.c - each harmonic's floor and limit at the point, on the level axis of the figure beside it */
#include "ui/figure/range-private.h"

#include <math.h>

#include "ui/figure/pen/fog.h"
#include "ui/figure/pen/glyph.h"

#define TICK_EVERY 6
#define TICK 5

static void
draw_blind (SpRangeDrawing *d, const SpRect *column, double floor, double limit)
{
  SpRect blind = { column->x, MAX (floor, column->y), column->width, MIN (limit, column->y + column->height) - MAX (floor, column->y) };
  if (blind.height <= 0)
    return;
  cairo_save (d->pen->cr);
  cairo_new_path (d->pen->cr);
  cairo_rectangle (d->pen->cr, blind.x, blind.y, blind.width, blind.height);
  cairo_clip (d->pen->cr);
  sp_fog (d->pen, &blind);
  cairo_restore (d->pen->cr);
}

static void
draw_limit (SpRangeDrawing *d, const SpRect *column, double floor, double limit)
{
  sp_pen_colour (d->pen, &d->pen->palette->limit, 1);
  sp_pen_line (d->pen, column->x, limit, column->x + column->width, limit, 2);
  if (floor < limit) /* fog lies on the forbidden side */
    return;
  cairo_set_line_width (d->pen->cr, 1);
  for (double x = column->x + 1; x + TICK * 0.7 < column->x + column->width; x += TICK_EVERY) {
    cairo_move_to (d->pen->cr, x, limit - 1);
    cairo_line_to (d->pen->cr, x + TICK * 0.7, limit - 1 - TICK);
  }
  cairo_stroke (d->pen->cr);
}

/* What 'not seen' would be worth there, as a verdict's glyph. */
static SpVerdict
worth (const SpOutlook *outlook)
{
  return isnan (outlook->missing_db) ? SP_VERDICT_NO_LIMIT : outlook->missing_db <= 0 ? SP_VERDICT_COMPLIES : SP_VERDICT_NOT_PROVEN;
}

static void
draw_head (SpRangeDrawing *d, const SpRect *column, guint i)
{
  double middle = column->x + column->width / 2;
  g_autofree char *order = g_strdup_printf ("%u", d->view->range->curves[i].order);
  sp_pen_text (d->pen, middle, column->y - 22, i == d->view->chosen ? SP_TEXT_BOLD : SP_TEXT_BODY, &d->pen->palette->ink, 0.5, order);
  if (d->view->outlook)
    sp_glyph_verdict (d->pen, middle, column->y - 10, 13, worth (&d->view->outlook[i]));
}

static void
draw_column (SpRangeDrawing *d, guint i)
{
  const SpRangeCurve *curve = &d->view->range->curves[i];
  const SpPalette *palette = d->pen->palette;
  SpRect column = { d->columns.x + i * d->column_width + 3, d->columns.y, d->column_width - 6, d->columns.height };
  double floor = sp_range_y (d, curve->floor_dbc[d->view->at]), limit = sp_range_y (d, curve->limit_dbc), bottom = column.y + column.height;
  cairo_save (d->pen->cr);
  cairo_new_path (d->pen->cr);
  cairo_rectangle (d->pen->cr, column.x, column.y, column.width, column.height);
  cairo_clip (d->pen->cr);
  SpRect under = { column.x, MAX (floor, column.y), column.width, MAX (0, bottom - MAX (floor, column.y)) };
  if (!isnan (floor)) {
    sp_pen_colour (d->pen, &palette->floor_edge, i == d->view->chosen ? 0.3 : 0.16);
    sp_pen_box (d->pen, &under);
  }
  if (!isnan (limit))
    draw_blind (d, &column, floor, limit);
  sp_pen_colour (d->pen, &palette->floor_edge, 1);
  if (!isnan (floor))
    sp_pen_line (d->pen, column.x, floor, column.x + column.width, floor, 2);
  if (!isnan (limit))
    draw_limit (d, &column, floor, limit);
  cairo_restore (d->pen->cr);
  draw_head (d, &column, i);
}

void
sp_range_draw_columns (SpRangeDrawing *d)
{
  for (guint i = 0; i < d->view->range->n_curves; i++)
    draw_column (d, i);
  sp_pen_colour (d->pen, &d->pen->palette->ink, 0.8);
  sp_pen_line (d->pen, d->columns.x, d->columns.y + d->columns.height, d->columns.x + d->columns.width, d->columns.y + d->columns.height,
               1);
}
