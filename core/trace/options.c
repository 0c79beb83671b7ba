/* options.c - reads and writes the options behind a trace's name */
#include "core/trace/trace.h"

#include "core/quantity/error.h"
#include "core/quantity/spell.h"
#include "core/quantity/text.h"
#include "core/trace/limits.h"
#include "core/trace/unit-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

void
sp_trace_options_init (SpTraceOptions *options)
{
  *options = (SpTraceOptions){ .start_hz = NAN, .stop_hz = NAN, .unit = -1, .unit_scale = 1, .from_hz = NAN, .to_hz = NAN };
  sp_settings_init (&options->settings);
}

void
sp_trace_options_clear (SpTraceOptions *options)
{
  g_free (options->column);
  g_free (options->frequency_column);
  sp_trace_options_init (options);
}

/* ---- values ---- */

typedef struct {
  const char *word;
  int value;
} Choice;

/* by hand: one key's words a row */
/* clang-format off */
static const Choice detector_words[] = { { "peak", SP_DETECTOR_PEAK }, { "sample", SP_DETECTOR_SAMPLE }, { "rms", SP_DETECTOR_RMS },
                                         { "average", SP_DETECTOR_AVERAGE }, { "negative", SP_DETECTOR_NEGATIVE },
                                         { "normal", SP_DETECTOR_NORMAL }, { "quasi-peak", SP_DETECTOR_QUASI_PEAK }, { NULL, 0 } };
static const Choice average_words[] = { { "none", SP_AVERAGE_NONE }, { "power", SP_AVERAGE_POWER }, { "log", SP_AVERAGE_LOG },
                                        { "voltage", SP_AVERAGE_VOLTAGE }, { NULL, 0 } };
static const Choice hold_words[] = { { "none", SP_HOLD_NONE }, { "max", SP_HOLD_MAX }, { "min", SP_HOLD_MIN }, { NULL, 0 } };
static const Choice decimal_words[] = { { "point", '.' }, { "comma", ',' }, { NULL, 0 } };
static const Choice delimiter_words[] = { { "comma", ',' }, { "semicolon", ';' }, { "tab", '\t' }, { "blank", ' ' }, { NULL, 0 } };
static const Choice format_words[] = { { "real32", SP_BLOCK_REAL32 }, { "real64", SP_BLOCK_REAL64 }, { "ascii", SP_BLOCK_ASCII },
                                       { NULL, 0 } };
static const Choice order_words[] = { { "big", FALSE }, { "little", TRUE }, { NULL, 0 } };
static const Choice bad_words[] = { { "skip", TRUE }, { NULL, 0 } };
static const Choice frequency_unit_words[] = { { "Hz", 1 }, { "kHz", 1000 }, { "MHz", 1000000 }, { "GHz", 1000000000 }, { NULL, 0 } };
/* clang-format on */

static gboolean
choose (const Choice *choices, const char *key, const char *text, int *out, GError **error)
{
  GString *list = g_string_new (NULL);

  for (const Choice *choice = choices; choice->word; choice++) {
    if (g_ascii_strcasecmp (choice->word, text) == 0) {
      *out = choice->value;
      g_string_free (list, TRUE);
      return TRUE;
    }
    g_string_append_printf (list, "%s%s", list->len ? ", " : "", choice->word);
  }
  sp_fail (error, SP_ERROR_USAGE, _ ("?%s=%s: expected %s"), key, text, list->str);
  g_string_free (list, TRUE);
  return FALSE;
}

static gboolean
frequency (const char *key, const char *text, double *out, GError **error)
{
  g_autoptr (GError) inner = NULL;

  if (sp_parse_frequency (text, out, &inner))
    return TRUE;
  return sp_fail (error, SP_ERROR_USAGE, "?%s=%s: %s", key, text, inner->message);
}

/* A filter of no width lets nothing through. */
static gboolean
bandwidth (const char *key, const char *text, double *out, GError **error)
{
  if (!frequency (key, text, out, error))
    return FALSE;
  return *out > 0 || sp_fail (error, SP_ERROR_USAGE, _ ("?%s=%s: expected a bandwidth above zero"), key, text);
}

/* A number, with or without its one possible unit. */
static gboolean
number (const char *key, const char *text, const char *unit, double low, double high, double *out, GError **error)
{
  g_autofree char *bare = g_strdup (text);
  gsize length = strlen (bare), unit_length = strlen (unit);

  if (length > unit_length && g_ascii_strcasecmp (bare + length - unit_length, unit) == 0)
    bare[length - unit_length] = '\0';
  if (sp_parse_number (bare, out, NULL) && *out >= low && *out <= high)
    return TRUE;
  return sp_fail (error, SP_ERROR_USAGE, _ ("?%s=%s: expected a number%s%s, from %.12g to %.12g"), key, text, *unit ? " in " : "", unit,
                  low, high);
}

