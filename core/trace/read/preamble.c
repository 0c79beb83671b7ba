/* preamble.c - understands the settings that stand before the rows */
#include "core/trace/read/preamble.h"

#include "core/trace/read/vocabulary.h"
#include "core/trace/text/decimal.h"

#include <math.h>
#include <string.h>

#define FIELDS_A_LINE 64 /* room for the fields that are looked at */

typedef struct {
  SpPreamble *preamble;
  const SpDialect *dialect;
  double frequency_unit_hz;
  const char *file;
  GPtrArray *warnings;
  guint n_warnings;
  guint64 line;
} Reader;

/* What one key says, apart: number, unit, text. */
typedef struct {
  SpWord word;
  const char *key; /* as written */
  char *text;      /* value as written */
  double number;   /* NaN */
  SpUnitWord unit; /* of the value, else behind it, else of the key */
} Pair;

static gboolean
may_warn (Reader *reader)
{
  return reader->warnings && reader->n_warnings++ < SP_LIMIT_PREAMBLE_WARNINGS;
}

static void
ignored (Reader *reader, const Pair *pair)
{
  if (may_warn (reader))
    sp_reasons_add (reader->warnings,
                    sp_reason (SETTING_IGNORED, .file = reader->file, .key = pair->key, .value = pair->text, .line = reader->line));
}

/* Into *place, unless it says something else already: then neither counts. */
static void
set (Reader *reader, const Pair *pair, double *place, double value)
{
  if (isnan (*place) || *place == value) {
    *place = value;
    return;
  }
  *place = NAN;
  ignored (reader, pair);
}

static void
set_frequency (Reader *reader, const Pair *pair, double *place, gboolean sweep)
{
  double scale = reader->frequency_unit_hz > 0 ? reader->frequency_unit_hz : 1;
  /* A number with a unit is exact already; a bare one is scaled here. */
  double value = pair->unit.kind == SP_UNIT_KIND_FREQUENCY ? pair->number : pair->number * scale;

  if (!((sweep && value == 0)
        || (value >= SP_LIMIT_LEAST_HZ && value <= SP_LIMIT_FREQUENCY_HZ)) /* a filter of no width lets nothing through */
      || (pair->unit.kind != SP_UNIT_KIND_NONE && pair->unit.kind != SP_UNIT_KIND_FREQUENCY)) {
    ignored (reader, pair);
    return;
  }
  if (pair->unit.kind == SP_UNIT_KIND_FREQUENCY)
    reader->preamble->sweep_unit_said |= sweep;
  else if (!sweep && reader->frequency_unit_hz == 0 && may_warn (reader))
    sp_reasons_add (reader->warnings, sp_reason (UNIT_ASSUMED, .file = reader->file, .unit = "Hz", .of = pair->key));
  set (reader, pair, place, value);
}

static void
set_number (Reader *reader, const Pair *pair, double *place, gboolean fits)
{
  if (isnan (pair->number) || !fits)
    ignored (reader, pair);
  else
    set (reader, pair, place, pair->number);
}

static gboolean
is_count (const Pair *pair)
{
  return pair->number >= 1 && pair->number <= SP_LIMIT_AVERAGES;
}

static void
set_reference (Reader *reader, const Pair *pair)
{
  SpUnitWord unit = pair->unit.kind == SP_UNIT_KIND_NONE ? reader->preamble->level_unit : pair->unit;
  double level = pair->number;

  if (unit.kind == SP_UNIT_KIND_LEVEL)
    level = sp_dbm_from_reading (unit.level == SP_UNIT_VOLT || unit.level == SP_UNIT_WATT ? level * pow (10, -unit.exponent) : level,
                                 unit.level, pow (10, unit.exponent), 50);
  reader->preamble->reference_bare = unit.kind == SP_UNIT_KIND_NONE;
  if (!(fabs (level) <= SP_LIMIT_REFERENCE_DBM) || (unit.kind != SP_UNIT_KIND_NONE && unit.kind != SP_UNIT_KIND_LEVEL))
    ignored (reader, pair);
  else
    set (reader, pair, &reader->preamble->settings.reference_dbm, level);
}

