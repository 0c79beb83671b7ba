/* The simulator against what is known of mixers, filters and noise, before it is believed about anything else. */
#include "tests/simulate/mixer.h"
#include "tests/simulate/receiver.h"
#include "tests/suite.h"

#include <gsl/gsl_sf_expint.h>

static SimMixer
only (guint order, double intercept_dbm)
{
  double intercept[SIM_DEGREE + 1] = { NAN, NAN, NAN, NAN, NAN, NAN };
  int sign[SIM_DEGREE + 1] = { 1, 1, 1, -1, 1, -1 };
  intercept[order] = intercept_dbm;
  return sim_mixer (intercept, sign);
}

START_TEST (products_have_their_slope_and_intercept)
{
  guint order = (guint) _i;
  SimMixer mixer = only (order, 30);
  for (double pm = -30; pm <= 0; pm += 10) {
    SimWave in = { { 0 }, { 0 } };
    sim_wave_set (&in, 1, pm, 0.7);
    SimWave out = sim_mix (&mixer, &in);
    sp_outside ("nth harmonic of a mixer", "calculated: n Pm - (n - 1) In", sim_wave_dbm (&out, order), order * pm - (order - 1) * 30.,
                1e-4);
    ck_assert_double_eq_tol (sim_wave_dbm (&out, 1), pm, order % 2 ? 0.03 : 1e-9); /* an odd power compresses a little */
  }
}
END_TEST

/* A carrier turned by an angle turns its nth product by n of it: the program may not count on a phase. */
START_TEST (products_turn_with_the_carrier)
{
  guint order = (guint) _i;
  SimMixer mixer = only (order, 30);
  SimWave a = { { 0 }, { 0 } }, b = { { 0 }, { 0 } };
  sim_wave_set (&a, 1, -10, 0);
  sim_wave_set (&b, 1, -10, 0.3);
  a = sim_mix (&mixer, &a);
  b = sim_mix (&mixer, &b);
  double turn = atan2 (b.im[order], b.re[order]) - atan2 (a.im[order], a.re[order]);
  ck_assert_double_eq_tol (remainder (turn - 0.3 * order, 2 * G_PI), 0, 1e-7);
}
END_TEST

/* The radio's own harmonic and the mixer's add as voltages: with opposite phase they cancel. */
START_TEST (parts_add_as_voltages)
{
  SimMixer mixer = only (2, 30);
  SimWave in = { { 0 }, { 0 } };
  sim_wave_set (&in, 1, -20, 0);
  double own = sim_wave_dbm (&(SimWave[1]){ sim_mix (&mixer, &in) }[0], 2);
  for (double phase = 0; phase < 6.3; phase += 0.7) {
    sim_wave_set (&in, 2, own - 6.0206, phase);
    SimWave out = sim_mix (&mixer, &in);
    double want = own + 10 * log10 (1.25 + cos (phase)); /* |1 + e^(j phase) / 2|^2 */
    sp_outside ("sum of two voltages", "calculated: law of cosines", sim_wave_dbm (&out, 2), want, 0.01);
  }
}
END_TEST

static const SimSettings wide = { 1e6, 2e6, 20001, 1e3, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, FALSE, 0.5 };

/* Means of the readings of noise alone, of 20,001 points: each within five standard errors. */
START_TEST (noise_reads_as_it_should)
{
  static const struct {
    SpDetector detector;
    SpAverage average;
    guint averages;
    double spacing_rbws, mean_db, spread; /* of one reading's power, relative */
  } table[] = {
    { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 1, 0, 1 },    { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 0.05, 0, 1 },
    { SP_DETECTOR_RMS, SP_AVERAGE_NONE, 1, 3, 0, 0.6 },     { SP_DETECTOR_AVERAGE, SP_AVERAGE_POWER, 1, 3, 0, 0.6 },
    { SP_DETECTOR_SAMPLE, SP_AVERAGE_POWER, 4, 1, 0, 0.5 },
  };
  SimChance chance = sim_chance (7 + (guint64) _i);
  SimSettings s = wide;
  g_autofree double *level = g_new (double, s.points);
  s.detector = table[_i].detector;
  s.average = table[_i].average;
  s.averages = table[_i].averages;
  s.rbw_hz = 50 / table[_i].spacing_rbws;
  sim_receive (&chance, &s, 0, NULL, -90, level);
  double sum = 0, independent = s.points * fmin (1, 2 * table[_i].spacing_rbws);
  for (guint i = 0; i < s.points; i++)
    sum += pow (10, level[i] / 10);
  sp_outside ("mean power of noise", "calculated; five standard errors", 10 * log10 (sum / s.points), -90 + table[_i].mean_db,
              5 * 4.343 * table[_i].spread / sqrt (independent));
}
END_TEST

