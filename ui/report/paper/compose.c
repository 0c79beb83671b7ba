/* compose.c - makes, frees and names blocks */
#include "ui/report/paper/compose.h"

#include "core/quantity/clean.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
clear_run (void *run)
{
  g_free (((SpTextRun *) run)->text);
}

static void
clear_fact (void *fact)
{
  g_free (((SpFact *) fact)->label);
  g_free (((SpFact *) fact)->value);
}

static void
clear_cell (void *cell)
{
  g_free (((SpCell *) cell)->text);
  g_free (((SpCell *) cell)->link);
}

static void
clear_column (void *column)
{
  g_free (((SpPaperColumn *) column)->head);
}

static void
free_table (SpPaperTable *table)
{
  if (!table)
    return;
  g_free (table->caption);
  g_array_unref (table->columns);
  g_array_unref (table->cells);
  g_array_unref (table->ruled);
  g_free (table);
}

static void
free_figure (void *data)
{
  SpPaperFigure *figure = data;
  g_free (figure->conditions);
  g_free (figure->rows);
  g_free (figure->title);
  g_free (figure->aside);
  g_free (figure->alt);
  g_free (figure);
}

static void
free_block (void *data)
{
  SpPaperBlock *block = data;
  g_free (block->text);
  g_free (block->aside);
  g_free (block->anchor);
  g_clear_pointer (&block->runs, g_array_unref);
  g_clear_pointer (&block->facts, g_array_unref);
  g_clear_pointer (&block->figures, g_ptr_array_unref);
  g_clear_pointer (&block->columns, g_ptr_array_unref);
  free_table (block->table);
  g_free (block);
}

/* A number does not part from its unit, nor +- from what it stands between. */
static char *
bound (const char *text)
{
  static GRegex *regex;
  if (g_once_init_enter (&regex)) {
    GRegex *made = g_regex_new ("(?<=\\d) (?=(dBm|dBc|dB|[kMG]?Hz|[mk]?W|[mck]?m|min|s|ohm|days)\\b)|(?<=\302\261) | (?=\302\261)",
                                G_REGEX_OPTIMIZE, 0, NULL);
    g_once_init_leave (&regex, made);
  }
  g_autofree char *clean = sp_clean (text);
  char *bound = clean ? g_regex_replace_literal (regex, clean, -1, 0, "\302\240", 0, NULL) : NULL;
  return bound ? bound : g_steal_pointer (&clean);
}

static GPtrArray *
new_list (void)
{
  return g_ptr_array_new_with_free_func (free_block);
}

SpPaper *
paper_new (const SpFindings *findings)
{
  SpPaper *paper = g_new0 (SpPaper, 1);
  paper->findings = sp_findings_ref (findings);
  paper->blocks = new_list ();
  /* Translators: the code of your language, as in HTML's lang: "de" */
  paper->language = g_strdup (C_ ("language code", "en"));
  return paper;
}

void
sp_paper_free (SpPaper *paper)
{
  if (!paper)
    return;
  sp_findings_unref (paper->findings);
  g_ptr_array_unref (paper->blocks);
  g_free (paper->title);
  g_free (paper->subject);
  g_free (paper->language);
  g_free (paper->head);
  g_free (paper->head_aside);
  g_free (paper->foot);
  g_free (paper);
}

SpPaperBlock *
paper_add (GPtrArray *blocks, SpBlockKind kind)
{
  SpPaperBlock *block = g_new0 (SpPaperBlock, 1);
  block->kind = kind;
  g_ptr_array_add (blocks, block);
  if (kind == SP_BLOCK_PARAGRAPH || kind == SP_BLOCK_VERDICT || kind == SP_BLOCK_FIGURES || kind == SP_BLOCK_PICTURE) {
    block->runs = g_array_new (FALSE, TRUE, sizeof (SpTextRun));
    g_array_set_clear_func (block->runs, clear_run);
  }
  if (kind == SP_BLOCK_NAME || kind == SP_BLOCK_TITLE || kind == SP_BLOCK_TALLY) {
    block->facts = g_array_new (FALSE, TRUE, sizeof (SpFact));
    g_array_set_clear_func (block->facts, clear_fact);
  }
  if (kind == SP_BLOCK_FIGURES)
    block->figures = g_ptr_array_new_with_free_func (free_figure);
  if (kind == SP_BLOCK_COLUMNS)
    block->columns = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  return block;
}

