/* Bad runs: each is refused with its place, what stands there, and what was expected. */
#include "tests/substitution/run.h"

#include "core/quantity/error.h"

#define HEAD "[run]\nstage=a\n"
#define AT "[at 146MHz]\nbefore=0\ninserted=-30\n"

static const struct {
  const char *text, *message;
} rows[] = {
  { "", "t.run:1:1: there is no group [run] in this file; a run's file begins with it" },
  { "[run]\n" AT, "t.run:1:1: [run] has no stage; add stage=NAME, as the chain calls it" },
  { "[run]\nstage=\n" AT, "t.run:1:1: [run] has no stage; add stage=NAME, as the chain calls it" },
  { HEAD, "t.run:1:1: there is no group [at FREQUENCY] in this file; add one, such as [at 146MHz], with before= and inserted=" },
  { HEAD "[at noon]\n",
    "t.run:3:1: [at noon]: found “noon”; expected a frequency, such as 146.52MHz or 146520000 (Hz, kHz, MHz, GHz; not below 0)" },
  { HEAD "[at 0]\nbefore=0\ninserted=0\n", "t.run:3:1: [at 0]: expected a frequency above 0" },
  { HEAD "[at -5MHz]\n",
    "t.run:3:1: [at -5MHz]: found “-5MHz”; expected a frequency, such as 146.52MHz or 146520000 (Hz, kHz, MHz, GHz; not below 0)" },
  { HEAD AT "[at 146000kHz]\nbefore=0\ninserted=-30\n",
    "t.run:6:1: [at 146000kHz] is the frequency of [at 146MHz] again; put their readings into one group" },
  { HEAD "[at 1MHz]\ninserted=-30\n", "t.run:3:1: [at 1MHz] has no before; add before=READING@MINUTE, several separated by ;" },
  { HEAD "[at 1MHz]\nbefore=0\n", "t.run:3:1: [at 1MHz] has no inserted; add inserted=READING@MINUTE, several separated by ;" },
  { HEAD "[at 1MHz]\nbefore=;\ninserted=1\n",
    "t.run:4:8: [at 1MHz] before: nothing stands here; expected readings such as -30.11@3, several separated by ;" },
  { HEAD "[at 1MHz]\nbefore=0\ninserted=-30; thirty\n",
    "t.run:5:15: [at 1MHz] inserted: found “thirty”; expected a reading in dB and its minute, "
    "such as -30.11@3, several separated by ;" },
  { HEAD "[at 1MHz]\nbefore=0\ninserted=-30@\n",
    "t.run:5:10: [at 1MHz] inserted: found “-30@”; expected a reading in dB and its minute, such as "
    "-30.11@3, several separated by ;" },
  { HEAD "[at 1MHz]\nbefore=0\ninserted=nan\n",
    "t.run:5:10: [at 1MHz] inserted: found “nan”; expected a reading in dB and its minute, such as "
    "-30.11@3, several separated by ;" },
  { HEAD "[at 1MHz]\nbefore=0\ninserted=-30,11\n",
    "t.run:5:10: [at 1MHz] inserted: found “-30,11”; expected a reading in dB and its minute, such "
    "as -30.11@3, several separated by ;" },
  { HEAD "[at 1MHz]\nbefore=0\ninserted=-301\n",
    "t.run:5:10: [at 1MHz] inserted: found “-301”; expected a reading from -300 to 300 dB within 1e+06 minutes" },
  { HEAD "[at 1MHz]\nbefore=0@0\ninserted=-30@2; -30@1\n",
    "t.run:5:17: [at 1MHz] inserted: found “-30@1”, which runs back in time; expected the "
    "minutes to ascend from before through inserted to after" },
  { HEAD "[at 1MHz]\nbefore=0@0\ninserted=-30@2\nafter=0@1\n",
    "t.run:6:7: [at 1MHz] after: found “0@1”, which runs back in time; expected the "
    "minutes to ascend from before through inserted to after" },
  { HEAD "[at 1MHz]\nbefore=0@0\ninserted=-30\n",
    "t.run:5:10: [at 1MHz] inserted: found “-30”, of which the minute is not known as it is of "
    "others; expected a minute behind every reading, or behind none" },
  { HEAD "meter_linearity_db=-0.02\n" AT, "t.run:3:20: [run] meter_linearity_db: found “-0.02”; expected a number from 0 to 100" },
  { HEAD "meter_resolution_db=fine\n" AT, "t.run:3:21: [run] meter_resolution_db: found “fine”; expected a number from 0 to 100" },
  { HEAD "temperature_c=2000\n" AT, "t.run:3:15: [run] temperature_c: found “2000”; expected a number from -100 to 200" },
  { HEAD "source_vswr=0.9\n" AT, "t.run:3:13: [run] source_vswr: found “0.9”; expected 1 to 1e+06" },
  { HEAD "meter_vswr=200MHz 1.1; 100MHz 1.2\n" AT,
    "t.run:3:24: [run] meter_vswr: found “100MHz 1.2”, which does not lie above the one before; list "
    "them ascending" },
  { HEAD "meter_vswr=100MHz 1.1; 100MHz 1.2\n" AT,
    "t.run:3:24: [run] meter_vswr: found “100MHz 1.2”, which does not lie above the one before; list "
    "them ascending" },
  { HEAD "meter_vswr=secret.s1p\n" AT,
    "t.run:3:12: [run] meter_vswr: names a file, which cannot be done here; expected a number, or frequencies and values" },
  { HEAD "date=2026-02-30\n" AT, "t.run:3:6: [run] date: found “2026-02-30”; expected a date that exists, as YEAR-MONTH-DAY" },
  { HEAD "line_m=-1\n" AT, "t.run:3:8: [run] line_m: found “-1”; expected a number from 0 to 10000" },
  { HEAD "line_velocity=3e8\n" AT, "t.run:3:15: [run] line_velocity: found “3e8”; expected a number from 0.1 to 1" },
  { HEAD "extra=leak\n" AT,
    "t.run:3:7: [run] extra: found “leak”; expected a name, its standard uncertainty in dB, and perhaps its degrees of "
    "freedom, such as leakage 0.002" },
  { HEAD "extra=leak 0.1; zero -0.1\n" AT,
    "t.run:3:17: [run] extra: found “zero -0.1”; expected a name, its standard uncertainty in dB, and perhaps "
    "its degrees of freedom, such as leakage 0.002" },
  { HEAD "extra=leak 0.1 0\n" AT,
    "t.run:3:7: [run] extra: found “leak 0.1 0”; expected a name, its standard uncertainty in dB, and perhaps its "
    "degrees of freedom, such as leakage 0.002" },
  { HEAD "stage=b\n" AT, NULL },
};

