/* round-trip.c - every good folder's traces, written in every layout and read back: equal to the last bit, or within what the unit's rounding
 * or the layout's digits leave. */
#include "core/quantity/text.h"
#include "core/trace/read/read.h"
#include "core/trace/trace.h"
#include "tests/read-cases.h"
#include "tests/suite.h"

#include <string.h>

typedef struct {
  const char *name, *delimiter;
  char mark, group;                /* decimal mark; mark of thousands or 0 */
  const char *line_end, *encoding; /* encoding NULL: UTF-8 without a mark */
  const char *frequency_unit;
  int frequency_exponent;
  SpLevelUnit unit;
  const char *level_unit;
  double level_scale; /* V or W to the written unit */
  int decimals;       /* of the level; -1: all it takes */
  gboolean quoted, descending, index, twice;
} Layout;

static const Layout layouts[] = {
  { "comma", ",", '.', 0, "\n", NULL, "Hz", 0, SP_UNIT_DBM, "dBm", 1, -1 },
  { "comma, CRLF, BOM", ",", '.', 0, "\r\n", "UTF-8", "MHz", 6, SP_UNIT_DBM, "dBm", 1, -1 },
  { "semicolon, decimal comma", ";", ',', 0, "\n", NULL, "kHz", 3, SP_UNIT_DBM, "dBm", 1, -1 },
  { "semicolon, thousands", ";", ',', '.', "\r\n", NULL, "Hz", 0, SP_UNIT_DBM, "dBm", 1, -1 },
  { "tab, apostrophes", "\t", '.', '\'', "\n", NULL, "Hz", 0, SP_UNIT_DBM, "dBm", 1, -1 },
  { "tab, GHz, CR", "\t", ',', 0, "\r", NULL, "GHz", 9, SP_UNIT_DBM, "dBm", 1, -1 },
  { "blanks", "  ", '.', 0, "\n", NULL, "MHz", 6, SP_UNIT_DBM, "dBm", 1, -1 },
  { "quoted, decimal comma", ",", ',', 0, "\n", NULL, "Hz", 0, SP_UNIT_DBM, "dBm", 1, -1, .quoted = TRUE },
  { "descending", ",", '.', 0, "\n", NULL, "Hz", 0, SP_UNIT_DBM, "dBm", 1, -1, .descending = TRUE },
  { "index column", ";", '.', 0, "\n", NULL, "MHz", 6, SP_UNIT_DBM, "dBm", 1, -1, .index = TRUE },
  { "UTF-16 little", ";", ',', 0, "\r\n", "UTF-16LE", "kHz", 3, SP_UNIT_DBM, "dBm", 1, -1 },
  { "UTF-16 big", "\t", '.', 0, "\n", "UTF-16BE", "Hz", 0, SP_UNIT_DBM, "dBm", 1, -1 },
  { "two tables", ",", '.', 0, "\n", NULL, "Hz", 0, SP_UNIT_DBM, "dBm", 1, -1, .twice = TRUE },
  { "three decimals", ",", '.', 0, "\n", NULL, "Hz", 0, SP_UNIT_DBM, "dBm", 1, 3 },
  { "dBuV", ";", '.', 0, "\n", "ISO-8859-1", "MHz", 6, SP_UNIT_DBUV, "dB\xc2\xb5V", 1, -1 },
  { "dBmV", ";", ',', 0, "\n", NULL, "MHz", 6, SP_UNIT_DBMV, "dBmV", 1, -1 },
  { "volts", ",", '.', 0, "\n", NULL, "Hz", 0, SP_UNIT_VOLT, "V", 1, -1 },
  { "microvolts", "\t", ',', 0, "\n", NULL, "kHz", 3, SP_UNIT_VOLT, "uV", 1e6, -1 },
  { "watts", ",", '.', 0, "\n", NULL, "Hz", 0, SP_UNIT_WATT, "W", 1, -1 },
  { "milliwatts", ";", ',', 0, "\n", NULL, "MHz", 6, SP_UNIT_WATT, "mW", 1e3, -1 },
};

static double
in_unit (const Layout *layout, double dbm)
{
  switch (layout->unit) {
  case SP_UNIT_DBM: return dbm;
  case SP_UNIT_VOLT: return sqrt (sp_watt_from_dbm (dbm) * 50) * layout->level_scale;
  case SP_UNIT_WATT: return sp_watt_from_dbm (dbm) * layout->level_scale;
  default: return dbm - sp_dbm_from_reading (0, layout->unit, 1, 50);
  }
}