SpPaperBlock *
paper_heading (GPtrArray *blocks, const char *text, const char *aside)
{
  SpPaperBlock *block = paper_add (blocks, SP_BLOCK_HEADING);
  block->text = sp_clean (text);
  block->aside = sp_clean (aside);
  block->keep = TRUE;
  return block;
}

void
paper_run (SpPaperBlock *block, const char *text, gboolean strong)
{
  SpTextRun run = { bound (text), strong };
  g_array_append_val (block->runs, run);
}

SpPaperBlock *
paper_paragraph (GPtrArray *blocks, SpPaperRole role, const char *strong, char *text)
{
  g_autofree char *owned = text;
  SpPaperBlock *block = paper_add (blocks, SP_BLOCK_PARAGRAPH);
  block->role = role;
  if (strong) {
    paper_run (block, strong, TRUE);
    paper_run (block, " ", FALSE);
  }
  paper_run (block, owned, FALSE);
  return block;
}

void
paper_fact (SpPaperBlock *block, guint row, double share, const char *label, char *value)
{
  g_autofree char *owned = value;
  SpFact fact = { g_strdup (label), owned && *owned ? sp_clean (owned) : g_strdup ("\342\200\223"), row, share };
  g_array_append_val (block->facts, fact);
}

void
paper_words (GPtrArray *blocks, const char *strong, const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text ? text : "", "\n", -1);
  for (guint i = 0; lines[i]; i++)
    if (*g_strstrip (lines[i])) {
      paper_paragraph (blocks, SP_ROLE_SUMMARY, strong, g_strdup (lines[i]));
      strong = NULL;
    }
}

#define FIELDS_AS_FACTS 6     /* more push the verdict down */
#define FIELD_NAME_AS_FACT 12 /* characters: longer ones leave the other facts no room */
#define FIELD_AS_FACT 24

static gboolean
is_short (const SpNamedField *field)
{
  return g_utf8_strlen (field->name, -1) <= FIELD_NAME_AS_FACT && g_utf8_strlen (field->value, -1) <= FIELD_AS_FACT;
}

/* `n`: facts so far, two in a row; `below`: made with the first that is long. */
static void
add_fields (GPtrArray *blocks, SpPaperBlock *name, const GArray *fields, guint first_row, guint *n, SpPaperBlock **below)
{
  for (guint i = 0; fields && i < fields->len; i++) {
    const SpNamedField *field = &g_array_index (fields, SpNamedField, i);
    if (is_short (field) && *n < FIELDS_AS_FACTS) {
      g_autofree char *label = sp_clean (field->name);
      paper_fact (name, first_row + *n / 2, 0, label, g_strdup (field->value));
      (*n)++;
      continue;
    }
    g_autofree char *label = g_strdup_printf ("%s%s:", *below ? "  " : "", field->name), *value = g_strconcat (" ", field->value, NULL);
    *below = *below ? *below : paper_paragraph (blocks, SP_ROLE_SMALL, NULL, g_strdup (""));
    paper_run (*below, label, TRUE);
    paper_run (*below, value, FALSE);
  }
}

void
paper_fields (GPtrArray *blocks, SpPaperBlock *name, const SpRadio *radio, const SpCondition *condition)
{
  guint row = 0, n = 0;
  SpPaperBlock *below = NULL;
  for (guint i = 0; i < name->facts->len; i++)
    row = MAX (row, g_array_index (name->facts, SpFact, i).row + 1);
  add_fields (blocks, name, radio->fields, row, &n, &below);
  if (condition)
    add_fields (blocks, name, condition->fields, row, &n, &below);
}

void
paper_fields_of (GPtrArray *blocks, const SpCondition *condition)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; condition->fields && i < condition->fields->len; i++) {
    const SpNamedField *field = &g_array_index (condition->fields, SpNamedField, i);
    g_string_append_printf (text, "%s%s: %s", i ? "; " : "", field->name, field->value);
  }
  g_autofree char *lead = g_strdup_printf ("%s.", condition->name);
  if (text->len)
    paper_paragraph (blocks, SP_ROLE_SMALL, lead, g_strdup (text->str));
}

GPtrArray *
paper_column (SpPaperBlock *columns)
{
  GPtrArray *list = new_list ();
  g_ptr_array_add (columns->columns, list);
  return list;
}

SpPaperBlock *
paper_page (GPtrArray *blocks, const char *head, const char *anchor)
{
  SpPaperBlock *block = paper_add (blocks, SP_BLOCK_PAGE);
  block->text = sp_clean (head);
  block->anchor = g_strdup (anchor);
  return block;
}

/* ---- tables ---- */

