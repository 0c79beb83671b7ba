/* first-row.c - finds where the rows of numbers begin */
#include "core/trace/read/dialect.h"

#include "core/quantity/error.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Could be a number in some way of writing. */
static gboolean
is_numberish (const SpTextField *field)
{
  gboolean digit = FALSE;

  for (const char *p = field->start; p < field->end; p++)
    if (g_ascii_isdigit (*p))
      digit = TRUE;
    else if (*p == '+' || *p == '-') {
      if (p > field->start && !strchr ("eEdD", p[-1]))
        return FALSE;
    } else if (strchr ("eEdD", *p)) {
      if (!digit)
        return FALSE;
    } else if (!strchr (".,'", *p) && (guchar) *p < 0x80)
      return FALSE;
  return digit;
}

/* Number of fields and which of them are numbers, as one value; 0 where this is no row. */
static guint64
shape (SpTextFields *fields, const SpTextLine *line, char delimiter)
{
  guint n = sp_fields_split (fields, line, delimiter), numbers = 0;
  guint64 mask = 0;

  if (n > SP_LIMIT_COLUMNS || (delimiter == '\0') != (n == 1))
    return 0;
  for (guint i = 0; i < n; i++)
    if (is_numberish (sp_fields_get (fields, i))) {
      mask |= G_GUINT64_CONSTANT (1) << (i % 48);
      numbers++;
    }
  return numbers >= 2 || (n == 1 && numbers == 1) ? mask << 16 | n : 0;
}

/* The way of dividing a line by which it has too many fields; '\0' where there is none. */
static char
too_many_fields (SpTextFields *fields, const SpTextLine *line)
{
  for (guint d = 0; d < SP_DELIMITERS; d++)
    if (sp_delimiters[d] && sp_fields_split (fields, line, sp_delimiters[d]) > SP_LIMIT_COLUMNS)
      return sp_delimiters[d];
  return '\0';
}

static gboolean
fail_columns (const SpTextFields *fields, const SpTextLine *line, char delimiter, const char *file, GError **error)
{
  sp_fail_at (error, file, (guint) line->number, sp_line_column (line, sp_fields_get (fields, SP_LIMIT_COLUMNS)->at),
              _ ("more than %u columns, the limit (divided by %s); export fewer traces at once"), SP_LIMIT_COLUMNS,
              sp_dialect_word (delimiter));
  if (error && *error)
    (*error)->code = SP_ERROR_LIMIT;
  return FALSE;
}

/* Told at the first line that begins as a row does: what stands there is a date, a clock, or a number of some other kind. */
static gboolean
no_rows (const SpText *text, const char *file, GError **error)
{
  g_auto (SpTextFields) fields;
  SpTextLines lines;
  SpTextLine line;

  sp_fields_init (&fields);
  if (text->length == 0)
    return sp_fail (error, SP_ERROR_INPUT, _ ("%s: the file is empty; expected lines of a frequency and a level"), file);
  sp_text_lines (text, &lines);
  while (sp_lines_next (&lines, &line))
    if (sp_line_looks_like_row (&line)) {
      char delimiter = too_many_fields (&fields, &line);
      if (delimiter)
        return fail_columns (&fields, &line, delimiter, file, error);
      const char *first = line.start + strspn (line.start, " \t\""), *end = first;
      while (end < line.end && !strchr (",;\t \"", *end) && end - first < 40)
        end++;
      g_autofree char *word = g_utf8_make_valid (first, end - first);
      return sp_fail_at (error, file, (guint) line.number, sp_line_column (&line, first),
                         _ ("no rows of numbers found: ‘%s’ begins the first line that looks like one; expected lines of a frequency and "
                            "a level as plain numbers, not dates or clock times, or of levels with start and stop"),
                         word);
    }
  return sp_fail_at (error, file, 1, 1,
                     _ ("no rows of numbers found; expected lines of a frequency and a level, or of levels with start "
                        "and stop"));
}

gboolean
sp_dialect_start (const SpText *text, const char *file, SpTextLines *rows, GError **error)
{
  g_auto (SpTextFields) fields;
  SpTextLines lines, before, run_start[SP_DELIMITERS], best[4];
  guint64 last[SP_DELIMITERS] = { 0 };
  guint run[SP_DELIMITERS] = { 0 }, longest = 0;
  SpTextLine line;

  sp_fields_init (&fields);
  sp_text_lines (text, &lines);
  const guint64 last_line = text->lines_before + SP_LIMIT_PREAMBLE_LINES;
  for (before = lines; longest < 3 && lines.number <= last_line && sp_lines_next_record (&lines, &line); before = lines) {
    gboolean looks = sp_line_looks_like_row (&line);
    if (sp_line_is_blank (&line))
      continue;
    if (looks && line.end - line.start > (gssize) SP_LIMIT_LINE_BYTES)
      return sp_fail_at (error, file, (guint) line.number, 1,
                         _ ("a line of more than %" G_GSIZE_FORMAT " bytes; expected a row of a table. A list of values on one line is "
                            "read with ?format=ascii&start=…&stop=…"),
                         SP_LIMIT_LINE_BYTES);
    for (guint d = 0; d < SP_DELIMITERS; d++) {
      guint64 now = looks ? shape (&fields, &line, sp_delimiters[d]) : 0;
      run[d] = now && now == last[d] ? run[d] + 1 : now ? 1 : 0;
      last[d] = now;
      if (run[d] == 1)
        run_start[d] = before;
      if (run[d] > longest) {
        longest = run[d];
        best[longest] = run_start[d];
      }
    }
  }
  if (longest == 0)
    return no_rows (text, file, error);
  *rows = best[longest];
  return TRUE;
}
