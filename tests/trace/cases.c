/* cases.c - every folder of tests/read: good ones read to the last digit, bad ones refused at their place (see tests/read/make-cases.py) */
#include "tests/read-cases.h"

#include <json-glib/json-glib.h>

static void
check_number (const char *folder, JsonObject *want, const char *key, double got)
{
  if (!json_object_has_member (want, key))
    ck_assert_msg (isnan (got), "%s: %s is %.17g, expected unknown", folder, key, got);
  else {
    double value = json_object_get_double_member (want, key);
    ck_assert_msg (fabs (got - value) <= 1e-12 * fabs (value), "%s: %s is %.17g, expected %.17g", folder, key, got, value);
  }
}

static void
check_word (const char *folder, JsonObject *want, const char *key, const char *unknown, const char *got)
{
  const char *value = json_object_get_string_member_with_default (want, key, unknown);
  ck_assert_msg (g_strcmp0 (got, value) == 0, "%s: %s is %s, expected %s", folder, key, got, value);
}

static void
check_warnings (const char *folder, JsonArray *want, const SpTrace *trace)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  g_autoptr (GString) got = g_string_new (NULL), expected = g_string_new (NULL);

  for (guint i = 0; i < trace->warnings->len; i++)
    g_ptr_array_add (names, (char *) sp_reason_name (((SpReason *) trace->warnings->pdata[i])->code));
  g_ptr_array_sort (names, sp_read_by_text);
  for (guint i = 0; i < names->len; i++)
    g_string_append_printf (got, "%s ", (char *) names->pdata[i]);
  for (guint i = 0; i < json_array_get_length (want); i++)
    g_string_append_printf (expected, "%s ", json_array_get_string_element (want, i));
  ck_assert_msg (strcmp (got->str, expected->str) == 0, "%s: warnings are %s, expected %s", folder, got->str, expected->str);
}

static void
check_points (const char *folder, JsonObject *want, const SpTrace *trace)
{
  JsonArray *at = json_object_get_array_member (want, "at");
  /* A level in dBm is what the file says, to the last bit; one converted, within rounding. */
  double tolerance = trace->unit_read == SP_UNIT_DBM ? 0 : 1e-12;

  ck_assert_msg (trace->n == (guint64) json_object_get_int_member (want, "points"), "%s: %u points", folder, (guint) trace->n);
  ck_assert_double_eq (trace->frequency_hz[0], json_object_get_double_member (want, "first_hz"));
  ck_assert_double_eq (trace->frequency_hz[trace->n - 1], json_object_get_double_member (want, "last_hz"));
  for (guint k = 0; k < json_array_get_length (at); k++) {
    JsonArray *point = json_array_get_array_element (at, k);
    gint64 i = json_array_get_int_element (point, 0);
    double f = json_array_get_double_element (point, 1), level = json_array_get_double_element (point, 2);
    ck_assert_msg (trace->frequency_hz[i] == f, "%s: point %d at %.17g Hz, expected %.17g", folder, (int) i, trace->frequency_hz[i], f);
    ck_assert_msg (fabs (trace->reading_dbm[i] - level) <= tolerance * MAX (1, fabs (level)), "%s: point %d is %.17g dBm, expected %.17g",
                   folder, (int) i, trace->reading_dbm[i], level);
  }
}

static void
check_trace (const char *folder, JsonObject *want, const SpTrace *trace)
{
  const SpSettings *settings = &trace->settings;
  static const char *const holds[] = { "none", "max", "min" };

  check_points (folder, want, trace);
  check_number (folder, want, "rbw_hz", settings->rbw_hz);
  check_number (folder, want, "vbw_hz", settings->vbw_hz);
  check_number (folder, want, "attenuation_db", settings->attenuation_db);
  check_number (folder, want, "reference_dbm", settings->reference_dbm);
  check_number (folder, want, "sweep_time_s", settings->sweep_time_s);
  check_number (folder, want, "averages", settings->averages);
  check_word (folder, want, "detector", NULL, sp_detector_name (settings->detector));
  check_word (folder, want, "average", "none", sp_average_name (settings->average));
  check_word (folder, want, "level_unit_read", "dBm", sp_level_unit_name (trace->unit_read));
  if (json_object_has_member (want, "hold"))
    check_word (folder, want, "hold", "none", holds[settings->hold]);
  if (json_object_has_member (want, "column"))
    check_word (folder, want, "column", NULL, trace->column);
  ck_assert_int_eq ((int) trace->skipped_lines, (int) json_object_get_int_member_with_default (want, "skipped_lines", 0));
  check_warnings (folder, json_object_get_array_member (want, "warnings"), trace);
}

static GPtrArray *good_list, *bad_list; /* for the whole run: a test for each folder */

START_TEST (good)
{
  const char *folder = good_list->pdata[_i];
  g_autoptr (GError) error = NULL;
  g_autofree char *text = sp_read_content (folder, "expected.json");
  g_autoptr (JsonNode) root = json_from_string (text, &error);
  sp_no_error (error);
  JsonArray *want = json_object_get_array_member (json_node_get_object (root), "traces");
  g_autoptr (GPtrArray) traces = sp_read_case (folder, TRUE, &error);
  ck_assert_msg (traces != NULL, "%s: %s", folder, error ? error->message : "");
  ck_assert_msg (traces->len == json_array_get_length (want), "%s: %u traces", folder, traces->len);
  for (guint k = 0; k < traces->len; k++)
    check_trace (folder, json_array_get_object_element (want, k), traces->pdata[k]);
}
END_TEST

START_TEST (bad)
{
  const char *folder = bad_list->pdata[_i];
  g_autoptr (GError) error = NULL;
  g_autofree char *text = sp_read_content (folder, "expected.txt");
  g_auto (GStrv) pieces = g_strsplit (g_strstrip (text), "\n", -1);
  g_autoptr (GPtrArray) traces = sp_read_case (folder, FALSE, &error);
  ck_assert_msg (traces == NULL, "%s was read", folder);
  ck_assert_msg (g_str_has_prefix (error->message, pieces[0]), "%s: ‘%s’ does not begin with ‘%s’", folder, error->message, pieces[0]);
  for (char **piece = pieces + 1; *piece; piece++)
    ck_assert_msg (strstr (error->message, *piece) != NULL, "%s: ‘%s’ lacks ‘%s’", folder, error->message, *piece);
}
END_TEST

START_TEST (are_there)
{
  ck_assert_int_ge ((int) good_list->len, 80);
  ck_assert_int_ge ((int) bad_list->len, 80);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("cases");
  TCase *tc = tcase_create ("folders");
  tcase_set_timeout (tc, 120);
  good_list = sp_read_folders ("good");
  bad_list = sp_read_folders ("bad");
  tcase_add_test (tc, are_there);
  tcase_add_loop_test (tc, good, 0, (int) good_list->len);
  tcase_add_loop_test (tc, bad, 0, (int) bad_list->len);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
