/* many.c - many exports at once: in their order, with the first error in that order, whatever the threads do */
#include "core/trace/read/read-parallel.h"
#include "tests/suite.h"

#include <glib/gstdio.h>
#include <string.h>

#define EXPORTS 60

/* EXPORTS files, those numbered in `bad` broken in their row 3; NULL-terminated references with options. */
static char **
write_exports (const char *folder, const int *bad, gsize n_bad)
{
  char **references = g_new0 (char *, EXPORTS + 1);

  for (int i = 0; i < EXPORTS; i++) {
    g_autofree char *path = g_strdup_printf ("%s/%d.csv", folder, i);
    gboolean broken = FALSE;
    for (gsize k = 0; k < n_bad; k++)
      broken |= bad[k] == i;
    /* long ones first: the short ones behind them are done before */
    g_autoptr (GString) text = g_string_new ("Frequency (Hz),Level (dBm),Held (dBm)\n");
    for (int row = 0; row < 4000 - 60 * i; row++)
      g_string_append_printf (text, "%d,%s,-20\n", 1000000 + row, broken && row == 2 ? "oops" : "-30.5");
    ck_assert (g_file_set_contents (path, text->str, -1, NULL));
    references[i] = g_strdup_printf ("%s?rbw=%dHz", path, 100 + i);
  }
  return references;
}

static void
remove_exports (const char *folder)
{
  for (int i = 0; i < EXPORTS; i++) {
    g_autofree char *path = g_strdup_printf ("%s/%d.csv", folder, i);
    g_remove (path);
  }
  g_rmdir (folder);
}

START_TEST (in_order)
{
  g_autofree char *folder = g_dir_make_tmp ("many-XXXXXX", NULL);
  g_auto (GStrv) references = write_exports (folder, NULL, 0);
  g_autoptr (GPtrArray) readings = sp_trace_read_many ((const char *const *) references, SP_MANY_ALL);

  ck_assert_uint_eq (readings->len, EXPORTS);
  for (guint i = 0; i < EXPORTS; i++) {
    const SpTraceReading *reading = readings->pdata[i];
    ck_assert (reading->traces && !reading->error);
    ck_assert_uint_eq (reading->traces->len, 2);
    ck_assert_double_eq (((SpTrace *) reading->traces->pdata[1])->settings.rbw_hz, 100 + i);
    ck_assert_uint_eq (((SpTrace *) reading->traces->pdata[1])->n, 4000 - 60 * i);
  }
  remove_exports (folder);
}
END_TEST

START_TEST (first_error_in_order)
{
  static const int bad[] = { 58, 3, 17 };
  g_autofree char *folder = g_dir_make_tmp ("many-XXXXXX", NULL);
  g_auto (GStrv) references = write_exports (folder, bad, G_N_ELEMENTS (bad));

  for (int run = 0; run < 20; run++) {
    g_autoptr (GPtrArray) readings = sp_trace_read_many ((const char *const *) references, SP_MANY_ALL);
    guint i = 0;
    for (; !((SpTraceReading *) readings->pdata[i])->error; i++)
      ck_assert (((SpTraceReading *) readings->pdata[i])->traces);
    ck_assert_uint_eq (i, 3);
    ck_assert (strstr (((SpTraceReading *) readings->pdata[i])->error->message, "3.csv:4:9: ‘oops’"));
  }
  g_autoptr (GPtrArray) all = sp_trace_read_many ((const char *const *) references, SP_MANY_ALL | SP_MANY_KEEP_GOING);
  for (guint i = 0; i < EXPORTS; i++) {
    const SpTraceReading *reading = all->pdata[i];
    ck_assert ((reading->error != NULL) == (i == 3 || i == 17 || i == 58));
    ck_assert ((reading->traces != NULL) == !reading->error);
  }
  remove_exports (folder);
}
END_TEST

/* Several columns and no ?column=: only with `all`. None at all; one alone. */
START_TEST (one_or_all)
{
  g_autofree char *folder = g_dir_make_tmp ("many-XXXXXX", NULL);
  g_auto (GStrv) references = write_exports (folder, NULL, 0);
  g_autofree char *third = g_strconcat (references[0], "&column=3", NULL);
  const char *none[] = { NULL }, *several[] = { references[0], NULL }, *one[] = { third, NULL };
  g_autoptr (GPtrArray) nothing = sp_trace_read_many (none, SP_MANY_ALL), refused = sp_trace_read_many (several, 0),
                        taken = sp_trace_read_many (one, 0);

  ck_assert_uint_eq (nothing->len, 0);
  ck_assert (strstr (((SpTraceReading *) refused->pdata[0])->error->message, "2 level columns"));
  ck_assert_double_eq (((SpTrace *) ((SpTraceReading *) taken->pdata[0])->traces->pdata[0])->reading_dbm[0], -20);
  remove_exports (folder);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("many");
  TCase *tc = tcase_create ("many");
  tcase_set_timeout (tc, 60);
  tcase_add_test (tc, in_order);
  tcase_add_test (tc, first_error_in_order);
  tcase_add_test (tc, one_or_all);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
