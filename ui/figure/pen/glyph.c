/* glyph.c - the signs of verdicts and of origins, drawn at any size */
#include "ui/figure/pen/glyph.h"

#include <math.h>

static void
bar (SpPen *pen, double x, double y, double size)
{
  sp_pen_line (pen, x - size / 2, y, x + size / 2, y, MAX (1.5, size / 9));
}

static void
complies (SpPen *pen, double x, double y, double size)
{
  bar (pen, x, y - size * 0.2, size);
  cairo_arc (pen->cr, x, y - size * 0.2, size * 0.37, 0, G_PI);
  cairo_fill (pen->cr);
}

static void
exceeds (SpPen *pen, double x, double y, double size)
{
  cairo_move_to (pen->cr, x, y - size * 0.52);
  cairo_line_to (pen->cr, x + size * 0.36, y + size * 0.4);
  cairo_line_to (pen->cr, x - size * 0.36, y + size * 0.4);
  cairo_close_path (pen->cr);
  cairo_fill (pen->cr);
  bar (pen, x, y - size * 0.02, size);
}

static void
inconclusive (SpPen *pen, double x, double y, double size)
{
  double half = size * 0.34, drop = size * 0.11, radius = (half * half + drop * drop) / (2 * drop), angle = asin (half / radius);
  cairo_new_path (pen->cr);
  double height = size * 0.34;
  cairo_save (pen->cr);
  cairo_translate (pen->cr, x, y);
  cairo_scale (pen->cr, 1, height / drop);
  cairo_arc (pen->cr, 0, radius - drop, radius, -G_PI / 2 - angle, -G_PI / 2 + angle);
  cairo_arc (pen->cr, 0, drop - radius, radius, G_PI / 2 - angle, G_PI / 2 + angle);
  cairo_close_path (pen->cr);
  cairo_restore (pen->cr);
  cairo_fill (pen->cr);
  sp_pen_colour (pen, &pen->palette->sheet, 1); /* the cut */
  sp_pen_line (pen, x - half, y, x + half, y, MAX (3.4, size / 4));
  sp_pen_colour (pen, &pen->palette->verdict[SP_VERDICT_INCONCLUSIVE], 1);
  bar (pen, x, y, size);
}

static void
dotted_arc (SpPen *pen, double x, double y, double radius, double dot)
{
  const guint dots = 6;
  for (guint i = 0; i < dots; i++) {
    double angle = G_PI * (i + 0.5) / dots;
    cairo_arc (pen->cr, x + radius * cos (angle), y + radius * sin (angle), dot, 0, 2 * G_PI);
    cairo_fill (pen->cr);
  }
}

void
sp_glyph_verdict (SpPen *pen, double x, double y, double size, SpVerdict verdict)
{
  cairo_save (pen->cr);
  sp_pen_colour (pen, &pen->palette->verdict[verdict], 1);
  cairo_new_path (pen->cr);
  switch (verdict) {
  case SP_VERDICT_COMPLIES: complies (pen, x, y, size); break;
  case SP_VERDICT_EXCEEDS: exceeds (pen, x, y, size); break;
  case SP_VERDICT_INCONCLUSIVE: inconclusive (pen, x, y, size); break;
  case SP_VERDICT_NOT_PROVEN:
    bar (pen, x, y - size * 0.2, size);
    dotted_arc (pen, x, y - size * 0.12, size * 0.38, MAX (0.8, size * 0.062));
    break;
  case SP_VERDICT_NO_LIMIT:
    cairo_set_line_width (pen->cr, MAX (1.2, size / 10));
    cairo_arc (pen->cr, x, y - size * 0.16, size * 0.34, G_PI * 0.04, G_PI * 0.96);
    cairo_stroke (pen->cr);
    break;
  }
  cairo_restore (pen->cr);
}

static void
square (SpPen *pen, double x, double y, double r)
{
  cairo_rectangle (pen->cr, x - r, y - r, 2 * r, 2 * r);
}

static void
open_square (SpPen *pen, double x, double y, double r, const SpColour *ink)
{
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  square (pen, x, y, r);
  cairo_fill (pen->cr);
  sp_pen_colour (pen, ink, 1);
  cairo_set_line_width (pen->cr, 1.4);
  square (pen, x, y, r - 0.3);
  cairo_stroke (pen->cr);
}

/* IEC 60617: a triangle that stands on its mast by its point. Somewhat larger than the other signs, for it is the thinnest. */
static void
antenna (SpPen *pen, double x, double y, double r, const SpColour *ink)
{
  double foot = y + r * 0.55, top = y - r * 1.25, half = r * 1.35;
  cairo_move_to (pen->cr, x, foot);
  cairo_line_to (pen->cr, x - half, top);
  cairo_line_to (pen->cr, x + half, top);
  cairo_close_path (pen->cr);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_fill_preserve (pen->cr);
  sp_pen_colour (pen, ink, 1);
  cairo_move_to (pen->cr, x, foot);
  cairo_line_to (pen->cr, x, y + r * 1.5);
  cairo_set_line_width (pen->cr, 1.2);
  cairo_stroke (pen->cr);
}

void
sp_glyph_origin (SpPen *pen, double x, double y, double radius, SpOrigin origin, const SpColour *ink)
{
  cairo_save (pen->cr);
  cairo_new_path (pen->cr);
  sp_pen_colour (pen, ink, 1);
  switch (origin) {
  case SP_ORIGIN_NONE: break;
  case SP_ORIGIN_RADIO:
    cairo_arc (pen->cr, x, y, radius, 0, 2 * G_PI);
    cairo_fill (pen->cr);
    break;
  case SP_ORIGIN_ANALYZER: open_square (pen, x, y, radius, ink); break;
  case SP_ORIGIN_MIXED:
    open_square (pen, x, y, radius, ink);
    cairo_rectangle (pen->cr, x - radius, y, 2 * radius, radius);
    cairo_fill (pen->cr);
    break;
  case SP_ORIGIN_AMBIENT: antenna (pen, x, y, radius, ink); break;
  case SP_ORIGIN_UNTESTED:
    sp_pen_colour (pen, &pen->palette->sheet, 1);
    cairo_arc (pen->cr, x, y, radius * 0.85, 0, 2 * G_PI);
    cairo_fill (pen->cr);
    sp_pen_colour (pen, ink, 1);
    cairo_set_line_width (pen->cr, 1.3);
    cairo_arc (pen->cr, x, y, radius * 0.75, 0, 2 * G_PI);
    cairo_stroke (pen->cr);
    break;
  }
  cairo_restore (pen->cr);
}