SpPaperTable *
paper_table (GPtrArray *blocks, const char *caption)
{
  SpPaperTable *table = paper_add (blocks, SP_BLOCK_TABLE)->table = g_new0 (SpPaperTable, 1);
  table->caption = g_strdup (caption);
  table->columns = g_array_new (FALSE, TRUE, sizeof (SpPaperColumn));
  table->cells = g_array_new (FALSE, TRUE, sizeof (SpCell));
  table->ruled = g_array_new (FALSE, TRUE, sizeof (guint));
  g_array_set_clear_func (table->columns, clear_column);
  g_array_set_clear_func (table->cells, clear_cell);
  return table;
}

void
paper_head (SpPaperTable *table, const char *head, gboolean number, gboolean gives)
{
  SpPaperColumn column = { g_strdup (head), number, gives };
  g_array_append_val (table->columns, column);
}

SpCell *
paper_cell (SpPaperTable *table, char *text)
{
  g_autofree char *owned = text;
  SpCell cell = { .kind = SP_CELL_TEXT, .text = owned ? sp_clean (owned) : g_strdup ("") };
  g_array_append_val (table->cells, cell);
  return &g_array_index (table->cells, SpCell, table->cells->len - 1);
}

SpCell *
paper_word (SpPaperTable *table, const char *text, gboolean strong)
{
  SpCell *cell = paper_cell (table, g_strdup (text));
  cell->strong = strong;
  return cell;
}

void
paper_verdict_cell (SpPaperTable *table, SpVerdict verdict)
{
  SpCell *cell = paper_word (table, sp_words_verdict (verdict), FALSE);
  cell->kind = SP_CELL_VERDICT;
  cell->verdict = verdict;
}

void
paper_rule_above_next (SpPaperTable *table)
{
  guint row = table->cells->len / table->columns->len;
  g_array_append_val (table->ruled, row);
}

/* ---- figures ---- */

SpPaperFigure *
paper_figure (SpPaperBlock *block, SpFigureKind kind, const SpFindings *findings, guint condition)
{
  SpPaperFigure *figure = g_new0 (SpPaperFigure, 1);
  figure->kind = kind;
  figure->condition = condition;
  if (kind == SP_FIGURE_CHART)
    figure->alt = sp_words_chart (findings, condition);
  g_ptr_array_add (block->figures, figure);
  return figure;
}

/* ---- what counts for whom ---- */

gboolean
paper_is_of (const SpFindings *findings, guint condition, int radio)
{
  return radio < 0 || (int) findings->bench->conditions[findings->conditions[condition].condition].radio == radio;
}

void
paper_second (GPtrArray *blocks, const SpFindings *findings, guint condition)
{
  char *said = sp_words_second (findings, condition, SP_HAND_SCREEN);
  if (said)
    paper_paragraph (blocks, SP_ROLE_BESIDE, NULL, said);
}

/* ---- a file's name ---- */

/* Letters and figures of any script, and what no file system or shell takes amiss. */
static void
add_name (GString *out, const char *text)
{
  g_autofree char *clean = sp_clean (text), *normal = g_utf8_normalize (clean, -1, G_NORMALIZE_DEFAULT_COMPOSE);
  for (const char *c = normal; *c; c = g_utf8_next_char (c)) {
    gunichar letter = g_utf8_get_char (c);
    gboolean plain = g_unichar_isalnum (letter) || (strchr ("-_+.", (int) letter) && letter < 128 && !(letter == '.' && out->len == 0));
    g_string_append_unichar (out, plain ? letter : '_');
  }
}

#define NAME_MOST 120 /* bytes: with "-2" and an ending below what file systems take (255) */

static void
cut_name (GString *name)
{
  if (name->len > NAME_MOST) {
    const char *end = g_utf8_find_prev_char (name->str, name->str + NAME_MOST);
    g_string_truncate (name, (gsize) (end - name->str));
  }
}

char *
sp_paper_safe_name (const char *text)
{
  g_autoptr (GString) name = g_string_new (NULL);
  add_name (name, text);
  cut_name (name);
  return g_string_free (g_steal_pointer (&name), FALSE);
}

char *
sp_paper_file_name (const SpBench *bench, guint radio)
{
  g_autoptr (GString) name = g_string_new (NULL);
  add_name (name, bench->radios[radio].name);
  if (name->len == 0)
    g_string_append_c (name, '_');
  if (bench->radios[radio].serial && *bench->radios[radio].serial) {
    g_string_append_c (name, '-');
    add_name (name, bench->radios[radio].serial);
  }
  cut_name (name);
  return g_string_free (g_steal_pointer (&name), FALSE);
}
