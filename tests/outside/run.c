/* Substitution runs, effective degrees of freedom and Student's factor against published examples. */
#include "tests/substitution/run.h"

#include "core/quantity/coverage.h"
#include "core/quantity/units.h"

static double
vswr_of (double reflection)
{
  return (1 + reflection) / (1 - reflection);
}

static SpRunAt *
at_with (SpRun *run, double frequency_hz, guint n, const double *inserted)
{
  SpRunAt *at = sp_run_add_at (run, frequency_hz);
  sp_run_at_add (at->before, 0, 0);
  for (guint i = 0; i < n; i++)
    sp_run_at_add (at->inserted, -inserted[i], 1 + i);
  sp_run_at_add (at->after, 0, 1 + n);
  return at;
}

/* EA-4/02 M S7: a coaxial step attenuator, 30 dB of incremental loss at 10 GHz. Its reference is the attenuator's own setting of 0 dB. */
static SpRun *
step_attenuator (void)
{
  static const double readings[] = { 30.033, 30.058, 30.018, 30.052 };
  SpRun *run = sp_run_new ();
  run->stage = g_strdup ("step");
  run->correction_db = 0.003;
  run->source_vswr = sp_curve_new_constant (vswr_of (0.03), NAN);
  run->meter_vswr = sp_curve_new_constant (vswr_of (0.03), NAN);
  run->reference_vswr = sp_curve_new_constant (vswr_of (0.05), NAN);
  run->reference_output_vswr = sp_curve_new_constant (vswr_of (0.01), NAN);
  run->stage_vswr = sp_curve_new_constant (vswr_of (0.09), NAN);
  run->stage_output_vswr = sp_curve_new_constant (vswr_of (0.01), NAN);
  run->meter_linearity_db = 0.0025 * sqrt (3); /* the reference attenuator's calibration: 0.0025 dB */
  run->meter_resolution_db = 0.0003 * sqrt (3);
  run->temperature_coefficient = 0.0011 / 30.0; /* temperature: 0.0011 dB */
  run->temperature_u_c = 1;
  sp_run_add_extra (run, "cross-talk", 0.0017, INFINITY);
  sp_run_add_extra (run, "zero-without", 0.0020, INFINITY);
  sp_run_add_extra (run, "zero-with", 0.0020, INFINITY);
  /* The published scatter is that of the differences alone: a reference that is known leaves it alone. */
  SpRunAt *at = at_with (run, 10e9, 4, readings);
  for (guint i = 0; i < 2; i++)
    sp_run_at_add (at->after, 0, 5 + i);
  return run;
}

START_TEST (published_calibration)
{
  const char *source = "EA-4/02 M:2022 S7 (readings: NIST TN 1900 E11)";
  g_autoptr (SpRun) run = step_attenuator ();
  g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
  ck_assert (result->n == 1 && result->missing->len == 0);
  const SpRunPoint *p = &result->points[0];
  sp_outside ("attenuation, dB", source, p->loss_db, 30.043, 5e-4);
  sp_outside ("its standard uncertainty, dB", source, p->sum.u_db, 0.0224, 1e-4);
  sp_outside ("its expanded uncertainty, dB", source, p->sum.expanded_db, 0.045, 5e-4);
  sp_outside ("attenuation, dB", "EA-4/02 M:2022 S7, its sums with all digits", p->loss_db, 30.04325, 1e-9);
  sp_outside ("effective degrees of freedom", "EA-4/02 M:2022 S7, its sums with all digits", p->sum.dof, 108, 2);
  SpRunTerm repeats = term_of (p, "repeatability");
  sp_outside ("scatter of four readings, dB", "calculated: s of the four published readings", p->scatter_db, 0.0182643, 5e-8);
  sp_outside ("repeatability, dB", "calculated: s/sqrt 4", repeats.u_db, 0.0091321, 5e-8);
  sp_outside ("its degrees of freedom", source, repeats.dof, 3, 0);
  sp_outside ("reference's calibration, dB", source, term_of (p, "linearity").u_db, 0.0025, 1e-12);
  sp_outside ("temperature, dB", source, term_of (p, "temperature").u_db, 0.0011, 5e-6);
  /* S7.6: both settings' faces and the way through, six terms of which the reference gathers three */
  double mismatch = sqrt (pow (term_of (p, "mismatch-reference").u_db, 2) + pow (term_of (p, "mismatch-source").u_db, 2)
                          + pow (term_of (p, "mismatch-meter").u_db, 2) + pow (term_of (p, "mismatch-through").u_db, 2));
  sp_outside ("mismatch, printed, dB", "EA-4/02 M:2022 S7.6 (inputs from memory)", mismatch, 0.02, 5e-4);
  sp_outside ("mismatch, dB", "calculated: EA-4/02 S7.6; Harris and Warner 1981", mismatch, 0.0199303, 1e-7);
}
END_TEST