static void
set_detector (Reader *reader, const Pair *pair)
{
  SpSettings *settings = &reader->preamble->settings;
  g_autofree char *folded = sp_words_fold (pair->text, -1);
  SpDetector detector;
  SpAverage kind = SP_AVERAGE_NONE;
  gboolean known = sp_words_detector (folded, &detector) || sp_words_detector_average (folded, &detector, &kind);

  if (known && (settings->detector == SP_DETECTOR_UNKNOWN || settings->detector == detector)) {
    settings->detector = detector;
    settings->average = kind == SP_AVERAGE_NONE ? settings->average : kind;
    return;
  }
  settings->detector = SP_DETECTOR_UNKNOWN;
  ignored (reader, pair);
}

static void
set_average_kind (Reader *reader, const Pair *pair)
{
  SpSettings *settings = &reader->preamble->settings;
  g_autofree char *folded = sp_words_fold (pair->text, -1);
  SpAverage kind;

  if (sp_words_average (folded, &kind) && (settings->average == SP_AVERAGE_NONE || kind == SP_AVERAGE_NONE || settings->average == kind)) {
    settings->average = kind == SP_AVERAGE_NONE ? settings->average : kind;
    return;
  }
  if (is_count (pair) && pair->unit.kind == SP_UNIT_KIND_NONE) { /* "Average: 16": so many, of what it does not say */
    set (reader, pair, &settings->averages, pair->number);
    return;
  }
  settings->average = SP_AVERAGE_NONE;
  ignored (reader, pair);
}

static void
set_trace_mode (Reader *reader, const Pair *pair)
{
  g_autofree char *folded = sp_words_fold (pair->text, -1);
  gboolean averaging = FALSE;

  /* An average of what? The trace mode does not say; average= does. */
  if (!sp_words_trace_mode (folded, &reader->preamble->settings.hold, &averaging)
      || (averaging && reader->preamble->settings.average == SP_AVERAGE_NONE))
    ignored (reader, pair);
}

static void
set_unit (Reader *reader, const Pair *pair)
{
  SpPreamble *preamble = reader->preamble;
  SpUnitWord unit;

  sp_unit_word (pair->text, strlen (pair->text), &unit);
  if (unit.kind == SP_UNIT_KIND_LEVEL && pair->word == SP_WORD_LEVEL_UNIT)
    preamble->level_unit = unit;
  else if (unit.kind == SP_UNIT_KIND_FREQUENCY)
    preamble->frequency_unit = unit;
  else if (pair->word == SP_WORD_LEVEL_UNIT && !preamble->level_unit_text) {
    preamble->level_unit_text = g_strdup (pair->text);
    preamble->level_unit_line = reader->line;
  } else
    ignored (reader, pair);
}

static void
apply (Reader *reader, const Pair *pair)
{
  SpPreamble *preamble = reader->preamble;
  SpSettings *settings = &preamble->settings;
  SpUnitKind kind = pair->unit.kind;

  switch (pair->word) {
  case SP_WORD_START: set_frequency (reader, pair, &preamble->start_hz, TRUE); break;
  case SP_WORD_STOP: set_frequency (reader, pair, &preamble->stop_hz, TRUE); break;
  case SP_WORD_CENTER: set_frequency (reader, pair, &preamble->center_hz, TRUE); break;
  case SP_WORD_SPAN: set_frequency (reader, pair, &preamble->span_hz, TRUE); break;
  case SP_WORD_RBW: set_frequency (reader, pair, &settings->rbw_hz, FALSE); break;
  case SP_WORD_VBW: set_frequency (reader, pair, &settings->vbw_hz, FALSE); break;
  case SP_WORD_REFERENCE: set_reference (reader, pair); break;
  case SP_WORD_OFFSET:
    if (!(pair->number == 0))
      ignored (reader, pair);
    break;
  case SP_WORD_ATTENUATION:
    set_number (reader, pair, &settings->attenuation_db,
                (kind == SP_UNIT_KIND_NONE || kind == SP_UNIT_KIND_RATIO) && fabs (pair->number) <= SP_LIMIT_ATTENUATION_DB);
    break;
  case SP_WORD_DETECTOR: set_detector (reader, pair); break;
  case SP_WORD_AVERAGE_KIND: set_average_kind (reader, pair); break;
  case SP_WORD_AVERAGES: set_number (reader, pair, &settings->averages, is_count (pair)); break;
  case SP_WORD_TRACE_MODE: set_trace_mode (reader, pair); break;
  case SP_WORD_SWEEP_TIME:
    set_number (reader, pair, &settings->sweep_time_s,
                (kind == SP_UNIT_KIND_NONE || kind == SP_UNIT_KIND_TIME) && pair->number > 0 && pair->number <= SP_LIMIT_SWEEP_S);
    break;
  case SP_WORD_POINTS:
    set_number (reader, pair, &preamble->points, is_count (pair));
    preamble->points_line = reader->line;
    break;
  case SP_WORD_FREQUENCY_UNIT:
  case SP_WORD_LEVEL_UNIT: set_unit (reader, pair); break;
  default: break;
  }
}

