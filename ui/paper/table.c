/* table.c - lays out tables: columns as wide as what stands in them, and the title block */
#include "ui/paper/layout.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define GAP 6       /* least, between two columns */
#define GAP_MOST 46 /* more room is left at the table's right only where it is not needed */
#define SIGN 11
#define SIGN_ROOM 16
#define ROOM_WIDTH 42
#define SHARE_WIDTH 46
#define OPEN_ROW 16
#define ROW 12
#define FEW_GIVE 40   /* points: a column that gives way keeps so much */
#define LEAST_GIVE 14 /* or this, where that is not enough */

typedef struct {
  Layouter *layouter;
  const SpPaperTable *table;
  double width;
  guint n_columns, n_rows, number; /* of the table on the paper, from 1 */
  double *x, *column;              /* left edge and width of each */
  GPtrArray *texts;                /* of the cells, in their order: measured, then laid; NULL: none */
  Piece *piece;
} Table;

static const SpPaperColumn *
column_of (const Table *t, guint i)
{
  return &g_array_index (t->table->columns, SpPaperColumn, i);
}

static const SpCell *
cell_of (const Table *t, guint row, guint i)
{
  return &g_array_index (t->table->cells, SpCell, row * t->n_columns + i);
}

/* What a link's cell shows: the page, once it is known. (transfer full) */
static char *
shown_text (const Table *t, const SpCell *cell)
{
  if (!cell->link || *cell->text)
    return g_strdup (cell->text);
  t->layouter->by_places = TRUE;
  if (t->layouter->unplaced)
    return g_strdup ("\u2007\u2007"); /* as wide as the number will be */
  guint page = t->layouter->places ? GPOINTER_TO_UINT (g_hash_table_lookup (t->layouter->places, cell->link)) : 0;
  return page ? g_strdup_printf ("%u", page) : g_strdup ("88");
}

/* (transfer full) */
static PangoLayout *
cell_text (const Table *t, const SpCell *cell, gboolean number)
{
  if (cell->kind == SP_CELL_ROOM || cell->kind == SP_CELL_SHARE)
    return NULL;
  g_autofree char *text = shown_text (t, cell);
  PangoLayout *layout = type_text (t->layouter, cell->strong ? TYPE_STRONG_CELL : TYPE_CELL, text, 0);
  if (number)
    type_figures (layout);
  return layout;
}

static double
cell_width (const SpCell *cell, PangoLayout *text)
{
  if (!text)
    return cell->kind == SP_CELL_ROOM ? ROOM_WIDTH : SHARE_WIDTH;
  return type_width (text) + (cell->kind == SP_CELL_TEXT ? 0 : SIGN_ROOM);
}

static void
set_texts (Table *t)
{
  t->texts = g_ptr_array_sized_new (t->table->cells->len);
  for (guint row = 0; row < t->n_rows; row++)
    for (guint i = 0; i < t->n_columns; i++)
      g_ptr_array_add (t->texts, cell_text (t, cell_of (t, row, i), column_of (t, i)->number));
}

static void
free_texts (Table *t)
{
  for (guint i = 0; i < t->texts->len; i++)
    g_clear_object (&g_ptr_array_index (t->texts, i));
  g_ptr_array_unref (t->texts);
}

static PangoLayout *
text_of (const Table *t, guint row, guint i)
{
  return g_ptr_array_index (t->texts, row * t->n_columns + i);
}

/* ---- widths ---- */

static double
natural (const Table *t, guint i)
{
  PangoLayout *head = type_text (t->layouter, TYPE_HEAD_CELL, column_of (t, i)->head, 0);
  double width = type_width (head);
  g_object_unref (head);
  for (guint row = 0; row < t->n_rows; row++)
    width = MAX (width, cell_width (cell_of (t, row, i), text_of (t, row, i)));
  return width;
}

static double
sum_of (const Table *t)
{
  double sum = 0;
  for (guint i = 0; i < t->n_columns; i++)
    sum += t->column[i];
  return sum;
}