/* GUM H.2: five simultaneous readings of voltage, current and phase. Each set gives its own resistance, so that what is common cancels: as a
 * run takes each reading with the reference of its moment. The formula for u of the mean is then H.2's second approach. */
START_TEST (correlated_readings)
{
  static const double v[5] = { 5.007, 4.994, 5.005, 4.990, 4.999 }, ma[5] = { 19.663, 19.639, 19.640, 19.685, 19.678 };
  static const double phase[5] = { 1.0456, 1.0438, 1.0468, 1.0428, 1.0433 };
  static const struct {
    const char *what;
    double mean, u;
  } published[3] = { { "resistance, ohm", 127.732, 0.071 }, { "reactance, ohm", 219.847, 0.295 }, { "impedance, ohm", 254.260, 0.236 } };
  for (int k = 0; k < 3; k++) {
    double z[5];
    for (int i = 0; i < 5; i++)
      z[i] = v[i] / ma[i] * 1e3 * (k == 0 ? cos (phase[i]) : k == 1 ? sin (phase[i]) : 1);
    g_autoptr (SpRun) run = bare_run ();
    SpRunAt *at = at_with (run, 1e6, 5, z);
    sp_run_at_add (at->after, 0, 7); /* a reference known exactly: no scatter of its own is borrowed for it */
    g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
    ck_assert_uint_eq (result->n, 1);
    sp_outside (published[k].what, "JCGM 100, H.2, table H.4", result->points[0].loss_db, published[k].mean, 1e-3);
    sp_outside (published[k].what, "JCGM 100, H.2, table H.4: u", result->points[0].sum.u_db, published[k].u, 1e-3);
  }
  /* The same correlation by its other name: generator and display drift together, and the difference does not know it. */
  g_autoptr (SpRun) run = bare_run ();
  SpRunAt *at = sp_run_add_at (run, 1e6);
  for (guint i = 0; i < 3; i++)
    sp_run_at_add (at->before, 0.02 * i, i);
  for (guint i = 3; i < 8; i++)
    sp_run_at_add (at->inserted, 0.02 * i - 20, i);
  for (guint i = 8; i < 10; i++)
    sp_run_at_add (at->after, 0.02 * i, i);
  g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
  sp_outside ("20 dB under a drift of 0.18 dB", "calculated: readings on one line", result->points[0].loss_db, 20, 1e-12);
}
END_TEST

START_TEST (welch_satterthwaite)
{
  static const double u1[] = { .57, .25 }, d1[] = { 9, INFINITY }, u2[] = { .25, .57, .82 }, d2[] = { 9, 4, 14 };
  static const double u3[] = { 25, 9.7, 2.9, 16.6 }, d3[] = { 18, 25.6, 50, 2 }, d4[] = { INFINITY, INFINITY };
  sp_outside ("effective dof of two terms", "calculated: JCGM 100, G.2b", sp_effective_dof (2, u1, d1), 12.79565, 5e-6);
  double dof = sp_effective_dof (3, u2, d2);
  sp_outside ("effective dof, relative", "JCGM 100, G.4.1 example (from memory), prints 19", dof, 19, 0.5);
  sp_outside ("effective dof, relative", "calculated: JCGM 100, G.2b", dof, 18.9987, 5e-5);
  sp_outside ("effective dof of an end gauge", "JCGM 100, H.1.6, prints 16 (truncated)", floor (sp_effective_dof (4, u3, d3)), 16, 0);
  ck_assert (isinf (sp_effective_dof (2, u1, d4)));
}
END_TEST

