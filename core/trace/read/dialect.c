/* dialect.c - finds delimiter and decimal mark by what rows of the file can mean */
#include "core/trace/read/dialect.h"

#include "core/quantity/error.h"
#include "core/trace/limits.h"
#include "core/trace/read/comma-rows.h"
#include "core/trace/read/header.h"
#include "core/trace/text/decimal.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

const char sp_delimiters[SP_DELIMITERS] = { '\t', ';', ',', ' ', '\0' };

const char *
sp_dialect_word (char mark)
{
  return mark == ',' ? "comma" : mark == '.' ? "point" : mark == ';' ? "semicolon" : mark == '\t' ? "tab" : mark == ' ' ? "blank" : "none";
}

gboolean
sp_line_looks_like_row (const SpTextLine *line)
{
  const char *p = line->start, *end = line->end;

  while (p < end && (g_ascii_isspace (*p) || *p == '"'))
    p++;
  if (end - p >= 3 && memcmp (p, "\xe2\x88\x92", 3) == 0)
    p += 3;
  else if (p < end && (*p == '-' || *p == '+'))
    p++;
  if (p < end && (*p == '.' || *p == ','))
    p++;
  return p < end && g_ascii_isdigit (*p);
}

/* ---- which way of reading ---- */

typedef struct {
  SpColumnContent content;
  guint numbers, texts;
  double last;
} Column;

typedef struct {
  char delimiter, mark, group;
  GArray *columns; /* of Column, as many as fields in a row */
  SpFirstText first_text;
  guint rows, matched;
  guint64 digest; /* of all its numbers */
  gboolean mark_seen;
} Reading;

static Column *
column_of (const Reading *reading, guint i)
{
  return &g_array_index (reading->columns, Column, i);
}

static void
reading_free (gpointer data)
{
  g_array_unref (((Reading *) data)->columns);
  g_free (data);
}

static void
note_number (Reading *reading, Column *column, double value)
{
  SpColumnContent *content = &column->content;
  guint64 bits;

  if (column->numbers++ == 0) {
    content->ascends = content->descends = TRUE;
    content->counts = value == 0 || value == 1;
    content->first = content->low = content->high = value;
  } else {
    content->ascends = content->ascends && value > column->last;
    content->descends = content->descends && value < column->last;
    content->counts = content->counts && value == column->last + 1;
    content->low = MIN (content->low, value);
    content->high = MAX (content->high, value);
  }
  column->last = value;
  memcpy (&bits, &value, sizeof bits);
  reading->digest = (reading->digest ^ bits) * G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);
  reading->digest ^= reading->digest >> 29;
}

static void
keep_text (SpFirstText *first, const SpTextLine *line, const SpTextField *field, guint i)
{
  g_autofree char *text = g_utf8_make_valid (field->start, MIN (field->end - field->start, 24));

  *first = (SpFirstText){ .line = line->number, .column = sp_line_column (line, field->at), .field = i };
  g_strlcpy (first->text, text, sizeof first->text);
}

/* Returns how many fields were looked at. */
static guint
note_row (Reading *reading, SpTextFields *fields, const SpTextLine *line)
{
  guint n = sp_fields_split (fields, line, reading->delimiter);
  gboolean good = TRUE;
  double value;

  if (n > SP_LIMIT_COLUMNS)
    n = 0;
  /* The first row sets the number of fields; where the two after it agree on another, they do. */
  if (reading->rows++ == 0 || (reading->rows == 3 && reading->matched == 1 && n > 0))
    g_array_set_size (reading->columns, n);
  if (n == 0 || n != reading->columns->len)
    return 1;
  for (guint i = 0; i < n; i++) {
    const SpTextField *field = sp_fields_get (fields, i);
    if (field->start == field->end)
      continue;
    if (sp_decimal_all (field->start, field->end, reading->mark, reading->group, 0, &value)) {
      note_number (reading, column_of (reading, i), value);
      reading->mark_seen |= memchr (field->start, reading->mark, (gsize) (field->end - field->start)) != NULL;
    } else {
      column_of (reading, i)->texts++;
      if (reading->first_text.line == 0)
        keep_text (&reading->first_text, line, field, i);
      good = FALSE;
    }
  }
  reading->matched += good || reading->rows == 1;
  return n;
}