/* The number at the value's start. Both marks are tried where the rows left it open; 1,234 then stays undecided. */
static gboolean
read_number (const SpDialect *dialect, const char **p, const char *end, int exponent, double *number)
{
  char marks[3] = { dialect->mark, dialect->mark_open ? (dialect->mark == '.' ? ',' : '.') : '\0', '\0' };
  const char *behind[2] = { NULL, NULL };
  double value[2];

  for (guint i = 0; marks[i]; i++) {
    const char *q = *p;
    char group = marks[i] == '.' ? ',' : '.';
    if (!sp_decimal_read (&q, end, marks[i], group, exponent, &value[i]) && !sp_decimal_read (&q, end, marks[i], 0, exponent, &value[i]))
      continue;
    if (q < end && (*q == ',' || *q == '.'))
      continue;
    behind[i] = q;
  }
  if (behind[0] && behind[1] && value[0] != value[1])
    return FALSE;
  guint i = behind[0] ? 0 : 1;
  if (!behind[i])
    return FALSE;
  *p = behind[i];
  *number = value[i];
  return TRUE;
}

static const char *
skip_words (const char *text)
{
  static const char *const words[] = { "auto", "manual", "man", "coupled", "自動", "手動" };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++) {
    gsize length = strlen (words[i]);
    if (g_ascii_strncasecmp (text, words[i], length) == 0 && !g_ascii_isalnum (text[length])) {
      text += length;
      text += strspn (text, " ,;:()");
    }
  }
  return text;
}

/* What stands behind the number, up to "auto" or the like. */
static void
read_unit (const char *p, const char *end, SpUnitWord *unit)
{
  while (p < end && (*p == ' ' || *p == '[' || *p == '('))
    p++;
  const char *word = p;
  while (p < end && *p != ' ' && *p != ']' && *p != ';' && *p != ',' && !(*p == ')' && !memchr (word, '(', (gsize) (p - word))))
    p++;
  sp_unit_word (word, (gsize) (p - word), unit);
}

static void
read_pair (Reader *reader, SpWord word, const char *key, const SpUnitWord *key_unit, const char *value, const char *behind)
{
  Pair pair = { .word = word, .key = key, .text = g_strdup (value), .number = NAN };
  SpUnitWord unit = { SP_UNIT_KIND_NONE, 0, 0, NULL };

  g_strstrip (pair.text);
  const char *p = skip_words (pair.text), *end = pair.text + strlen (pair.text), *first = p;
  if (read_number (reader->dialect, &p, end, 0, &pair.number)) {
    gboolean rest = p + strspn (p, " ") < end;
    read_unit (p, end, &unit);
    if (rest && unit.kind == SP_UNIT_KIND_NONE && !g_str_has_prefix (p + strspn (p, " ("), "auto") && *p != ',' && *p != ';')
      pair.number = NAN; /* "100 kHZZ": a unit that is not known is no unit */
    else if (unit.kind == SP_UNIT_KIND_NONE && behind)
      sp_unit_word (behind, strlen (behind), &unit);
    if (unit.kind == SP_UNIT_KIND_NONE)
      unit = *key_unit;
    if (!isnan (pair.number) && unit.exponent)
      read_number (reader->dialect, &first, end, unit.exponent, &pair.number);
  }
  pair.unit = unit;
  apply (reader, &pair);
  g_free (pair.text);
}