START_TEST (student)
{
  static const struct {
    double dof, k;
  } rows[] = {
    { 1, 13.9678 }, { 2, 4.5266 },  { 3, 3.3068 },  { 4, 2.8693 },  { 5, 2.6487 },  { 6, 2.5165 },  { 7, 2.4288 },  { 8, 2.3664 },
    { 9, 2.3198 },  { 10, 2.2837 }, { 15, 2.1812 }, { 20, 2.1330 }, { 25, 2.1051 }, { 30, 2.0868 }, { 50, 2.0513 }, { 100, 2.0253 },
  };
  static const struct {
    double dof, k;
  } printed[] = { { 1, 13.97 }, { 2, 4.53 }, { 3, 3.31 },  { 4, 2.87 },  { 5, 2.65 }, { 6, 2.52 },
                  { 7, 2.43 },  { 8, 2.37 }, { 10, 2.28 }, { 20, 2.13 }, { 50, 2.05 } };
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    sp_outside ("coverage factor, 95.45 %", "calculated: Student's quantile at 0.9545", sp_coverage_factor (rows[i].dof), rows[i].k, 1e-4);
  for (guint i = 0; i < G_N_ELEMENTS (printed); i++)
    sp_outside ("coverage factor, 95.45 %", "EA-4/02 M:2022, table E.1 (from memory)", sp_coverage_factor (printed[i].dof), printed[i].k,
                5.1e-3);
  sp_outside ("coverage factor, infinite dof", "JCGM 100, table G.2", sp_coverage_factor (INFINITY), 2, 0);
  sp_outside ("dof is truncated before it is looked up", "JCGM 100, G.4.2", sp_coverage_factor (10.99), sp_coverage_factor (10), 0);
  /* GSL's inverse ends the program at some of these */
  double last = sp_coverage_factor (1);
  for (double dof = 1; dof < 1e300; dof *= 1.37) {
    double k = sp_coverage_factor (dof);
    ck_assert_msg (k >= 2 && k <= last + 1e-12, "%g: %.17g after %.17g", dof, k, last);
    last = k;
  }
}
END_TEST

/* A step of the budget of the sensor of EA-4/02 S6 in dB: mismatch of two faces, in the run's own terms. */
START_TEST (two_faces)
{
  static const double row[][3] = { { 1.05, 1.05, .0037 }, { 1.2, 1.4, .0931 }, { 1.5, 1.2, .1117 }, { 2.0, 1.2, .1861 },
                                   { 1.5, 1.5, .2457 },   { 2.0, 1.5, .4095 }, { 2.0, 2.0, .6824 }, { 3.0, 2.0, 1.0236 } };
  for (guint i = 0; i < G_N_ELEMENTS (row); i++) {
    g_autoptr (SpRun) run = bare_run ();
    const double thirty = 30;
    sp_curve_unref (run->source_vswr);
    sp_curve_unref (run->meter_vswr);
    run->source_vswr = sp_curve_new_constant (row[i][0], NAN);
    run->meter_vswr = sp_curve_new_constant (row[i][1], NAN);
    at_with (run, 1e8, 1, &thirty);
    g_autoptr (SpRunResult) result = sp_run_result (run, NAN);
    sp_outside ("source and meter facing each other, dB", "calculated: 8.686 |G1||G2| / sqrt 2",
                term_of (&result->points[0], "mismatch-reference").u_db, row[i][2], 5.1e-5);
    near (term_of (&result->points[0], "mismatch-through").u_db, row[i][2] * 1e-3, 1e-6);
    near (term_of (&result->points[0], "mismatch-source").u_db, 0, 0);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/run");
  TCase *t = tcase_create ("runs");
  tcase_add_test (t, published_calibration);
  tcase_add_test (t, correlated_readings);
  tcase_add_test (t, welch_satterthwaite);
  tcase_add_test (t, student);
  tcase_add_test (t, two_faces);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
