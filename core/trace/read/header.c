/* header.c - understands the names and units above the columns */
#include "core/trace/read/header.h"

#include "core/trace/text/decimal.h"

#include <string.h>

void
sp_lines_above (const SpText *text, const SpTextLines *rows, SpLinesAbove *above)
{
  SpTextLines lines, before;
  SpTextLine line;

  above->n = 0;
  sp_text_lines (text, &lines);
  for (before = lines; lines.next < rows->next && sp_lines_next_record (&lines, &line); before = lines) {
    const char *start = line.start;
    if (sp_line_is_comment (&line, &start))
      line.start = start;
    if (sp_line_is_blank (&line))
      continue;
    memmove (above->line + 1, above->line, (SP_LINES_ABOVE - 1) * sizeof *above->line);
    above->line[0] = (SpLineAbove){ line, before, before.next };
    above->n = MIN (above->n + 1, SP_LINES_ABOVE);
  }
}

static void
clear_name (gpointer data)
{
  SpHeaderName *name = data;
  g_free (name->name);
  g_free (name->unit_text);
}

/* A phrase with a column's word in it names that column: "Frequency 1", "Trace A". */
static SpWord
column_word (const char *folded)
{
  SpWord word = sp_words_column (folded), found = SP_WORD_NONE;

  if (word != SP_WORD_NONE)
    return word;
  g_auto (GStrv) parts = g_strsplit (folded, " ", -1);
  for (char **part = parts; *part; part++) {
    word = strlen (*part) > 1 ? sp_words_column (*part) : SP_WORD_NONE;
    if (word == SP_WORD_FREQUENCY || (word == SP_WORD_LEVEL && found != SP_WORD_FREQUENCY))
      found = word;
  }
  return found;
}

static SpHeaderName
read_name (const SpTextLine *line, const SpTextField *field)
{
  SpHeaderName name = { .column = sp_line_column (line, field->at) };

  sp_unit_split (field->start, (gsize) (field->end - field->start), &name.name, &name.unit_text, &name.unit);
  g_autofree char *folded = sp_words_fold (name.name, -1);
  name.word = column_word (folded);
  if (name.word == SP_WORD_NONE || *folded == '\0')
    name.word = name.unit.kind == SP_UNIT_KIND_FREQUENCY ? SP_WORD_FREQUENCY
                : name.unit.kind == SP_UNIT_KIND_LEVEL   ? SP_WORD_LEVEL
                : name.unit.kind == SP_UNIT_KIND_TIME    ? SP_WORD_TIME
                                                         : name.word;
  return name;
}

/* One name out of two fields; a quoted one is whole already, and its text may be a copy, elsewhere than the line. */
static gboolean
merge (GArray *items, guint i)
{
  SpTextField *before = &g_array_index (items, SpTextField, i - 1), *field = &g_array_index (items, SpTextField, i);

  if (before->quoted || field->quoted)
    return FALSE;
  before->end = field->end;
  g_array_remove_index (items, i);
  return TRUE;
}

/* Among blanks a name may hold one itself: tabs or two blanks separate then, or a bracket belongs to the name before it. */
static void
merge_blank_fields (SpTextFields *fields, guint want)
{
  GArray *items = fields->items;

  if (items->len <= want)
    return;
  for (guint i = 1; i < items->len;) {
    const SpTextField *field = &g_array_index (items, SpTextField, i);
    if (!(field->start < field->end && (*field->start == '(' || *field->start == '[') && merge (items, i)))
      i++;
  }
  for (guint i = 1; items->len > want && i < items->len;) {
    const SpTextField *before = &g_array_index (items, SpTextField, i - 1), *field = before + 1;
    if (before->quoted || field->at - before->end != 1 || *before->end != ' ' || !merge (items, i))
      i++;
  }
}

static guint
split (SpTextFields *fields, const SpTextLine *line, const SpDialect *dialect)
{
  sp_fields_split (fields, line, dialect->delimiter);
  if (dialect->delimiter == ' ')
    merge_blank_fields (fields, dialect->n);
  GArray *items = fields->items;
  while (items->len > dialect->n && sp_fields_get (fields, items->len - 1)->start == sp_fields_get (fields, items->len - 1)->end)
    g_array_set_size (items, items->len - 1); /* a delimiter at the line's end */
  return items->len;
}

static gboolean
is_number (const SpTextField *field, const SpDialect *dialect)
{
  double value;
  return sp_decimal_all (field->start, field->end, dialect->mark, dialect->group, 0, &value);
}

typedef struct {
  guint n, frequencies, levels, units, numbers, empty;
  gboolean digits;  /* somewhere in the line */
  gboolean setting; /* the first field is the name of a setting, so this is "Detector, RMS" */
} Count;

/* "Detector", "Ref Level: 0 dBm"; "Points" is a column's name too, and then that. */
static gboolean
is_setting (const char *text)
{
  g_autofree char *key = g_strndup (text, strcspn (text, ":="));
  g_autofree char *folded = sp_words_fold (key, -1);
  return sp_words_column (folded) == SP_WORD_NONE && sp_words_setting (folded) != SP_WORD_NONE;
}

static Count
count_words (const SpTextFields *fields, const SpTextLine *line, const SpDialect *dialect)
{
  Count count = { .n = fields->items->len };

  for (const char *p = line->start; p < line->end; p++)
    count.digits |= g_ascii_isdigit (*p);
  for (guint i = 0; i < count.n; i++) {
    const SpTextField *field = sp_fields_get (fields, i);
    SpHeaderName name = read_name (line, field);
    count.frequencies += name.word == SP_WORD_FREQUENCY;
    count.levels += name.word == SP_WORD_LEVEL;
    count.units += name.unit.kind != SP_UNIT_KIND_NONE && *name.name == '\0';
    count.empty += field->start == field->end;
    count.numbers += is_number (field, dialect);
    count.setting |= i == 0 && is_setting (name.name);
    clear_name (&name);
  }
  return count;
}