/* The widest of those that give way (`all`: of all), cut to the next or to what is asked. */
static void
give_way (Table *t, double over, double least, gboolean all)
{
  while (over > 0.01) {
    double widest = 0, next = least;
    guint n = 0;
    for (guint i = 0; i < t->n_columns; i++)
      if (all || column_of (t, i)->gives)
        widest = MAX (widest, t->column[i]);
    for (guint i = 0; i < t->n_columns; i++)
      if ((all || column_of (t, i)->gives) && t->column[i] > widest - 0.01)
        n++;
      else if (all || column_of (t, i)->gives)
        next = MAX (next, t->column[i]);
    if (n == 0 || widest <= least)
      break;
    double cut = MIN (over / n, widest - MAX (next, least));
    cut = MAX (cut, 0.01);
    for (guint i = 0; i < t->n_columns; i++)
      if ((all || column_of (t, i)->gives) && t->column[i] > widest - 0.01)
        t->column[i] -= cut;
    over -= n * cut;
  }
}

static void
find_widths (Table *t)
{
  double sum = 0;
  for (guint i = 0; i < t->n_columns; i++)
    sum += t->column[i] = natural (t, i);
  double gaps = MAX (t->n_columns, 2) - 1, gap = (t->width - sum) / gaps;
  if (gap < GAP) {
    give_way (t, sum + GAP * gaps - t->width, FEW_GIVE, FALSE);
    give_way (t, sum_of (t) + GAP * gaps - t->width, LEAST_GIVE, TRUE); /* still too wide: all of them */
    gap = GAP;
  }
  gap = MIN (gap, GAP_MOST);
  double x = 0;
  for (guint i = 0; i < t->n_columns; i++) {
    t->x[i] = x;
    x += t->column[i] + gap;
  }
}

/* ---- rows ---- */

static void
lay_cell (Table *t, guint row, guint i, double y, double height)
{
  const SpCell *cell = cell_of (t, row, i);
  const SpPaperColumn *column = column_of (t, i);
  double x = t->x[i], width = t->column[i], middle = y + height / 2;
  if (cell->kind == SP_CELL_ROOM || cell->kind == SP_CELL_SHARE) {
    Item *item = piece_add (t->piece, cell->kind == SP_CELL_ROOM ? ITEM_ROOM : ITEM_SHARE, x, y, width, height);
    item->value = cell->value;
    item->expanded = cell->expanded;
    item->at_least = cell->at_least;
    return;
  }
  if (cell->kind == SP_CELL_VERDICT || (cell->kind == SP_CELL_ORIGIN && cell->origin != SP_ORIGIN_NONE)) {
    Item *item = piece_add (t->piece, cell->kind == SP_CELL_VERDICT ? ITEM_VERDICT : ITEM_ORIGIN, x, middle - SIGN / 2.0, SIGN, SIGN);
    item->verdict = cell->verdict;
    item->origin = cell->origin;
  }
  if (cell->kind != SP_CELL_TEXT) {
    x += SIGN_ROOM;
    width -= SIGN_ROOM;
  }
  PangoLayout *layout = g_object_ref (text_of (t, row, i));
  type_cut (layout, width);
  double left = column->number ? x + width - type_width (layout) : x;
  Item *item = piece_text (t->piece, layout, left, middle - type_height (layout) / 2, i ? "TD" : "TH");
  item->table = t->number;
  item->row = row + 2; /* the heads are the first */
  item->link = g_strdup (cell->link);
}

static void
lay_heads (Table *t)
{
  double most = 0;
  for (guint i = 0; i < t->n_columns; i++) {
    const SpPaperColumn *column = column_of (t, i);
    PangoLayout *layout = type_text (t->layouter, TYPE_HEAD_CELL, column->head, 0);
    type_cut (layout, t->column[i]);
    double left = column->number ? t->x[i] + t->column[i] - type_width (layout) : t->x[i];
    Item *item = piece_text (t->piece, layout, left, 0, "TH");
    item->table = t->number;
    item->row = 1;
    most = MAX (most, item->rect.height);
  }
  t->piece->height = most + 2;
  piece_line (t->piece, 0, t->piece->height, t->width, t->piece->height, 0.75);
  t->piece->height += 2;
}