START_TEST (a_logarithmic_average_reads_low)
{
  SimChance chance = sim_chance (3);
  SimSettings s = wide;
  g_autofree double *level = g_new (double, s.points);
  s.detector = SP_DETECTOR_SAMPLE;
  sim_receive (&chance, &s, 0, NULL, -90, level);
  double log_sum = 0, voltage_sum = 0;
  for (guint i = 0; i < s.points; i++) {
    log_sum += level[i];
    voltage_sum += pow (10, level[i] / 20);
  }
  sp_outside ("log average of noise", "calculated: 10 lg e^gamma; five standard errors", log_sum / s.points, -90 - 2.50682,
              5 * 5.57 / sqrt (s.points));
  sp_outside ("voltage average of noise", "calculated: 10 lg(pi/4); five standard errors", 20 * log10 (voltage_sum / s.points),
              -90 - 1.0491, 5 * 4.54 / sqrt (s.points));
}
END_TEST

/* How many looks are independent follows from the sweep's speed: the greatest of a bucket grows as it slows, and is somewhat more than that of
 * independent ones, because it is found between them too. */
START_TEST (slower_sweeps_look_oftener)
{
  double mean[3], rate[3] = { 0.5, 0.25, 0.125 };
  for (guint k = 0; k < 3; k++) {
    SimChance chance = sim_chance (11 + k);
    SimSettings s = wide;
    g_autofree double *level = g_new (double, s.points);
    s.detector = SP_DETECTOR_PEAK;
    s.rbw_hz = 50;
    s.rate = rate[k];
    sim_receive (&chance, &s, 0, NULL, 0, level);
    mean[k] = 0;
    for (guint i = 0; i < s.points; i++)
      mean[k] += pow (10, level[i] / 10) / s.points;
    double least = 0; /* 1 + 1/2 + ... of as many looks as there are inverse noise bandwidths in a bucket */
    for (guint m = 1; m <= round (1.0645 / rate[k]); m++)
      least += 1. / m;
    ck_assert_double_ge (mean[k], least - 0.02);
    ck_assert_double_le (mean[k], least * 1.6);
  }
  ck_assert_double_gt (mean[1], mean[0] + 0.3);
  ck_assert_double_gt (mean[2], mean[1] + 0.3);
}
END_TEST

START_TEST (the_filter_is_gaussian)
{
  SimChance chance = sim_chance (5);
  SimSettings s = { 1e6, 1.1e6, 101, 4e3, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, FALSE, 0.01 };
  SimLine line = { 1.05e6, -30, 1 };
  double level[101];
  sim_receive (&chance, &s, 1, &line, -200, level);
  sp_outside ("line on a point", "calculated", level[50], -30, 1e-6);
  sp_outside ("line half an RBW away", "definition of the 3 dB bandwidth", level[52], -33.0103, 1e-4);
  sp_outside ("line one RBW away", "calculated: Gaussian filter", level[54], -42.0412, 1e-4);
  sp_outside ("noise bandwidth of a Gaussian filter", "calculated: sqrt(pi/(4 ln 2))", sim_noise_bandwidth_ratio (), 1.0644670, 1e-5);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/instrument");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 60);
  tcase_add_loop_test (c, products_have_their_slope_and_intercept, 2, SIM_DEGREE + 1);
  tcase_add_loop_test (c, products_turn_with_the_carrier, 2, SIM_DEGREE + 1);
  tcase_add_test (c, parts_add_as_voltages);
  tcase_add_loop_test (c, noise_reads_as_it_should, 0, 5);
  tcase_add_test (c, a_logarithmic_average_reads_low);
  tcase_add_test (c, slower_sweeps_look_oftener);
  tcase_add_test (c, the_filter_is_gaussian);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
