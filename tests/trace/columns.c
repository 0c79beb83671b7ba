/* columns.c - the reader's later stages alone: header, which column is what and in which unit, rows to numbers, numbers to points */
#include "core/trace/read/columns.h"
#include "core/trace/read/comma-rows.h"
#include "core/trace/read/points.h"
#include "core/trace/read/read-job.h"
#include "tests/suite.h"

#include <string.h>

/* The stages up to the columns, by hand. */
typedef struct {
  SpText text;
  SpTextLines rows;
  SpDialect dialect;
  SpHeader header;
  SpPreamble preamble;
  SpColumns columns;
  GError *error;
} Stages;

static gboolean
run (Stages *stages, const char *content, const char *options_text, gboolean sweep)
{
  SpTraceOptions options;

  memset (stages, 0, sizeof *stages);
  stages->text = (SpText){ NULL, content, strlen (content), 0, "UTF-8" };
  ck_assert (sp_trace_options_from_text (options_text, &options, NULL));
  gboolean good = sp_dialect_start (&stages->text, "file", &stages->rows, &stages->error)
                  && sp_dialect_choose (&stages->text, "file", &stages->rows, 0, &options, sweep, &stages->dialect, &stages->error);
  if (good) {
    SpLinesAbove above;
    sp_lines_above (&stages->text, &stages->rows, &above);
    sp_header_find (&above, &stages->rows, &stages->dialect, &stages->header);
    sp_preamble_read (&stages->text, stages->header.start, &stages->dialect, 0, "file", &stages->preamble, NULL);
    good = sp_columns_find (&stages->dialect, &stages->header, &stages->preamble, &options, sweep, "file", &stages->columns,
                            &stages->error);
  }
  sp_trace_options_clear (&options);
  return good;
}

static void
clear (Stages *stages)
{
  sp_header_clear (&stages->header);
  sp_preamble_clear (&stages->preamble);
  sp_columns_clear (&stages->columns);
  g_clear_error (&stages->error);
}

/* "f0 e6; 1 dBm, 2 mV" : the frequency's field and power of ten ('?': open), the levels' fields and units ('?': assumed). */
static void
check_columns (const char *content, const char *options, gboolean sweep, const char *want)
{
  g_autofree Stages *stages = g_new (Stages, 1);
  g_autoptr (GString) got = g_string_new (NULL);

  ck_assert_msg (run (stages, content, options, sweep), "‘%s’: %s", content, stages->error ? stages->error->message : "");
  g_string_append_printf (got, "f%d e%d%s;", stages->columns.frequency, stages->columns.exponent, stages->columns.unit_open ? "?" : "");
  for (guint i = 0; i < stages->columns.levels->len; i++) {
    const SpLevelColumn *column = &g_array_index (stages->columns.levels, SpLevelColumn, i);
    g_string_append_printf (got, " %u %s%s", column->field, column->unit.name, column->unit_assumed ? "?" : "");
  }
  ck_assert_msg (strcmp (got->str, want) == 0, "‘%s’: %s, expected %s", content, got->str, want);
  clear (stages);
}

static void
check_refused (const char *content, const char *options, const char *piece)
{
  g_autofree Stages *stages = g_new (Stages, 1);

  ck_assert_msg (!run (stages, content, options, FALSE), "‘%s’ was read", content);
  ck_assert_msg (strstr (stages->error->message, piece) != NULL, "‘%s’: ‘%s’ lacks ‘%s’", content, stages->error->message, piece);
  clear (stages);
}

START_TEST (which_is_which)
{
  check_columns ("Frequency (MHz),Level (dBm)\n1,-2\n2,-2\n3,-2\n", "", FALSE, "f0 e6; 1 dBm");
  check_columns ("Level (mV);f (kHz)\n1;1\n1;2\n1;3\n", "", FALSE, "f1 e3; 0 mV");
  check_columns ("n;f (Hz);A (dBm);B (W)\n1;1;1;1\n2;2;1;1\n3;3;1;1\n", "", FALSE, "f1 e0; 2 dBm 3 W");
  check_columns ("1;1e6;-2\n2;2e6;-2\n3;3e6;-2\n", "", FALSE, "f1 e0?; 2 dBm?");
  check_columns ("-1\n-2\n-1\n", "", TRUE, "f-1 e0; 0 dBm?");
  check_columns ("100;10\n200;20\n300;31\n", "frequency_column=2&frequency_unit=GHz&unit=dBuV", FALSE, "f1 e9; 0 dBuV");
  check_columns ("Y unit;uW\n1e6;2\n2e6;1\n3e6;3\n", "", FALSE, "f0 e0?; 1 uW");
  check_columns ("Start;1 MHz\nStop;3 MHz\n1;-2\n2;-1\n3;-3\n", "", TRUE, "f-1 e0; 1 dBm?");
}
END_TEST

