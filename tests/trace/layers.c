/* layers.c - each layer of the reader alone: text, lines, fields, words, units, where rows begin and how they are written */
#include "core/trace/read/dialect.h"
#include "core/trace/read/header.h"
#include "core/trace/read/preamble.h"
#include "core/trace/read/vocabulary.h"
#include "tests/suite.h"

#include <string.h>

static GBytes *
bytes_of (const char *data, gsize length)
{
  return g_bytes_new (data, length);
}

#define DECODE(literal, text) decode (literal, sizeof (literal) - 1, text)

static gboolean
decode (const char *data, gsize length, SpText *text)
{
  g_autoptr (GBytes) raw = bytes_of (data, length);
  return sp_text_decode (raw, "file", text, NULL);
}

static void
check_text (const SpText *text, const char *want, const char *encoding)
{
  ck_assert_uint_eq (text->length, strlen (want));
  ck_assert (memcmp (text->start, want, text->length) == 0);
  ck_assert_str_eq (text->encoding, encoding);
}

START_TEST (encodings)
{
  g_auto (SpText) plain, marked, little, big, latin, windows;

  ck_assert (DECODE ("a\xc2\xb5\n", &plain));
  check_text (&plain, "a\xc2\xb5\n", "UTF-8");
  ck_assert (DECODE ("\357\273\277a", &marked));
  check_text (&marked, "a", "UTF-8");
  ck_assert (DECODE ("\377\376a\0\xb5\0", &little));
  check_text (&little, "a\xc2\xb5", "UTF-16LE");
  ck_assert (DECODE ("\xfe\xff\0a\0\xb5", &big));
  check_text (&big, "a\xc2\xb5", "UTF-16BE");
  ck_assert (DECODE ("d\xe4mpf \xb5V", &latin));
  check_text (&latin, "d\xc3\xa4mpf \xc2\xb5V", "ISO-8859-1");
  ck_assert (DECODE ("\x80 1", &windows));
  check_text (&windows, "\xe2\x82\xac 1", "ISO-8859-1");
}
END_TEST

START_TEST (no_text)
{
  SpText text;
  g_autoptr (GBytes) raw = bytes_of ("ab\r\ncd\x01", 7);
  g_autoptr (GError) error = NULL;

  ck_assert (!sp_text_decode (raw, "file", &text, &error));
  ck_assert (g_str_has_prefix (error->message, "file:2:3: byte 0x01"));
  ck_assert (!DECODE ("0123456\0", &text));
  ck_assert (!DECODE ("01234567\x08", &text));
}
END_TEST

/* Lines as "1:text|2:text|". */
static char *
lines_of (const char *text, gboolean records)
{
  GString *out = g_string_new (NULL);
  SpTextLines lines;
  SpTextLine line;

  sp_lines_init (&lines, text, strlen (text));
  while (records ? sp_lines_next_record (&lines, &line) : sp_lines_next (&lines, &line))
    g_string_append_printf (out, "%u:%.*s|", (guint) line.number, (int) (line.end - line.start), line.start);
  return g_string_free (out, FALSE);
}

static void
check_lines (const char *text, gboolean records, const char *want)
{
  g_autofree char *got = lines_of (text, records);
  ck_assert_str_eq (got, want);
}

START_TEST (line_ends)
{
  check_lines ("", FALSE, "");
  check_lines ("a\nb\n", FALSE, "1:a|2:b|");
  check_lines ("a\r\nb", FALSE, "1:a|2:b|");
  check_lines ("a\rb\r\rc", FALSE, "1:a|2:b|3:|4:c|");
  check_lines ("a\n\nb\r\n", FALSE, "1:a|2:|3:b|");
}
END_TEST

START_TEST (quoted_lines)
{
  check_lines ("a,\"b\nc\",d\ne\n", TRUE, "1:a,\"b\nc\",d|3:e|");
  check_lines ("5\" disk\nb\n", TRUE, "1:5\" disk|2:b|");    /* no quote at a field's start */
  check_lines ("\"open\nb\nc\n", TRUE, "1:\"open|2:b|3:c|"); /* never closed: a character */
  check_lines ("\"a\"\"\nb\"\nc\n", TRUE, "1:\"a\"\"\nb\"|3:c|");
}
END_TEST

static void
check_fields (const char *text, char delimiter, const char *want)
{
  g_auto (SpTextFields) fields;
  g_autoptr (GString) got = g_string_new (NULL);
  SpTextLine line = { text, text + strlen (text), 1 };

  sp_fields_init (&fields);
  guint n = sp_fields_split (&fields, &line, delimiter);
  for (guint i = 0; i < n; i++) {
    g_autofree char *field = sp_field_text (sp_fields_get (&fields, i));
    g_string_append_printf (got, "[%s]", field);
  }
  ck_assert_str_eq (got->str, want);
}