static gboolean
is_ruled (const Table *t, guint row)
{
  if (t->table->open)
    return row > 0;
  for (guint i = 0; i < t->table->ruled->len; i++)
    if (g_array_index (t->table->ruled, guint, i) == row)
      return TRUE;
  return FALSE;
}

void
lay_table (Layouter *layouter, const SpPaperTable *table, double width, guint first, double most, guint *next, Piece *piece)
{
  Table t = { .layouter = layouter, .table = table, .width = width, .n_columns = table->columns->len, .piece = piece };
  t.n_rows = table->cells->len / MAX (t.n_columns, 1);
  t.number = ++layouter->tables;
  t.x = g_new0 (double, t.n_columns + 1);
  t.column = g_new0 (double, t.n_columns + 1);
  set_texts (&t);
  find_widths (&t);
  lay_heads (&t);
  double height = table->open ? OPEN_ROW : ROW;
  guint row = first;
  for (; row < t.n_rows && (row == first || piece->height + height + 2 <= most); row++) {
    if (row > first && is_ruled (&t, row))
      piece_line (piece, 0, piece->height, width, piece->height, table->open ? 0.25 : 0.5);
    for (guint i = 0; i < t.n_columns; i++)
      lay_cell (&t, row, i, piece->height, height);
    piece->height += height;
  }
  piece->height += 1.5;
  piece_line (piece, 0, piece->height, width, piece->height, 0.5);
  *next = row;
  free_texts (&t);
  g_free (t.x);
  g_free (t.column);
}

/* ---- the title block ---- */

#define CELL_INSET 4
#define CELL_HEIGHT 21
#define CELL_TALL 30
#define VALUE_LEAST 6.5

/* The facts of a row, [from, to): the row is taller where a value takes two lines. Returns its height. */
static double
lay_title_row (Layouter *layouter, const SpPaperBlock *block, guint from, guint to, double width, double y, Piece *piece)
{
  double sum = 0, x = 0, height = CELL_HEIGHT;
  for (guint i = from; i < to; i++)
    sum += g_array_index (block->facts, SpFact, i).share;
  for (guint i = from; i < to; i++) {
    const SpFact *fact = &g_array_index (block->facts, SpFact, i);
    double cell = width * fact->share / sum;
    PangoLayout *label = type_text (layouter, TYPE_LABEL, fact->label, 0),
                *value = type_fitted (layouter, TYPE_VALUE, fact->value, cell - 2 * CELL_INSET, VALUE_LEAST);
    type_cut (label, cell - 2 * CELL_INSET);
    piece_text (piece, label, x + CELL_INSET, y + 1.5, "P");
    if (pango_layout_get_line_count (value) > 1)
      height = CELL_TALL;
    piece_text (piece, value, x + CELL_INSET, y + 9.5, "P");
    x += cell;
  }
  x = 0;
  for (guint i = from; i + 1 < to; i++) {
    x += width * g_array_index (block->facts, SpFact, i).share / sum;
    piece_line (piece, x, y, x, y + height, 0.5);
  }
  return height;
}

void
lay_title_block (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece)
{
  for (guint from = 0, to; from < block->facts->len; from = to) {
    guint row = g_array_index (block->facts, SpFact, from).row;
    for (to = from; to < block->facts->len && g_array_index (block->facts, SpFact, to).row == row; to++)
      ;
    if (from)
      piece_line (piece, 0, piece->height, width, piece->height, 0.5);
    piece->height += lay_title_row (layouter, block, from, to, width, piece->height, piece);
  }
  piece_line (piece, 0, 0, width, 0, 1);
  piece_line (piece, 0, piece->height, width, piece->height, 1);
  piece_line (piece, 0, 0, 0, piece->height, 1);
  piece_line (piece, width, 0, width, piece->height, 1);
}
