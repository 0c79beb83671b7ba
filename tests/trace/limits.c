/* limits.c - hostile files: bounded time and memory, and a clear refusal. Times are compared with a plain pass over the same bytes. */
#include "core/trace/limits.h"
#include "core/quantity/error.h"
#include "core/trace/read/read.h"
#include "core/trace/trace.h"
#include "tests/suite.h"

#include <string.h>
#include <time.h>

/* The error's message, or NULL where it was read. */
static char *
refusal (GBytes *bytes, GError **error)
{
  g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, "file", NULL, error);
  return trace ? NULL : (*error)->message;
}

static GBytes *
filled (gsize length, const char *pattern)
{
  char *data = g_malloc (length);
  gsize n = strlen (pattern);
  memcpy (data, pattern, n);
  for (gsize done = n; done < length; done += MIN (done, length - done))
    memcpy (data + done, data, MIN (done, length - done));
  return g_bytes_new_take (data, length);
}

/* Of the processor's time: what other programs take of the clock's says nothing. */
static gint64
spent (void)
{
  struct timespec time;
  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &time);
  return time.tv_sec * G_TIME_SPAN_SECOND + time.tv_nsec / 1000;
}

static double
hash_time (GBytes *bytes)
{
  gint64 start = spent ();
  g_autofree char *digest = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  ck_assert (digest != NULL);
  return (double) (spent () - start);
}

/* Every pattern on one line of 100 MB: refused, in no more time than a hundred hashes of the same bytes would take. */
START_TEST (line_of_100_mb)
{
  static const char *const patterns[] = { "1", "1,", "1.5 -20 ", "\"", "\"\"", "a", ";", "-", "1e5,-20.5,", ",\"" };
  g_autoptr (GBytes) bytes = filled (100000000, patterns[_i]);
  g_autoptr (GError) error = NULL;
  double hash = hash_time (bytes);
  gint64 start = spent ();

  ck_assert_msg (refusal (bytes, &error) != NULL, "a line of ‘%s’ was read", patterns[_i]);
  ck_assert_double_lt ((double) (spent () - start), 100 * hash + 1e6);
}
END_TEST

START_TEST (many_columns)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  for (guint row = 0; row < 3; row++) {
    for (guint i = 0; i < 1000000; i++)
      g_string_append (text, i ? ",1" : "1");
    g_string_append_c (text, '\n');
  }
  g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
  ck_assert_ptr_nonnull (refusal (bytes, &error));
}
END_TEST

START_TEST (columns_at_the_limit)
{
  for (guint n = SP_LIMIT_COLUMNS; n <= SP_LIMIT_COLUMNS + 1; n++) {
    g_autoptr (GString) text = g_string_new (NULL);
    g_autoptr (GError) error = NULL;
    SpTraceOptions options;
    sp_trace_options_init (&options);
    options.column = g_strdup ("3");
    for (guint row = 1; row <= 4; row++)
      for (guint i = 0; i < n; i++)
        g_string_append_printf (text, "%s%d%s", i ? "," : "", (int) (i ? -((row * i * 7) % 10) : 1000000 * row), i + 1 == n ? "\n" : "");
    g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
    g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, "file", &options, &error);
    ck_assert_msg ((trace != NULL) == (n <= SP_LIMIT_COLUMNS), "%u columns: %s", n, error ? error->message : "read");
    ck_assert (trace
               || (g_error_matches (error, SP_ERROR, SP_ERROR_LIMIT) && strstr (error->message, "file:1:749: more than 256 columns")));
    sp_trace_options_clear (&options);
  }
}
END_TEST

/* Each line opens a quote that none closes. Looked at anew for each, all that follow take a thousand times as long. */
START_TEST (quotes_that_never_close)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < SP_LIMIT_PREAMBLE_LINES; i++)
    g_string_append (text, "a\"b,\"c\n");
  g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
  double hash = hash_time (bytes);
  gint64 start = spent ();
  ck_assert_ptr_nonnull (refusal (bytes, &error));
  ck_assert_double_lt ((double) (spent () - start), 100 * hash + 5e5);
}
END_TEST

