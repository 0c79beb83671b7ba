/* The day that an export states: forms that are read, and what is no day of the sweep. */
#include "core/trace/read/day.h"
#include "tests/suite.h"

#include <string.h>

static const struct {
  const char *text;
  int year, month, day;
} rows[] = {
  { "Date,2026-11-28 19:30:05\nRBW,10 kHz\n1e6,-50\n", 2026, 11, 28 },
  { "! DATE = 2026/1/5\n", 2026, 1, 5 },
  { "# TIMESTAMP: 20261128T193005\n", 2026, 11, 28 },
  { "Datum;28.11.2026\r\nZeit;19:30\r\n", 2026, 11, 28 },
  { "Measurement date: 28 Nov 2026\n", 2026, 11, 28 },
  { "date\tNov 28, 2026\n", 2026, 11, 28 },
  { "DATE_TIME,28-nov-2026 19:30\n", 2026, 11, 28 },
  { "Date,28/11/2026\n", 2026, 11, 28 },
  { "Date,11/28/2026\n", 2026, 11, 28 },
  { "Date,5/5/2026\n", 2026, 5, 5 },                      /* either way the same */
  { "Date,2026-11-27\nDate,2026-11-28\n", 2026, 11, 28 }, /* of a sweep past midnight its end */
  { "Date,3/4/2026\n", 0, 0, 0 },                         /* April or March */
  { "Calibration date,2024-02-03\n", 0, 0, 0 },
  { "Cal due date: 2027-02-03\n", 0, 0, 0 },
  { "Firmware date,2019-01-01\n", 0, 0, 0 },
  { "Updated 2026-11-28\n", 0, 0, 0 }, /* no word for a date */
  { "Date,2026-13-28\n", 0, 0, 0 },
  { "Date,2026-02-30\n", 0, 0, 0 },
  { "Date,\n2026-11-28\n", 0, 0, 0 }, /* of another line */
  { "Date,12345678\n", 0, 0, 0 },     /* no year of ours */
  { "", 0, 0, 0 },
};

static void
check (const char *bytes, gsize length, int year, int month, int day, const char *name)
{
  g_autoptr (GBytes) file = g_bytes_new (bytes, length);
  double got = sp_bytes_day (file);
  if (year == 0) {
    ck_assert_msg (isnan (got), "%s: %g", name, got);
    return;
  }
  GDate date;
  g_date_clear (&date, 1);
  g_date_set_dmy (&date, (GDateDay) day, (GDateMonth) month, (GDateYear) year);
  ck_assert_msg (got == g_date_get_julian (&date), "%s: %g", name, got);
}

START_TEST (days)
{
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    check (rows[i].text, strlen (rows[i].text), rows[i].year, rows[i].month, rows[i].day, rows[i].text);
}
END_TEST

START_TEST (day_in_two_bytes_a_letter)
{
  static const char text[] = "\377\376D\0a\0t\0e\0,\0"
                             "2\0"
                             "0\0"
                             "2\0"
                             "6\0-\0"
                             "1\0"
                             "1\0-\0"
                             "2\0"
                             "8\0\n\0";
  check (text, sizeof text - 1, 2026, 11, 28, "UTF-16");
}
END_TEST

START_TEST (only_the_head)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (int i = 0; i < 300; i++)
    g_string_append (text, "1000000,-50\n");
  g_string_append (text, "Date,2026-11-28\n");
  check (text->str, text->len, 0, 0, 0, "behind 300 rows");
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("trace/day");
  TCase *t = tcase_create ("day");
  tcase_add_test (t, days);
  tcase_add_test (t, day_in_two_bytes_a_letter);
  tcase_add_test (t, only_the_head);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