/* The number's text with the layout's marks; `exponent` more is taken off by an exponent, so that no digit changes. */
static void
put (GString *out, const Layout *layout, double value, int decimals, int exponent)
{
  char plain[400], *e;
  g_autoptr (GString) text = g_string_new (NULL);

  if (decimals < 0)
    sp_format_exact (value, plain);
  else
    g_ascii_formatd (plain, sizeof plain, "%.3f", value);
  gsize whole = strspn (plain, "-0123456789");
  for (gsize i = 0; plain[i]; i++) {
    gsize left = whole - i;
    g_string_append_c (text, plain[i] == '.' ? layout->mark : plain[i]);
    if (layout->group && i + 1 < whole && plain[i] != '-' && left > 1 && (left - 1) % 3 == 0)
      g_string_append_c (text, layout->group);
  }
  if (exponent && (e = strchr (text->str, 'e'))) {
    int own = atoi (e + 1);
    g_string_truncate (text, (gsize) (e - text->str));
    g_string_append_printf (text, "e%d", own - exponent);
  } else if (exponent)
    g_string_append_printf (text, "E-%02d", exponent);
  g_string_append_printf (out, layout->quoted ? "\"%s\"" : "%s", text->str);
}

static void
put_table (GString *out, const Layout *layout, const SpTrace *trace)
{
  const char *quote = layout->quoted ? "\"" : "", *end = layout->line_end;

  g_string_append_printf (out, "%s%sFrequency (%s)%s%s%sLevel (%s)%s%s", layout->index ? "Point" : "",
                          layout->index ? layout->delimiter : "", layout->frequency_unit, quote, layout->delimiter, quote,
                          layout->level_unit, quote, end);
  if (layout->quoted)
    g_string_insert (out, (gssize) (strstr (out->str, "Frequency") - out->str), "\"");
  for (guint64 k = 0; k < trace->n; k++) {
    guint64 i = layout->descending ? trace->n - 1 - k : k;
    if (layout->index)
      g_string_append_printf (out, "%u%s", (guint) k + 1, layout->delimiter);
    put (out, layout, trace->frequency_hz[i], -1, layout->frequency_exponent);
    g_string_append (out, layout->delimiter);
    put (out, layout, in_unit (layout, trace->reading_dbm[i]), layout->decimals, 0);
    g_string_append (out, end);
  }
}

static void
put_setting (GString *out, const Layout *layout, const char *key, double value, const char *unit)
{
  if (isnan (value))
    return;
  g_string_append_printf (out, "%s: ", key);
  Layout bare = *layout;
  bare.quoted = FALSE;
  bare.group = 0;
  put (out, &bare, value, -1, 0);
  g_string_append_printf (out, " %s%s", unit, layout->line_end);
}

static GBytes *
write_trace (const Layout *layout, const SpTrace *trace)
{
  g_autoptr (GString) out = g_string_new (NULL);
  const SpSettings *settings = &trace->settings;
  gsize length;

  put_setting (out, layout, "RBW", settings->rbw_hz, "Hz");
  put_setting (out, layout, "VBW", settings->vbw_hz, "Hz");
  put_setting (out, layout, "Attenuation", settings->attenuation_db, "dB");
  put_setting (out, layout, "Sweep time", settings->sweep_time_s, "s");
  if (settings->detector != SP_DETECTOR_UNKNOWN)
    g_string_append_printf (out, "Detector: %s%s", sp_detector_name (settings->detector), layout->line_end);
  put_table (out, layout, trace);
  if (layout->twice) {
    g_string_append (out, layout->line_end);
    put_table (out, layout, trace);
  }
  if (!layout->encoding)
    return g_bytes_new (out->str, out->len);
  g_string_prepend (out, strcmp (layout->encoding, "ISO-8859-1") == 0 ? "" : "\xef\xbb\xbf");
  char *encoded = g_convert (out->str, (gssize) out->len, layout->encoding, "UTF-8", NULL, &length, NULL);
  return g_bytes_new_take (encoded, length);
}

