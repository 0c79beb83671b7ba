/* stretch.c - traces whose spacing jumps, and files with a second preamble: each stretch a trace of its own, of its own settings */
#include "core/quantity/error.h"
#include "core/trace/read/read.h"
#include "core/trace/trace.h"
#include "tests/suite.h"

#include <glib/gstdio.h>
#include <string.h>

#define HEAD "Frequency (Hz);Level (dBm)\n"

static void
put_rows (GString *text, double from_hz, double step_hz, guint n)
{
  for (guint i = 0; i < n; i++)
    g_string_append_printf (text, "%.0f;%.2f\n", from_hz + step_hz * i, -90 - (i * 7 % 13) / 10.);
}

static GBytes *
bytes_of (GString *text)
{
  return g_string_free_to_bytes (text);
}

/* 1 to 2 MHz every 3 kHz (334 points), from there every 30 kHz. */
static GBytes *
jumping (void)
{
  GString *text = g_string_new ("RBW;3 kHz\nDetector;Sample\n" HEAD);
  put_rows (text, 1e6, 3e3, 334);
  put_rows (text, 1e6 + 333 * 3e3 + 30e3, 30e3, 100);
  return bytes_of (text);
}

static SpTrace *
read_with (GBytes *bytes, const char *options_text)
{
  SpTraceOptions options;
  GError *error = NULL;
  ck_assert (sp_trace_options_from_text (options_text, &options, &error));
  SpTrace *trace = sp_trace_read_bytes (bytes, "a.csv", &options, &error);
  sp_no_error (error);
  sp_trace_options_clear (&options);
  return trace;
}

START_TEST (spacing_jumps)
{
  g_autoptr (GBytes) bytes = jumping ();
  g_autoptr (SpTrace) whole = read_with (bytes, "attenuation=10");
  GPtrArray *stretches = sp_trace_stretches (whole);
  ck_assert (stretches && stretches->len == 2 && stretches == sp_trace_stretches (whole) && !sp_trace_is_first_stretch (whole));
  const SpTrace *first = stretches->pdata[0], *second = stretches->pdata[1];
  ck_assert_uint_eq (first->n, 334);
  ck_assert_uint_eq (second->n, 101); /* the point where they meet is in both: nothing between them is left unswept */
  ck_assert_double_eq (first->frequency_hz[333], second->frequency_hz[0]);
  ck_assert_str_eq (first->options, "attenuation=10&from=1000000&to=1999000");
  ck_assert_str_eq (second->options, "attenuation=10&from=1999000&to=4999000");
  ck_assert (sp_reasons_have (whole->warnings, SP_REASON_SPACING_JUMPS));
  ck_assert_str_eq (sp_trace_sha256 (whole), sp_trace_sha256 (second));
  /* Each is read again by its own options, warning and all. */
  for (guint i = 0; i < 2; i++) {
    const SpTrace *part = stretches->pdata[i];
    g_autoptr (SpTrace) again = read_with (bytes, part->options);
    ck_assert_uint_eq (again->n, part->n);
    ck_assert (memcmp (again->frequency_hz, part->frequency_hz, part->n * sizeof (double)) == 0);
    ck_assert (memcmp (again->reading_dbm, part->reading_dbm, part->n * sizeof (double)) == 0);
    ck_assert_str_eq (again->options, part->options);
    ck_assert (sp_reasons_have (again->warnings, SP_REASON_SPACING_JUMPS) && sp_reasons_have (part->warnings, SP_REASON_SPACING_JUMPS));
    ck_assert_uint_eq (again->warnings->len, part->warnings->len);
    ck_assert_ptr_null (sp_trace_stretches (again));
  }
  /* Asked for, and answered. */
  g_autoptr (SpTrace) told = read_with (bytes, "rbw=30kHz&from=2MHz");
  ck_assert (told->settings.rbw_hz == 30e3 && told->n == 100 && !sp_reasons_have (told->warnings, SP_REASON_SPACING_JUMPS));
}
END_TEST

static guint
stretches_of (guint n, const double *f)
{
  g_autofree double *level = g_new0 (double, n);
  g_autoptr (SpTrace) trace = sp_trace_new ("t", n, f, level, NULL, NULL);
  ck_assert_ptr_nonnull (trace);
  GPtrArray *stretches = sp_trace_stretches (trace);
  return stretches ? stretches->len : 1;
}

START_TEST (what_does_not_jump)
{
  double f[400];
  for (guint i = 0; i < 400; i++)
    f[i] = 1e6 + 1e3 * (i + (i > 100) + (i > 200) * 2); /* points are missing */
  ck_assert_uint_eq (stretches_of (400, f), 1);
  for (guint i = 0; i < 400; i++)
    f[i] = 1e6 * pow (1.02, i); /* as many points in every octave */
  ck_assert_uint_eq (stretches_of (400, f), 1);
  for (guint i = 0; i < 400; i++)
    f[i] = 1e4 * round (1.5 * i); /* 15 kHz, written to 10 kHz */
  ck_assert_uint_eq (stretches_of (400, f), 1);
  for (guint i = 0; i < 400; i++)
    f[i] = i ? f[i - 1] + (i % 20 < 5 ? 1e5 : 1e3) : 0; /* a list of some lines */
  ck_assert_uint_eq (stretches_of (400, f), 1);
  for (guint i = 0; i < 400; i++)
    f[i] = i < 200 ? 1e3 * i : 1e8 + 2e3 * i; /* what was not swept belongs to neither, and the factor is two */
  ck_assert_uint_eq (stretches_of (400, f), 2);
  for (guint i = 0; i < 400; i++)
    f[i] = i < 100 ? 1e3 * i : i < 250 ? 1e5 + 1e4 * (i - 100) : 1.6e6 + 2e3 * (i - 250);
  ck_assert_uint_eq (stretches_of (400, f), 3);
}
END_TEST

