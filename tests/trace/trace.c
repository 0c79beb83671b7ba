/* trace.c - a trace as a value, the options with a file's name, and what reading keeps */
#include "core/trace/trace.h"
#include "core/quantity/error.h"
#include "core/trace/read/read.h"
#include "tests/suite.h"

#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

static const double f[] = { 1e6, 2e6, 4e6, 4.5e6 }, level[] = { -10, -20, -30, -40 };

START_TEST (search_and_spacing)
{
  g_autoptr (SpTrace) trace = sp_trace_new ("made", 4, f, level, NULL, NULL);

  ck_assert_uint_eq (sp_trace_find (trace, 0), 0);
  ck_assert_uint_eq (sp_trace_find (trace, 2e6), 1);
  ck_assert_uint_eq (sp_trace_find (trace, 2.1e6), 2);
  ck_assert_uint_eq (sp_trace_find (trace, 9e6), 4);
  ck_assert_double_eq (sp_trace_spacing_hz (trace, 0, 9e6), 2e6);
  ck_assert_double_eq (sp_trace_spacing_hz (trace, 1.1e6, 1.2e6), 1e6);
  ck_assert_double_eq (sp_trace_spacing_hz (trace, 4.2e6, 4.3e6), 0.5e6);
  ck_assert_double_eq (sp_trace_spacing_hz (trace, 3e6, 4.3e6), 2e6);
  ck_assert_double_eq (sp_trace_spacing_hz (trace, 20e6, 30e6), 0.5e6);
  ck_assert (isnan (trace->settings.rbw_hz));
}
END_TEST

START_TEST (what_is_no_trace)
{
  static const double twice[] = { 1, 1 }, back[] = { 2, 1 }, nan_f[] = { 1, NAN }, negative[] = { -1, 1 }, inf_level[] = { 1, INFINITY },
                      fine[] = { 1, 2 };
  GError *error = NULL;

  ck_assert (sp_trace_new ("x", 1, f, level, NULL, &error) == NULL);
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_INPUT));
  g_clear_error (&error);
  ck_assert (sp_trace_new ("x", 10000001, f, level, NULL, &error) == NULL);
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_LIMIT));
  g_clear_error (&error);
  ck_assert (sp_trace_new ("x", 2, twice, level, NULL, NULL) == NULL);
  ck_assert (sp_trace_new ("x", 2, back, level, NULL, NULL) == NULL);
  ck_assert (sp_trace_new ("x", 2, nan_f, level, NULL, NULL) == NULL);
  ck_assert (sp_trace_new ("x", 2, negative, level, NULL, NULL) == NULL);
  ck_assert (sp_trace_new ("x", 2, fine, inf_level, NULL, NULL) == NULL);
}
END_TEST

START_TEST (settings_beyond_their_range)
{
  static const double fine[] = { 1, 2 };
  static const struct {
    gsize at;
    double just, wrong;
  } cases[] = { { G_STRUCT_OFFSET (SpSettings, rbw_hz), 1e-6, 0 },           { G_STRUCT_OFFSET (SpSettings, rbw_hz), 1e15, INFINITY },
                { G_STRUCT_OFFSET (SpSettings, vbw_hz), 1e-6, -1 },          { G_STRUCT_OFFSET (SpSettings, attenuation_db), -200, -201 },
                { G_STRUCT_OFFSET (SpSettings, reference_dbm), 1000, 1001 }, { G_STRUCT_OFFSET (SpSettings, sweep_time_s), 1e-9, 0 },
                { G_STRUCT_OFFSET (SpSettings, averages), 1, 0.5 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (GError) error = NULL;
    SpSettings settings;
    sp_settings_init (&settings);
    G_STRUCT_MEMBER (double, &settings, cases[i].at) = cases[i].just;
    g_autoptr (SpTrace) trace = sp_trace_new ("x", 2, fine, level, &settings, &error);
    sp_no_error (error);
    G_STRUCT_MEMBER (double, &settings, cases[i].at) = cases[i].wrong;
    ck_assert (sp_trace_new ("x", 2, fine, level, &settings, &error) == NULL);
    ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_INPUT));
  }
}
END_TEST

/* Through text and back. */
static char *
canonical (const char *reference, char **path)
{
  SpTraceOptions options;
  g_autoptr (GError) error = NULL;
  gboolean good = sp_trace_options_parse (reference, path, &options, &error);

  sp_no_error (error);
  ck_assert (good);
  char *text = sp_trace_options_text (&options);
  sp_trace_options_clear (&options);
  return text;
}

START_TEST (options)
{
  g_autofree char *path = NULL, *again_path = NULL, *none_path = NULL;
  g_autofree char *text = canonical (
      "a%20b%3F.csv?column=Max%20hold&rbw=10kHz&attenuation=20dB&detector=quasi-peak&average=none&averages=5&hold=max&vbw=1e3&reference=-10"
      "&center=1GHz&span=2MHz&unit=\xc2\xb5V&decimal=comma&delimiter=tab&frequency_unit=MHz&bad=skip&format=real64&order=little",
      &path);
  g_autofree char *reference = g_strconcat ("x?", text, NULL), *again = canonical (reference, &again_path);
  g_autofree char *none = canonical ("plain.csv", &none_path);

  ck_assert_str_eq (path, "a b?.csv");
  ck_assert_str_eq (text, "rbw=10000&vbw=1000&attenuation=20&reference=-10&detector=quasi-peak&average=none&averages=5&hold=max&start="
                          "999000000&stop=1001000000&unit=uV"
                          "&frequency_unit=MHz&decimal=comma&delimiter=tab&format=real64&order=little&column=Max%20hold&bad=skip");
  ck_assert_str_eq (again, text);
  ck_assert_str_eq (none, "");
  ck_assert_str_eq (none_path, "plain.csv");
}
END_TEST

