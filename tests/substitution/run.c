/* Substitution runs: what each reading and each key does to loss, u and dof, and what must hold for any run. */
#include "tests/substitution/run.h"

#include "core/quantity/coverage.h"
#include "core/quantity/text.h"

static const char *const example = "[run]\nstage=power-pad\ndate=2026-09-12\ntemperature_c=22.5\nsource_vswr=1.1\nmeter_vswr=1.2\nstage_"
                                   "vswr=1.3\nmeter_linearity_db=0.02\n"
                                   "meter_resolution_db=0.01\nmeter_floor_dbm=-60\nnote=\"on the long bench # by the window\"\n"
                                   "[at 146MHz]\nbefore=0.00@0; 0.01@1\ninserted=-30.11@3; -30.13@4; -30.12@5\nafter=0.02@7\n";

START_TEST (by_hand)
{
  g_autoptr (SpRun) run = run_from (example);
  g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
  ck_assert (result->n == 1 && result->missing->len == 0 && result->warnings->len == 0);
  const SpRunPoint *p = &result->points[0];
  /* The line runs from 0.005 at 0.5 min to 0.02 at 7: 0.010769, 0.013077, 0.015385 at 3, 4, 5. */
  near (p->loss_db, (30.11 + 30.13 + 30.12) / 3 + 0.005 + 0.015 * 3.5 / 6.5, 1e-12);
  near (p->drift_db, 0.015, 1e-15);
  double l[3] = { 30.11 + 0.005 + 0.015 * 2.5 / 6.5, 30.13 + 0.005 + 0.015 * 3.5 / 6.5, 30.12 + 0.005 + 0.015 * 4.5 / 6.5 }, squares = 0;
  for (int i = 0; i < 3; i++)
    squares += pow (l[i] - p->loss_db, 2);
  near (p->scatter_db, sqrt (squares / 2), 1e-12);
  near (term_of (p, "repeatability").u_db, sqrt (squares / 2 / 3), 1e-12);
  near (term_of (p, "repeatability").dof, 2, 0);
  /* the two readings before lie 0.01 -+ half the line's rise of a minute off it */
  double off = 0.005 - 0.5 * 0.015 / 6.5, late = 3.5 / 6.5;
  near (term_of (p, "reference").u_db, sqrt (2 * off * off * (pow (1 - late, 2) / 2 + late * late)), 1e-12);
  near (term_of (p, "reference").dof, 1, 0);
  near (term_of (p, "drift").u_db, 0.0075 / sqrt (3), 1e-12);
  near (term_of (p, "linearity").u_db, 0.02 / sqrt (3), 1e-12);
  near (term_of (p, "resolution").u_db, sqrt (2) * 0.01 / sqrt (3), 1e-12);
  near (term_of (p, "temperature").u_db, p->loss_db * 0.0004 * 1, 1e-12);
  double gs = 0.1 / 2.1, gm = 0.2 / 2.2, g = 0.3 / 2.3, each = 8.685889638 / sqrt (2);
  near (term_of (p, "mismatch-reference").u_db, each * gs * gm, 1e-9);
  near (term_of (p, "mismatch-source").u_db, each * gs * g, 1e-9);
  near (term_of (p, "mismatch-meter").u_db, each * gm * g, 1e-9);
  near (term_of (p, "mismatch-through").u_db, each * gs * gm * pow (10, -p->loss_db / 10), 1e-9);
  double sum = 0, fourths = 0;
  for (guint i = 0; i < p->sum.n_terms; i++) {
    sum += pow (p->sum.terms[i].u_db, 2);
    fourths += isfinite (p->sum.terms[i].dof) ? pow (p->sum.terms[i].u_db, 4) / p->sum.terms[i].dof : 0;
  }
  near (p->sum.u_db, sqrt (sum), 1e-15);
  near (p->sum.dof / (sum * sum / fourths), 1, 1e-12);
  near (p->sum.expanded_db, sp_coverage_factor (p->sum.dof) * p->sum.u_db, 1e-15);
}
END_TEST