/* Of all rows looked at, how many are whole; text columns by themselves do not spoil a row. */
static void
sum_up (Reading *reading, guint *numbers, guint *texts)
{
  guint least = reading->rows;

  *numbers = *texts = 0;
  for (guint i = 0; i < reading->columns->len; i++) {
    guint n = column_of (reading, i)->numbers, t = column_of (reading, i)->texts;
    SpFieldKind kind = n == 0 && t == 0 ? SP_FIELD_EMPTY : t > n ? SP_FIELD_TEXT : SP_FIELD_NUMBER;
    column_of (reading, i)->content.kind = kind;
    *numbers += kind == SP_FIELD_NUMBER;
    *texts += kind == SP_FIELD_TEXT;
    if (kind == SP_FIELD_NUMBER)
      least = MIN (least, n);
  }
  reading->matched = *numbers ? least : 0;
}

/* A blank may be a no-break one too, as a mark of thousands. */
static gboolean
holds (const char *start, const char *end, char c)
{
  gssize length = end - start;

  return memchr (start, c, (gsize) length)
         || (c == ' ' && (g_strstr_len (start, length, "\xc2\xa0") || g_strstr_len (start, length, "\xe2\x80\xaf")));
}

static gboolean
has (const SpTextLines *rows, const SpText *text, char c, guint sample)
{
  SpTextLines lines = *rows;
  SpTextLine line;

  if (sample == 0)
    return holds (rows->next, text->start + text->length, c);
  for (guint i = 0; i < sample && sp_lines_next (&lines, &line); i++)
    if (holds (line.start, line.end, c))
      return TRUE;
  return FALSE;
}

/* All the ways that the options leave open and whose characters occur. */
static GPtrArray *
list_readings (const SpText *text, const SpTextLines *rows, guint sample, const SpTraceOptions *options)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (reading_free);
  static const char marks[] = { '.', ',' }, groups[] = { '\0', '.', ',', '\'', ' ' };

  for (guint d = 0; d < SP_DELIMITERS; d++)
    for (guint m = 0; m < G_N_ELEMENTS (marks); m++)
      for (guint g = 0; g < G_N_ELEMENTS (groups); g++) {
        char delimiter = sp_delimiters[d], mark = marks[m], group = groups[g];
        if ((options->delimiter && delimiter && delimiter != options->delimiter) || (options->decimal && mark != options->decimal)
            || group == mark || (group == ' ' && delimiter == ' ') || (options->delimiter && !delimiter && options->delimiter != ' '))
          continue;
        if ((delimiter && delimiter != ' ' && !has (rows, text, delimiter, sample)) || (group && !has (rows, text, group, sample)))
          continue;
        Reading *reading = g_new0 (Reading, 1);
        *reading = (Reading){ delimiter, mark, group, g_array_new (FALSE, TRUE, sizeof (Column)), { 0 }, 0, 0, 0, FALSE };
        g_ptr_array_add (list, reading);
      }
  return list;
}

/* No more than a file of the greatest number of values has: what is behind them would be refused. */
static void
note_rows (GPtrArray *readings, const SpTextLines *rows, guint sample)
{
  guint64 values = 0;
  g_auto (SpTextFields) fields;
  SpTextLines lines = *rows;
  SpTextLine line;

  sp_fields_init (&fields);
  for (guint n = 0; n < (sample ? sample : SP_LIMIT_POINTS) && values < SP_LIMIT_VALUES && sp_lines_next_record (&lines, &line);) {
    if (!sp_line_looks_like_row (&line) || line.end - line.start > (gssize) SP_LIMIT_LINE_BYTES) {
      if (sample && n >= 3 && !sp_line_is_comment (&line, NULL)) /* what comes behind may be another table */
        break;
      continue;
    }
    n++;
    for (guint i = 0; i < readings->len; i++)
      values += note_row (readings->pdata[i], &fields, &line);
  }
}

/* ---- what tells one reading from another, strongest first; each is applied only where something is left ---- */

typedef struct {
  SpLinesAbove above;
  gboolean sweep;
  guint matched, texts; /* the best of all */
} Judge;

static void
count (const Reading *reading, guint *numbers, guint *texts)
{
  *numbers = *texts = 0;
  for (guint i = 0; i < reading->columns->len; i++) {
    *numbers += column_of (reading, i)->content.kind == SP_FIELD_NUMBER;
    *texts += column_of (reading, i)->content.kind == SP_FIELD_TEXT;
  }
}

