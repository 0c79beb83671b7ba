/* fog.c - the fog between a limit and a floor above it, where nothing could have been seen */
#include "ui/figure/pen/fog.h"

#include <math.h>

#define DOT_EVERY 11
#define DOT_ROW 8

void
sp_fog (SpPen *pen, const SpRect *rect)
{
  const SpPalette *palette = pen->palette;
  sp_pen_colour (pen, &palette->sheet, 1); /* the paper first, with everything drawn on it */
  cairo_paint (pen->cr);
  sp_pen_colour (pen, &palette->fog, 1);
  cairo_paint (pen->cr);
  sp_pen_colour (pen, &palette->fog_ink, 0.3);
  for (int row = (int) floor (rect->y / DOT_ROW); row * DOT_ROW < rect->y + rect->height; row++)
    for (int dot = (int) floor (rect->x / DOT_EVERY); dot * DOT_EVERY < rect->x + rect->width; dot++)
      cairo_rectangle (pen->cr, dot * DOT_EVERY + (row & 1) * DOT_EVERY / 2.0, row * DOT_ROW + 3, 1.1, 1.1);
  cairo_fill (pen->cr);
}