static void
check_same (const char *what, const Layout *layout, const SpTrace *want, const SpTrace *got)
{
  double tolerance = layout->decimals >= 0 ? 0.5001e-3 : layout->unit == SP_UNIT_DBM ? 0 : 1e-10;
  const SpSettings *a = &want->settings, *b = &got->settings;

  ck_assert_msg (got->n == want->n, "%s as %s: %u points", what, layout->name, (guint) got->n);
  for (guint64 i = 0; i < want->n; i++) {
    ck_assert_msg (got->frequency_hz[i] == want->frequency_hz[i], "%s as %s: point %u at %.17g Hz, was %.17g", what, layout->name,
                   (guint) i, got->frequency_hz[i], want->frequency_hz[i]);
    ck_assert_msg (fabs (got->reading_dbm[i] - want->reading_dbm[i]) <= tolerance, "%s as %s: point %u is %.17g dBm, was %.17g", what,
                   layout->name, (guint) i, got->reading_dbm[i], want->reading_dbm[i]);
  }
  ck_assert_msg (memcmp (&a->rbw_hz, &b->rbw_hz, sizeof a->rbw_hz) == 0 || (isnan (a->rbw_hz) && isnan (b->rbw_hz)), "%s as %s: RBW", what,
                 layout->name);
  ck_assert_msg (a->attenuation_db == b->attenuation_db || isnan (a->attenuation_db), "%s as %s: attenuation", what, layout->name);
  ck_assert_msg (a->sweep_time_s == b->sweep_time_s || isnan (a->sweep_time_s), "%s as %s: sweep time", what, layout->name);
  ck_assert_msg (a->detector == b->detector, "%s as %s: detector", what, layout->name);
}

/* Where what was written can be read in two ways, as any honest reader must say, the layout is told. */
static SpTrace *
read_back (const Layout *layout, GBytes *bytes, guint *told, GError **error)
{
  g_autoptr (GError) first = NULL;
  SpTraceOptions options;

  sp_trace_options_init (&options);
  options.table = layout->twice ? 2 : 0;
  SpTrace *trace = sp_trace_read_bytes (bytes, "written", &options, &first);
  if (!trace && strstr (first->message, "two ways")) {
    ++*told;
    options.decimal = layout->mark;
    options.delimiter = *layout->delimiter;
    trace = sp_trace_read_bytes (bytes, "written", &options, error);
  } else if (!trace)
    g_propagate_error (error, g_steal_pointer (&first));
  return trace;
}

/* Levels beyond what the unit's numbers can say are not written in it. */
static gboolean
suits (const Layout *layout, const SpTrace *trace)
{
  for (guint64 i = 0; i < trace->n; i++)
    if (layout->unit != SP_UNIT_DBM && fabs (trace->reading_dbm[i]) > 250)
      return FALSE;
  return TRUE;
}

START_TEST (tables)
{
  g_autoptr (GPtrArray) folders = sp_read_folders ("good");
  guint written = 0, told = 0;

  for (guint f = 0; f < folders->len; f++) {
    g_autoptr (GPtrArray) traces = sp_read_case (folders->pdata[f], TRUE, NULL);
    ck_assert_ptr_nonnull (traces);
    for (guint t = 0; t < traces->len; t++)
      for (guint k = 0; k < G_N_ELEMENTS (layouts); k++) {
        const SpTrace *trace = traces->pdata[t];
        if (!suits (&layouts[k], trace))
          continue;
        g_autoptr (GError) error = NULL;
        g_autoptr (GBytes) bytes = write_trace (&layouts[k], trace);
        g_autoptr (SpTrace) back = read_back (&layouts[k], bytes, &told, &error);
        ck_assert_msg (back != NULL, "%s as %s: %s\n%.*s", (char *) folders->pdata[f], layouts[k].name, error ? error->message : "",
                       (int) g_bytes_get_size (bytes), (char *) g_bytes_get_data (bytes, NULL));
        check_same (folders->pdata[f], &layouts[k], trace, back);
        written++;
      }
  }
  printf ("%u tables written and read back, %u of them told how they are written\n", written, told);
  ck_assert_uint_ge (written, 1000);
  ck_assert_uint_le (told, written / 20);
}
END_TEST

/* ---- blocks ---- */

