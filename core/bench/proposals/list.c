/* list.c - a table of radios and planned conditions, line by line */
#include "core/bench/proposals/list.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/bench/build.h"
#include "core/bench/proposals/proposals-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/typed.h"
#include "core/trace/text/encoding.h"
#include "core/trace/text/fields.h"

#define BYTES_MOST (1 << 20) /* bounds memory: a thousand characters a line */
#define LINES_MOST 1000      /* bounds time: as many radios and conditions as a bench holds */

typedef enum { COLUMN_NONE, COLUMN_RADIO, COLUMN_CONDITIONS, COLUMN_OF_RADIO, COLUMN_OF_CONDITION } ColumnKind;

typedef struct {
  ColumnKind kind;
  const SpKeySpec *spec;
  char *unit; /* of its heading; NULL */
} Column;

typedef struct {
  const char *name;
  GArray *columns; /* of Column */
  char delimiter, mark;
  const char *planned;
  SpList *list;
} Reader;

/* ---- rows ---- */

static void
value_free (gpointer data)
{
  g_free (((SpListValue *) data)->value);
  g_free (data);
}

static void
row_free (gpointer data)
{
  SpListRow *row = data;
  g_free (row->wrong);
  g_free (row->radio);
  g_ptr_array_unref (row->conditions);
  g_ptr_array_unref (row->values);
  g_free (row);
}

void
sp_list_free (SpList *list)
{
  g_ptr_array_unref (list->rows);
  g_free (list);
}

static SpListRow *
add_row (SpList *list, guint64 line)
{
  SpListRow *row = g_new0 (SpListRow, 1);
  row->line = line;
  row->radio = g_strdup ("");
  row->conditions = g_ptr_array_new_with_free_func (g_free);
  row->values = g_ptr_array_new_with_free_func (value_free);
  g_ptr_array_add (list->rows, row);
  return row;
}

static gboolean
refuse (const Reader *reader, SpListRow *row, const SpTextLine *line, const char *at, const char *message)
{
  g_autoptr (GError) error = NULL;
  sp_fail_at (&error, reader->name, (guint) line->number, sp_line_column (line, at), "%s", message);
  g_free (row->wrong);
  row->wrong = g_strdup (error->message);
  return FALSE;
}

/* ---- columns ---- */

/* What people head such columns with: a key where none of the other columns is meant. */
static const struct {
  const char *word, *key;
  ColumnKind kind;
} headings[] = { { "radio", NULL, COLUMN_RADIO },
                 { "name", NULL, COLUMN_RADIO },
                 { "model", NULL, COLUMN_RADIO },
                 { "transmitter", NULL, COLUMN_RADIO },
                 { "serialnumber", "serial" },
                 { "serialno", "serial" },
                 { "sn", "serial" },
                 { "remark", "note" },
                 { "condition", NULL, COLUMN_CONDITIONS },
                 { "conditions", NULL, COLUMN_CONDITIONS },
                 { "band", NULL, COLUMN_CONDITIONS },
                 { "bands", NULL, COLUMN_CONDITIONS },
                 { "ratedpower", "rated_w" },
                 { "power", "rated_w" },
                 { "rated", "rated_w" },
                 { "ratedw", "rated_w" },
                 { "frequency", "fundamental" },
                 { "f0", "fundamental" },
                 { "bandwidth", "necessary_bandwidth" } };

static gboolean
is_for_list (const SpKeySpec *spec)
{
  return spec && (spec->kind <= SP_KEY_YES_NO || g_str_equal (spec->key, "mask"));
}

static gboolean
find_key (Column *column, const char *key)
{
  const SpKeySpec *of_radio = sp_keys_find (sp_radio_keys, key), *of_condition = sp_keys_find (sp_condition_keys, key);
  if (!is_for_list (of_radio) && !is_for_list (of_condition))
    return FALSE;
  column->kind = is_for_list (of_radio) ? COLUMN_OF_RADIO : COLUMN_OF_CONDITION;
  column->spec = is_for_list (of_radio) ? of_radio : of_condition;
  return TRUE;
}

/* "Rated power (mW)": the key and the unit. FALSE: no heading that we know. */
static gboolean
find_heading (Column *column, const char *text)
{
  g_autofree char *lower = g_ascii_strdown (text, -1), *word = NULL;
  char *open = strpbrk (lower, "(["), *close = open ? strpbrk (open, ")]") : NULL;
  *column = (Column){ COLUMN_NONE, NULL, NULL };
  if (find_key (column, lower))
    return TRUE;
  if (close)
    column->unit = g_strndup (text + (open + 1 - lower), (gsize) (close - open - 1));
  if (open)
    *open = '\0';
  word = sp_proposal_fold (lower);
  for (guint i = 0; i < G_N_ELEMENTS (headings); i++)
    if (g_str_equal (word, headings[i].word)) {
      column->kind = headings[i].kind;
      return !headings[i].key || find_key (column, headings[i].key);
    }
  return find_key (column, word);
}