START_TEST (splitting)
{
  check_fields ("a,b,,c", ',', "[a][b][][c]");
  check_fields ("a , b ,", ',', "[a][b][]");
  check_fields (" a  b\t c ", ' ', "[a][b][c]");
  check_fields ("a\t\tb", '\t', "[a][][b]");
  check_fields ("\"a;\"\"b\"\"\";c", ';', "[a;\"b\"][c]");
  check_fields ("\"1,5\",\"2\"", ',', "[1,5][2]");
  check_fields ("5\" x,b", ',', "[5\" x][b]");
  check_fields ("\"open,b", ',', "[\"open][b]");
  check_fields ("", ',', "[]");
  check_fields ("", ' ', "");
  check_fields ("one field", 0, "[one field]");
}
END_TEST

START_TEST (folding)
{
  g_autofree char *a = sp_words_fold ("Fréquence  centrale :", -1), *b = sp_words_fold ("HF-Dämpfung", -1), *c = sp_words_fold ("", -1);

  ck_assert_str_eq (a, "frequence centrale");
  ck_assert_str_eq (b, "hf dampfung");
  ck_assert_str_eq (c, "");
  ck_assert_int_eq (sp_words_setting (a), SP_WORD_CENTER);
  ck_assert_int_eq (sp_words_setting (b), SP_WORD_ATTENUATION);
  ck_assert_int_eq (sp_words_setting ("start time"), SP_WORD_NONE);
  ck_assert_int_eq (sp_words_setting ("rbw"), SP_WORD_RBW);
  g_autofree char *level = sp_words_fold ("レベル", -1), *narrow = sp_words_fold ("ﾚﾍﾞﾙ", -1),
                  *center = sp_words_fold (" センター周波数：", -1);
  ck_assert_int_eq (sp_words_column (level), SP_WORD_LEVEL);
  ck_assert_int_eq (sp_words_column (narrow), SP_WORD_LEVEL);
  ck_assert_int_eq (sp_words_setting (center), SP_WORD_CENTER);
}
END_TEST

static void
check_unit (const char *text, const char *name, const char *unit)
{
  g_autofree char *got_name = NULL, *unit_text = NULL;
  SpUnitWord word;

  sp_unit_split (text, strlen (text), &got_name, &unit_text, &word);
  ck_assert_msg (strcmp (got_name, name) == 0, "name of ‘%s’ is ‘%s’", text, got_name);
  ck_assert_msg (g_strcmp0 (word.name, unit) == 0, "unit of ‘%s’ is %s", text, word.name);
}

START_TEST (units)
{
  check_unit ("Frequency (MHz)", "Frequency", "MHz");
  check_unit ("Level [dB\xc2\xb5V]", "Level", "dBuV");
  check_unit ("Pegel / dB(\xc2\xb5V)", "Pegel", "dBuV"); /* not uV, which would be 100 dB off */
  check_unit ("Level dB(uV)", "Level", "dBuV");
  check_unit ("Level dB (uV)", "Level", "dBuV");
  check_unit ("Pegel [dB(\xce\xbcV)]", "Pegel", "dBuV");
  check_unit ("Frequenz/kHz", "Frequenz", "kHz");
  check_unit ("RBW in kHz", "RBW", "kHz");
  check_unit ("level_dbm", "level", "dBm");
  check_unit ("freq mhz", "freq", "MHz");
  check_unit ("dBm", "", "dBm");
  check_unit ("Level (dBc)", "Level", NULL);
  check_unit ("Power (mW)", "Power", "mW");
  check_unit ("Power (MW)", "Power", "MW"); /* not mW */
  check_unit ("Power (mw)", "Power", "mW");
  check_unit ("Level (Vpp)", "Level", NULL);
  check_unit ("Spannung mVeff", "Spannung", "mV");
  check_unit ("Fr\xc3\xa9quence en MHz", "Fr\xc3\xa9quence", "MHz");
  check_unit ("Trace 1", "Trace 1", NULL);
}
END_TEST

