/* pictures.c - lays out and draws a picture with what is said of it */
#include "ui/paper/layout.h"

#include "ui/picture/coder.h"

#define PIXEL 0.75 /* points at least, of a small picture: 96 to an inch, as screens show them */

void
lay_picture (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece)
{
  const SpPicture *picture = block->picture;
  double best = block->best / (1 + 0.5 * layouter->tight); /* where a page must hold all, a letterhead gives way before words do */
  double scale = fmin (fmin (width / picture->width, best / picture->height), PIXEL);
  Item *item = piece_add (piece, ITEM_PICTURE, 0, 0, picture->width * scale, picture->height * scale);
  item->picture = picture;
  item->alt = block->text;
  item->tag = "Figure";
  piece->height = picture->height * scale;
  if (block->runs->len == 0)
    return;
  Item *caption = piece_text (piece, type_runs (layouter, TYPE_CAPTION, block->runs, width), 0, piece->height + 2, "Caption");
  piece->height += caption->rect.height + 2;
}

void
draw_picture (cairo_t *cr, const Item *item)
{
  cairo_surface_t *surface = sp_picture_surface (item->picture);
  cairo_translate (cr, item->rect.x, item->rect.y);
  cairo_scale (cr, item->rect.width / item->picture->width, item->rect.height / item->picture->height);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_rectangle (cr, 0, 0, item->picture->width, item->picture->height); /* to paint would be to cover the page: see draw-page.c */
  cairo_fill (cr);
  cairo_surface_destroy (surface);
}