static const char *const between[] = { "RBW;30 kHz\nDetector;Peak\n" HEAD, "\nRBW;30 kHz\nDetector;Peak\n",
                                       "# RBW: 30 kHz\n# Detector: peak\n", "Evening, again\nTitle;x\nRBW;30 kHz\nDetector;Peak\n" HEAD };

static GBytes *
two_preambles (guint way)
{
  GString *text = g_string_new ("Attenuation;10 dB\nRBW;3 kHz\nDetector;Sample\n" HEAD);
  put_rows (text, 1e6, 3e3, 334);
  g_string_append (text, between[way]);
  put_rows (text, 2.029e6, 30e3, 100);
  return bytes_of (text);
}

static void
check_two (const GPtrArray *traces)
{
  ck_assert_uint_eq (traces->len, 2);
  const SpTrace *first = traces->pdata[0], *second = traces->pdata[1];
  ck_assert (first->n == 334 && first->settings.rbw_hz == 3e3 && first->settings.detector == SP_DETECTOR_SAMPLE);
  ck_assert (second->n == 100 && second->settings.rbw_hz == 30e3 && second->settings.detector == SP_DETECTOR_PEAK);
  ck_assert (second->settings.attenuation_db == 10); /* what it does not say, the first says */
}

START_TEST (second_preamble)
{
  g_autoptr (GBytes) bytes = two_preambles (_i);
  GError *error = NULL;
  g_autoptr (GPtrArray) all = sp_trace_read_all_bytes (bytes, "a.csv", NULL, &error);
  sp_no_error (error);
  check_two (all);
  SpTraceOptions options;
  ck_assert (sp_trace_options_from_text ("bad=skip", &options, NULL));
  g_autoptr (GPtrArray) skipping = sp_trace_read_all_bytes (bytes, "a.csv", &options, &error);
  sp_no_error (error);
  check_two (skipping);
  g_autoptr (SpTrace) second = read_with (bytes, "table=2");
  ck_assert_uint_eq (second->n, 100);
  ck_assert_ptr_null (sp_trace_read_bytes (bytes, "a.csv", NULL, &error)); /* one trace, and which? */
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_INPUT) && strstr (error->message, "table=1"));
  g_clear_error (&error);
  /* Who takes stretches gets both. */
  g_autofree char *folder = g_dir_make_tmp ("stretch-XXXXXX", NULL), *path = g_build_filename (folder, "a.csv", NULL);
  ck_assert (g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes), NULL));
  g_autoptr (SpTrace) joined = sp_trace_read_joined (path, NULL, &error);
  sp_no_error (error);
  check_two (sp_trace_stretches (joined));
  ck_assert (sp_trace_is_first_stretch (joined));
  g_remove (path);
  g_rmdir (folder);
}
END_TEST

/* Lines that are no settings are bad lines still, and a table that goes back in frequency is none of these. */
START_TEST (what_is_no_preamble)
{
  GString *text = g_string_new ("RBW;3 kHz\n" HEAD);
  put_rows (text, 1e6, 3e3, 50);
  g_string_append (text, "a note\n");
  put_rows (text, 2e6, 3e3, 50);
  g_autoptr (GBytes) bytes = bytes_of (text);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (sp_trace_read_bytes (bytes, "a.csv", NULL, &error));
  ck_assert (strstr (error->message, "a.csv:53:") && strstr (error->message, "a note"));
  text = g_string_new ("RBW;3 kHz\n" HEAD);
  put_rows (text, 1e6, 3e3, 50);
  g_string_append (text, "# a comment\n");
  put_rows (text, 2e6, 3e3, 50);
  g_autoptr (GBytes) commented = bytes_of (text);
  g_autoptr (SpTrace) one = read_with (commented, "");
  ck_assert_uint_eq (one->n, 100);
}
END_TEST

START_TEST (ranges)
{
  g_autoptr (GBytes) bytes = jumping ();
  g_autoptr (SpTrace) open = read_with (bytes, "to=1.3MHz");
  ck_assert_uint_eq (open->n, 101);
  g_autoptr (SpTrace) both = read_with (bytes, "from=1.0001MHz&to=1.01MHz");
  ck_assert (both->n == 3 && both->frequency_hz[0] == 1.003e6);
  SpTraceOptions options;
  g_autoptr (GError) none = NULL, turned = NULL;
  ck_assert (sp_trace_options_from_text ("from=1GHz", &options, NULL));
  ck_assert_ptr_null (sp_trace_read_bytes (bytes, "a.csv", &options, &none));
  ck_assert (g_error_matches (none, SP_ERROR, SP_ERROR_INPUT));
  ck_assert (!sp_trace_options_from_text ("from=2MHz&to=1MHz", &options, &turned));
  ck_assert (g_error_matches (turned, SP_ERROR, SP_ERROR_USAGE));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("trace/stretch");
  TCase *c = tcase_create ("all");
  tcase_add_test (c, spacing_jumps);
  tcase_add_test (c, what_does_not_jump);
  tcase_add_loop_test (c, second_preamble, 0, G_N_ELEMENTS (between));
  tcase_add_test (c, what_is_no_preamble);
  tcase_add_test (c, ranges);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