START_TEST (as_one_types)
{
  g_autoptr (SpRun) run = sp_run_new ();
  const char *const wants[] = { "stage", "frequency" };
  g_autoptr (SpRunResult) nothing = sp_run_result (run, NAN);
  ck_assert_uint_eq (nothing->n, 0);
  for (guint i = 0; i < 2; i++)
    ck_assert_ptr_nonnull (find_reason (nothing->missing, SP_REASON_RUN_WANTS, wants[i], NULL));
  ck_assert (!sp_run_curve (nothing, SP_CURVE_LINEAR, NULL));

  run->stage = g_strdup ("pad");
  SpRunAt *low = sp_run_add_at (run, 100e6), *high = sp_run_add_at (run, 50e6);
  sp_run_at_add (low->before, 0, NAN);
  g_autoptr (SpRunResult) half = sp_run_result (run, NAN);
  ck_assert (half->n == 0 && half->missing->len == 2);
  near (find_reason (half->missing, SP_REASON_RUN_WANTS, "inserted", NULL)->RUN_WANTS.at_hz, 100e6, 0);
  near (find_reason (half->missing, SP_REASON_RUN_WANTS, "before", NULL)->RUN_WANTS.at_hz, 50e6, 0);

  sp_run_at_add (low->inserted, -10, NAN);
  g_autoptr (SpRunResult) one = sp_run_result (run, NAN); /* what is complete is there already */
  ck_assert (one->n == 1 && one->missing->len == 1);
  near (one->points[0].loss_db, 10, 1e-12);
  near (term_of (&one->points[0], "repeatability").u_db, SP_RUN_SCATTER_ASSUMED_DB * sqrt (2), 1e-12);
  near (term_of (&one->points[0], "drift").u_db, SP_RUN_DRIFT_ASSUMED_DB / sqrt (3), 1e-12);
  static const char *const assumed[] = { "linearity", "resolution", "drift", "repeatability" };
  for (guint i = 0; i < G_N_ELEMENTS (assumed); i++)
    ck_assert_msg (find_reason (one->warnings, SP_REASON_U_ASSUMED, assumed[i], NULL) != NULL, "%s", assumed[i]);

  sp_run_at_add (high->before, 1, NAN);
  sp_run_at_add (high->inserted, -8, NAN);
  g_autoptr (SpRunResult) both = sp_run_result (run, NAN);
  ck_assert (both->n == 2 && both->missing->len == 0);
  near (both->points[0].frequency_hz, 50e6, 0); /* ascending, however typed */
  near (both->points[0].loss_db, 9, 1e-12);
  g_autoptr (SpCurve) curve = sp_run_curve (both, SP_CURVE_LINEAR, NULL);
  near (sp_curve_at (curve, 100e6, 0).value, 10, 1e-12);
  near (sp_curve_at (curve, 100e6, 0).u, both->points[1].sum.u_db, 0);
}
END_TEST

static void
wants (SpRun *taken, const char *what)
{
  g_autoptr (SpRun) run = taken;
  g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
  ck_assert_uint_eq (result->n, 0);
  ck_assert_msg (find_reason (result->missing, SP_REASON_RUN_WANTS, what, NULL) != NULL, "%s", what);
}

static SpRun *
with (double before, double before_min, double inserted, double inserted_min)
{
  SpRun *run = bare_run ();
  SpRunAt *at = sp_run_add_at (run, 1e8);
  sp_run_at_add (at->before, before, before_min);
  sp_run_at_add (at->inserted, inserted, inserted_min);
  return run;
}

