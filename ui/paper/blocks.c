/* blocks.c - lays out one block of text: a name with its facts, a heading, a paragraph, a sentence, columns */
#include "ui/paper/layout.h"

#include <math.h>

#define NAME_PART 0.34 /* of the width, for the name */
#define FACT_ROW 12
#define NAME_LEAST 14
#define VALUE_LEAST 6.5
#define COLUMN_GAP 12
#define SIGN 22 /* of a verdict */
#define SIGN_ROOM 28
#define SMALL_SIGN 13
#define SENTENCE_LINES 3 /* more, and it is set smaller */

/* ---- the name ---- */

static void
lay_facts (Layouter *layouter, const SpPaperBlock *block, double x, double width, Piece *piece)
{
  double half = width / 2, label_width = 0;
  g_autoptr (GPtrArray) labels = g_ptr_array_new ();
  for (guint i = 0; i < block->facts->len; i++) {
    PangoLayout *label = type_text (layouter, TYPE_NOTE, g_array_index (block->facts, SpFact, i).label, 0);
    label_width = MAX (label_width, type_width (label));
    g_ptr_array_add (labels, label);
  }
  guint in_row = 0, last_row = G_MAXUINT;
  for (guint i = 0; i < block->facts->len; i++) {
    const SpFact *fact = &g_array_index (block->facts, SpFact, i);
    gboolean whole = (i + 1 == block->facts->len || g_array_index (block->facts, SpFact, i + 1).row != fact->row) && fact->row != last_row;
    in_row = fact->row == last_row ? in_row + 1 : 0;
    last_row = fact->row;
    double left = x + in_row * half, base = 11 + fact->row * FACT_ROW, room = (whole ? width : half) - label_width - 14;
    piece_text_on (piece, g_ptr_array_index (labels, i), left, base, "P");
    PangoLayout *value = type_fitted (layouter, TYPE_VALUE, fact->value, room, VALUE_LEAST);
    if (pango_layout_get_line_count (value) > 1) { /* the row has no room for two */
      pango_layout_set_height (value, -1);
      type_size (value, layouter, TYPE_VALUE, VALUE_LEAST);
    }
    piece_text_on (piece, value, left + label_width + 6, base, "P");
    piece->height = MAX (piece->height, base + 4);
  }
}

static void
lay_name (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece)
{
  gboolean alone = block->facts->len == 0;
  double part = alone ? width : width * NAME_PART - 8;
  PangoLayout *name = type_fitted (layouter, TYPE_NAME, block->text, part, NAME_LEAST);
  Item *item = piece_text (piece, name, 0, 0, "H1");
  piece->height = item->rect.height;
  double x = item->rect.width + 8, base = type_baseline (name);
  PangoLayout *beside = block->aside && alone ? type_text (layouter, TYPE_SUMMARY, block->aside, 0) : NULL;
  if (beside && x + type_width (beside) <= width) {
    piece_text_on (piece, g_steal_pointer (&beside), x, base, "P");
  } else if (block->aside) { /* under it */
    PangoLayout *aside = type_fitted (layouter, TYPE_SUMMARY, block->aside, part, VALUE_LEAST);
    item = piece_text (piece, aside, 0, piece->height, "P");
    piece->height += item->rect.height;
  }
  g_clear_object (&beside);
  if (alone)
    return;
  lay_facts (layouter, block, width * NAME_PART, width * (1 - NAME_PART), piece);
  piece->height += 4;
  piece_line (piece, 0, piece->height, width, piece->height, 0.5);
}

/* ---- text ---- */

static void
lay_heading (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece)
{
  Item *item = piece_text (piece, type_text (layouter, TYPE_HEADING, block->text, width), 0, 0, "H2");
  piece->height = item->rect.height + 1;
  if (!block->aside)
    return;
  double x = item->rect.width + 12, base = type_baseline (item->layout);
  PangoLayout *aside = type_text (layouter, TYPE_CAPTION, block->aside, 0);
  if (x + type_width (aside) <= width) {
    piece_text_on (piece, aside, x, base, "P");
    return;
  }
  pango_layout_set_width (aside, (int) (width * PANGO_SCALE));
  item = piece_text (piece, aside, 0, piece->height, "P");
  piece->height += item->rect.height;
}

static Type
type_of (const Layouter *layouter, SpPaperRole role)
{
  switch (role) {
  case SP_ROLE_SUMMARY:
  case SP_ROLE_ALARM: return TYPE_SUMMARY;
  case SP_ROLE_CAPTION: return TYPE_CAPTION;
  case SP_ROLE_NOTE: return TYPE_NOTE;
  case SP_ROLE_SMALL: return TYPE_SMALL;
  case SP_ROLE_BODY:
  case SP_ROLE_BESIDE: return layouter->tight > 1 ? TYPE_SMALL : TYPE_BODY;
  }
  g_return_val_if_reached (TYPE_BODY);
}

static void
lay_paragraph (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece)
{
  double x = block->role == SP_ROLE_BESIDE ? SIGN_ROOM : 0;
  Item *item = piece_text (piece, type_runs (layouter, type_of (layouter, block->role), block->runs, width - x), x, 0, "P");
  item->alarm = block->role == SP_ROLE_ALARM;
  piece->height = item->rect.height;
}