START_TEST (what_stays_open)
{
  check_refused ("100;10\n200;20\n300;31\n", "", "file:1:1: more than one column");
  check_refused ("F (Hz);L;F2 (Hz);L2\n1;-1;1;-1\n2;-1;2;-1\n3;-2;3;-2\n", "", "file:1:10: a second frequency column");
  check_refused ("20261003;-1\n20261004;-2\n20261005;-1\n", "", "as dates");
  check_refused ("100000;1\n200000;2\n300000;3\n", "", "?column=2");
  check_refused ("a;-1\nb;-2\nc;-1\n", "", "file:1:1: no rows");
  check_refused ("-1\n-2\n-1\n", "", "levels without frequencies");
  check_refused ("f (Hz);L (dBc)\n1;-1\n2;-2\n3;-1\n", "", "file:1:8: levels in ‘dBc’");
}
END_TEST

static gboolean
joined (const char *content, guint n, gboolean alone)
{
  SpTextLines rows;
  sp_lines_init (&rows, content, strlen (content));
  return sp_rows_joined (&rows, 0, n, alone);
}

START_TEST (commas_for_both)
{
  ck_assert (joined ("100,5,-50,25\n101,5,-51,25\n", 4, FALSE));
  ck_assert (!joined ("100,5,-50,-25\n101,5,-51,25\n", 4, FALSE)); /* decimals have no sign */
  ck_assert (!joined ("100,5,-50\n101,5,-51\n", 3, FALSE));
  ck_assert (!joined ("100,5, -50, 25\n101,5, -51, 25\n", 4, FALSE)); /* nor a blank in front */
  ck_assert (!joined ("100,5,-50,\"25\"\n101,5,-51,\"25\"\n", 4, FALSE));
  ck_assert (!joined ("100,5,-50,2.5\n101,5,-51,2.5\n", 4, FALSE));
  ck_assert (!joined ("100,5,-50,25\n100,5,-51,25\n", 4, FALSE));       /* no frequency goes one way then */
  ck_assert (!joined ("100,5,5000,25\n1000000,5,6000,25\n", 4, FALSE)); /* two columns of large numbers: no levels */
  ck_assert (joined ("1,234\n2,345\n", 2, TRUE));
  ck_assert (!joined ("1,234\n2,345\n", 2, FALSE));
}
END_TEST

/* Rows to numbers: as they stand, in the file's order. */
START_TEST (rows_to_numbers)
{
  g_autofree Stages *stages = g_new (Stages, 1);
  g_auto (SpPoints) points;

  ck_assert (run (stages, "Frequency (MHz);Level (dBm)\n3,5;-1,25\n# a remark\n\n\"2,5\";-2e0\n1,5;\342\210\2223\nEnd\n", "", FALSE));
  ck_assert (sp_points_read (&stages->dialect, &stages->columns, &stages->header, FALSE, "file", &points, NULL));
  ck_assert_uint_eq (points.n, 3);
  ck_assert (points.descends);
  ck_assert_double_eq (points.frequency_hz[0], 3.5e6);
  ck_assert_double_eq (points.frequency_hz[2], 1.5e6);
  ck_assert_double_eq (points.level[0][0], -1.25);
  ck_assert_double_eq (points.level[0][1], -2);
  ck_assert_double_eq (points.level[0][2], -3);
  ck_assert_uint_eq (points.trailing_line, 7);
  ck_assert_str_eq (points.trailing_text, "End");
  clear (stages);
}
END_TEST

START_TEST (numbers_to_points)
{
  SpUnitWord millivolt, dbuv;
  guint64 bad;

  ck_assert (sp_unit_word ("mV", 2, &millivolt) && sp_unit_word ("dBuV", 4, &dbuv));
  double levels[] = { 223.60679774997897, 1, 0 }, noise[] = { 107 };
  ck_assert (!sp_read_convert (levels, 3, &millivolt, &bad));
  ck_assert_uint_eq (bad, 2);                    /* no volt is no level */
  ck_assert_double_eq_tol (levels[0], 0, 1e-12); /* 0.2236 V across 50 ohm: 1 mW */
  ck_assert (sp_read_convert (noise, 1, &dbuv, &bad));
  ck_assert_double_eq_tol (noise[0], 107 - 90 - 10 * log10 (50), 1e-12);
  g_autofree double *spread = sp_read_spread (1e6, 2e6, 5, "file", NULL);
  ck_assert_double_eq (spread[0], 1e6);
  ck_assert_double_eq (spread[1], 1.25e6);
  ck_assert_double_eq (spread[4], 2e6);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("columns");
  TCase *tc = tcase_create ("columns");
  tcase_add_test (tc, which_is_which);
  tcase_add_test (tc, what_stays_open);
  tcase_add_test (tc, commas_for_both);
  tcase_add_test (tc, rows_to_numbers);
  tcase_add_test (tc, numbers_to_points);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