static gboolean
whole_number (const char *key, const char *text, guint *out, GError **error)
{
  guint64 value;

  if (!g_ascii_string_to_unsigned (text, 10, 1, G_MAXUINT32, &value, NULL))
    return sp_fail (error, SP_ERROR_USAGE, _ ("?%s=%s: expected a number from 1"), key, text);
  *out = (guint) value;
  return TRUE;
}

static gboolean
level_unit (const char *text, SpTraceOptions *options, GError **error)
{
  SpUnitWord unit;

  if (!sp_unit_word (text, strlen (text), &unit) || unit.kind != SP_UNIT_KIND_LEVEL)
    return sp_fail (error, SP_ERROR_USAGE, _ ("?unit=%s: expected dBm, dBmV, dBuV, V, mV, uV, nV, W, mW, uW, nW or pW"), text);
  options->unit = (int) unit.level;
  options->unit_scale = pow (10, unit.exponent);
  return TRUE;
}

/* ---- keys, in the order of the canonical text ---- */

/* by hand: the order of the text, not one a line */
/* clang-format off */
typedef enum {
  KEY_RBW, KEY_VBW, KEY_ATTENUATION, KEY_REFERENCE, KEY_DETECTOR, KEY_AVERAGE, KEY_AVERAGES, KEY_HOLD, KEY_START, KEY_STOP, KEY_CENTER,
  KEY_SPAN, KEY_UNIT, KEY_FREQUENCY_UNIT, KEY_DECIMAL, KEY_DELIMITER, KEY_FORMAT, KEY_ORDER, KEY_COLUMN, KEY_FREQUENCY_COLUMN,
  KEY_TABLE, KEY_FROM, KEY_TO, KEY_BAD, N_KEYS
} Key;

static const char *const key_names[] = {
  "rbw", "vbw", "attenuation", "reference", "detector", "average", "averages", "hold", "start", "stop", "center", "span", "unit",
  "frequency_unit", "decimal", "delimiter", "format", "order", "column", "frequency_column", "table", "from", "to", "bad"
};
/* clang-format on */
G_STATIC_ASSERT (G_N_ELEMENTS (key_names) == N_KEYS);

typedef struct {
  SpTraceOptions *options;
  double center_hz, span_hz;
  gboolean given[N_KEYS];
} Parser;

static gboolean
apply (Parser *parser, Key key, const char *text, GError **error)
{
  SpTraceOptions *options = parser->options;
  SpSettings *settings = &options->settings;
  const char *name = key_names[key];
  int value = 0;

  switch (key) {
  case KEY_RBW: return bandwidth (name, text, &settings->rbw_hz, error);
  case KEY_VBW: return bandwidth (name, text, &settings->vbw_hz, error);
  case KEY_ATTENUATION:
    return number (name, text, "dB", -SP_LIMIT_ATTENUATION_DB, SP_LIMIT_ATTENUATION_DB, &settings->attenuation_db, error);
  case KEY_REFERENCE: return number (name, text, "dBm", -SP_LIMIT_REFERENCE_DBM, SP_LIMIT_REFERENCE_DBM, &settings->reference_dbm, error);
  case KEY_DETECTOR: return choose (detector_words, name, text, (int *) &settings->detector, error);
  case KEY_AVERAGE: options->average_given = TRUE; return choose (average_words, name, text, (int *) &settings->average, error);
  case KEY_AVERAGES: return number (name, text, "", 1, SP_LIMIT_AVERAGES, &settings->averages, error);
  case KEY_HOLD: options->hold_given = TRUE; return choose (hold_words, name, text, (int *) &settings->hold, error);
  case KEY_START: return frequency (name, text, &options->start_hz, error);
  case KEY_STOP: return frequency (name, text, &options->stop_hz, error);
  case KEY_CENTER: return frequency (name, text, &parser->center_hz, error);
  case KEY_SPAN: return frequency (name, text, &parser->span_hz, error);
  case KEY_UNIT: return level_unit (text, options, error);
  case KEY_FREQUENCY_UNIT:
    if (!choose (frequency_unit_words, name, text, &value, error))
      return FALSE;
    options->frequency_unit_hz = value;
    return TRUE;
  case KEY_FORMAT: return choose (format_words, name, text, &options->format, error);
  case KEY_ORDER: return choose (order_words, name, text, &options->little_endian, error);
  case KEY_BAD: return choose (bad_words, name, text, &options->skip_bad, error);
  case KEY_COLUMN:
  case KEY_FREQUENCY_COLUMN:
    *(key == KEY_COLUMN ? &options->column : &options->frequency_column) = g_strdup (text);
    return *text || sp_fail (error, SP_ERROR_USAGE, _ ("?%s=: expected a number or a name"), name);
  case KEY_TABLE: return whole_number (name, text, &options->table, error);
  case KEY_FROM: return frequency (name, text, &options->from_hz, error);
  case KEY_TO: return frequency (name, text, &options->to_hz, error);
  case KEY_DECIMAL:
  case KEY_DELIMITER:
    if (!choose (key == KEY_DECIMAL ? decimal_words : delimiter_words, name, text, &value, error))
      return FALSE;
    *(key == KEY_DECIMAL ? &options->decimal : &options->delimiter) = (char) value;
    return TRUE;
  case N_KEYS: break;
  }
  g_assert_not_reached ();
}

