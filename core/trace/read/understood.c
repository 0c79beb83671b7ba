/* understood.c - the reader's first layers once more, for people: none of the numbers are taken from here */
#include "core/trace/read/understood.h"

#include "core/trace/read/columns.h"

#include <math.h>
#include <string.h>

/* All bound time. */
#define LOOK_BYTES ((gsize) 64 << 10)
#define LOOK_ROWS 32
#define FIRST_LINES 12

typedef struct {
  SpText text;
  SpDialect dialect;
  SpHeader header;
  gboolean table;    /* dialect and header are found */
  guint64 first_row; /* its line; G_MAXUINT64 without a table */
} Looked;

/* The beginning, up to its last whole line where there is more. */
static GBytes *
beginning (GBytes *bytes)
{
  gsize length;
  const char *data = g_bytes_get_data (bytes, &length);

  if (length <= LOOK_BYTES)
    return g_bytes_ref (bytes);
  length = LOOK_BYTES;
  while (length > LOOK_BYTES / 2 && data[length - 1] != '\n' && data[length - 1] != '\r')
    length--;
  if ((guchar) data[0] >= 0xfe) /* UTF-16: a line end is two bytes, little-endian ones end in a zero */
    length += length % 2;
  return g_bytes_new_from_bytes (bytes, 0, length);
}

static void
find_table (Looked *looked, const SpTraceOptions *options)
{
  SpTextLines rows;
  SpLinesAbove above;

  if (!sp_dialect_start (&looked->text, "", &rows, NULL))
    return;
  /* With a sweep or without: what is written alike is read alike. */
  if (!sp_dialect_choose (&looked->text, "", &rows, LOOK_ROWS, options, TRUE, &looked->dialect, NULL))
    return;
  /* No mark so far: one further down may tell. */
  if (looked->dialect.mark_open && !sp_dialect_choose (&looked->text, "", &rows, 0, options, TRUE, &looked->dialect, NULL))
    return;
  sp_lines_above (&looked->text, &rows, &above);
  sp_header_find (&above, &rows, &looked->dialect, &looked->header);
  looked->table = TRUE;
  looked->first_row = looked->header.rows.number;
}

/* ---- lines ---- */

static SpLineRole
role_of (const Looked *looked, const SpTextLine *line, const SpTrace *trace)
{
  guint64 names = looked->header.names ? looked->header.line : G_MAXUINT64;

  if (!looked->table || sp_line_is_blank (line))
    return SP_LINE_NOT_READ;
  if (line->number < names && line->number < looked->first_row)
    return SP_LINE_SETTING;
  if (line->number < looked->first_row)
    return SP_LINE_HEADER;
  for (guint i = 0; trace && trace->skipped && i < trace->skipped->len; i++)
    if (g_array_index (trace->skipped, guint64, i) == line->number)
      return SP_LINE_SKIPPED;
  return sp_line_is_comment (line, NULL) ? SP_LINE_NOT_READ : SP_LINE_DATA;
}

static char *
text_of (const SpTextLine *line)
{
  g_autofree char *text = g_utf8_make_valid (line->start, MIN (line->end - line->start, 4 * SP_UNDERSTOOD_CHARACTERS));

  for (char *p = text; *p; p++)
    if (*p == '\t' || g_ascii_iscntrl (*p))
      *p = ' ';
  return g_utf8_strlen (text, -1) > SP_UNDERSTOOD_CHARACTERS ? g_utf8_substring (text, 0, SP_UNDERSTOOD_CHARACTERS)
                                                             : g_steal_pointer (&text);
}

static void
take_lines (const Looked *looked, const SpTrace *trace, SpUnderstood *look)
{
  SpTextLines lines;
  SpTextLine line;
  guint64 begin = looked->table ? (looked->header.names ? looked->header.line : looked->first_row) : 0;
  guint64 end = looked->table ? looked->first_row + 4 : 0;

  look->lines = g_new0 (SpUnderstoodLine, SP_UNDERSTOOD_LINES);
  sp_text_lines (&looked->text, &lines);
  while (look->n < SP_UNDERSTOOD_LINES && sp_lines_next (&lines, &line))
    if (line.number <= FIRST_LINES || (line.number >= begin && line.number < end))
      look->lines[look->n++] = (SpUnderstoodLine){ line.number, text_of (&line), role_of (looked, &line, trace) };
}

/* ---- shape ---- */

