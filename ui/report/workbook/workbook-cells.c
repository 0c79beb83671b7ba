/* workbook-cells.c - cells, tables and pages of a workbook */
#include "ui/report/workbook/workbook-private.h"

#include "core/quantity/clean.h"
#include "ui/words/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define TEXT_MOST 32767          /* UTF-16 units that a cell holds */
#define SHEET_NAME_MOST 31       /* and a sheet's name */
#define FOOTER_MOST 100          /* characters of the title in the footer */
#define CHARACTERS_A_WIDTH 1.1   /* of running text in a width of one digit */
#define CHARACTERS_OF_HEADS 0.85 /* bold, and broken between few words */
#define LINE_HEIGHT 15.0
#define DEFAULT_WIDTH 8.43
#define LINES_MOST 20

static guint
utf16_units (gunichar character)
{
  return character >= 0x10000 ? 2 : 1;
}

/* `most` UTF-16 units at the most, cut between characters. */
static void
cut (GString *text, guint most)
{
  guint units = 0;
  for (const char *c = text->str; *c; c = g_utf8_next_char (c)) {
    units += utf16_units (g_utf8_get_char (c));
    if (units > most) {
      g_string_truncate (text, (gsize) (c - text->str));
      return;
    }
  }
}

char *
workbook_text (const char *text)
{
  g_autofree char *clean = sp_clean_lines (text);
  GString *out = g_string_new (clean);
  cut (out, TEXT_MOST);
  return g_string_free (out, FALSE);
}

/* Does a code like _x003D_ begin here, which a spreadsheet reads as the character 3D? */
static gboolean
is_code (const char *c)
{
  if (c[0] != '_' || c[1] != 'x')
    return FALSE;
  for (guint i = 2; i < 6; i++)
    if (!g_ascii_isxdigit (c[i]))
      return FALSE;
  return c[6] == '_';
}

/* As workbook_text, and what looks like a code stays what it is. */
static char *
cell_text (const char *text)
{
  g_autofree char *plain = workbook_text (text);
  GString *out = g_string_new (NULL);
  for (const char *c = plain; *c; c++)
    g_string_append (out, is_code (c) ? "_x005F_" : (char[]){ *c, '\0' });
  cut (out, TEXT_MOST);
  return g_string_free (out, FALSE);
}

static char *
doubled (const char *text, char mark)
{
  GString *out = g_string_new (NULL);
  g_string_append_c (out, mark);
  for (const char *c = text; *c; c++) {
    if (*c == mark)
      g_string_append_c (out, mark);
    g_string_append_c (out, *c);
  }
  g_string_append_c (out, mark);
  return g_string_free (out, FALSE);
}

char *
workbook_sheet_reference (const char *name)
{
  return doubled (name, '\'');
}

char *
workbook_quoted (const char *text)
{
  return doubled (text, '"');
}

char *
workbook_sheet_name (const char *wish, GHashTable *taken)
{
  g_autofree char *plain = workbook_text (wish);
  for (char *c = plain; *c; c++)
    if (strchr ("[]:*?/\\\n'!", *c) || is_code (c)) /* ' and ! are legal, but the library does not find a chart's sheet by them */
      *c = ' ';
  g_strstrip (plain);
  for (guint i = 1;; i++) {
    g_autofree char *suffix = i == 1 ? g_strdup ("") : g_strdup_printf (" (%u)", i);
    g_autoptr (GString) name = g_string_new (*plain ? plain : _ ("condition"));
    cut (name, SHEET_NAME_MOST - (guint) strlen (suffix));
    g_string_append (name, suffix);
    g_autofree char *key = g_utf8_casefold (name->str, -1);
    if (strcmp (key, "history") == 0 || g_hash_table_contains (taken, key)) /* the first is a name that spreadsheets keep for themselves */
      continue;
    g_hash_table_add (taken, g_steal_pointer (&key));
    return g_strdup (name->str);
  }
}

const char *
workbook_yes (gboolean yes)
{
  return yes ? _ ("yes") : _ ("no");
}

/* The library leaves a cell out that it has no memory for, or a cell's text, and its status stays good: so the row that it keeps is looked at. */
static void
note_cell (const Page *page, lxw_col_t column, lxw_error status)
{
  const lxw_cell *cell = page->sheet->array[column];
  workbook_note (status);
  if (status == LXW_NO_ERROR && (!cell || ((cell->type == INLINE_STRING_CELL || cell->type == FORMULA_CELL) && !cell->u.string)))
    workbook_note (LXW_ERROR_MEMORY_MALLOC_FAILED);
}

gboolean
workbook_page (const Workbook *work, const char *name, Page *page)
{
  *page = (Page){ work, workbook_add_worksheet (work->book, name), 0 };
  return page->sheet != NULL;
}

void
page_finish (Page *page, lxw_row_t repeated, lxw_row_t head, lxw_col_t column)
{
  const SpBench *bench = page->work->findings->bench;
  g_autofree char *valid = workbook_text (bench->title ? bench->title : "");
  g_autofree char *title = g_utf8_substring (valid, 0, MIN (FOOTER_MOST, g_utf8_strlen (valid, -1)));
  g_auto (GStrv) parts = g_strsplit (title, "&", -1);
  g_autofree char *safe = g_strjoinv ("&&", parts);
  g_autofree char *footer = g_strdup_printf ("&L%s %s&C&A&R&P / &N", safe, bench->date ? bench->date : "");
  worksheet_set_landscape (page->sheet);
  worksheet_set_paper (page->sheet, 9); /* A4 */
  worksheet_set_margins (page->sheet, 0.4, 0.4, 0.5, 0.6);
  worksheet_fit_to_pages (page->sheet, 1, 0);
  workbook_note (worksheet_set_footer (page->sheet, footer));
  workbook_note (worksheet_repeat_rows (page->sheet, repeated, repeated));
  worksheet_freeze_panes (page->sheet, head + 1, column);
  worksheet_gridlines (page->sheet, LXW_HIDE_ALL_GRIDLINES);
}

