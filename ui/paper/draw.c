/* draw.c - draws one item of a page */
#include "ui/paper/layout.h"

#include "ui/figure/pen/glyph.h"

#include <math.h>

#define ROOM_DB 20.0 /* a number line reaches so far to either side of the limit */

static const SpColour black = { 0, 0, 0 };

static void
ink (cairo_t *cr)
{
  cairo_set_source_rgb (cr, 0, 0, 0);
}

static void
line (cairo_t *cr, double x1, double y1, double x2, double y2, double width)
{
  cairo_set_line_width (cr, width);
  cairo_move_to (cr, x1, y1);
  cairo_line_to (cr, x2, y2);
  cairo_stroke (cr);
}

/* A point with U as whisker, under the limit to the left; not seen, dotted up to a bar; beyond, an arrow. */
static void
draw_room (cairo_t *cr, const Item *item)
{
  const SpColour *limit = &sp_palette_paper (TRUE)->limit;
  const SpRect *r = &item->rect;
  double y = r->y + r->height / 2, middle = r->x + r->width / 2, half = r->width / 2;
  ink (cr);
  if (!item->at_least)
    line (cr, r->x, y, r->x + r->width, y, 0.4);
  cairo_set_source_rgb (cr, limit->red, limit->green, limit->blue);
  line (cr, middle, y - 5, middle, y + 5, 1.5);
  ink (cr);
  if (isnan (item->value))
    return;
  double at = middle - CLAMP (item->value / ROOM_DB, -1, 1) * half, reach = fmax (item->expanded, 0) / ROOM_DB * half;
  if (item->at_least) {
    const double dots[] = { 1, 2 };
    cairo_save (cr);
    cairo_set_dash (cr, dots, 2, 0);
    line (cr, r->x, y, at, y, 1);
    cairo_restore (cr);
    line (cr, at, y - 4, at, y + 4, 1);
  } else if (fabs (item->value) > ROOM_DB) {
    double out = item->value > 0 ? -1 : 1;
    cairo_move_to (cr, at + out, y);
    cairo_rel_line_to (cr, -out * 5, -2.5);
    cairo_rel_line_to (cr, 0, 5);
    cairo_close_path (cr);
    cairo_fill (cr);
  } else {
    line (cr, fmax (at - reach, r->x), y, fmin (at + reach, r->x + r->width), y, 1.2);
    cairo_arc (cr, at, y, 2, 0, 2 * G_PI);
    cairo_fill (cr);
  }
}

static void
draw_text (cairo_t *cr, const Item *item)
{
  ink (cr);
  cairo_move_to (cr, item->rect.x, item->rect.y);
  pango_cairo_show_layout (cr, item->layout);
}

static void
draw_sign (cairo_t *cr, const Item *item)
{
  g_autoptr (SpPen) pen = sp_pen_new (cr, FALSE, NULL);
  pen->palette = sp_palette_paper (TRUE);
  double x = item->rect.x + item->rect.width / 2, y = item->rect.y + item->rect.height / 2;
  if (item->kind == ITEM_VERDICT)
    sp_glyph_verdict (pen, x, y, item->rect.width, item->verdict);
  else
    sp_glyph_origin (pen, x, y, 2.8, item->origin, &black);
}

void
draw_item (cairo_t *cr, const SpFindings *findings, const Item *item)
{
  cairo_save (cr);
  cairo_new_path (cr);
  switch (item->kind) {
  case ITEM_TEXT: draw_text (cr, item); break;
  case ITEM_LINE:
    ink (cr);
    line (cr, item->rect.x, item->rect.y, item->rect.x + item->rect.width, item->rect.y + item->rect.height, item->thick);
    break;
  case ITEM_VERDICT:
  case ITEM_ORIGIN: draw_sign (cr, item); break;
  case ITEM_ROOM: draw_room (cr, item); break;
  case ITEM_SHARE:
    ink (cr);
    cairo_rectangle (cr, item->rect.x, item->rect.y + item->rect.height / 2 - 2.5, fmax (item->rect.width * item->value, 0.4), 5);
    cairo_fill (cr);
    break;
  case ITEM_FIGURE: draw_figure (cr, findings, item); break;
  case ITEM_PICTURE: draw_picture (cr, item); break;
  }
  cairo_restore (cr);
}