static gboolean
reads_most (const Reading *reading, const Judge *judge)
{
  return reading->matched == judge->matched;
}

static gboolean
reads_all_columns (const Reading *reading, const Judge *judge)
{
  guint numbers, texts;
  count (reading, &numbers, &texts);
  return texts == judge->texts;
}

/* As what the other layers know. */
static void
to_dialect (const Reading *reading, SpDialect *dialect)
{
  *dialect = (SpDialect){ .delimiter = reading->delimiter,
                          .mark = reading->mark,
                          .group = reading->group,
                          .n = reading->columns->len,
                          .first_text = reading->first_text };
  for (guint i = 0; i < dialect->n; i++)
    dialect->content[i] = column_of (reading, i)->content;
}

static int
fits (const Reading *reading, const Judge *judge)
{
  SpDialect dialect;

  to_dialect (reading, &dialect);
  return sp_header_fits (&judge->above, &dialect);
}

static gboolean
header_agrees (const Reading *reading, const Judge *judge)
{
  return fits (reading, judge) >= 0;
}

static gboolean
has_frequencies (const Reading *reading, const Judge *judge)
{
  guint numbers, texts;
  count (reading, &numbers, &texts);
  return numbers >= 2 || judge->sweep;
}

static gboolean
one_column_goes_one_way (const Reading *reading, const Judge *judge)
{
  guint numbers, texts;
  count (reading, &numbers, &texts);
  for (guint i = 0; i < reading->columns->len; i++) {
    const SpColumnContent *content = &column_of (reading, i)->content;
    if (content->kind == SP_FIELD_NUMBER && content->low >= 0 && (content->ascends || content->descends) && numbers > 1)
      return TRUE;
  }
  return numbers == 1 && judge->sweep;
}

/* Levels are small: one column, that of the frequencies, may hold large numbers, no other. */
static gboolean
levels_are_levels (const Reading *reading, const Judge *judge)
{
  guint numbers, texts, large = 0;
  (void) judge;
  count (reading, &numbers, &texts);
  for (guint i = 0; i < reading->columns->len; i++) {
    const SpColumnContent *content = &column_of (reading, i)->content;
    large += content->kind == SP_FIELD_NUMBER && MAX (fabs (content->low), fabs (content->high)) > SP_GREATEST_LEVEL;
  }
  return large < MAX (numbers, 2) && !(numbers == 1 && large);
}

static gboolean
header_fits (const Reading *reading, const Judge *judge)
{
  return fits (reading, judge) > 0;
}

typedef gboolean (*Test) (const Reading *reading, const Judge *judge);

static void
keep (GPtrArray *readings, Test test, const Judge *judge)
{
  guint good = 0;

  for (guint i = 0; i < readings->len; i++)
    good += test (readings->pdata[i], judge);
  for (guint i = readings->len; good > 0 && i-- > 0;)
    if (!test (readings->pdata[i], judge))
      g_ptr_array_remove_index (readings, i);
}

static gboolean
differ (const Reading *a, const Reading *b)
{
  guint a_numbers, b_numbers, texts;
  count (a, &a_numbers, &texts);
  count (b, &b_numbers, &texts);
  return a->digest != b->digest || a_numbers != b_numbers;
}

/* The first reading that differs from the first of all. */
static const Reading *
rival (GPtrArray *readings)
{
  for (guint i = 1; i < readings->len; i++)
    if (differ (readings->pdata[0], readings->pdata[i]))
      return readings->pdata[i];
  return NULL;
}

static char *
describe (const Reading *reading, const SpTextLine *line)
{
  g_auto (SpTextFields) fields;
  GString *text = g_string_new (NULL);
  double value;
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  sp_fields_init (&fields);
  guint n = sp_fields_split (&fields, line, reading->delimiter);
  for (guint i = 0; i < MIN (n, 6); i++) {
    const SpTextField *field = sp_fields_get (&fields, i);
    if (sp_decimal_all (field->start, field->end, reading->mark, reading->group, 0, &value))
      g_string_append_printf (text, "%s%s", i ? " | " : "", g_ascii_formatd (number, sizeof number, "%.15g", value));
  }
  g_string_append_printf (text, " (?decimal=%s", sp_dialect_word (reading->mark));
  if (reading->delimiter)
    g_string_append_printf (text, "&delimiter=%s", sp_dialect_word (reading->delimiter));
  g_string_append_c (text, ')');
  return g_string_free (text, FALSE);
}