START_TEST (nonsense_in_memory)
{
  wants (with (NAN, 0, -10, 1), "before");
  wants (with (0, 0, INFINITY, 1), "inserted");
  wants (with (0, 5, -10, 1), "times");
  wants (with (0, 5, -10, NAN), "times");
  wants (with (-10, 0, 0, 1), "loss"); /* the wrong way round */
  SpRun *run = with (0, 0, -10, 1);
  run->meter_linearity_db = -0.1;
  wants (run, "meter_linearity_db");
  run = with (0, 0, -10, 1);
  run->meter_resolution_db = INFINITY;
  wants (run, "meter_resolution_db");
  run = with (0, 0, -10, 1);
  run->correction_db = NAN;
  wants (run, "correction_db");
  run = with (0, 0, -10, 1);
  sp_run_add_extra (run, "leak", -1, INFINITY);
  wants (run, "extra");
  run = bare_run ();
  sp_run_add_at (run, -5);
  wants (run, "frequency");

  g_autoptr (SpRun) twice = with (0, 0, -10, 1);
  SpRunAt *again = sp_run_add_at (twice, 1e8);
  sp_run_at_add (again->before, 0, 0);
  sp_run_at_add (again->inserted, -20, 1);
  g_autoptr (SpRunResult) result = sp_run_result (twice, NAN);
  ck_assert (result->n == 1 && find_reason (result->missing, SP_REASON_RUN_WANTS, "frequency-once", NULL));
}
END_TEST

/* One estimate of scatter that serves both sides is one term, with its own dof. */
START_TEST (who_was_repeated)
{
  g_autoptr (SpRun) run = run_from ("[run]\nstage=a\n[at 1MHz]\nbefore=0\ninserted=-10.1;-10.2;-10.3\nafter=0\n"
                                    "[at 2MHz]\nbefore=0.1;-0.1;0.1;-0.1\ninserted=-10\n[at 3MHz]\nbefore=0\ninserted=-10;-10.2\n");
  g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
  ck_assert_uint_eq (result->n, 3);
  /* untimed: steps 0, 1 2 3, 4: the inserted ones stand in the middle, the line there has half the variance of a reading */
  near (term_of (&result->points[0], "repeatability").u_db, 0.1 * sqrt (1.0 / 3 + 0.5), 1e-12);
  near (term_of (&result->points[0], "repeatability").dof, 2, 0);
  ck_assert (isnan (term_of (&result->points[0], "reference").u_db));
  near (term_of (&result->points[1], "repeatability").u_db, sqrt (0.04 / 3 * (1 + 0.25)), 1e-12);
  near (term_of (&result->points[1], "repeatability").dof, 3, 0);
  near (term_of (&result->points[2], "repeatability").u_db, 0.2 / sqrt (2) * sqrt (0.5 + 1), 1e-12);
  ck_assert (isnan (result->points[1].scatter_db) && isnan (result->points[1].drift_db));
}
END_TEST

/* A generator that drifts evenly is taken out to the last digit, wherever the readings stand. */
START_TEST (even_drift_cancels)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  for (guint round = 0; round < 200; round++) {
    g_autoptr (SpRun) run = bare_run ();
    SpRunAt *at = sp_run_add_at (run, 1e8);
    double slope = g_rand_double_range (rand, -0.1, 0.1), loss = g_rand_double_range (rand, 0, 60), t = 0;
    GArray *const lists[] = { at->before, at->inserted, at->after };
    for (guint k = 0; k < 3; k++)
      for (int i = g_rand_int_range (rand, 1, 6); i-- > 0;) {
        t += g_rand_double_range (rand, 0.1, 3);
        sp_run_at_add (lists[k], slope * t - (k == 1 ? loss : 0), t);
      }
    g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
    near (result->points[0].loss_db, loss, 1e-11);
    near (term_of (&result->points[0], "repeatability").u_db, 0, 1e-11);
    /* what is left is said to be the line's own uncertainty */
    near (result->points[0].sum.u_db, fabs (result->points[0].drift_db) / (2 * sqrt (3)), 1e-9);
  }
}
END_TEST