void
page_widths (Page *page, const double *widths, guint n)
{
  for (guint i = 0; i < n; i++)
    workbook_note (worksheet_set_column (page->sheet, (lxw_col_t) i, (lxw_col_t) i, widths[i], NULL));
}

void
page_text (Page *page, lxw_col_t column, const char *text, Style style)
{
  if (!text)
    return;
  g_autofree char *safe = cell_text (text);
  note_cell (page, column,
             worksheet_write_string (page->sheet, page->row, column, safe,
                                     page->work->styles[style == STYLE_TEXT && !column ? STYLE_FIRST : style]));
}

void
page_link (Page *page, lxw_col_t column, const char *text, const char *reference)
{
  g_autofree char *safe = cell_text (text), *link = g_strdup_printf ("internal:%s!A1", reference);
  note_cell (page, column, worksheet_write_url_opt (page->sheet, page->row, column, link, page->work->styles[STYLE_LINK], safe, NULL));
}

void
page_number (Page *page, lxw_col_t column, double value, Style style)
{
  if (isfinite (value))
    note_cell (page, column, worksheet_write_number (page->sheet, page->row, column, value, page->work->styles[style]));
  else if (!isnan (value))
    page_text (page, column, value > 0 ? _ ("infinite") : _ ("nothing"), style);
}

void
page_formula (Page *page, lxw_col_t column, double value, Style style, const char *format, ...)
{
  if (!isfinite (value)) {
    page_number (page, column, value, style);
    return;
  }
  va_list arguments;
  va_start (arguments, format);
  g_autofree char *formula = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  note_cell (page, column, worksheet_write_formula_num (page->sheet, page->row, column, formula, page->work->styles[style], value));
}

void
page_formula_text (Page *page, lxw_col_t column, const char *value, Style style, const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  g_autofree char *formula = g_strdup_vprintf (format, arguments), *safe = cell_text (value);
  va_end (arguments);
  note_cell (page, column, worksheet_write_formula_str (page->sheet, page->row, column, formula, page->work->styles[style], safe));
}

static double
width_of (const Page *page, lxw_col_t first, lxw_col_t last)
{
  double width = 0;
  for (lxw_col_t i = first; i <= last; i++) {
    const lxw_col_options *column = i < page->sheet->col_options_max ? page->sheet->col_options[i] : NULL;
    width += column ? column->width : DEFAULT_WIDTH;
  }
  return width;
}

/* Lines that a text takes, wrapped over these columns, so many characters to a width of one digit. */
static double
lines_of (const Page *page, lxw_col_t first, lxw_col_t last, const char *text, double characters)
{
  return CLAMP (ceil ((double) g_utf8_strlen (text, -1) / (width_of (page, first, last) * characters)), 1, LINES_MOST);
}

void
page_sentence (Page *page, lxw_col_t first, lxw_col_t last, const char *text, Style style)
{
  g_autofree char *safe = cell_text (text);
  workbook_note (worksheet_set_row (page->sheet, page->row, lines_of (page, first, last, safe, CHARACTERS_A_WIDTH) * LINE_HEIGHT, NULL));
  if (*safe)
    note_cell (page, first, worksheet_merge_range (page->sheet, page->row, first, page->row, last, safe, page->work->styles[style]));
  page->row++;
}

void
page_heads (Page *page, const char *const *heads, guint n)
{
  double lines = 1;
  for (guint i = 0; i < n; i++)
    lines = fmax (lines, !heads[i] ? 1 : lines_of (page, (lxw_col_t) i, (lxw_col_t) i, heads[i], CHARACTERS_OF_HEADS));
  workbook_note (worksheet_set_row (page->sheet, page->row, lines * LINE_HEIGHT, NULL));
  for (guint i = 0; i < n; i++)
    page_text (page, (lxw_col_t) i, heads[i] ? heads[i] : "", i ? STYLE_HEAD : STYLE_FIRST_HEAD);
  page->row++;
}

void
page_section (Page *page, const char *name)
{
  page_text (page, 0, name, STYLE_SECTION);
  page->row++;
}

void
page_mark_verdicts (Page *page, lxw_row_t from, lxw_row_t to, lxw_col_t column)
{
  for (int i = 0; i < 5; i++) {
    g_autofree char *word = workbook_quoted (sp_words_verdict ((SpVerdict) i));
    g_autofree char *criterion = g_strconcat ("=", word, NULL);
    lxw_conditional_format mark = { .type = LXW_CONDITIONAL_TYPE_CELL,
                                    .criteria = LXW_CONDITIONAL_CRITERIA_EQUAL_TO,
                                    .value_string = criterion,
                                    .format = page->work->verdicts[i] };
    workbook_note (worksheet_conditional_format_range (page->sheet, from, column, to, column, &mark));
  }
}

void
page_fact (Page *page, const char *name, const char *text)
{
  page_text (page, 0, name, STYLE_TEXT);
  page_text (page, 1, text, STYLE_TEXT);
  page->row++;
}

void
page_fact_number (Page *page, const char *name, double value, Style style)
{
  page_text (page, 0, name, STYLE_TEXT);
  page_number (page, 1, value, style);
  page->row++;
}