static gboolean
parse_one (Parser *parser, const char *item, GError **error)
{
  const char *equals = strchr (item, '=');
  g_autofree char *name = equals ? g_strndup (item, (gsize) (equals - item)) : g_strdup (item);

  for (Key key = 0; key < N_KEYS; key++) {
    if (strcmp (key_names[key], name) != 0)
      continue;
    if (!equals)
      return sp_fail (error, SP_ERROR_USAGE, _ ("?%s has no value; expected ?%s=…"), name, name);
    if (parser->given[key])
      return sp_fail (error, SP_ERROR_USAGE, _ ("?%s= is given twice"), name);
    parser->given[key] = TRUE;
    g_autofree char *text = sp_unescape (equals + 1);
    return apply (parser, key, text, error);
  }
  g_autoptr (GString) list = g_string_new (key_names[0]);
  for (Key key = 1; key < N_KEYS; key++)
    g_string_append_printf (list, ", %s", key_names[key]);
  return sp_fail (error, SP_ERROR_USAGE, _ ("?%s is no option; expected one of: %s"), name, list->str);
}

/* `format` with both ends, in one unit. Always FALSE. */
G_GNUC_PRINTF (2, 0) static gboolean fail_span (GError **error, const char *format, double from_hz, double to_hz)
{
  g_autofree char *from = sp_spell_beside (from_hz, to_hz), *to = sp_spell_beside (to_hz, from_hz);
  return sp_fail (error, SP_ERROR_USAGE, format, from, to);
}

static gboolean
combine (Parser *parser, GError **error)
{
  SpTraceOptions *options = parser->options;

  if (parser->given[KEY_CENTER] != parser->given[KEY_SPAN])
    return sp_fail (error, SP_ERROR_USAGE, _ ("?center= and ?span= go together"));
  if (parser->given[KEY_CENTER] && (parser->given[KEY_START] || parser->given[KEY_STOP]))
    return sp_fail (error, SP_ERROR_USAGE, _ ("?center= and ?span=, or ?start= and ?stop=: expected one pair"));
  if (parser->given[KEY_CENTER]) {
    options->start_hz = parser->center_hz - parser->span_hz / 2;
    options->stop_hz = parser->center_hz + parser->span_hz / 2;
  }
  if (options->start_hz < 0 || options->stop_hz <= options->start_hz)
    return fail_span (error, _ ("the sweep given goes from %s to %s; expected a start of 0 or more below the stop"), options->start_hz,
                      options->stop_hz);
  if (options->to_hz <= options->from_hz)
    return fail_span (error, _ ("the points given go from %s to %s; expected from= below to="), options->from_hz, options->to_hz);
  return TRUE;
}

gboolean
sp_trace_options_from_text (const char *text, SpTraceOptions *options, GError **error)
{
  Parser parser = { .options = options };
  g_auto (GStrv) items = g_strsplit (text, "&", -1);
  gboolean good = TRUE;

  sp_trace_options_init (options);
  for (char **item = items; good && *item; item++)
    good = **item == '\0' || parse_one (&parser, *item, error);
  if (good && combine (&parser, error))
    return TRUE;
  sp_trace_options_clear (options);
  return FALSE;
}

gboolean
sp_trace_options_parse (const char *reference, char **path, SpTraceOptions *options, GError **error)
{
  const char *mark = strchr (reference, '?');
  g_autofree char *escaped = mark ? g_strndup (reference, (gsize) (mark - reference)) : g_strdup (reference);

  *path = NULL;
  if (!sp_trace_options_from_text (mark ? mark + 1 : "", options, error)) {
    g_prefix_error (error, "%s: ", escaped);
    return FALSE;
  }
  *path = sp_unescape (escaped);
  return TRUE;
}