static void
clear_column (gpointer column)
{
  g_free (((Column *) column)->unit);
}

static void
add_column (Reader *reader, const char *heading)
{
  Column column;
  find_heading (&column, heading);
  g_array_append_val (reader->columns, column);
}

/* Is the line a heading? Two known words, or its only one. */
static gboolean
take_heading (Reader *reader, const SpTextFields *fields, guint n)
{
  guint known = 0, filled = 0;
  for (guint i = 0; i < n; i++) {
    Column column;
    g_autofree char *text = sp_field_text (sp_fields_get (fields, i));
    filled += *text != '\0';
    known += find_heading (&column, text);
    clear_column (&column);
  }
  if (known == 0 || known < MIN (filled, 2))
    return FALSE;
  for (guint i = 0; i < n; i++) {
    g_autofree char *text = sp_field_text (sp_fields_get (fields, i));
    add_column (reader, text);
  }
  return TRUE;
}

static gboolean
has_radio (const Reader *reader)
{
  for (guint i = 0; i < reader->columns->len; i++)
    if (g_array_index (reader->columns, Column, i).kind == COLUMN_RADIO)
      return TRUE;
  return FALSE;
}

/* ---- one line ---- */

static void
add_conditions (SpListRow *row, const char *text)
{
  g_auto (GStrv) names = g_strsplit_set (text, ",;", -1);
  for (guint i = 0; names[i]; i++)
    if (*g_strstrip (names[i]))
      g_ptr_array_add (row->conditions, g_strdup (names[i]));
}

static void
add_value (SpListRow *row, const SpKeySpec *spec, gboolean of_radio, char *value)
{
  SpListValue *one = g_new (SpListValue, 1);
  *one = (SpListValue){ spec->key, value, of_radio };
  g_ptr_array_add (row->values, one);
}

/* As the sheet spells it; NULL and what is wrong. (transfer full) */
static char *
spelled (const Reader *reader, const Column *column, const char *text, GError **error)
{
  const char *end = text + strlen (text);
  gboolean bare = column->unit && end > text && g_ascii_isdigit (end[-1]);
  g_autofree char *typed = g_strconcat (text, bare ? " " : NULL, bare ? column->unit : "", NULL);
  g_autofree char *value = sp_typed_value (column->spec, typed, reader->mark, error);
  if (!value || column->spec->kind > SP_KEY_YES_NO)
    return g_steal_pointer (&value);
  SpRadio radio = { 0 };
  SpCondition condition = { 0 };
  gboolean of_radio = column->kind == COLUMN_OF_RADIO;
  const SpKeySpec keys[] = { *column->spec, { 0 } }; /* alone: others of its table need the sheet */
  gpointer object = of_radio ? (gpointer) &radio : (gpointer) &condition;
  sp_keys_init (of_radio ? sp_radio_keys : sp_condition_keys, object);
  gboolean good = sp_keys_set (keys, of_radio ? "radio" : "condition", object, NULL, column->spec->key, value, error);
  sp_radio_clear (&radio);
  sp_condition_clear (&condition);
  return good ? g_steal_pointer (&value) : NULL;
}

static gboolean
take_field (const Reader *reader, SpListRow *row, const SpTextLine *line, const SpTextField *field, const Column *column)
{
  g_autofree char *text = g_strstrip (sp_field_text (field));
  g_autoptr (GError) error = NULL;
  if (!*text || column->kind == COLUMN_NONE)
    return TRUE;
  if (strpbrk (text, "\n\r"))
    return refuse (reader, row, line, field->at, _ ("several lines in one field; expected one"));
  if (column->kind == COLUMN_CONDITIONS) {
    add_conditions (row, text);
    return TRUE;
  }
  if (column->kind == COLUMN_RADIO) {
    g_free (row->radio);
    row->radio = g_steal_pointer (&text);
    return !strpbrk (row->radio, "/[]") || refuse (reader, row, line, field->at, _ ("a radio's name with / [ or ]; expected one without"));
  }
  char *value = spelled (reader, column, text, &error);
  if (!value)
    return refuse (reader, row, line, field->at, error->message);
  add_value (row, column->spec, column->kind == COLUMN_OF_RADIO, value);
  return TRUE;
}

