/* few-colours.h - a picture of few inks as a small PNG
 *
 * cairo writes three bytes a pixel. A chart has some inks and the shades at their edges: with a palette of 64 colours it takes a fourth of that, and a
 * workbook with a chart for each radio stays small. The most frequent colours keep their value; a shade beyond those takes the nearest one.
 */
#pragma once

#include <cairo.h>
#include <glib.h>

/* `surface`: an image in CAIRO_FORMAT_RGB24. Equal pixels give equal bytes. NULL: there is no memory for it. (transfer full) */
GBytes *sp_png_of_few_colours (cairo_surface_t *surface);
