/* What file names and settings propose, and arrivals folded into one bench. */
#include "core/bench/proposals/propose.h"
#include "core/bench/sheet/sheet.h"
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
  expect ("mirrick-2m-+10dB.csv", NULL, "Mirrick", "2m", SP_PURPOSE_STEP, 10);
  expect ("mirrick-2m-plus10db.csv", NULL, "Mirrick", "2m", SP_PURPOSE_STEP, 10);
  expect ("mirrick-att20-2m.csv", NULL, "Mirrick", "2m", SP_PURPOSE_KEYED, NAN); /* the attenuation itself, not how much more */
  expect ("mirrick-20dB.csv", NULL, "Mirrick", "", SP_PURPOSE_KEYED, NAN);
  expect ("mirrick-step.csv", NULL, "Mirrick", "", SP_PURPOSE_STEP, NAN);
  expect ("mirrick-tx-2.csv", NULL, "Mirrick", "", SP_PURPOSE_KEYED, NAN);
  expect ("background 3.csv", NULL, "3", "", SP_PURPOSE_UNKEYED, NAN);
  expect ("\xc3\xa4rger.csv", NULL, "\xc3\x84rger", "", SP_PURPOSE_KEYED, NAN);
  expect ("mirrick-step999.csv", NULL, "Mirrick", "step999", SP_PURPOSE_KEYED, NAN);
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

START_TEST (patterns_are_checked)
{
  static const struct {
    const char *pattern, *says;
  } cases[] = { { "", NULL },
                { "{radio}", NULL },
                { "{any}_{radio}-{condition} {purpose}", NULL },
                { "{radio", "expected {radio}" },
                { "{model}-{radio}", "“model”" },
                { "{radio}{condition}", "touch" },
                { "{condition}", "no {radio}" },
                { "sweep", "no {radio}" } };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (GError) error = NULL;
    gboolean good = sp_propose_check_pattern (cases[i].pattern, &error);
    ck_assert_msg (good == !cases[i].says, "%s", cases[i].pattern);
    ck_assert (good || strstr (error->message, cases[i].says));
  }
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

static SpBench *
club (void)
{
  g_autofree char *path = sp_test_path ("samples/club.sheet");
  g_autoptr (GError) error = NULL;
  SpBench *bench = sp_bench_read (path, &error);
  sp_no_error (error);
  return bench;
}

/* by hand: braces of a value, not of a body */
/* clang-format off */
#define TO(radio, condition, purpose) { (char *) radio, (char *) condition, purpose, NAN, NULL }
/* clang-format on */

START_TEST (names_of_the_bench_are_found_again)
{
  static const struct {
    const char *radio, *condition, *is_radio, *is_condition;
  } cases[] = { { "dornimel", "2m", "Dornimel", "2 m" },  { "DORNIMEL", "70-CM", "Dornimel", "70 cm" },
                { "dornimel 2", "m", "Dornimel", "2 m" }, { "Brundlow", "", "Brundlow", "2 m" },
                { "dornimel", "", "Dornimel", "" },       { "brundlow", "70 cm", "Brundlow", "70 cm" },
                { "Mirrick", "2m", "Mirrick", "2m" },     { "", "", "", "" } };
  g_autoptr (SpBench) bench = club ();
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    SpProposal to = { g_strdup (cases[i].radio), g_strdup (cases[i].condition), SP_PURPOSE_KEYED, NAN };
    sp_propose_known (bench, &to);
    ck_assert_str_eq (to.radio, cases[i].is_radio);
    ck_assert_str_eq (to.condition, cases[i].is_condition);
    sp_proposal_clear (&to);
  }
}
END_TEST

START_TEST (more_attenuation_is_a_step)
{
  g_autoptr (SpBench) bench = blank ();
  g_autoptr (SpTrace) a = trace_of ("a.csv", 10), b = trace_of ("b.csv", 20), c = trace_of ("c.csv", 30), unknown = trace_of ("d.csv", NAN);
  SpArrival arrivals[] = { { b, TO ("Mirrick", "2 m", SP_PURPOSE_KEYED) }, { a, TO ("Mirrick", "2 m", SP_PURPOSE_KEYED) },
                           { c, TO ("Mirrick", "6 m", SP_PURPOSE_KEYED) }, { c, TO ("Mirrick", "2 m", SP_PURPOSE_STEP) },
                           { c, TO ("Mirrick", "2 m", SP_PURPOSE_KEYED) }, { unknown, TO ("Mirrick", "2 m", SP_PURPOSE_KEYED) } };
  const gboolean said[] = { FALSE, FALSE, FALSE, TRUE, TRUE, FALSE };
  const SpPurpose purpose[] = { SP_PURPOSE_STEP, SP_PURPOSE_KEYED, SP_PURPOSE_KEYED, SP_PURPOSE_STEP, SP_PURPOSE_KEYED, SP_PURPOSE_KEYED };
  const double step[] = { 10, NAN, NAN, 20, NAN, NAN };
  sp_propose_steps (bench, arrivals, said, G_N_ELEMENTS (arrivals));
  for (guint i = 0; i < G_N_ELEMENTS (arrivals); i++) {
    ck_assert_int_eq (arrivals[i].to.purpose, purpose[i]);
    double got = arrivals[i].to.step_db;
    ck_assert_msg (isnan (step[i]) ? isnan (got) : got == step[i], "%u: %g", i, got);
  }
}
END_TEST

