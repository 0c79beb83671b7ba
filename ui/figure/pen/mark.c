/* mark.c - marks of the spectrum that the chart and the key to its marks share */
#include "ui/figure/pen/mark.h"

#include "ui/figure/pen/view.h"

#define HATCH 4 /* distance */
#define BAR 15
#define DIAMOND 3.6
#define SWATCH_WIDTH 3

void
sp_mark_swatch (SpPen *pen, double x, double y, double length, guint condition)
{
  cairo_save (pen->cr);
  sp_pen_dash (pen, sp_view_dash (pen->palette, condition), 0);
  sp_pen_colour (pen, &pen->palette->trace[sp_view_ink (condition)], 1);
  sp_pen_line (pen, x, y, x + length, y, SWATCH_WIDTH);
  cairo_restore (pen->cr);
}

static void
hatch (SpPen *pen, const SpRect *pipe)
{
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, pipe->x, pipe->y, pipe->width, pipe->height);
  cairo_clip (pen->cr);
  for (double y = pipe->y; y < pipe->y + pipe->height + pipe->width; y += HATCH) {
    cairo_move_to (pen->cr, pipe->x, y);
    cairo_line_to (pen->cr, pipe->x + pipe->width, y - pipe->width);
  }
  cairo_set_line_width (pen->cr, 0.8);
  cairo_stroke (pen->cr);
  cairo_restore (pen->cr);
}

void
sp_mark_pipe (SpPen *pen, const SpRect *pipe, const SpColour *ink, gboolean guessed)
{
  static const double dashed[] = { 3, 2 };
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  sp_pen_box (pen, pipe);
  sp_pen_colour (pen, ink, 1);
  hatch (pen, pipe);
  if (guessed)
    cairo_set_dash (pen->cr, dashed, 2, 0);
  cairo_rectangle (pen->cr, pipe->x, pipe->y, pipe->width, pipe->height);
  cairo_set_line_width (pen->cr, 1);
  cairo_stroke (pen->cr);
  cairo_set_dash (pen->cr, NULL, 0, 0);
}

void
sp_mark_most (SpPen *pen, double x, double y)
{
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_line (pen, x - BAR / 2.0, y, x + BAR / 2.0, y, 2.2);
}

static void
draw_diamond (SpPen *pen, double x, double y)
{
  cairo_move_to (pen->cr, x, y - DIAMOND);
  cairo_line_to (pen->cr, x + DIAMOND, y);
  cairo_line_to (pen->cr, x, y + DIAMOND);
  cairo_line_to (pen->cr, x - DIAMOND, y);
  cairo_close_path (pen->cr);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_fill_preserve (pen->cr);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  cairo_set_line_width (pen->cr, 1.2);
  cairo_stroke (pen->cr);
}

static void
draw_at_most (SpPen *pen, double x, double y)
{
  sp_pen_colour (pen, &pen->palette->ink, 1);
  sp_pen_line (pen, x - 5, y, x + 5, y, 1.2);
  sp_pen_line (pen, x, y, x, y + 7, 1.2);
  cairo_move_to (pen->cr, x - 2.5, y + 5);
  cairo_line_to (pen->cr, x + 2.5, y + 5);
  cairo_line_to (pen->cr, x, y + 9);
  cairo_close_path (pen->cr);
  cairo_fill (pen->cr);
}

void
sp_mark_step (SpPen *pen, double x, double y, gboolean seen)
{
  seen ? draw_diamond (pen, x, y) : draw_at_most (pen, x, y);
}

void
sp_mark_reference (SpPen *pen, double x, double y)
{
  sp_pen_colour (pen, &pen->palette->ink, 1);
  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, x, y, 3.5, 0, 2 * G_PI);
  cairo_set_line_width (pen->cr, 1.2);
  cairo_stroke (pen->cr);
  sp_pen_line (pen, x - 6, y, x + 6, y, 1);
  sp_pen_line (pen, x, y - 6, x, y + 6, 1);
}

void
sp_mark_pin (SpPen *pen, double x, double y)
{
  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, x, y, SP_PIN_RADIUS, 0, 2 * G_PI);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_fill_preserve (pen->cr);
  sp_pen_colour (pen, &pen->palette->ink, 1);
  cairo_set_line_width (pen->cr, 1.2);
  cairo_stroke (pen->cr);
}