static gboolean
is_units (const Count *count, const SpDialect *dialect)
{
  return count->n == dialect->n && count->units > 0 && count->units + count->empty == count->n;
}

/* Names at least one thing we know; right above the rows any line of as many texts does. */
static gboolean
is_header (const Count *count, const SpDialect *dialect, gboolean adjacent)
{
  gboolean known = count->frequencies + count->levels > 0;

  if (count->n == 1) /* levels alone: "Level (dBm)", but not "RBW 100 kHz" */
    return dialect->n == 1 && count->levels == 1 && !count->setting && !count->digits;
  return count->n == dialect->n && count->numbers == 0 && !count->setting && (known || adjacent);
}

static void
take_names (SpHeader *header, const SpTextFields *fields, const SpLineAbove *above)
{
  header->names = g_array_new (FALSE, TRUE, sizeof (SpHeaderName));
  g_array_set_clear_func (header->names, clear_name);
  for (guint i = 0; i < fields->items->len; i++) {
    SpHeaderName name = read_name (&above->line, sp_fields_get (fields, i));
    g_array_append_val (header->names, name);
  }
  header->line = above->line.number;
  header->start = above->start;
}

/* The units' line is found first, being the nearer one. */
static void
add_names_above_units (SpHeader *header, SpTextFields *fields, const SpLineAbove *above, const SpDialect *dialect)
{
  guint n = split (fields, &above->line, dialect);
  Count count = count_words (fields, &above->line, dialect);

  if (n != dialect->n || !is_header (&count, dialect, TRUE))
    return;
  GArray *units = g_steal_pointer (&header->names);
  take_names (header, fields, above);
  for (guint i = 0; i < n; i++) {
    SpHeaderName *name = &g_array_index (header->names, SpHeaderName, i), *unit = &g_array_index (units, SpHeaderName, i);
    if (unit->unit.kind == SP_UNIT_KIND_NONE)
      continue;
    name->unit = unit->unit;
    g_free (name->unit_text);
    name->unit_text = g_steal_pointer (&unit->unit_text);
    if (name->word == SP_WORD_NONE)
      name->word = unit->word;
  }
  g_array_unref (units);
}

/* "Frequency (MHz);Level (dBm)" right above rows with commas: names that are known tell of themselves, whatever stands between them. */
static gboolean
names_by_other_delimiter (SpHeader *header, SpTextFields *fields, const SpLineAbove *above, guint n, const SpDialect *dialect)
{
  static const char delimiters[] = { '\t', ';', ',' };
  g_autofree SpDialect *other = g_memdup2 (dialect, sizeof *dialect);

  for (gsize i = 0; i < G_N_ELEMENTS (delimiters) && dialect->n > 1; i++) {
    other->delimiter = delimiters[i];
    if (split (fields, &above[0].line, other) != dialect->n)
      continue;
    Count count = count_words (fields, &above[0].line, other);
    gboolean units = is_units (&count, other), names = count.frequencies == 1 && count.levels + 1 == count.n;
    if (!(units || names) || !is_header (&count, other, units))
      continue;
    take_names (header, fields, &above[0]);
    if (units && n > 1)
      add_names_above_units (header, fields, &above[1], other);
    return TRUE;
  }
  return FALSE;
}

/* Lines right above that begin with a number and have as many fields belong to the rows, whatever is wrong with them. */
static void
reach_up (SpHeader *header, SpTextFields *fields, const SpLineAbove *above, guint n_above, const SpDialect *dialect)
{
  for (guint i = 0; i < n_above; i++) {
    if (!sp_line_looks_like_row (&above[i].line) || dialect->n < 2 || split (fields, &above[i].line, dialect) != dialect->n)
      return;
    header->rows = above[i].before;
    header->start = above[i].start;
  }
}

void
sp_header_find (const SpLinesAbove *above, const SpTextLines *rows, const SpDialect *dialect, SpHeader *header)
{
  g_auto (SpTextFields) fields;
  const SpLineAbove *line = above->line;

  *header = (SpHeader){ .start = rows->next, .rows = *rows };
  sp_fields_init (&fields);
  for (guint i = 0; i < above->n; i++) {
    if (split (&fields, &line[i].line, dialect) != dialect->n)
      continue;
    Count count = count_words (&fields, &line[i].line, dialect);
    gboolean units = is_units (&count, dialect);
    if (!units && !is_header (&count, dialect, i == 0))
      continue;
    take_names (header, &fields, &line[i]);
    if (units && i + 1 < above->n)
      add_names_above_units (header, &fields, &line[i + 1], dialect);
    if (i > 0)
      header->rows = line[i - 1].before;
    return;
  }
  if (above->n == 0 || !names_by_other_delimiter (header, &fields, line, above->n, dialect))
    reach_up (header, &fields, line, above->n, dialect);
}

void
sp_header_clear (SpHeader *header)
{
  g_clear_pointer (&header->names, g_array_unref);
}

int
sp_header_fits (const SpLinesAbove *above, const SpDialect *dialect)
{
  g_auto (SpTextFields) fields;
  int fits = 0;

  sp_fields_init (&fields);
  for (guint i = 0; i < above->n && fits == 0; i++) {
    split (&fields, &above->line[i].line, dialect);
    Count count = count_words (&fields, &above->line[i].line, dialect);
    if (is_units (&count, dialect) || is_header (&count, dialect, FALSE))
      fits = 1;
    else if (count.n > 1 && count.numbers == 0 && count.frequencies > 0 && count.levels > 0)
      fits = -1;
  }
  return fits;
}
