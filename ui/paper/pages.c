/* pages.c - blocks onto sheets: margins, running head and foot, where a page ends */
#include "ui/paper/layout.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define FIRST_BASE 36 /* of the running head, from the upper edge */
#define LAST_BASE 38  /* of the foot, from the lower one */
#define LAST_BASE_A5 31
#define HEAD_RULE 6.5  /* under the head's baseline */
#define CONTENT_TOP 54 /* first line of what stands on a page */
#define FOOT_ROOM 13   /* over the foot's baseline */
#define ROW_SPARE 0.5  /* that lay_table() leaves under a table's last row */
#define SPLIT 50       /* of a table that may be split: its head and two rows */
#define STRETCH_MOST 1.25
#define STRETCH_LEAST 0.35
#define TIGHTEST 2

static const struct {
  const char *name;
  double width, height, left, text;
} sheets[SP_N_PAPERS] = {
  [SP_PAPER_A4] = { "a4", 595.28, 841.89, 57, 480 },
  [SP_PAPER_LETTER] = { "letter", 612, 792, 57, 480 },
  [SP_PAPER_A5] = { "a5", 419.53, 595.28, 57, 324 },
};

const char *
sp_paper_size_name (SpPaperSize size)
{
  return sheets[size].name;
}

void
sp_pages_sheet (SpPaperSize size, double *width, double *height)
{
  *width = sheets[size].width;
  *height = sheets[size].height;
}

static double
foot_base (SpPaperSize size)
{
  return sheets[size].height - (size == SP_PAPER_A5 ? LAST_BASE_A5 : LAST_BASE);
}

SpRect
sp_pages_inside (const SpPages *pages)
{
  double top = FIRST_BASE - 10, bottom = foot_base (pages->size) + 4;
  return (SpRect){ sheets[pages->size].left, top, sheets[pages->size].text, bottom - top };
}

/* ---- flow ---- */

typedef struct Flow {
  SpPages *pages;
  const SpPaper *paper;
  Layouter layouter;
  Page *page;
  double y, top, bottom, left;
  const SpPaperBlock *before; /* the block above; NULL at a page's top */
  char *head;                 /* of the page that begins next */
  char *anchor;
  gboolean begins;
  gboolean first; /* no more than the first page */
} Flow;

static void
free_page (void *data)
{
  Page *page = data;
  g_array_unref (page->items);
  g_free (page->title);
  g_free (page->anchor);
  g_free (page);
}

static void
turn_page (Flow *flow)
{
  flow->page = g_new0 (Page, 1);
  flow->page->items = g_array_new (FALSE, TRUE, sizeof (Item));
  g_array_set_clear_func (flow->page->items, item_clear);
  flow->page->title = g_strdup (flow->head);
  flow->page->anchor = g_steal_pointer (&flow->anchor);
  flow->page->begins = flow->begins;
  flow->begins = FALSE;
  g_ptr_array_add (flow->pages->pages, flow->page);
  flow->y = flow->top;
  flow->before = NULL;
}

static double
gap (const Flow *flow, const SpPaperBlock *block)
{
  return flow->before ? gap_before (&flow->layouter, block, flow->before) : 0;
}

static void
put (Flow *flow, const SpPaperBlock *block, const Piece *piece)
{
  flow->y += gap (flow, block);
  piece_copy (piece, flow->page->items, flow->left, flow->y);
  flow->y += piece->height;
  flow->before = block;
}

static double
height_of (Flow *flow, const SpPaperBlock *block)
{
  return laid_block (&flow->layouter, block)->height;
}

