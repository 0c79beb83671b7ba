/* What file names and settings propose, and arrivals folded into one bench. */
#include "core/bench/propose.h"
#include "tests/suite.h"

static void
expect (const char *file, const char *pattern, const char *radio, const char *condition, SpPurpose purpose, double step_db)
{
  SpProposal p;
  sp_propose (file, pattern, &p);
  ck_assert_str_eq (p.radio, radio);
  ck_assert_str_eq (p.condition, condition);
  ck_assert_str_eq (sp_purpose_name (p.purpose), sp_purpose_name (purpose));
  ck_assert (isnan (step_db) ? isnan (p.step_db) : p.step_db == step_db);
  sp_proposal_clear (&p);
}

START_TEST (words_of_a_name)
{
  expect ("/tmp/stick/mirrick.csv", NULL, "Mirrick", "", SP_PURPOSE_KEYED, NAN);
  expect ("mirrick-2m high.csv", NULL, "Mirrick", "2m high", SP_PURPOSE_KEYED, NAN);
  expect ("mirrick_70cm_2.txt", NULL, "Mirrick", "70cm", SP_PURPOSE_KEYED, NAN);
  expect ("mirrick-1.csv", NULL, "Mirrick", "", SP_PURPOSE_KEYED, NAN);
  expect ("room.csv", NULL, "", "", SP_PURPOSE_UNKEYED, NAN);
  expect ("mirrick-unkeyed.csv", NULL, "Mirrick", "", SP_PURPOSE_UNKEYED, NAN);
  expect ("mirrick-step10.csv", NULL, "Mirrick", "", SP_PURPOSE_STEP, 10);
  expect ("mirrick-2m-att+20.csv", NULL, "Mirrick", "2m", SP_PURPOSE_STEP, 20);
  expect ("mirrick step 10.csv", NULL, "Mirrick", "", SP_PURPOSE_STEP, 10);
  expect ("mirrick-notched.csv", NULL, "Mirrick", "", SP_PURPOSE_NOTCHED, NAN);
  expect (".csv", NULL, "Csv", "", SP_PURPOSE_KEYED, NAN);
  expect ("a[b]c.csv", NULL, "A", "b c", SP_PURPOSE_KEYED, NAN);
}
END_TEST

START_TEST (a_pattern_rules_where_it_fits)
{
  expect ("2026-11-25_mirrick_2m.csv", "{any}_{radio}_{condition}", "Mirrick", "2m", SP_PURPOSE_KEYED, NAN);
  expect ("2m mirrick unkeyed.csv", "{condition} {radio} {purpose}", "Mirrick", "2m", SP_PURPOSE_UNKEYED, NAN);
  expect ("mirrick.csv", "{radio}-{condition}", "Mirrick", "", SP_PURPOSE_KEYED, NAN); /* does not fit: the words decide */
  expect ("mirrick.csv", "{radio", "Mirrick", "", SP_PURPOSE_KEYED, NAN);
}
END_TEST

static SpTrace *
trace_of (const char *name, double attenuation_db)
{
  static const double f[] = { 1e6, 2e6, 3e6 }, level[] = { -50, -60, -70 };
  SpSettings settings;
  sp_settings_init (&settings);
  settings.attenuation_db = attenuation_db;
  settings.rbw_hz = 1e6;
  return sp_trace_new (name, 3, f, level, &settings, NULL);
}

static SpBench *
blank (void)
{
  g_autofree char *path = sp_test_path ("samples/blank.sheet");
  g_autoptr (GError) error = NULL;
  SpBench *bench = sp_bench_read (path, &error);
  sp_no_error (error);
  return bench;
}

START_TEST (arrivals_become_one_bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpTrace) a = trace_of ("a.csv", 10), b = trace_of ("b.csv", 20), c = trace_of ("room.csv", 10), d = trace_of ("d.csv", 10);
  SpArrival arrivals[] = { { b, { (char *) "Mirrick", (char *) "2 m", SP_PURPOSE_KEYED, NAN } },
                           { a, { (char *) "Mirrick", (char *) "2 m", SP_PURPOSE_KEYED, NAN } },
                           { c, { (char *) "", (char *) "", SP_PURPOSE_UNKEYED, NAN } },
                           { d, { (char *) "Mirrick", (char *) "6 m", SP_PURPOSE_KEYED, NAN } } };
  g_autoptr (SpBench) bench = blank ();
  g_autofree char *before = g_strdup (bench->sha256);
  sp_propose_steps (arrivals, G_N_ELEMENTS (arrivals));
  ck_assert_int_eq (arrivals[0].to.purpose, SP_PURPOSE_STEP);
  ck_assert_double_eq (arrivals[0].to.step_db, 10);
  ck_assert_int_eq (arrivals[1].to.purpose, SP_PURPOSE_KEYED);
  g_autoptr (SpBench) full = sp_bench_with_arrivals (bench, arrivals, G_N_ELEMENTS (arrivals), &error);
  sp_no_error (error);
  ck_assert_uint_eq (full->n_radios, 1);
  ck_assert_uint_eq (full->n_conditions, 2);
  ck_assert_str_eq (full->conditions[0].name, "2 m");
  ck_assert_uint_eq (full->conditions[0].n_sweeps, 2);
  ck_assert_ptr_nonnull (full->unkeyed);
  ck_assert_str_eq (bench->sha256, before); /* the old bench stands */
  ck_assert (sp_bench_has_trace (full, a) && !sp_bench_has_trace (bench, a));
}
END_TEST

START_TEST (one_that_does_not_fit_takes_none)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpTrace) a = trace_of ("a.csv", 10), b = trace_of ("b.csv", 10);
  SpArrival arrivals[] = { { a, { (char *) "Mirrick", (char *) "", SP_PURPOSE_KEYED, NAN } },
                           { b, { (char *) "Mir/rick", (char *) "", SP_PURPOSE_KEYED, NAN } } };
  g_autoptr (SpBench) bench = blank ();
  ck_assert_ptr_null (sp_bench_with_arrivals (bench, arrivals, 2, &error));
  ck_assert_ptr_nonnull (error);
  ck_assert (g_str_has_prefix (error->message, "b.csv: "));
}
END_TEST

START_TEST (one_shape_lacks_the_same)
{
  g_autoptr (SpTrace) a = trace_of ("a", 10), b = trace_of ("b", 20), c = trace_of ("c", NAN);
  g_autofree char *x = sp_trace_shape (a), *y = sp_trace_shape (b), *z = sp_trace_shape (c);
  ck_assert_str_eq (x, y);
  ck_assert_str_ne (x, z);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("import/propose");
  TCase *t = tcase_create ("propose");
  tcase_add_test (t, words_of_a_name);
  tcase_add_test (t, a_pattern_rules_where_it_fits);
  tcase_add_test (t, arrivals_become_one_bench);
  tcase_add_test (t, one_that_does_not_fit_takes_none);
  tcase_add_test (t, one_shape_lacks_the_same);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