/* Beside what the bench has; another span, or another RBW, is no step. */
START_TEST (a_step_is_comparable)
{
  static const double f[] = { 2e6, 3e6, 4e6 }, far[] = { 5e6, 6e6, 7e6 }, level[] = { -50, -60, -70 };
  g_autoptr (SpBench) bench = blank ();
  g_autoptr (SpTrace) keyed = trace_of ("a.csv", 10);
  SpArrival first = { keyed, TO ("Mirrick", "", SP_PURPOSE_KEYED) };
  g_autoptr (SpBench) with = sp_bench_with_arrivals (bench, &first, 1, NULL, NULL);
  SpSettings settings;
  sp_settings_init (&settings);
  settings.attenuation_db = 20;
  settings.rbw_hz = 1e6;
  g_autoptr (SpTrace) overlaps = sp_trace_new ("b", 3, f, level, &settings, NULL);
  g_autoptr (SpTrace) apart = sp_trace_new ("c", 3, far, level, &settings, NULL);
  settings.rbw_hz = 1e5;
  g_autoptr (SpTrace) narrow = sp_trace_new ("d", 3, f, level, &settings, NULL);
  SpTrace *traces[] = { overlaps, apart, narrow };
  for (guint i = 0; i < 3; i++) {
    SpArrival arrival = { traces[i], TO ("Mirrick", "", SP_PURPOSE_KEYED) };
    const gboolean said = FALSE;
    sp_propose_steps (with, &arrival, &said, 1);
    ck_assert_int_eq (arrival.to.purpose, i == 0 ? SP_PURPOSE_STEP : SP_PURPOSE_KEYED);
  }
}
END_TEST

START_TEST (arrivals_become_one_bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpTrace) a = trace_of ("a.csv", 10), b = trace_of ("b.csv", 20), c = trace_of ("room.csv", 10), d = trace_of ("d.csv", 10);
  SpArrival arrivals[] = { { b, TO ("Mirrick", "2 m", SP_PURPOSE_STEP) },
                           { a, TO ("Mirrick", "2 m", SP_PURPOSE_KEYED) },
                           { c, TO ("", "", SP_PURPOSE_UNKEYED) },
                           { d, TO ("Askerby", "", SP_PURPOSE_KEYED) },
                           { d, TO (" Mirrick ", "6 m", SP_PURPOSE_KEYED) } };
  guint failed;
  arrivals[0].to.step_db = 10;
  g_autoptr (SpBench) bench = blank ();
  g_autofree char *before = g_strdup (bench->sha256);
  g_autoptr (SpBench) full = sp_bench_with_arrivals (bench, arrivals, G_N_ELEMENTS (arrivals), &failed, &error);
  sp_no_error (error);
  ck_assert_uint_eq (failed, G_N_ELEMENTS (arrivals));
  ck_assert_uint_eq (full->n_radios, 2);
  ck_assert_uint_eq (full->n_conditions, 3);
  ck_assert_str_eq (full->conditions[0].name, "2 m");
  ck_assert_uint_eq (full->conditions[0].n_sweeps, 2);
  ck_assert_int_eq (full->conditions[0].sweeps[0].purpose, SP_PURPOSE_KEYED); /* the keyed one first, whatever the order */
  ck_assert_double_eq (full->conditions[0].sweeps[1].step_db, 10);
  ck_assert_str_eq (full->conditions[1].name, "6 m"); /* behind its radio's others */
  ck_assert_str_eq (full->radios[full->conditions[2].radio].name, "Askerby");
  ck_assert_ptr_nonnull (full->unkeyed);
  ck_assert_str_eq (bench->sha256, before); /* the old bench stands */
  g_autofree char *one = sp_trace_identity (a), *other = sp_trace_identity (b);
  g_autofree char *taken = sp_trace_identity (full->conditions[0].sweeps[0].trace);
  ck_assert_str_eq (one, taken);
  ck_assert_str_eq (one, other); /* equal levels: what a file is called says nothing */
}
END_TEST