static gboolean
ambiguous (GPtrArray *readings, const char *file, const SpTextLines *rows, GError **error)
{
  SpTextLines lines = *rows;
  SpTextLine line;

  sp_lines_next_record (&lines, &line);
  g_autofree char *one = describe (readings->pdata[0], &line), *other = describe (rival (readings), &line);
  return sp_fail_at (error, file, (guint) line.number, 1,
                     _ ("can be read in two ways, and the whole file does not tell which: as %s or as %s. Name the one you mean with the "
                        "file"),
                     one, other);
}

/* Large numbers that go one way are frequencies in Hz. */
static gboolean
has_bare_hz (const SpDialect *dialect)
{
  for (guint i = 0; i < dialect->n; i++)
    if (dialect->content[i].kind == SP_FIELD_NUMBER && dialect->content[i].high >= SP_BARE_HZ
        && (dialect->content[i].ascends || dialect->content[i].descends))
      return TRUE;
  return FALSE;
}

/* A comma may be both delimiter and decimal mark, where nothing says otherwise. */
static gboolean
may_be_joined (const SpLinesAbove *above, const SpTextLines *rows, guint sample, const SpTraceOptions *options, gboolean sweep,
               const SpDialect *dialect)
{
  g_auto (SpHeader) header = { 0 };
  gboolean named, alone = !sweep && options->frequency_unit_hz == 0 && !has_bare_hz (dialect);

  if (dialect->delimiter != ',' || options->decimal == '.' || (dialect->n == 2 && options->delimiter == ',')
      || !sp_rows_joined (rows, sample, dialect->n, alone))
    return FALSE;
  sp_header_find (above, rows, dialect, &header);
  named = header.names != NULL;
  for (guint i = 0; named && i < header.names->len; i++) {
    const SpHeaderName *name = &g_array_index (header.names, SpHeaderName, i);
    named = *name->name || *name->unit_text;
  }
  return !named;
}

gboolean
sp_dialect_choose (const SpText *text, const char *file, const SpTextLines *rows, guint sample, const SpTraceOptions *options,
                   gboolean sweep, SpDialect *dialect, GError **error)
{
  static const Test tests[] = { header_agrees, levels_are_levels, one_column_goes_one_way, header_fits };
  g_autoptr (GPtrArray) readings = list_readings (text, rows, sample, options);
  Judge judge = { .sweep = sweep, .texts = G_MAXUINT };

  sp_lines_above (text, rows, &judge.above);
  note_rows (readings, rows, sample);
  for (guint i = readings->len; i-- > 0;) {
    Reading *reading = readings->pdata[i];
    guint numbers, texts;
    sum_up (reading, &numbers, &texts);
    if (numbers == 0 || 2 * reading->matched < reading->rows)
      g_ptr_array_remove_index (readings, i);
    else
      judge.texts = MIN (judge.texts, texts);
  }
  if (readings->len == 0)
    return sp_fail_at (error, file, (guint) rows->number, 1,
                       _ ("rows of numbers that cannot be read in any one way; expected the same number of fields in each, with one "
                          "decimal mark"));
  keep (readings, reads_all_columns, &judge);
  keep (readings, has_frequencies, &judge);
  for (guint i = 0; i < readings->len; i++)
    judge.matched = MAX (judge.matched, ((Reading *) readings->pdata[i])->matched);
  keep (readings, reads_most, &judge);
  /* What the first two leave out is no reading at all; only the others weigh, and are worth telling. */
  gboolean open = FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (tests) && rival (readings); i++) {
    open = i >= 2;
    keep (readings, tests[i], &judge);
  }
  if (rival (readings)) {
    if (sample)
      return sp_dialect_choose (text, file, rows, 0, options, sweep, dialect, error);
    return ambiguous (readings, file, rows, error);
  }
  const Reading *chosen = readings->pdata[0];
  to_dialect (chosen, dialect);
  dialect->settled = open;
  dialect->mark_open = !chosen->mark_seen && !options->decimal;
  return !may_be_joined (&judge.above, rows, sample, options, sweep, dialect) || sp_fail_joined (rows, dialect->n, file, error);
}