/* A key as written -> its word and the unit it holds. */
static SpWord
look_up (const char *text, gsize length, SpUnitWord *unit)
{
  g_autofree char *name = NULL, *unit_text = NULL;

  sp_unit_split (text, length, &name, &unit_text, unit);
  g_autofree char *folded = sp_words_fold (name, -1);
  return sp_words_setting (folded);
}

/* "RBW 10 kHz", "Detector RMS": the longest beginning that is a key. */
static gboolean
key_and_value_by_blank (Reader *reader, const char *text)
{
  SpUnitWord unit;

  for (gsize length = MIN (strlen (text), 60); length > 0; length--)
    if (text[length] == ' ') {
      SpWord word = look_up (text, length, &unit);
      if (word == SP_WORD_NONE)
        continue;
      g_autofree char *key = g_strndup (text, length);
      read_pair (reader, word, key, &unit, text + length, NULL);
      return TRUE;
    }
  return FALSE;
}

/* One segment of a line, with the two behind it. Returns how many of those it used. */
static guint
read_segment (Reader *reader, char *const *segments, guint left)
{
  const char *text = segments[0], *mark = strpbrk (text, ":=");
  SpUnitWord unit;
  SpWord word;

  if (mark && (word = look_up (text, (gsize) (mark - text), &unit)) != SP_WORD_NONE) {
    g_autofree char *key = g_strstrip (g_strndup (text, (gsize) (mark - text)));
    const char *value = mark + 1 + strspn (mark + 1, " \t");
    if (*value) {
      read_pair (reader, word, key, &unit, value, left > 1 ? segments[1] : NULL);
      return 0;
    }
    read_pair (reader, word, key, &unit, left > 1 ? segments[1] : "", left > 2 ? segments[2] : NULL);
    return left > 1 ? 1 : 0;
  }
  if (left > 1 && *segments[1] && (word = look_up (text, strlen (text), &unit)) != SP_WORD_NONE) {
    read_pair (reader, word, text, &unit, segments[1], left > 2 ? segments[2] : NULL);
    return 1;
  }
  key_and_value_by_blank (reader, text);
  return 0;
}

/* ';', tab or ',' - the table's delimiter where the line has it; ", " alone where a comma could be a decimal mark. */
static char
delimiter_of (const Reader *reader, const SpTextLine *line)
{
  gsize length = (gsize) (line->end - line->start);
  char delimiter = reader->dialect->delimiter;

  if (delimiter && delimiter != ' ' && memchr (line->start, delimiter, length))
    return delimiter;
  return memchr (line->start, ';', length)    ? ';'
         : memchr (line->start, '\t', length) ? '\t'
         : memchr (line->start, ',', length)  ? ','
                                              : '\0';
}

/* "88,5" is no two segments where the comma may be a decimal mark: a comma between two digits is put back. */
static void
join_decimals (GPtrArray *segments)
{
  for (guint i = 0; i + 1 < segments->len;) {
    char *left = segments->pdata[i], *right = segments->pdata[i + 1];
    gsize length = strlen (left);
    if (length > 0 && g_ascii_isdigit (left[length - 1]) && g_ascii_isdigit (right[0])) {
      segments->pdata[i] = g_strconcat (left, ",", right, NULL);
      g_free (left);
      g_ptr_array_remove_index (segments, i + 1);
    } else
      i++;
  }
}