/* What the table's rows begin at, and how they are written: "4 ; , n2". */
static void
check_dialect (const char *content, const char *want)
{
  g_auto (SpText) text;
  g_autoptr (GBytes) raw = bytes_of (content, strlen (content));
  g_autofree SpDialect *dialect = g_new0 (SpDialect, 1);
  g_autoptr (GError) error = NULL;
  SpTraceOptions options;
  SpTextLines rows;

  sp_trace_options_init (&options);
  ck_assert (sp_text_decode (raw, "file", &text, NULL));
  ck_assert (sp_dialect_start (&text, "file", &rows, &error));
  gboolean good = sp_dialect_choose (&text, "file", &rows, 0, &options, FALSE, dialect, &error);
  g_autofree char *got = good ? g_strdup_printf ("%u %s %s %s%u", (guint) rows.number, sp_dialect_word (dialect->delimiter),
                                                 sp_dialect_word (dialect->mark), dialect->group ? "grouped " : "", dialect->n)
                              : g_strdup (error->message);
  ck_assert_str_eq (got, want);
}

START_TEST (dialects)
{
  check_dialect ("a\nb\nc\n1;2,5\n2;3\n3;4\n", "4 semicolon comma 2");
  check_dialect ("RBW,10\n2026\n100,-1\n101,-2\n102,-3\n", "3 comma point 2");
  check_dialect ("1 2.5 3\n2 3 4\n4 5 6\n", "1 blank point 3");
  check_dialect ("1\t2,5\n2\t3\n4\t5\n", "1 tab comma 2");
  check_dialect ("1.000;2,5\n1.001;3\n1.002;4\n", "1 semicolon comma grouped 2");
  check_dialect ("100.5, -20\n101, -20\n102, -20\n", "1 comma point 2");
  check_dialect ("1,5 2,5\n2,5 3,5\n3,5 4,5\n", "1 blank comma 2");
  check_dialect ("7;8;9\n1,-2\n2,-3\n", "2 comma point 2"); /* two rows will do where there are no three */
}
END_TEST

START_TEST (preambles)
{
  static const char text[] = "Start,10 MHz\nStop: 1 GHz\nRBW [kHz],10\nSweep time,1.5,s\nDetector,RMS\nNonsense,5\n"
                             "Reference level offset,30,dB\n";
  SpDialect dialect = { .delimiter = ',', .mark = '.' };
  g_autoptr (GPtrArray) warnings = sp_reasons_new ();
  g_auto (SpPreamble) preamble;
  SpText whole = { NULL, text, strlen (text), 0, "UTF-8" };
  double start, stop;

  sp_preamble_read (&whole, text + strlen (text), &dialect, 0, "file", &preamble, warnings);
  ck_assert (sp_preamble_sweep (&preamble, &start, &stop));
  ck_assert_double_eq (start, 10e6);
  ck_assert_double_eq (stop, 1e9);
  ck_assert_double_eq (preamble.settings.rbw_hz, 10e3);
  ck_assert_double_eq (preamble.settings.sweep_time_s, 1.5);
  ck_assert_int_eq (preamble.settings.detector, SP_DETECTOR_RMS);
  ck_assert (isnan (preamble.settings.vbw_hz));
  ck_assert_uint_eq (warnings->len, 1); /* readings with an offset in them are worth a word */
  ck_assert_int_eq (((SpReason *) warnings->pdata[0])->code, SP_REASON_SETTING_IGNORED);
}
END_TEST

START_TEST (preamble_open_mark)
{
  static const char text[] = "RBW;1,000;kHz\nVBW;2,5;kHz\n";
  SpDialect open = { .delimiter = ';', .mark = '.', .mark_open = TRUE }, comma = { .delimiter = ';', .mark = ',' };
  g_autoptr (GPtrArray) warnings = sp_reasons_new ();
  SpText whole = { NULL, text, strlen (text), 0, "UTF-8" };
  g_auto (SpPreamble) a, b;

  sp_preamble_read (&whole, text + strlen (text), &open, 0, "file", &a, warnings);
  ck_assert (isnan (a.settings.rbw_hz)); /* 1 kHz or 1 MHz */
  ck_assert_double_eq (a.settings.vbw_hz, 2500);
  ck_assert_uint_eq (warnings->len, 1);
  sp_preamble_read (&whole, text + strlen (text), &comma, 0, "file", &b, NULL);
  ck_assert_double_eq (b.settings.rbw_hz, 1000);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("layers");
  TCase *tc = tcase_create ("layers");
  tcase_add_test (tc, encodings);
  tcase_add_test (tc, no_text);
  tcase_add_test (tc, line_ends);
  tcase_add_test (tc, quoted_lines);
  tcase_add_test (tc, splitting);
  tcase_add_test (tc, folding);
  tcase_add_test (tc, units);
  tcase_add_test (tc, dialects);
  tcase_add_test (tc, preambles);
  tcase_add_test (tc, preamble_open_mark);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