/* Readings shifted together change nothing; turned upside down in time neither; every half-width doubled and every deviation doubled doubles u. */
START_TEST (what_must_hold)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);
  for (guint round = 0; round < 200; round++) {
    g_autoptr (SpRun) a = bare_run (), b = bare_run (), c = bare_run ();
    SpRun *const runs[] = { a, b, c };
    SpRunAt *at[3];
    double width = g_rand_double_range (rand, 0, 0.1), shift = g_rand_double_range (rand, -20, 20);
    for (guint r = 0; r < 3; r++) {
      at[r] = sp_run_add_at (runs[r], 1e8);
      runs[r]->meter_linearity_db = width * (r == 2 ? 2 : 1);
      runs[r]->meter_resolution_db = width / 2 * (r == 2 ? 2 : 1);
      sp_run_add_extra (runs[r], "leak", width / 3 * (r == 2 ? 2 : 1), 4);
    }
    for (guint k = 0; k < 3; k++)
      for (guint i = 0; i < 4; i++) {
        double off = g_rand_double_range (rand, -0.05, 0.05), base = k == 1 ? -20 : 0, t = 10 * k + i;
        for (guint r = 0; r < 3; r++)
          sp_run_at_add (k == 0   ? at[r]->before
                         : k == 1 ? at[r]->inserted
                                  : at[r]->after,
                         base + off * (r == 2 ? 2 : 1) + (r == 1 ? shift : 0), t);
      }
    g_autoptr (SpRunResult) ra = sp_run_result (a, NAN), rb = sp_run_result (b, NAN), rc = sp_run_result (c, NAN);
    near (rb->points[0].loss_db, ra->points[0].loss_db, 1e-12);
    near (rb->points[0].sum.u_db, ra->points[0].sum.u_db, 1e-12);
    near (rc->points[0].sum.u_db, 2 * ra->points[0].sum.u_db, 1e-12);
    near (rc->points[0].sum.expanded_db, 2 * ra->points[0].sum.expanded_db, 1e-12); /* the dof are the same, so scaling all u scales U */
    near (rc->points[0].sum.dof / ra->points[0].sum.dof, 1, 1e-9);
    ck_assert (ra->points[0].sum.dof >= 3 && ra->points[0].sum.k >= 2);
  }
}
END_TEST

static gboolean
warns (const char *keys, const char *readings, SpReasonCode code, double day)
{
  g_autofree char *text = g_strconcat ("[run]\nstage=a\n", keys, "\n[at 146MHz]\n", readings, "\n", NULL);
  g_autoptr (SpRun) run = run_from (text);
  g_autoptr (SpRunResult) result = sp_run_result (run, day);
  ck_assert_uint_eq (result->n, 1);
  return find_reason (result->warnings, code, NULL, NULL) != NULL;
}

START_TEST (repeats_that_wander)
{
  const char *const steady[] = { "before=0@0\ninserted=-10.02@1;-10.00@2;-10.03@3;-10.01@4;-10.02@5\nafter=0@6",
                                 "before=0@0\ninserted=-10.01@1;-10.01@2;-10.02@3\nafter=0@6", /* the display's last digit */
                                 "before=0@0\ninserted=-10@1;-11@2\nafter=0@6" };
  const char *const wander[] = { "before=0@0\ninserted=-10.00@1;-10.03@2;-10.05@3;-10.09@4;-10.11@5\nafter=0@6",
                                 "before=0\ninserted=-10.00;-10.01;-10.00;-10.20;-10.21;-10.20\nafter=0", /* a touched plug */
                                 /* the generator drifts, and the readings do not follow it: the stage does */
                                 "before=0@0\ninserted=-10@1;-10@2;-10@3;-10@4\nafter=0.5@5" };
  for (guint i = 0; i < 3; i++) {
    ck_assert_msg (!warns ("", steady[i], SP_REASON_REPEATS_WANDER, NAN), "%s", steady[i]);
    ck_assert_msg (warns ("", wander[i], SP_REASON_REPEATS_WANDER, NAN), "%s", wander[i]);
  }
}
END_TEST

