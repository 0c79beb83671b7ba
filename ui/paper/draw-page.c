/* draw-page.c - draws one page of many, on a screen or marked up for a PDF */
#include "ui/paper/layout.h"

#include <errno.h>

gboolean
sp_pages_draw (const SpPages *pages, guint i, cairo_t *cr)
{
  const Page *page = g_ptr_array_index (pages->pages, i);
  double width, height;
  sp_pages_sheet (pages->size, &width, &height);
  cairo_save (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_fill (cr);
  for (guint k = 0; k < page->items->len; k++)
    draw_item (cr, pages->findings, &g_array_index (page->items, Item, k));
  cairo_restore (cr);
  return errno != ENOMEM && cairo_status (cr) == CAIRO_STATUS_SUCCESS;
}

/* Which rows and tables stand open while the items of a page are drawn. */
typedef struct {
  guint table, row;
} Open;

static void
go_to_row (cairo_t *cr, Open *open, guint table, guint row)
{
  if (open->row && (open->row != row || open->table != table))
    cairo_tag_end (cr, "TR");
  if (open->table && open->table != table)
    cairo_tag_end (cr, "Table");
  if (table && open->table != table)
    cairo_tag_begin (cr, "Table", NULL);
  if (row && (open->row != row || open->table != table))
    cairo_tag_begin (cr, "TR", NULL);
  *open = (Open){ table, row };
}

static void
draw_tagged (const SpPages *pages, cairo_t *cr, const Item *item)
{
  g_autofree char *to = item->link ? g_strdup_printf ("dest='%s'", item->link) : NULL;
  if (item->tag)
    cairo_tag_begin (cr, item->tag, NULL);
  if (to)
    cairo_tag_begin (cr, CAIRO_TAG_LINK, to);
  draw_item (cr, pages->findings, item);
  if (to)
    cairo_tag_end (cr, CAIRO_TAG_LINK);
  if (item->tag)
    cairo_tag_end (cr, item->tag);
}

gboolean
sp_pages_draw_tagged (const SpPages *pages, guint i, cairo_t *cr)
{
  const Page *page = g_ptr_array_index (pages->pages, i);
  Open open = { 0, 0 };
  cairo_save (cr);
  /* No white sheet: paper has its own, and where a fill covers a page of whole points, cairo (1.16) forgets all that was drawn before, the tags that are open
   * too. */
  if (page->anchor) {
    g_autofree char *name = g_strdup_printf ("name='%s' internal", page->anchor);
    cairo_tag_begin (cr, CAIRO_TAG_DEST, name);
    cairo_tag_end (cr, CAIRO_TAG_DEST);
  }
  for (guint k = 0; k < page->items->len; k++) {
    const Item *item = &g_array_index (page->items, Item, k);
    if (item->tag) /* signs and lines stand within whatever row is open */
      go_to_row (cr, &open, item->table, item->row);
    draw_tagged (pages, cr, item);
  }
  go_to_row (cr, &open, 0, 0);
  cairo_restore (cr);
  return errno != ENOMEM && cairo_status (cr) == CAIRO_STATUS_SUCCESS;
}