static GBytes *
write_block (const SpTrace *trace, SpBlockFormat format, gboolean little, gboolean definite)
{
  g_autoptr (GByteArray) body = g_byte_array_new ();
  GByteArray *out = g_byte_array_new ();
  char head[32] = "#0", number[32];
  guint size = format == SP_BLOCK_REAL32 ? 4 : 8;

  for (guint64 i = 0; i < trace->n; i++) {
    union {
      double d;
      float f;
      guint8 bytes[8];
    } value = { .d = trace->reading_dbm[i] };
    if (format == SP_BLOCK_ASCII) {
      sp_format_exact (trace->reading_dbm[i], number);
      g_byte_array_append (body, (const guint8 *) (i ? "," : ""), i ? 1 : 0);
      g_byte_array_append (body, (guint8 *) number, (guint) strlen (number));
      continue;
    }
    if (format == SP_BLOCK_REAL32)
      value.f = (float) trace->reading_dbm[i];
    for (guint k = 0; k < size; k++)
      g_byte_array_append (body, &value.bytes[little == (G_BYTE_ORDER == G_LITTLE_ENDIAN) ? k : size - 1 - k], 1);
  }
  if (definite) {
    g_snprintf (number, sizeof number, "%u", body->len);
    g_snprintf (head, sizeof head, "#%u%s", (guint) strlen (number), number);
  }
  g_byte_array_append (out, (guint8 *) head, (guint) strlen (head));
  g_byte_array_append (out, body->data, body->len);
  g_byte_array_append (out, (const guint8 *) "\n", 1);
  return g_byte_array_free_to_bytes (out);
}

START_TEST (blocks)
{
  g_autoptr (GPtrArray) folders = sp_read_folders ("good");

  for (guint f = 0; f < folders->len; f++) {
    g_autoptr (GPtrArray) traces = sp_read_case (folders->pdata[f], TRUE, NULL);
    const SpTrace *trace = traces->pdata[0];
    for (guint form = 0; form < 12; form++) {
      SpBlockFormat format = (SpBlockFormat) (SP_BLOCK_REAL32 + form % 3);
      gboolean little = form / 3 % 2, definite = form / 6;
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) bytes = write_block (trace, format, little, definite);
      SpTraceOptions options;
      sp_trace_options_init (&options);
      options.format = format;
      options.little_endian = little;
      options.start_hz = trace->frequency_hz[0];
      options.stop_hz = trace->frequency_hz[trace->n - 1];
      g_autoptr (SpTrace) back = sp_trace_read_bytes (bytes, "written", &options, &error);
      ck_assert_msg (back != NULL, "%s as block %u: %s", (char *) folders->pdata[f], form, error ? error->message : "");
      ck_assert_uint_eq (back->n, trace->n);
      for (guint64 i = 0; i < trace->n; i++)
        ck_assert_double_eq (back->reading_dbm[i],
                             format == SP_BLOCK_REAL32 ? (double) (float) trace->reading_dbm[i] : trace->reading_dbm[i]);
      ck_assert_double_eq (back->frequency_hz[0], trace->frequency_hz[0]);
      ck_assert_double_eq (back->frequency_hz[trace->n - 1], trace->frequency_hz[trace->n - 1]);
    }
  }
}
END_TEST

/* What tells a trace apart among several reads it alone again. */
START_TEST (by_its_options)
{
  g_autoptr (GPtrArray) folders = sp_read_folders ("good");
  guint several = 0;

  for (guint f = 0; f < folders->len; f++) {
    g_autoptr (GPtrArray) traces = sp_read_case (folders->pdata[f], TRUE, NULL);
    several += traces->len > 1;
    for (guint t = 0; t < traces->len; t++) {
      const SpTrace *trace = traces->pdata[t];
      g_autoptr (GError) error = NULL;
      SpTraceOptions options;
      ck_assert (sp_trace_options_from_text (trace->options, &options, NULL));
      g_autoptr (SpTrace) again = sp_trace_read_bytes (trace->raw, trace->file, &options, &error);
      ck_assert_msg (again != NULL, "%s?%s: %s", (char *) folders->pdata[f], trace->options, error ? error->message : "");
      ck_assert_str_eq (again->column, trace->column);
      ck_assert_str_eq (again->options, trace->options);
      ck_assert_uint_eq (again->n, trace->n);
      ck_assert_mem_eq (again->frequency_hz, trace->frequency_hz, trace->n * sizeof (double));
      ck_assert_mem_eq (again->reading_dbm, trace->reading_dbm, trace->n * sizeof (double));
      sp_trace_options_clear (&options);
    }
  }
  ck_assert_uint_ge (several, 9);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("round trip");
  TCase *tc = tcase_create ("round trip");
  tcase_set_timeout (tc, 240);
  tcase_add_test (tc, tables);
  tcase_add_test (tc, blocks);
  tcase_add_test (tc, by_its_options);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