/* A table goes on over the page as far as its rows have room; its heads are repeated. */
static void
put_table (Flow *flow, const SpPaperBlock *block)
{
  guint rows = block->table->cells->len / MAX (block->table->columns->len, 1), next = 0;
  do {
    double room = flow->bottom - flow->y - gap (flow, block);
    const Piece *whole = laid_block (&flow->layouter, block);
    if (next == 0 && whole->height + ROW_SPARE <= room) {
      put (flow, block, whole);
      return;
    }
    Piece piece;
    piece_init (&piece);
    lay_table (&flow->layouter, block->table, flow->layouter.width, next, room, &next, &piece);
    if (piece.height > room && flow->before) {
      next = 0;
      piece_clear (&piece);
      turn_page (flow);
      continue;
    }
    put (flow, block, &piece);
    piece_clear (&piece);
    if (next < rows)
      turn_page (flow);
  } while (next < rows);
}

/* With all that may not stand apart from it: what a heading heads, a sign's second sentence. */
static double
height_kept (Flow *flow, const GPtrArray *blocks, guint i, guint end)
{
  const SpPaperBlock *block = g_ptr_array_index (blocks, i);
  double height = height_of (flow, block);
  if (block->kind == SP_BLOCK_TABLE && height > (flow->bottom - flow->top) / 2)
    height = SPLIT; /* a long one goes on over the page */
  if (block->keep && i + 1 < end) {
    const SpPaperBlock *next = g_ptr_array_index (blocks, i + 1);
    height += gap_before (&flow->layouter, next, block) + height_kept (flow, blocks, i + 1, end);
  }
  return height;
}

/* ---- figures give way ---- */

static double
height_of_all (Flow *flow, const GPtrArray *blocks, guint from, guint end, double stretch)
{
  double height = 0;
  const SpPaperBlock *before = NULL;
  flow->layouter.stretch = stretch;
  for (guint i = from; i < end; i++) {
    const SpPaperBlock *block = g_ptr_array_index (blocks, i);
    height += (before ? gap_before (&flow->layouter, block, before) : 0) + height_of (flow, block)
              + (block->kind == SP_BLOCK_TITLE && before ? 6 : 0);
    before = block;
  }
  return height;
}

/* So that all of [from, end) stands on one page where it can; else as drawn at their best. */
static double
find_stretch (Flow *flow, const GPtrArray *blocks, guint from, guint end)
{
  const SpPaperBlock *last = from < end ? g_ptr_array_index (blocks, end - 1) : NULL;
  gboolean whole = last && last->kind == SP_BLOCK_TITLE;
  double room = flow->bottom - flow->top, least;
  flow->layouter.tight = 0;
  while ((least = height_of_all (flow, blocks, from, end, 0)) > room && whole && flow->layouter.tight < TIGHTEST)
    flow->layouter.tight++;
  if (whole && least > room) /* a second page it is: then as it should be */
    flow->layouter.tight = 0;
  double best = height_of_all (flow, blocks, from, end, 1);
  double stretch = best > least ? CLAMP ((room - least) / (best - least), 0, STRETCH_MOST) : 1;
  /* a title block wants its page whole; any other page is rather broken than its figures made small */
  return stretch < STRETCH_LEAST && (!whole || least > room) ? 1 : stretch;
}

static void
put_title_block (Flow *flow, const SpPaperBlock *block)
{
  const Piece *piece = laid_block (&flow->layouter, block);
  if (flow->y + 6 + piece->height > flow->bottom && flow->before)
    turn_page (flow);
  piece_copy (piece, flow->page->items, flow->left, flow->bottom - piece->height);
  flow->y = flow->bottom;
  flow->before = block;
}

/* Blocks [from, end): what stands between two beginnings of pages. */
static void
put_blocks (Flow *flow, const GPtrArray *blocks, guint from, guint end)
{
  turn_page (flow);
  flow->layouter.stretch = find_stretch (flow, blocks, from, end);
  for (guint i = from; i < end && !(flow->first && flow->pages->pages->len > 1); i++) {
    const SpPaperBlock *block = g_ptr_array_index (blocks, i);
    if (block->kind == SP_BLOCK_TITLE) {
      put_title_block (flow, block);
      continue;
    }
    double need = height_kept (flow, blocks, i, end);
    if (flow->before && flow->y + gap (flow, block) + need > flow->bottom)
      turn_page (flow);
    if (block->kind == SP_BLOCK_TABLE) {
      put_table (flow, block);
      continue;
    }
    put (flow, block, laid_block (&flow->layouter, block));
  }
}