/* One more point than the limit. */
START_TEST (points_over_the_limit)
{
  gsize n = SP_LIMIT_POINTS + 1;
  char *data = g_malloc (n * 12), *p = data;
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < n; i++) {
    memcpy (p, "100000000,7\n", 12);
    for (gsize value = 100000000 + i, k = 9; k-- > 0; value /= 10)
      p[k] = (char) ('0' + value % 10);
    p += 12;
  }
  g_autoptr (GBytes) bytes = g_bytes_new_take (data, n * 12);
  ck_assert_ptr_nonnull (refusal (bytes, &error));
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_LIMIT));
  g_autoptr (GBytes) fewer = g_bytes_new_from_bytes (bytes, 0, (n - 1) * 12);
  g_autoptr (SpTrace) trace = sp_trace_read_bytes (fewer, "file", NULL, NULL);
  ck_assert_ptr_nonnull (trace);
  ck_assert_uint_eq (trace->n, SP_LIMIT_POINTS);
}
END_TEST

START_TEST (endless_preamble)
{
  g_autoptr (GBytes) bytes = filled (50000000, "Remark: 5\n");
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_nonnull (refusal (bytes, &error));
}
END_TEST

/* Every cut and every changed byte of a good file: read or refused, never more. The sanitizers watch. */
START_TEST (mangled)
{
  static const char good[] = "Start,1 MHz\nRBW,10 kHz\n\"Note\",\"a\nb\"\n"
                             "Frequency (MHz),\"Level (dB\xc2\xb5V)\"\n1.5,-20\n2.5,\"-21\"\n3.5,-22e0\n\nEnd\n";
  static const char changes[] = { '\0', '\n', '\r', '"', ',', ';', '\t', ' ', '.', '-', '9', 'e', (char) 0xff, '#' };

  for (gsize i = 0; i < sizeof good; i++) {
    g_autoptr (GBytes) cut = g_bytes_new (good, i);
    g_autoptr (SpTrace) trace = sp_trace_read_bytes (cut, "file", NULL, NULL);
    for (gsize k = 0; k < sizeof changes && i < sizeof good - 1; k++) {
      g_autofree char *copy = g_memdup2 (good, sizeof good - 1);
      g_autoptr (GError) error = NULL;
      copy[i] = changes[k];
      g_autoptr (GBytes) bytes = g_bytes_new (copy, sizeof good - 1);
      g_autoptr (SpTrace) other = sp_trace_read_bytes (bytes, "file", NULL, &error);
      ck_assert ((other != NULL) != (error != NULL));
      ck_assert (!error || (g_str_has_prefix (error->message, "file") && error->domain == SP_ERROR));
    }
  }
}
END_TEST

/* Long numbers, then a short row where the bytes end, in every loop over rows. The sanitizers watch that nothing behind is looked at. */
START_TEST (short_last_row)
{
  static const char *const heads[] = { "Frequency (Hz),Level (dBm)\n", "Frequency (Hz),A (dBm),B (dBm)\n" };
  static const char *const tails[] = { "",
                                       "\n",
                                       "1",
                                       "1,",
                                       "1,2",
                                       "1,2\n",
                                       "1E,9\n",
                                       "1,2,3\n",
                                       "-1.5,-2\n",
                                       "9e9,-2\n\n\n",
                                       "\n1E,9.50\n",
                                       "\n12345678",
                                       "1,2\n1234,-6\n",
                                       "1,2,3\n1,2,345\n",
                                       "9e9,-2\n-1234567\n" };

  for (guint form = 0; form < 4; form++)
    for (gsize t = 0; t < G_N_ELEMENTS (tails); t++) {
      g_autoptr (GString) text = g_string_new (heads[form % 2]);
      for (guint i = 0; i < 4; i++)
        g_string_append_printf (text, "%u.12345,-20.12345678%s\n", form / 2 ? 10000003 - i : 10000000 + i,
                                form % 2 ? ",-30.123456789" : "");
      g_string_append (text, tails[t]);
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
      g_autoptr (GPtrArray) traces = sp_trace_read_all_bytes (bytes, "file", NULL, &error);
      ck_assert ((traces != NULL) != (error != NULL));
    }
}
END_TEST