/* A run of `frequencies` with `n` repeats on a display of 0.01 dB; each drifts by `drift_db` over them. Returns how many are told to wander. */
static guint
told_of (GRand *rand, guint frequencies, guint n, double scatter_db, double drift_db)
{
  g_autoptr (SpRun) run = sp_run_new ();
  run->stage = g_strdup ("s");
  guint told = 0;
  for (guint i = 0; i < frequencies; i++) {
    SpRunAt *at = sp_run_add_at (run, 1e6 * (i + 1));
    double loss = 10 + g_rand_double (rand); /* anywhere between two digits */
    sp_run_at_add (at->before, 0, 0);
    for (guint k = 0; k < n; k++) {
      double normal = sqrt (-2 * log (1 - g_rand_double (rand))) * cos (2 * G_PI * g_rand_double (rand));
      sp_run_at_add (at->inserted, -round (100 * (loss + scatter_db * normal + drift_db * k / (n - 1))) / 100, k + 1);
    }
    sp_run_at_add (at->after, 0, n + 1);
  }
  g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
  for (guint i = 0; i < result->warnings->len; i++)
    told += ((SpReason *) result->warnings->pdata[i])->code == SP_REASON_REPEATS_WANDER;
  return told;
}

/* By simulation, on a display of 0.01 dB. Without a wander at most one run in twenty may be told of at all (0.0455 by design), whatever the
 * scatter; a wander of 0.05 dB is found at nearly every frequency where the scatter is half a digit, as it is at a hundredth of a dB
 * for a display that shows it. */
START_TEST (wander_against_the_display)
{
  static const double scatter_db[] = { 0.002, 0.005, 0.01, 0.02 };
  g_autoptr (GRand) rand = g_rand_new_with_seed (150);
  for (guint k = 0; k < G_N_ELEMENTS (scatter_db); k++)
    for (guint n = 3; n <= 5; n += 2) {
      guint runs = 600, alarmed = 0;
      for (guint i = 0; i < runs; i++)
        alarmed += told_of (rand, 10, n, scatter_db[k], 0) > 0;
      ck_assert_msg (alarmed <= runs * 0.0455 + 3 * sqrt (runs * 0.0455), "scatter %g, %u repeats: %u of %u runs", scatter_db[k], n,
                     alarmed, runs);
      guint found = 0;
      for (guint i = 0; i < 60; i++)
        found += told_of (rand, 10, n, scatter_db[k], 0.05);
      if (scatter_db[k] <= 0.005)
        ck_assert_msg (found >= 0.95 * 600, "scatter %g, %u repeats: %u of 600 found", scatter_db[k], n, found);
    }
}
END_TEST

START_TEST (line_floor_and_age)
{
  const char *plain = "before=0\ninserted=-30";
  /* An eighth of a wave at 146 MHz, at 0.66 of light's speed: 0.169 m; near it from 0.8 of that on. */
  ck_assert (!warns ("line_m=0.13", plain, SP_REASON_LINE_LENGTH, NAN));
  ck_assert (warns ("line_m=0.14", plain, SP_REASON_LINE_LENGTH, NAN));
  ck_assert (!warns ("line_m=0.14\nline_velocity=0.85", plain, SP_REASON_LINE_LENGTH, NAN));
  ck_assert (!warns ("line_m=3\nmeter_vswr=1.04", plain, SP_REASON_LINE_LENGTH, NAN)); /* nothing comes back to turn */
  ck_assert (!warns ("", plain, SP_REASON_LINE_LENGTH, NAN));
  ck_assert (!warns ("meter_floor_dbm=-40", plain, SP_REASON_METER_FLOOR, NAN));
  ck_assert (warns ("meter_floor_dbm=-39.9", plain, SP_REASON_METER_FLOOR, NAN));
  ck_assert (!warns ("", plain, SP_REASON_METER_FLOOR, NAN));
  guint32 day = 0;
  ck_assert (sp_parse_date ("2026-09-12", &day, NULL));
  ck_assert (!warns ("date=2026-09-12\ninterval_days=365", plain, SP_REASON_CALIBRATION_OLD, day + 365));
  ck_assert (warns ("date=2026-09-12\ninterval_days=365", plain, SP_REASON_CALIBRATION_OLD, day + 366));
  ck_assert (!warns ("date=2026-09-12", plain, SP_REASON_CALIBRATION_OLD, day + 10000));
  ck_assert (!warns ("date=2026-09-12\ninterval_days=365", plain, SP_REASON_CALIBRATION_OLD, NAN));
}
END_TEST