gboolean
sp_trace_operand_parse (const char *word, char **path, SpTraceOptions *options, GError **error)
{
  g_autofree char *whole = g_file_test (word, G_FILE_TEST_EXISTS) ? sp_escape (word) : g_strdup (word);
  gboolean good = sp_trace_options_parse (whole, path, options, error);

  options->pipe = TRUE;
  return good;
}

static gboolean
is_item (const char *item, const char *key)
{
  gsize length = strlen (key);
  return strncmp (item, key, length) == 0 && item[length] == '=';
}

char *
sp_trace_options_get (const char *text, const char *key)
{
  g_auto (GStrv) items = g_strsplit (text, "&", -1);

  for (char **item = items; *item; item++)
    if (is_item (*item, key))
      return sp_unescape (*item + strlen (key) + 1);
  return NULL;
}

char *
sp_trace_options_set (const char *text, const char *key, const char *value, GError **error)
{
  g_auto (GStrv) items = g_strsplit (text, "&", -1);
  g_autoptr (GString) changed = g_string_new (NULL);
  SpTraceOptions options;

  for (char **item = items; *item; item++)
    if (**item && !is_item (*item, key))
      g_string_append_printf (changed, "%s%s", changed->len ? "&" : "", *item);
  if (value && *value) {
    g_autofree char *escaped = sp_escape (value);
    g_string_append_printf (changed, "%s%s=%s", changed->len ? "&" : "", key, escaped);
  }
  if (!sp_trace_options_from_text (changed->str, &options, error))
    return NULL;
  char *canonical = sp_trace_options_text (&options);
  sp_trace_options_clear (&options);
  return canonical;
}

/* ---- canonical text ---- */

static void
add (GString *text, Key key, const char *value)
{
  if (!value)
    return;
  g_autofree char *escaped = sp_escape (value);
  g_string_append_printf (text, "%s%s=%s", text->len ? "&" : "", key_names[key], escaped);
}

static void
add_number (GString *text, Key key, double value)
{
  char buffer[32];
  if (!isnan (value))
    add (text, key, sp_format_exact (value, buffer));
}

static const char *
word_of (const Choice *choices, int value)
{
  for (; choices->word; choices++)
    if (choices->value == value)
      return choices->word;
  return NULL;
}

/* "mW": prefix and unit. */
static char *
unit_text (const SpTraceOptions *options)
{
  static const char prefixes[] = "fpnum kMG"; /* 10^-15 to 10^9 */
  int exponent = (int) lround (log10 (options->unit_scale));
  const char *name = sp_level_unit_name ((SpLevelUnit) options->unit);

  return exponent == 0 ? g_strdup (name) : g_strdup_printf ("%c%s", prefixes[(exponent + 15) / 3], name);
}

char *
sp_trace_options_text (const SpTraceOptions *options)
{
  GString *text = g_string_new (NULL);
  const SpSettings *settings = &options->settings;

  add_number (text, KEY_RBW, settings->rbw_hz);
  add_number (text, KEY_VBW, settings->vbw_hz);
  add_number (text, KEY_ATTENUATION, settings->attenuation_db);
  add_number (text, KEY_REFERENCE, settings->reference_dbm);
  add (text, KEY_DETECTOR, sp_detector_name (settings->detector));
  add (text, KEY_AVERAGE, options->average_given ? sp_average_name (settings->average) : NULL);
  add_number (text, KEY_AVERAGES, settings->averages);
  add (text, KEY_HOLD, options->hold_given ? word_of (hold_words, (int) settings->hold) : NULL);
  add_number (text, KEY_START, options->start_hz);
  add_number (text, KEY_STOP, options->stop_hz);
  if (options->unit >= 0) {
    g_autofree char *unit = unit_text (options);
    add (text, KEY_UNIT, unit);
  }
  add (text, KEY_FREQUENCY_UNIT, options->frequency_unit_hz > 0 ? word_of (frequency_unit_words, (int) options->frequency_unit_hz) : NULL);
  add (text, KEY_DECIMAL, options->decimal ? word_of (decimal_words, options->decimal) : NULL);
  add (text, KEY_DELIMITER, options->delimiter ? word_of (delimiter_words, options->delimiter) : NULL);
  add (text, KEY_FORMAT, options->format ? word_of (format_words, options->format) : NULL);
  add (text, KEY_ORDER, options->little_endian ? "little" : NULL);
  add (text, KEY_COLUMN, options->column);
  add (text, KEY_FREQUENCY_COLUMN, options->frequency_column);
  if (options->table)
    add_number (text, KEY_TABLE, options->table);
  add_number (text, KEY_FROM, options->from_hz);
  add_number (text, KEY_TO, options->to_hz);
  add (text, KEY_BAD, options->skip_bad ? "skip" : NULL);
  return g_string_free (text, FALSE);
}