/* Each line looks like a setting, with a value that says nothing. */
START_TEST (settings_without_sense)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 90000; i++)
    g_string_append_printf (text, "RBW,value %u\n", i);
  g_string_append (text, "Frequency (Hz),Level (dBm)\n1,2\n2,3\n");
  g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
  double hash = hash_time (bytes);
  gint64 start = spent ();
  g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, "file", NULL, &error);
  ck_assert_msg (trace != NULL, "%s", error ? error->message : "");
  ck_assert_double_lt ((double) (spent () - start), 1000 * hash + 5e6);
  ck_assert_uint_eq (trace->warnings->len, SP_LIMIT_PREAMBLE_WARNINGS);
}
END_TEST

/* Where lines are left out each trace is read alone again: of so many traces that would take hours. */
START_TEST (many_traces_in_a_damaged_file)
{
  for (guint columns = 2; columns <= 100; columns += 98) {
    g_autoptr (GString) text = g_string_new (NULL);
    g_autoptr (GError) error = NULL;
    for (guint table = 0; table < 300; table++) {
      g_string_append (text, "Frequency (Hz)");
      for (guint i = 1; i < columns; i++)
        g_string_append_printf (text, ",L%u (dBm)", i);
      for (guint row = 1; row <= 2; row++)
        for (guint i = 0; i < columns; i++)
          g_string_append_printf (text, "%s%d", i ? "," : "\n", i ? -20 : (int) row);
      g_string_append_c (text, '\n');
    }
    g_string_append (text, "Remark\n");
    g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
    g_autoptr (GPtrArray) traces = sp_trace_read_all_bytes (bytes, "file", NULL, &error);
    ck_assert_msg ((traces != NULL) == (columns == 2), "%u columns: %s", columns, error ? error->message : "read");
    ck_assert (traces || g_error_matches (error, SP_ERROR, SP_ERROR_LIMIT));
  }
}
END_TEST

/* Tables of two columns, a bad line at the end: each column is read again once, not each table with all before it. */
START_TEST (many_tables_in_a_damaged_file)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  for (guint table = 0; table < 200; table++)
    g_string_append (text, "F (MHz),A (dBm),B (dBm),C (dBm),D (dBm)\n1,-20,-21,-22,-23\n2,-20,-21,-22,-23\n\n");
  g_string_append (text, "Remark\n");
  g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
  gint64 start = spent ();
  g_autoptr (SpTrace) last = NULL;
  SpTraceOptions options;
  ck_assert (sp_trace_options_from_text ("column=4&table=200", &options, NULL));
  last = sp_trace_read_bytes (bytes, "file", &options, &error);
  sp_no_error (error);
  double one = (double) (spent () - start);
  start = spent ();
  g_autoptr (GPtrArray) traces = sp_trace_read_all_bytes (bytes, "file", NULL, &error);
  sp_no_error (error);
  ck_assert_uint_eq (traces->len, 800);
  ck_assert_double_lt ((double) (spent () - start), 40 * one + 1e5);
  const SpTrace *same = traces->pdata[199 * 4 + 2];
  ck_assert_str_eq (same->options, last->options);
  ck_assert_str_eq (same->column, last->column);
  ck_assert_uint_eq (same->warnings->len, last->warnings->len);
  sp_trace_options_clear (&options);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("limits");
  TCase *tc = tcase_create ("limits");
  tcase_set_timeout (tc, 240);
  tcase_add_loop_test (tc, line_of_100_mb, 0, 10);
  tcase_add_test (tc, many_columns);
  tcase_add_test (tc, columns_at_the_limit);
  tcase_add_test (tc, points_over_the_limit);
  tcase_add_test (tc, endless_preamble);
  tcase_add_test (tc, settings_without_sense);
  tcase_add_test (tc, many_traces_in_a_damaged_file);
  tcase_add_test (tc, many_tables_in_a_damaged_file);
  tcase_add_test (tc, quotes_that_never_close);
  tcase_add_test (tc, mangled);
  tcase_add_test (tc, short_last_row);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