/* ---- head and foot ---- */

static void
add_running (Flow *flow, guint i, guint n)
{
  Page *page = g_ptr_array_index (flow->pages->pages, i);
  Layouter *layouter = &flow->layouter;
  double width = layouter->width, base = foot_base (flow->pages->size);
  const char *aside = *page->title ? page->title : flow->paper->head_aside;
  g_autofree char *number = n ? g_strdup_printf (_ ("page %u of %u"), i + 1, n) : g_strdup_printf (_ ("page %u"), i + 1);
  Piece piece;
  piece_init (&piece);
  PangoLayout *right = type_text (layouter, TYPE_RUNNING, aside, 0),
              *left = type_text (layouter, TYPE_STRONG_RUNNING, flow->paper->head, 0);
  type_cut (right, width * 0.6);
  type_cut (left, width - type_width (right) - 12);
  piece_text_on (&piece, left, 0, FIRST_BASE, NULL);
  piece_text_on (&piece, right, width - type_width (right), FIRST_BASE, NULL);
  piece_line (&piece, 0, FIRST_BASE + HEAD_RULE, width, FIRST_BASE + HEAD_RULE, 1.5);
  PangoLayout *of = type_text (layouter, TYPE_STRONG_RUNNING, number, 0), *what = type_text (layouter, TYPE_RUNNING, flow->paper->foot, 0);
  type_cut (what, width - type_width (of) - 12);
  piece_text_on (&piece, what, 0, base, NULL);
  piece_text_on (&piece, of, width - type_width (of), base, NULL);
  piece_move (&piece, page->items, flow->left, 0);
  piece_clear (&piece);
}

static GHashTable *
places_of (const SpPages *pages)
{
  GHashTable *places = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < pages->pages->len; i++) {
    const Page *page = g_ptr_array_index (pages->pages, i);
    if (page->anchor)
      g_hash_table_insert (places, g_strdup (page->anchor), GUINT_TO_POINTER (i + 1));
  }
  return places;
}

/* From the first block, to the end or to the first page's. FALSE: not to the end. */
static gboolean
lay_pages (Flow *flow)
{
  const GPtrArray *blocks = flow->paper->blocks;
  guint from = 0;
  g_ptr_array_set_size (flow->pages->pages, 0);
  flow->head = g_strdup ("");
  flow->begins = TRUE;
  for (guint end; from < blocks->len && !(flow->first && flow->pages->pages->len); from = end) {
    const SpPaperBlock *first = g_ptr_array_index (blocks, from);
    if (first->kind == SP_BLOCK_PAGE) {
      g_free (flow->head);
      g_free (flow->anchor);
      flow->head = g_strdup (first->text);
      flow->anchor = g_strdup (first->anchor);
      flow->begins = TRUE;
      from++;
    }
    for (end = from; end < blocks->len && ((const SpPaperBlock *) g_ptr_array_index (blocks, end))->kind != SP_BLOCK_PAGE; end++)
      ;
    put_blocks (flow, blocks, from, end);
  }
  g_clear_pointer (&flow->head, g_free);
  return from >= blocks->len && !(flow->first && flow->pages->pages->len > 1);
}

/* What stands on every page, and what rows of figures share, once all stand. `n` 0: how many pages there are is not known. */
static void
finish_pages (Flow *flow, guint n)
{
  for (guint i = 0; i < flow->pages->pages->len; i++) {
    add_running (flow, i, n);
    share_rows (flow->pages->findings, ((Page *) g_ptr_array_index (flow->pages->pages, i))->items);
  }
}

static void
free_flow (Flow *flow)
{
  g_clear_pointer (&flow->layouter.places, g_hash_table_unref);
  laid_end (&flow->layouter);
  type_end (&flow->layouter);
  g_free (flow);
}

