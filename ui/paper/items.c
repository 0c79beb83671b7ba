/* items.c - pieces of a page: items in lists */
#include "ui/paper/layout.h"

#include <math.h>

void
item_clear (void *data)
{
  Item *item = data;
  g_clear_object (&item->layout);
  g_clear_pointer (&item->link, g_free);
}

void
piece_init (Piece *piece)
{
  piece->items = g_array_new (FALSE, TRUE, sizeof (Item));
  g_array_set_clear_func (piece->items, item_clear);
  piece->height = 0;
}

void
piece_clear (Piece *piece)
{
  g_clear_pointer (&piece->items, g_array_unref);
}

Item *
piece_add (Piece *piece, ItemKind kind, double x, double y, double width, double height)
{
  Item item = { .kind = kind, .rect = { x, y, width, height }, .value = NAN, .expanded = NAN, .axes = FREE_AXES };
  g_array_append_val (piece->items, item);
  return &g_array_index (piece->items, Item, piece->items->len - 1);
}

Item *
piece_text (Piece *piece, PangoLayout *layout, double x, double y, const char *tag)
{
  Item *item = piece_add (piece, ITEM_TEXT, x, y, type_width (layout), type_height (layout));
  item->layout = layout;
  item->tag = tag;
  return item;
}

Item *
piece_text_on (Piece *piece, PangoLayout *layout, double x, double baseline, const char *tag)
{
  return piece_text (piece, layout, x, baseline - type_baseline (layout), tag);
}

void
piece_line (Piece *piece, double x1, double y1, double x2, double y2, double thick)
{
  piece_add (piece, ITEM_LINE, x1, y1, x2 - x1, y2 - y1)->thick = thick;
}

void
piece_copy (const Piece *piece, GArray *into, double x, double y)
{
  for (guint i = 0; i < piece->items->len; i++) {
    Item item = g_array_index (piece->items, Item, i);
    item.rect.x += x;
    item.rect.y += y;
    item.link = g_strdup (item.link);
    if (item.layout)
      g_object_ref (item.layout);
    g_array_append_val (into, item);
  }
}

void
piece_move (Piece *piece, GArray *into, double x, double y)
{
  for (guint i = 0; i < piece->items->len; i++) {
    Item item = g_array_index (piece->items, Item, i);
    item.rect.x += x;
    item.rect.y += y;
    g_array_append_val (into, item);
  }
  g_array_set_clear_func (piece->items, NULL); /* the other list has them */
  g_array_set_size (piece->items, 0);
  g_array_set_clear_func (piece->items, item_clear);
}
