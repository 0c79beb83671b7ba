/* blank.c - draws the chart of a bench without a sweep */
#include "ui/figure/blank.h"

#include "ui/figure/pen/fog.h"

#define TEAR 7 /* between the teeth of the torn edge */
#define DEPTH 6

/* The same teeth each time. */
static double
tooth (guint i)
{
  return (i * 37 % 11) / 10.0 * DEPTH;
}

static void
torn_path (SpPen *pen, const SpRect *area)
{
  cairo_new_path (pen->cr);
  for (guint i = 0; i * TEAR < area->width; i++)
    cairo_line_to (pen->cr, area->x + i * TEAR, area->y + tooth (i));
  cairo_line_to (pen->cr, area->x + area->width, area->y + DEPTH / 2.0);
}

void
sp_blank_draw (SpPen *pen, const SpRect *rect)
{
  SpRect area = { rect->x + 40, rect->y + 8, rect->width - 44, rect->height - 28 };
  double foot = area.y + area.height, right = area.x + area.width;
  if (area.width < 40 || area.height < 20)
    return;
  cairo_save (pen->cr);
  torn_path (pen, &area);
  cairo_line_to (pen->cr, right, foot);
  cairo_line_to (pen->cr, area.x, foot);
  cairo_close_path (pen->cr);
  cairo_clip (pen->cr);
  sp_fog (pen, &area);
  cairo_restore (pen->cr);
  cairo_save (pen->cr);
  torn_path (pen, &area);
  sp_pen_colour (pen, &pen->palette->ink, 0.7);
  cairo_set_line_width (pen->cr, 1);
  cairo_stroke (pen->cr);
  sp_pen_colour (pen, &pen->palette->ink, 0.8);
  sp_pen_line (pen, area.x, area.y, area.x, foot, 1);
  sp_pen_line (pen, area.x, foot, right, foot, 1);
  sp_pen_text (pen, area.x - 8, area.y + 10, SP_TEXT_SMALL, &pen->palette->soft, 1, "dBm");
  sp_pen_text (pen, right, foot + 15, SP_TEXT_SMALL, &pen->palette->soft, 1, "MHz");
  cairo_restore (pen->cr);
}