static SpPages *
new_pages (const SpPaper *paper, SpPaperSize size)
{
  SpPages *pages = g_new0 (SpPages, 1);
  Flow *flow = pages->flow = g_new0 (Flow, 1);
  pages->findings = sp_findings_ref (paper->findings);
  pages->size = size;
  pages->pages = g_ptr_array_new_with_free_func (free_page);
  flow->pages = pages;
  flow->paper = paper;
  flow->layouter.findings = paper->findings;
  flow->layouter.width = sheets[size].text;
  flow->left = sheets[size].left;
  flow->top = CONTENT_TOP;
  flow->bottom = foot_base (size) - FOOT_ROOM;
  type_begin (&flow->layouter);
  laid_begin (&flow->layouter);
  return pages;
}

SpPages *
sp_pages_first (const SpPaper *paper, SpPaperSize size)
{
  SpPages *pages = new_pages (paper, size);
  Flow *flow = pages->flow;
  flow->first = flow->layouter.unplaced = TRUE;
  gboolean all = lay_pages (flow) && !((const Page *) g_ptr_array_index (pages->pages, 0))->anchor;
  g_ptr_array_set_size (pages->pages, 1);
  if (all)
    sp_pages_go_on (pages);
  else
    finish_pages (flow, 0);
  return pages;
}

gboolean
sp_pages_are_all (const SpPages *pages)
{
  return !pages->flow;
}

void
sp_pages_go_on (SpPages *pages)
{
  Flow *flow = pages->flow;
  if (!flow)
    return;
  flow->first = flow->layouter.unplaced = FALSE;
  lay_pages (flow);
  flow->layouter.places = places_of (pages);
  if (g_hash_table_size (flow->layouter.places)) /* again, with the pages' numbers */
    lay_pages (flow);
  finish_pages (flow, pages->pages->len);
  g_clear_pointer (&pages->flow, free_flow);
}

SpPages *
sp_pages_new (const SpPaper *paper, SpPaperSize size)
{
  SpPages *pages = new_pages (paper, size);
  sp_pages_go_on (pages);
  return pages;
}

void
sp_pages_free (SpPages *pages)
{
  if (!pages)
    return;
  g_clear_pointer (&pages->flow, free_flow);
  g_ptr_array_unref (pages->pages);
  sp_findings_unref (pages->findings);
  g_free (pages);
}

guint
sp_pages_count (const SpPages *pages)
{
  return pages->pages->len;
}

const char *
sp_pages_title (const SpPages *pages, guint i)
{
  const Page *page = g_ptr_array_index (pages->pages, i);
  return page->begins ? page->title : NULL;
}

SpPageBox *
sp_pages_boxes (const SpPages *pages, guint *n)
{
  GArray *boxes = g_array_new (FALSE, FALSE, sizeof (SpPageBox));
  for (guint i = 0; i < pages->pages->len; i++) {
    const Page *page = g_ptr_array_index (pages->pages, i);
    for (guint k = 0; k < page->items->len; k++) {
      const Item *item = &g_array_index (page->items, Item, k);
      SpPageBox box = { i, item->rect, item->layout ? pango_layout_get_text (item->layout) : "" };
      if (item->kind == ITEM_FIGURE || item->kind == ITEM_PICTURE || (item->kind == ITEM_TEXT && *box.text))
        g_array_append_val (boxes, box);
    }
  }
  *n = boxes->len;
  return (SpPageBox *) g_array_free (boxes, FALSE);
}

GPtrArray *
sp_pages_alts (const SpPages *pages)
{
  GPtrArray *alts = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < pages->pages->len; i++) {
    const Page *page = g_ptr_array_index (pages->pages, i);
    for (guint k = 0; k < page->items->len; k++) {
      const Item *item = &g_array_index (page->items, Item, k);
      if (item->kind == ITEM_FIGURE)
        g_ptr_array_add (alts, figure_alt (pages->findings, item->figure));
      else if (item->kind == ITEM_PICTURE)
        g_ptr_array_add (alts, g_strdup (item->alt));
    }
  }
  return alts;
}