/* Each alone is refused, its file and place are told, and nothing is half taken. */
START_TEST (one_that_does_not_fit_takes_none)
{
  g_autoptr (SpTrace) a = trace_of ("a.csv", 10), b = trace_of ("b.csv", 10), c = trace_of ("c.csv", 30);
  static const struct {
    const char *radio;
    SpPurpose purpose;
    double step_db;
    const char *says;
  } cases[] = { { "Mir/rick", SP_PURPOSE_KEYED, NAN, "/" },
                { "", SP_PURPOSE_KEYED, NAN, "only an unkeyed" },
                { " ", SP_PURPOSE_UNKEYED, NAN, "a second unkeyed" },
                { "Mirrick", SP_PURPOSE_STEP, NAN, "a step sweep needs" },
                { "Mirrick", SP_PURPOSE_STEP, 0, "a step sweep needs" },
                { "Mirrick", SP_PURPOSE_STEP, 7, "7" } };
  g_autoptr (SpBench) bench = blank ();
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (GError) error = NULL;
    guint failed;
    SpArrival arrivals[] = { { a, TO ("Mirrick", "", SP_PURPOSE_KEYED) },
                             { a, TO ("", "", SP_PURPOSE_UNKEYED) },
                             { b, { (char *) cases[i].radio, (char *) "", cases[i].purpose, cases[i].step_db, NULL } },
                             { c, TO ("Askerby", "", SP_PURPOSE_KEYED) } };
    ck_assert_msg (!sp_bench_with_arrivals (bench, arrivals, G_N_ELEMENTS (arrivals), &failed, &error), "case %u", i);
    ck_assert_msg (g_str_has_prefix (error->message, "b.csv: ") && strstr (error->message, cases[i].says), "case %u: %s", i,
                   error->message);
    ck_assert_uint_eq (failed, 2);
  }
}
END_TEST

/* A thousand at once is one reading of the sheet. */
START_TEST (many_arrivals_fit)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) bench = blank ();
  g_autoptr (SpTrace) trace = trace_of ("a.csv", 10);
  g_autoptr (GStringChunk) names = g_string_chunk_new (16384);
  SpArrival arrivals[900];
  for (guint i = 0; i < G_N_ELEMENTS (arrivals); i++) {
    char name[16];
    g_snprintf (name, sizeof name, "Radio %u", i);
    arrivals[i] = (SpArrival){ trace, { g_string_chunk_insert (names, name), (char *) "2 m", SP_PURPOSE_KEYED, NAN, NULL } };
  }
  g_autoptr (SpBench) full = sp_bench_with_arrivals (bench, arrivals, G_N_ELEMENTS (arrivals), NULL, &error);
  sp_no_error (error);
  ck_assert_uint_eq (full->n_conditions, G_N_ELEMENTS (arrivals));
}
END_TEST

/* A new bench takes the day that the exports state, else the day on which they were written; one that has a date, or sweeps, keeps what it has. */
START_TEST (day_of_a_new_bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpBench) bench = blank ();
  g_autoptr (SpTrace) trace = trace_of ("a.csv", 10);
  gboolean stated;
  ck_assert (isnan (bench->date_day));
  ck_assert_double_eq (sp_bench_first_day (bench, 740000, 740010, &stated), 740000);
  ck_assert (stated);
  ck_assert_double_eq (sp_bench_first_day (bench, NAN, 740010, &stated), 740010);
  ck_assert (!stated);
  ck_assert (isnan (sp_bench_first_day (bench, NAN, NAN, &stated)));
  g_autoptr (SpBench) dated = sp_bench_with_day (bench, 739948, &error);
  sp_no_error (error);
  ck_assert_double_eq (dated->date_day, 739948);
  ck_assert_str_eq (dated->date, "2026-11-28");
  ck_assert (isnan (sp_bench_first_day (dated, 740000, 740010, &stated)) && !stated);
  SpArrival arrival = { trace, { (char *) "Mirrick", (char *) "2 m", SP_PURPOSE_KEYED, NAN, NULL } };
  g_autoptr (SpBench) begun = sp_bench_with_arrivals (bench, &arrival, 1, NULL, &error);
  sp_no_error (error);
  ck_assert (isnan (sp_bench_first_day (begun, 740000, 740010, &stated)));
  g_autoptr (SpBench) same = sp_bench_with_day (bench, NAN, &error);
  ck_assert_str_eq (same->sha256, bench->sha256);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("import/propose");
  TCase *t = tcase_create ("propose");
  tcase_add_test (t, words_of_a_name);
  tcase_add_test (t, a_pattern_rules_where_it_fits);
  tcase_add_test (t, patterns_are_checked);
  tcase_add_test (t, names_of_the_bench_are_found_again);
  tcase_add_test (t, more_attenuation_is_a_step);
  tcase_add_test (t, a_step_is_comparable);
  tcase_add_test (t, arrivals_become_one_bench);
  tcase_add_test (t, one_that_does_not_fit_takes_none);
  tcase_add_test (t, many_arrivals_fit);
  tcase_add_test (t, day_of_a_new_bench);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