/* A line's segments, narrow and valid. (transfer full), of char* */
static GPtrArray *
segments_of (const Reader *reader, SpTextFields *fields, SpTextLine line)
{
  GPtrArray *segments = g_ptr_array_new_with_free_func (g_free);

  sp_line_is_comment (&line, &line.start);
  line.end = MIN (line.end, line.start + 4096); /* a longer line is no setting */
  char delimiter = delimiter_of (reader, &line);
  guint n = MIN (sp_fields_split (fields, &line, delimiter), FIELDS_A_LINE);
  for (guint i = 0; i < n; i++) {
    const SpTextField *field = sp_fields_get (fields, i);
    g_autofree char *narrow = sp_narrow (field->start, (gsize) (field->end - field->start));
    g_ptr_array_add (segments, g_utf8_make_valid (narrow, -1));
  }
  if (delimiter == ',' && (reader->dialect->delimiter != ',' || reader->dialect->mark == ','))
    join_decimals (segments);
  return segments;
}

/* ---- a line of keys, maybe one of units, and one of values ---- */

static guint
count_keys (const GPtrArray *segments)
{
  SpUnitWord unit;
  guint keys = 0;

  for (guint i = 0; i < segments->len; i++)
    keys += look_up (segments->pdata[i], strlen (segments->pdata[i]), &unit) != SP_WORD_NONE;
  return keys;
}

static gboolean
are_units (const GPtrArray *segments, SpUnitWord *units)
{
  guint found = 0;

  for (guint i = 0; i < segments->len; i++)
    if (sp_unit_word (segments->pdata[i], strlen (segments->pdata[i]), &units[i]))
      found++;
    else if (*(const char *) segments->pdata[i])
      return FALSE;
  return found > 0;
}

/* Takes the lines it used out of `lines`. FALSE where the line is not of keys alone, or none of as many values follows. */
static gboolean
keys_above_values (Reader *reader, SpTextFields *fields, const GPtrArray *keys, SpTextLines *lines)
{
  SpUnitWord units[FIELDS_A_LINE], read_unit;
  SpTextLines ahead = *lines;
  SpTextLine line;
  g_autoptr (GPtrArray) values = NULL;

  if (keys->len == 0 || count_keys (keys) < keys->len || !sp_lines_next_record (&ahead, &line))
    return FALSE;
  values = segments_of (reader, fields, line);
  gboolean said = values->len == keys->len && are_units (values, units);
  if (said) {
    g_ptr_array_unref (g_steal_pointer (&values));
    if (!sp_lines_next_record (&ahead, &line))
      return FALSE;
    values = segments_of (reader, fields, line);
  }
  if (values->len != keys->len || count_keys (values) > 0 || (keys->len == 1 && !sp_line_looks_like_row (&line)))
    return FALSE;
  reader->line = line.number;
  for (guint i = 0; i < keys->len; i++) {
    SpWord word = look_up (keys->pdata[i], strlen (keys->pdata[i]), &read_unit);
    read_pair (reader, word, keys->pdata[i], said && units[i].kind != SP_UNIT_KIND_NONE ? &units[i] : &read_unit, values->pdata[i], NULL);
  }
  *lines = ahead;
  return TRUE;
}

void
sp_preamble_read (const SpText *text, const char *end, const SpDialect *dialect, double frequency_unit_hz, const char *file,
                  SpPreamble *preamble, GPtrArray *warnings)
{
  Reader reader = { preamble, dialect, frequency_unit_hz, file, warnings, 0, 0 };
  g_auto (SpTextFields) fields;
  SpTextLines lines;
  SpTextLine line;

  *preamble = (SpPreamble){ .start_hz = NAN, .stop_hz = NAN, .center_hz = NAN, .span_hz = NAN, .points = NAN };
  sp_settings_init (&preamble->settings);
  sp_fields_init (&fields);
  sp_text_lines (text, &lines);
  lines.end = end;
  while (lines.number <= text->lines_before + SP_LIMIT_PREAMBLE_LINES && sp_lines_next_record (&lines, &line)) {
    g_autoptr (GPtrArray) segments = segments_of (&reader, &fields, line);
    reader.line = line.number;
    if (keys_above_values (&reader, &fields, segments, &lines))
      continue;
    for (guint i = 0; i < segments->len; i++)
      i += read_segment (&reader, (char *const *) segments->pdata + i, segments->len - i);
  }
}