static void
lay_verdict (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece)
{
  PangoLayout *text = type_runs (layouter, TYPE_SENTENCE, block->runs, width - SIGN_ROOM);
  for (double size = 13; size >= 10 && (pango_layout_get_line_count (text) > SENTENCE_LINES || (layouter->tight > 1 && size > 10)); size--)
    type_size (text, layouter, TYPE_SENTENCE, size);
  double base = type_baseline (text);
  Item *item = piece_text (piece, text, SIGN_ROOM, 0, "P");
  piece->height = item->rect.height;
  piece_add (piece, ITEM_VERDICT, 0, base - 6 - SIGN / 2.0, SIGN, SIGN)->verdict = block->verdict;
}

/* What came out how often: sign, word and what it means, number. */
static void
lay_tally (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece)
{
  for (guint i = 0; i < block->facts->len; i++) {
    const SpFact *fact = &g_array_index (block->facts, SpFact, i);
    double y = piece->height;
    piece_add (piece, ITEM_VERDICT, 0, y, SMALL_SIGN, SMALL_SIGN)->verdict = (SpVerdict) fact->row;
    g_auto (GStrv) words = g_strsplit (fact->label, "\n", 2);
    Item *word = piece_text (piece, type_text (layouter, TYPE_STRONG_CELL, words[0], width - 50), 22, y, "P");
    double under = y + word->rect.height - 0.5;
    PangoLayout *count = type_text (layouter, TYPE_STRONG_CELL, fact->value, 0);
    piece_text (piece, count, width - type_width (count), y, "P");
    if (words[1]) {
      Item *what = piece_text (piece, type_text (layouter, TYPE_LABEL, words[1], width - 22), 22, under, "P");
      under += what->rect.height;
    }
    piece->height = under + 3;
  }
}

/* ---- columns ---- */

static void
lay_list (Layouter *layouter, const GPtrArray *list, double width, Piece *piece)
{
  const SpPaperBlock *before = NULL;
  for (guint i = 0; i < list->len; i++) {
    const SpPaperBlock *block = g_ptr_array_index (list, i);
    Piece one;
    piece_init (&one);
    lay_block (layouter, block, width, &one);
    piece->height += before ? gap_before (layouter, block, before) : 0;
    piece_move (&one, piece->items, 0, piece->height);
    piece->height += one.height;
    piece_clear (&one);
    before = block;
  }
}

/* Of equal width; of two the first is wider where the second holds the tally. */
static void
lay_columns (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece)
{
  guint n = block->columns->len;
  const GPtrArray *last = g_ptr_array_index (block->columns, n - 1);
  gboolean tally = last->len && ((const SpPaperBlock *) g_ptr_array_index (last, 0))->kind == SP_BLOCK_TALLY;
  double x = 0;
  for (guint i = 0; i < n; i++) {
    double part = tally ? (i ? width - x : width * 0.62 - COLUMN_GAP) : (width - (n - 1) * COLUMN_GAP) / n;
    Piece one;
    piece_init (&one);
    lay_list (layouter, g_ptr_array_index (block->columns, i), part, &one);
    piece->height = MAX (piece->height, one.height);
    piece_move (&one, piece->items, x, 0);
    piece_clear (&one);
    x += part + (tally ? 2 * COLUMN_GAP : COLUMN_GAP);
  }
}

/* ---- any ---- */

static double
wide_gap (const SpPaperBlock *block, const SpPaperBlock *before)
{
  if (before && before->kind == SP_BLOCK_HEADING)
    return block->kind == SP_BLOCK_TABLE ? 4 : 0;
  switch (block->kind) {
  case SP_BLOCK_VERDICT: return before && before->kind == SP_BLOCK_VERDICT ? 7 : 9;
  case SP_BLOCK_HEADING: return 11;
  case SP_BLOCK_PARAGRAPH:
    return block->role == SP_ROLE_NOTE ? (before && before->kind == SP_BLOCK_PARAGRAPH ? 2 : 4) : block->role == SP_ROLE_BESIDE ? 3 : 7;
  case SP_BLOCK_NAME: return 18;
  case SP_BLOCK_RULE: return 8;
  case SP_BLOCK_COLUMNS: return before && before->kind == SP_BLOCK_RULE ? 5 : 11;
  case SP_BLOCK_PICTURE:
  case SP_BLOCK_FIGURES: return 9;
  case SP_BLOCK_TABLE: return 10;
  default: return 6;
  }
}

double
gap_before (const Layouter *layouter, const SpPaperBlock *block, const SpPaperBlock *before)
{
  return wide_gap (block, before) * (layouter->tight ? 0.5 : 1);
}

void
lay_block (Layouter *layouter, const SpPaperBlock *block, double width, Piece *piece)
{
  guint next;
  switch (block->kind) {
  case SP_BLOCK_NAME: lay_name (layouter, block, width, piece); break;
  case SP_BLOCK_HEADING: lay_heading (layouter, block, width, piece); break;
  case SP_BLOCK_PARAGRAPH: lay_paragraph (layouter, block, width, piece); break;
  case SP_BLOCK_VERDICT: lay_verdict (layouter, block, width, piece); break;
  case SP_BLOCK_TALLY: lay_tally (layouter, block, width, piece); break;
  case SP_BLOCK_TABLE: lay_table (layouter, block->table, width, 0, INFINITY, &next, piece); break;
  case SP_BLOCK_PICTURE: lay_picture (layouter, block, width, piece); break;
  case SP_BLOCK_FIGURES: lay_figures (layouter, block, width, piece); break;
  case SP_BLOCK_COLUMNS: lay_columns (layouter, block, width, piece); break;
  case SP_BLOCK_RULE: piece_line (piece, 0, 0, width, 0, 0.25); break;
  case SP_BLOCK_TITLE: lay_title_block (layouter, block, width, piece); break;
  case SP_BLOCK_PAGE: break;
  }
}