static char *
name_of (const SpHeaderName *name)
{
  if (!*name->unit_text)
    return g_strdup (name->name);
  return *name->name ? g_strdup_printf ("%s (%s)", name->name, name->unit_text) : g_strdup (name->unit_text);
}

/* "Frequency (MHz), Level (dBm)". */
static char *
list_columns (const Looked *looked)
{
  GString *list = g_string_new (NULL);

  for (guint i = 0; looked->header.names && i < looked->header.names->len; i++) {
    g_autofree char *name = name_of (&g_array_index (looked->header.names, SpHeaderName, i));
    g_string_append_printf (list, "%s%s", i ? ", " : "", name);
  }
  return g_string_free (list, FALSE);
}

/* The keys of the lines before the table; what they hold differs from sweep to sweep. */
static void
add_keys (const Looked *looked, GString *shape)
{
  SpTextLines lines;
  SpTextLine line;
  guint64 end = looked->header.names ? looked->header.line : looked->first_row;

  sp_text_lines (&looked->text, &lines);
  while (sp_lines_next (&lines, &line) && line.number < end) {
    g_autofree char *text = g_strndup (line.start, (gsize) (line.end - line.start));
    gsize length = strcspn (text, ",;\t:=");
    if (!text[length]) /* no key with a value: a note */
      continue;
    g_autofree char *key = sp_words_fold (text, (gssize) length);
    g_string_append_printf (shape, "%s\n", key);
  }
}

static char *
shape_of (const Looked *looked, const char *columns)
{
  GString *shape = g_string_new (NULL);

  if (!looked->table)
    return g_string_free (shape, FALSE);
  g_string_append_printf (shape, "%s %u %s\n", sp_dialect_word (looked->dialect.delimiter), looked->dialect.n, columns);
  add_keys (looked, shape);
  return g_string_free (shape, FALSE);
}

/* ---- columns ---- */

static char *
frequency_of (const Looked *looked, const SpTraceOptions *options)
{
  g_auto (SpPreamble) preamble = { 0 };
  g_auto (SpColumns) columns = { 0 };

  sp_preamble_read (&looked->text, looked->header.start, &looked->dialect, options->frequency_unit_hz, "", &preamble, NULL);
  if (!sp_columns_find (&looked->dialect, &looked->header, &preamble, options, TRUE, "", &columns, NULL) || columns.frequency < 0)
    return NULL;
  if (looked->header.names && (guint) columns.frequency < looked->header.names->len)
    return name_of (&g_array_index (looked->header.names, SpHeaderName, columns.frequency));
  return g_strdup_printf ("%d", columns.frequency + 1);
}

SpUnderstood *
sp_trace_understood (GBytes *bytes, const SpTraceOptions *given, const SpTrace *trace)
{
  g_autoptr (GBytes) first = beginning (bytes);
  SpUnderstood *look = g_new0 (SpUnderstood, 1);
  Looked looked = { .first_row = G_MAXUINT64 };
  SpTraceOptions none;

  sp_trace_options_init (&none);
  const SpTraceOptions *options = given ? given : &none;
  if (options->format == SP_BLOCK_NONE && sp_text_decode (first, "", &looked.text, NULL)) {
    look->encoding = looked.text.encoding;
    find_table (&looked, options);
    take_lines (&looked, trace, look);
  }
  look->columns = list_columns (&looked);
  look->shape = shape_of (&looked, look->columns);
  if (looked.table) {
    look->delimiter = sp_dialect_word (looked.dialect.n > 1 ? looked.dialect.delimiter : 0);
    look->mark = sp_dialect_word (looked.dialect.mark);
    look->frequency = frequency_of (&looked, options);
  }
  sp_header_clear (&looked.header);
  sp_text_clear (&looked.text);
  return look;
}

SpUnderstood *
sp_trace_understood_at (const SpTrace *trace)
{
  SpTraceOptions options;

  if (!trace->raw || !sp_trace_options_from_text (trace->options, &options, NULL))
    return NULL;
  SpUnderstood *look = sp_trace_understood (trace->raw, &options, trace);
  sp_trace_options_clear (&options);
  return look;
}

void
sp_trace_understood_free (SpUnderstood *look)
{
  if (!look)
    return;
  for (guint i = 0; i < look->n; i++)
    g_free (look->lines[i].text);
  g_free (look->lines);
  g_free (look->frequency);
  g_free (look->shape);
  g_free (look->columns);
  g_free (look);
}