START_TEST (refused)
{
  const char *text = rows[_i].text, *message = rows[_i].message;
  g_autoptr (GError) error = NULL;
  ck_assert_msg (!sp_run_parse_bytes (text, strlen (text), "t.run", FALSE, &error), "taken: %s", text);
  ck_assert_int_eq (error->code, SP_ERROR_INPUT);
  ck_assert_msg (g_str_has_prefix (error->message, "t.run:"), "%s", error->message);
  if (message)
    ck_assert_str_eq (error->message, message);
}
END_TEST

START_TEST (files)
{
  char *folder = new_folder ();
  g_autofree char *meter = put_file (folder, "meter.s1p", "# MHz S MA R 50\n100 .1 0\n200 .2 0\n"),
                  *good = put_file (folder, "good.run", HEAD "meter_vswr=meter.s1p\n" AT),
                  *gone = put_file (folder, "gone.run", HEAD "meter_vswr=other.s1p\n" AT),
                  *cut = put_file (folder, "cut.s1p", "# MHz S MA R 50\n100 .1\n"),
                  *bad = put_file (folder, "bad.run", HEAD "source_vswr=cut.s1p\n" AT);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpRun) run = sp_run_read (good, &error);
  sp_no_error (error);
  near (sp_curve_at (run->meter_vswr, 100e6, 0).value, 1.1 / 0.9, 1e-12);
  near (sp_curve_at (run->meter_vswr, 200e6, 0).value, 1.5, 1e-12);
  g_autoptr (SpRun) again = run_from (run->text); /* the text holds the values: it needs the file no more */
  ck_assert_str_eq (again->text, run->text);

  ck_assert_ptr_null (sp_run_read (gone, &error));
  ck_assert_msg (strstr (error->message, "gone.run:3:12: [run] meter_vswr: there is no file") != NULL, "%s", error->message);
  g_clear_error (&error);
  ck_assert_ptr_null (sp_run_read (bad, &error));
  ck_assert_msg (strstr (error->message, "cut.s1p:2:1: a line of 2 numbers; expected 3") != NULL, "%s", error->message);
  g_clear_error (&error);
  ck_assert_ptr_null (sp_run_read ("/nowhere/a.run", &error));
  ck_assert_int_eq (error->code, SP_ERROR_IO);
  drop_folder (folder);
}
END_TEST

START_TEST (any_bytes)
{
  static const char *const words[] = {
    "[run]\n", "stage=a\n", "[at 1MHz]\n", "[at ", "]\n",    "before=",           "inserted=",   "after=", "0@1",
    ";",       "-30",       "@",           "\n",   "extra=", "a 0.1 3",           "meter_vswr=", "1.2",    "1MHz 1.1",
    "x.s1p",   "#",         "\"",          "%20",  "=",      "date=2026-01-01\n", "nan",         "1e300",  "\xff"
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (6);
  for (guint i = 0; i < 40000; i++) {
    g_autoptr (GString) text = g_string_new (i % 2 ? HEAD AT : "");
    for (int k = g_rand_int_range (rand, 0, 20); k-- > 0;)
      g_string_append (text, words[g_rand_int_range (rand, 0, G_N_ELEMENTS (words))]);
    g_autoptr (GError) error = NULL;
    g_autoptr (SpRun) run = sp_run_parse_bytes (text->str, text->len, "t", FALSE, &error);
    ck_assert ((run != NULL) != (error != NULL));
    if (!run)
      continue;
    g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
    for (guint k = 0; k < result->n; k++)
      ck_assert (isfinite (result->points[k].loss_db) && isfinite (result->points[k].sum.expanded_db) && result->points[k].sum.u_db >= 0);
    g_autoptr (SpRun) again = sp_run_parse_bytes (run->text, strlen (run->text), "t", FALSE, &error);
    ck_assert_msg (again && strcmp (again->text, run->text) == 0, "%s: %s", run->text, error ? error->message : "other text");
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chain/run-bad");
  TCase *t = tcase_create ("bad runs");
  tcase_set_timeout (t, 0);
  tcase_add_loop_test (t, refused, 0, G_N_ELEMENTS (rows));
  tcase_add_test (t, files);
  tcase_add_test (t, any_bytes);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