static void
take_line (const Reader *reader, const SpTextLine *line, const SpTextFields *fields, guint n)
{
  SpListRow *row = add_row (reader->list, line->number);
  for (guint i = 0; i < n && !row->wrong; i++) {
    const SpTextField *field = sp_fields_get (fields, i);
    if (i < reader->columns->len)
      take_field (reader, row, line, field, &g_array_index (reader->columns, Column, i));
    else if (field->end > field->start)
      refuse (reader, row, line, field->at, _ ("more fields than the heading has; expected as many, what holds a comma in quotes"));
  }
  if (!row->wrong && !*row->radio)
    refuse (reader, row, line, line->start, _ ("no radio's name in this line; expected one in its column"));
  if (row->conditions->len == 0 && reader->planned)
    add_conditions (row, reader->planned);
}

/* ---- the whole ---- */

static char
delimiter_of (const SpTextLine *line)
{
  static const char delimiters[] = "\t;,";
  for (const char *p = delimiters; *p; p++)
    if (memchr (line->start, *p, (gsize) (line->end - line->start)))
      return *p;
  return 0;
}

/* Does a comma stand between two digits, where it does not divide? */
static char
mark_of (const SpText *text, char delimiter)
{
  for (gsize i = 1; delimiter != ',' && i + 1 < text->length; i++)
    if (text->start[i] == ',' && g_ascii_isdigit (text->start[i - 1]) && g_ascii_isdigit (text->start[i + 1]))
      return ',';
  return '.';
}

static void
read_lines (Reader *reader, const SpText *text)
{
  static const char *const assumed[] = { "radio", "serial", "owner", "rated_w", "conditions" };
  g_auto (SpTextFields) fields;
  SpTextLines lines;
  SpTextLine line;
  gboolean first = TRUE;
  sp_fields_init (&fields);
  sp_text_lines (text, &lines);
  while (sp_lines_next_record (&lines, &line)) {
    if (sp_line_is_blank (&line) || *line.start == '#')
      continue;
    if (reader->list->rows->len == LINES_MOST) {
      refuse (reader, add_row (reader->list, line.number), &line, line.start,
              _ ("more than 1000 lines, the limit; take the list in parts"));
      return;
    }
    reader->delimiter = first ? delimiter_of (&line) : reader->delimiter;
    reader->mark = first ? mark_of (text, reader->delimiter) : reader->mark;
    guint n = sp_fields_split (&fields, &line, reader->delimiter);
    gboolean heading = first && take_heading (reader, &fields, n);
    if (first && !heading)
      for (guint i = 0; i < G_N_ELEMENTS (assumed); i++)
        add_column (reader, assumed[i]);
    if (!heading)
      take_line (reader, &line, &fields, n);
    else if (!has_radio (reader)) {
      refuse (reader, add_row (reader->list, line.number), &line, line.start,
              _ ("a heading without a radio; expected a column headed “radio”"));
      return;
    }
    first = FALSE;
  }
}

static void
count (SpList *list)
{
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; i < list->rows->len; i++) {
    const SpListRow *row = list->rows->pdata[i];
    list->n_wrong += row->wrong != NULL;
    list->n_radios += !row->wrong && g_hash_table_add (names, sp_proposal_fold (row->radio));
  }
}

char *
sp_list_text (GBytes *bytes, const char *name, GError **error)
{
  g_auto (SpText) text = { 0 };
  if (g_bytes_get_size (bytes) > BYTES_MOST) {
    sp_fail (error, SP_ERROR_LIMIT, _ ("%s: more than 1 MiB, the limit of a list"), name);
    return NULL;
  }
  return sp_text_decode (bytes, name, &text, error) ? g_strndup (text.start, text.length) : NULL;
}

SpList *
sp_list_parse (GBytes *bytes, const char *name, const char *planned)
{
  g_autoptr (GArray) columns = g_array_new (FALSE, FALSE, sizeof (Column));
  g_autoptr (GError) error = NULL;
  SpList *list = g_new0 (SpList, 1);
  Reader reader = { name, columns, 0, '.', planned && *planned ? planned : NULL, list };
  g_array_set_clear_func (columns, clear_column);
  list->rows = g_ptr_array_new_with_free_func (row_free);
  g_auto (SpText) text = { 0 };
  if (sp_text_decode (bytes, name, &text, &error))
    read_lines (&reader, &text);
  else
    add_row (list, 0)->wrong = g_strdup (error->message);
  count (list);
  return list;
}