/* A short file and one that is long enough to be hashed in a thread of its own: the same trace, the same hash, and the same error. */
START_TEST (hashed_while_it_is_read)
{
  for (guint lines = 2; lines <= 100000; lines *= 50000) {
    g_autoptr (GString) text = g_string_new ("Frequency (Hz),Level (dBm)\n");
    g_autoptr (GError) error = NULL, bad = NULL;
    g_autofree char *folder = g_dir_make_tmp ("spurproof-XXXXXX", NULL), *path = g_build_filename (folder, "t.csv", NULL);
    for (guint i = 1; i <= lines; i++)
      g_string_append_printf (text, "%u000,-%u.25\n", i, 10 + i % 80);
    g_autofree char *want = g_compute_checksum_for_string (G_CHECKSUM_SHA256, text->str, -1);
    ck_assert (g_file_set_contents (path, text->str, -1, NULL));
    g_autoptr (SpTrace) trace = sp_trace_read_hashed (path, NULL, &error);
    ck_assert_msg (trace != NULL, "%s", error ? error->message : "");
    ck_assert_uint_eq (trace->n, lines);
    ck_assert_str_eq (sp_trace_sha256 (trace), want);
    g_string_append (text, "5,-10\n"); /* back to the first frequency */
    ck_assert (g_file_set_contents (path, text->str, -1, NULL));
    ck_assert_ptr_null (sp_trace_read_hashed (path, NULL, &bad));
    ck_assert_ptr_nonnull (bad);
    g_remove (path);
    g_rmdir (folder);
  }
}
END_TEST

START_TEST (bytes_and_hash)
{
  static const char text[] = "Frequency (Hz),Level (dBm)\n1000000,-1\n2000000,-2\n";
  g_autoptr (GBytes) bytes = g_bytes_new_static (text, strlen (text));
  g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, "name", NULL, NULL);
  g_autofree char *want = g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, -1);

  ck_assert_ptr_nonnull (trace);
  ck_assert_str_eq (trace->file, "name");
  ck_assert (g_bytes_equal (trace->raw, bytes));
  ck_assert_str_eq (sp_trace_sha256 (trace), want);
  ck_assert_str_eq (trace->options, "");
}
END_TEST

START_TEST (one_column_shares_frequencies)
{
  static const char text[] = "Frequency (Hz),A (dBm),B (dBm)\n1000000,-1,-3\n2000000,-2,-4\n";
  g_autofree char *path = NULL;
  int fd = g_file_open_tmp ("sp-XXXXXX", &path, NULL);

  ck_assert (g_file_set_contents (path, text, -1, NULL));
  close (fd);
  g_autoptr (GPtrArray) traces = sp_trace_read_all (path, NULL, NULL);
  ck_assert_uint_eq (traces->len, 2);
  SpTrace *a = traces->pdata[0], *b = sp_trace_ref (traces->pdata[1]);
  ck_assert_ptr_eq (a->frequency_hz, b->frequency_hz);
  g_clear_pointer (&traces, g_ptr_array_unref);
  ck_assert_double_eq (b->frequency_hz[1], 2e6); /* outlives the other */
  ck_assert_double_eq (b->reading_dbm[1], -4);
  sp_trace_unref (b);
  remove (path);
}
END_TEST

START_TEST (no_file)
{
  g_autoptr (GError) error = NULL, folder = NULL;

  ck_assert (sp_trace_read_file ("/nowhere/at/all.csv", NULL, &error) == NULL);
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_IO));
  ck_assert (strstr (error->message, "/nowhere/at/all.csv") != NULL);
  ck_assert (sp_trace_read_file ("/", NULL, &folder) == NULL);
  ck_assert (g_error_matches (folder, SP_ERROR, SP_ERROR_IO));
}
END_TEST

/* A line that one column lacks is left out of that column, and stays in the other: read together, and each by its options. */
START_TEST (bad_in_one_column)
{
  static const char text[] = "Frequency (Hz),A (dBm),B (dBm)\n1000000,-1,-5\n2000000,-2,---\n3000000,-3,-7\n";
  g_autoptr (GBytes) bytes = g_bytes_new_static (text, strlen (text));
  g_autoptr (GError) error = NULL;
  SpTraceOptions skip;

  sp_trace_options_init (&skip);
  skip.skip_bad = TRUE;
  g_autoptr (GPtrArray) traces = sp_trace_read_all_bytes (bytes, "name", &skip, &error);
  sp_no_error (error);
  ck_assert_uint_eq (traces->len, 2);
  for (guint i = 0; i < 2; i++) {
    const SpTrace *trace = traces->pdata[i];
    ck_assert_uint_eq (trace->n, 3 - i);
    ck_assert_uint_eq (trace->skipped_lines, i);
    ck_assert_str_eq (trace->options, i ? "column=3&bad=skip" : "column=2&bad=skip");
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("trace");
  TCase *tc = tcase_create ("trace");
  tcase_add_test (tc, search_and_spacing);
  tcase_add_test (tc, what_is_no_trace);
  tcase_add_test (tc, options);
  tcase_add_test (tc, bytes_and_hash);
  tcase_add_test (tc, hashed_while_it_is_read);
  tcase_add_test (tc, bad_in_one_column);
  tcase_add_test (tc, one_column_shares_frequencies);
  tcase_add_test (tc, settings_beyond_their_range);
  tcase_add_test (tc, no_file);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