START_TEST (written_and_read_again)
{
  static const char *const more
      = "temperature_u_c=0.5\ntemperature_coefficient=-0.0002\ninterval_days=400\nline_m=0.4\nline_velocity=0.7\n"
        "stage_output_vswr=50MHz 1.1; 1GHz 1.4\nreference_vswr=1.02\nreference_output_vswr=1.03\ncorrection_db=0.003\n"
        "extra=cross%20talk 0.002; zero 0.001 12\nmood=fine\n";
  g_autofree char *text = g_strconcat ("[run]\n", more, example + strlen ("[run]\n"),
                                       "[at 1.3e9]\nbefore=0\ninserted=-3\nlamp=on\n[odd]\na=b\n", NULL);
  g_autoptr (SpRun) run = run_from (text), again = run_from (run->text);
  ck_assert_str_eq (run->text, again->text);
  ck_assert_str_eq (run->sha256, again->sha256);
  ck_assert_uint_eq (run->warnings->len, 3); /* mood, lamp, [odd] */
  ck_assert (strstr (run->text, "mood=fine\n") && strstr (run->text, "lamp=on\n") && strstr (run->text, "[odd]\na=b\n"));
  ck_assert_str_eq (again->note, "on the long bench # by the window");
  ck_assert_str_eq (g_array_index (again->extra, SpRunExtra, 0).name, "cross talk");
  g_autoptr (SpRunResult) a = sp_run_result (run, NAN), b = sp_run_result (again, NAN);
  for (guint i = 0; i < 2; i++) {
    near (a->points[i].loss_db, b->points[i].loss_db, 0);
    near (a->points[i].sum.u_db, b->points[i].sum.u_db, 0);
    ck_assert (a->points[i].sum.dof == b->points[i].sum.dof);
  }
  guint offset = 0;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) readings = sp_run_parse_readings (" -30.11@3 ; -30.13 @ 4;", &offset, &error);
  sp_no_error (error);
  g_autofree char *back = sp_run_readings_text (readings);
  ck_assert_str_eq (back, "-30.11@3; -30.13@4");
  ck_assert_ptr_null (sp_run_parse_readings ("1; two", &offset, &error));
  ck_assert_uint_eq (offset, 3);
  ck_assert_str_eq (error->message, "found “two”; expected a reading in dB and its minute, such as -30.11@3, several separated by ;");
}
END_TEST

START_TEST (lines_to_paste)
{
  g_autoptr (SpRun) run = run_from (example);
  g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
  g_autofree char *lines = sp_run_stage_text (run, result),
                  *expected = g_strdup_printf (
                      "[stage power-pad]\ncalibrated=2026-09-12\ntemperature_c=22.5\ncommon_u_db=0.0115\npoints=146MHz %.4f %.4f\n",
                      result->points[0].loss_db, result->points[0].sum.u_db);
  ck_assert_str_eq (lines, expected);
  g_autofree char *text = g_strconcat ("[chain]\nstages=power-pad\n", lines, "kind=pad\nrating_w=5\nvswr=1.1\n", NULL);
  g_autoptr (SpChain) chain = chain_from (text);
  near (sp_stage_loss (chain, 0, 146e6, NAN, 0).loss_db, result->points[0].loss_db, 5.1e-5);
  near (sp_stage_loss (chain, 0, 146e6, NAN, 0).u_db, result->points[0].sum.u_db, 5.1e-5);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chain/run");
  TCase *t = tcase_create ("runs");
  tcase_add_test (t, by_hand);
  tcase_add_test (t, as_one_types);
  tcase_add_test (t, nonsense_in_memory);
  tcase_add_test (t, who_was_repeated);
  tcase_add_test (t, even_drift_cancels);
  tcase_add_test (t, what_must_hold);
  tcase_add_test (t, repeats_that_wander);
  tcase_add_test (t, wander_against_the_display);
  tcase_add_test (t, line_floor_and_age);
  tcase_add_test (t, written_and_read_again);
  tcase_add_test (t, lines_to_paste);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
