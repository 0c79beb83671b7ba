/* The emissions with a width against what is known of modulation, filters and noise, before anything is judged by them. */
#include "tests/simulate/emit.h"
#include "tests/suite.h"

#define BESSEL "calculated: Bessel functions"

static double
line_dbc (const SimEmission *e, double offset_hz)
{
  g_autoptr (GArray) lines = sim_emission_lines (e, 1);
  for (guint i = 0; i < lines->len; i++) {
    const SimLine *line = &g_array_index (lines, SimLine, i);
    if (fabs (line->frequency_hz - e->frequency_hz - offset_hz) < 1e-3)
      return line->level_dbm - e->level_dbm;
  }
  return -INFINITY;
}

static double
share_within (const SimEmission *e, double half_hz)
{
  g_autoptr (GArray) lines = sim_emission_lines (e, 1);
  double sum = 0;
  for (guint i = 0; i < lines->len; i++) {
    const SimLine *line = &g_array_index (lines, SimLine, i);
    if (fabs (line->frequency_hz - e->frequency_hz) < half_hz + 1e-3)
      sum += pow (10, (line->level_dbm - e->level_dbm) / 10);
  }
  return sum;
}

static SimEmission
fm (double index)
{
  return (SimEmission){ SIM_FM_TONE, 100e6, -20, 1e3, index * 1e3, 0, 0 };
}

START_TEST (the_lines_of_fm)
{
  static const double at_one[] = { -2.3245, -7.1299, -18.7933, -34.1711, -52.1227 };
  static const struct {
    double index;
    guint n;
    double share;
  } within[] = {
    { 1, 0, .585527 }, { 1, 1, .972817 }, { 1, 2, .999222 }, { 2, 0, .050127 }, { 2, 1, .715350 },
    { 2, 2, .964334 }, { 2, 3, .997587 }, { 5, 4, .822823 }, { 5, 5, .959211 }, { 5, 6, .993559 },
  };
  SimEmission one = fm (1);
  for (guint k = 0; k < G_N_ELEMENTS (at_one); k++)
    sp_outside ("a line of FM", BESSEL, line_dbc (&one, k * 1e3), at_one[k], 1e-4);
  for (guint k = 0; k < G_N_ELEMENTS (within); k++) {
    SimEmission e = fm (within[k].index);
    sp_outside ("power within n lines of FM", BESSEL, share_within (&e, within[k].n * 1e3), within[k].share, 1e-6);
  }
  for (double index = 0.3; index < 60; index *= 1.7) {
    SimEmission e = fm (index);
    sp_outside ("power of all lines of FM", "calculated: sum of J_k^2 = 1", share_within (&e, INFINITY), 1, 2e-6);
  }
  static const double whole[] = { 1, 2, 3, 5, 10, 15, 50 };
  for (guint k = 0; k < G_N_ELEMENTS (whole); k++) {
    SimEmission e = fm (whole[k]);
    double carson = share_within (&e, e.deviation_hz + e.tone_hz);
    sp_outside ("power within Carson's width, at least 98 %", "Carson's rule", fmin (carson, 0.98), 0.98, 1e-3);
  }
  SimEmission null = fm (2.404825557695771);
  ck_assert_double_lt (line_dbc (&null, 0), -120);
}
END_TEST

START_TEST (the_width_of_fm)
{
  static const struct {
    double index;
    guint n;
  } table[] = {
    { .25, 1 }, { .5, 1 }, { 1, 2 }, { 1.5, 2 }, { 2, 3 }, { 2.404826, 3 }, { 3, 4 }, { 3.831706, 5 }, { 5, 6 }, { 5.52, 7 },
  };
  for (guint k = 0; k < G_N_ELEMENTS (table); k++) {
    SimEmission e = fm (table[k].index);
    sp_outside ("99 % width of FM by a tone, 2 n f", BESSEL, sim_emission_width_hz (&e), 2e3 * table[k].n, 1);
  }
}
END_TEST

/* Deviation is n-fold at the nth harmonic; speech at 3 kHz rms is nearly as wide as a Gaussian of that sigma; its envelope is constant, so
 * that its mean power is what was asked for. */
START_TEST (harmonics_are_wider)
{
  SimEmission carrier = { SIM_FM_SPEECH, 10e6, 37, 0, 2e3, 0, 0 };
  for (guint order = 1; order <= 10; order += 3) {
    SimEmission e = sim_emission_harmonic (&carrier, order, -10);
    ck_assert_double_eq_tol (share_within (&e, INFINITY), 1, 1e-3);
    double sum = 0;
    g_autoptr (GArray) lines = sim_emission_lines (&e, 1);
    for (guint i = 0; i < lines->len; i++) {
      const SimLine *line = &g_array_index (lines, SimLine, i);
      sum += pow (line->frequency_hz - e.frequency_hz, 2) * pow (10, (line->level_dbm - e.level_dbm) / 10);
    }
    sp_outside ("rms width of FM", "calculated: variance of the momentary frequency", sqrt (sum), order * 2e3, order * 40.);
    ck_assert_double_eq_tol (sim_emission_width_hz (&e) / (5.15 * 2e3 * order), 1, 0.2);
  }
  SimEmission am = { SIM_AM_TONE, 10e6, 0, 1e3, 0, 1, 0 };
  sp_outside ("sideband of AM, depth 1", "calculated", line_dbc (&am, 1e3) - line_dbc (&am, 0), -6.0206, 1e-4);
}
END_TEST

START_TEST (a_window_holds_its_share)
{
  SimEmission two = fm (2), flat = { SIM_NOISE_FLAT, 1e8, -30, 0, 0, 0, 1e6 }, gauss = { SIM_NOISE_GAUSS, 1e8, -30, 0, 0, 0, 5.1516586e5 };
  sp_outside ("FM in a window of three lines", BESSEL, sim_emission_in_dbm (&two, 2.5e3, TRUE), -20 + 10 * log10 (.715350), 1e-4);
  sp_outside ("FM in a window of one line", BESSEL, sim_emission_in_dbm (&two, 999, FALSE), -20 + 20 * log10 (.57672), 1e-3);
  sp_outside ("flat noise in a tenth of its width", "calculated", sim_emission_in_dbm (&flat, 1e5, FALSE), -40, 1e-9);
  sp_outside ("Gaussian noise within one sigma", "calculated: erf", sim_emission_in_dbm (&gauss, 2e5, FALSE), -30 + 10 * log10 (0.6826895),
              1e-6);
  ck_assert_double_eq (sim_emission_in_dbm (&flat, NAN, FALSE), -30);
  ck_assert_double_eq (sim_emission_in_dbm (&flat, 2e6, FALSE), -30);
}
END_TEST

static const SimEmission shapes[] = {
  { SIM_CW, 100e6, -20, 0, 0, 0, 0 },           { SIM_FM_TONE, 100e6, -20, 1e3, 5e3, 0, 0 },   { SIM_FM_TONE, 100e6, -20, 1e3, 50e3, 0, 0 },
  { SIM_FM_SPEECH, 100e6, -20, 0, 4e3, 0, 0 },  { SIM_AM_TONE, 100e6, -20, 1e3, 0, 0.8, 0 },   { SIM_KEYING, 100e6, -20, 1e3, 0, 0, 0 },
  { SIM_NOISE_FLAT, 100e6, -20, 0, 0, 0, 1e6 }, { SIM_NOISE_GAUSS, 100e6, -20, 0, 0, 0, 1e6 },
};
static const double ratios[] = { 1. / 100, 1. / 30, 1. / 10, 1. / 3, 1, 3, 10, 30 };

/* Of modulation sweeps so slow that several of its periods pass within an RBW; of noise as many looks as quick ones give. */
static double
mean_sum_dbm (const SimEmission *e, double rbw, double *tolerance_db)
{
  double width = fmax (sim_emission_width_hz (e), 100), half = fmax (2 * width, 4 * rbw), sum = 0;
  gboolean noise = e->kind == SIM_NOISE_FLAT || e->kind == SIM_NOISE_GAUSS,
           steady = e->deviation_hz > 0 && rbw > 2 * width; /* FM, all of it in sight */
  SimSettings s = { 100e6 - half,  100e6 + half,    1 + (guint) ceil (2 * half / (rbw / 2)),
                    rbw,           SP_DETECTOR_RMS, SP_AVERAGE_POWER,
                    noise ? 8 : 1, FALSE,           0.5 };
  guint runs = sim_many (noise ? 12 : 3, noise ? 400 : 12);
  if (!noise && !steady)
    s.rate = fmin (0.5, (e->tone_hz > 0 ? e->tone_hz : 500) / (3 * rbw));
  g_autofree double *level = g_new (double, s.points);
  for (guint i = 0; i < runs; i++) {
    sim_receive_emissions (i, &s, 1, e, -120, level);
    sum += pow (10, sim_sum_dbm (&s, level, s.start_hz, s.stop_hz) / 10) / runs;
  }
  /* A sweep sees at least one independent look of noise, and one for each noise bandwidth. */
  double looks = runs * s.averages * fmax (1, width / rbw);
  *tolerance_db = 0.1 + (noise ? 5 * 4.343 / sqrt (looks) : 0);
  return 10 * log10 (sum);
}

START_TEST (the_sum_is_the_power)
{
  const SimEmission *e = &shapes[_i];
  for (guint k = e->kind == SIM_CW ? 4 : 0; k < G_N_ELEMENTS (ratios); k++) {
    double rbw = fmax (sim_emission_width_hz (e), 1e3) * ratios[k], tolerance, got = mean_sum_dbm (e, rbw, &tolerance);
    g_autofree char *what = g_strdup_printf ("%s, summed over NBW, RBW %.3g kHz", sim_kind_name (e->kind), rbw / 1e3);
    sp_outside (what, "its whole mean power; 0.1 dB, of noise five standard errors more", got, e->level_dbm, tolerance);
  }
}
END_TEST

/* What noise-like emissions read has the law of noise, narrower than the filter or wider: exponential in power. */
START_TEST (noise_is_exponential)
{
  static const double rbws[] = { 3e3, 1e4, 1e5, 1e6, 1e7 };
  SimEmission e = { _i % 2 ? SIM_NOISE_GAUSS : SIM_NOISE_FLAT, 100e6, -20, 0, 0, 0, 1e6 };
  SimSettings s = { 100e6 - 1, 100e6 + 1, 3, rbws[_i / 2], SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, FALSE, 0.5 };
  guint n = sim_many (2000, 40000), above = 0;
  double sum = 0, square = 0, level[3];
  for (guint i = 0; i < n; i++) {
    sim_receive_emissions (i, &s, 1, &e, -140, level);
    double p = pow (10, level[1] / 10);
    sum += p / n;
    square += p * p / n;
  }
  for (guint i = 0; i < n; i++) {
    sim_receive_emissions (i, &s, 1, &e, -140, level);
    above += pow (10, level[1] / 10) > sum;
  }
  sp_outside ("scatter of noise over its mean", "calculated: exponential law; five standard errors", sqrt (square / (sum * sum) - 1), 1,
              5 * 2 / sqrt (n));
  sp_outside ("noise above its mean", "calculated: 1/e; five standard errors", (double) above / n, exp (-1), 5 * 0.5 / sqrt (n));
  if (e.kind == SIM_NOISE_FLAT && rbws[_i / 2] <= 1e5) {
    double density = -20 - 60 + 10 * log10 (1.0644670 * rbws[_i / 2]);
    sp_outside ("mean of flat noise in a filter", "calculated: density times sqrt(pi/(4 ln 2)) RBW; five standard errors", 10 * log10 (sum),
                density, 5 * 4.343 / sqrt (n));
  }
}
END_TEST

START_TEST (a_line_shows_the_filter)
{
  SimEmission line = { SIM_CW, 100e6, -20, 0, 0, 0, 0 };
  SimSettings s = { 100e6 - 50e3, 100e6 + 50e3, 401, 10e3, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, FALSE, 0.5 };
  double level[401], sum = 0;
  sim_receive_emissions (1, &s, 1, &line, -160, level);
  for (guint i = 0; i < s.points; i++)
    sum += pow (10, (level[i] + 20) / 10) * 250;
  sp_outside ("noise bandwidth of a Gaussian filter, by a line swept", "calculated: sqrt(pi/(4 ln 2))", sum / 10e3, 1.0644670, 1e-4);
}
END_TEST

/* Noise in windows of 1 to 1000 noise bandwidths: its mean is the density times the window, its scatter that of as many looks as the
 * sweep's time holds: T B^2 / integral of |H|^4 (root 2 noise bandwidths of a Gaussian filter), T the window over the sweep's speed. */
START_TEST (noise_in_windows)
{
  double rbw = 1e3, noise_bandwidth = 1.0644670 * rbw;
  SimSettings s = { 10e6, 10e6 + 1.2e6, 2401, rbw, SP_DETECTOR_RMS, SP_AVERAGE_POWER, 1, FALSE, 0.5 };
  guint n = sim_many (60, 2000);
  g_autofree double *level = g_new (double, s.points);
  double sum[4] = { 0 }, square[4] = { 0 };
  for (guint i = 0; i < n; i++) {
    sim_receive_emissions (100 + i, &s, 0, NULL, -90, level);
    for (guint k = 0; k < 4; k++) {
      double middle = 10.6e6, half = pow (10, k) * noise_bandwidth / 2;
      if (k == 0) /* on whole points */
        half = 500;
      double p = pow (10, (sim_sum_dbm (&s, level, middle - half + 1, middle + half) + 90) / 10) / (2 * half / noise_bandwidth);
      sum[k] += p / n;
      square[k] += p * p / n;
    }
  }
  for (guint k = 0; k < 4; k++) {
    double window = k ? pow (10, k) * noise_bandwidth : 1e3, looks = window / (0.5 * rbw * rbw) * G_SQRT2 * noise_bandwidth;
    double spacing_share = k ? 500 / window : 0; /* a window's ends fall between points */
    sp_outside ("mean power of noise in a window", "calculated: density times window; five standard errors", sum[k], 1,
                spacing_share + 5 / sqrt (looks * n));
    sp_outside ("scatter of noise in a window",
                "calculated: 1/sqrt(T B), B = root 2 noise bandwidths; five standard errors, one look's correlation 15 %",
                sqrt (square[k] - sum[k] * sum[k]) * sqrt (looks), 1, (k ? 0.05 : 0.25) + 5 / sqrt (2. * n) + spacing_share);
  }
}
END_TEST

/* Changing one emission leaves the others and the noise as they were. */
START_TEST (each_has_its_own_chance)
{
  SimSettings s = { 99e6, 101e6, 401, 10e3, SP_DETECTOR_RMS, SP_AVERAGE_POWER, 2, FALSE, 0.5 };
  SimEmission e[2] = { { SIM_NOISE_FLAT, 99.5e6, -60, 0, 0, 0, 3e4 }, { SIM_CW, 100.5e6, -60, 0, 0, 0, 0 } };
  double a[401], b[401];
  sim_receive_emissions (3, &s, 2, e, -100, a);
  e[1].level_dbm = -200;
  sim_receive_emissions (3, &s, 2, e, -100, b);
  for (guint i = 0; i < 280; i++)
    ck_assert_double_eq (a[i], b[i]);
  ck_assert_double_gt (a[300], b[300] + 20);
  sim_receive_emissions (3, &s, 0, NULL, -100, a);
  sim_receive_emissions (3, &s, 0, NULL, -130, b);
  for (guint i = 0; i < 401; i++)
    ck_assert_double_eq_tol (a[i] - b[i], 30, 1e-9);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/emissions");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 2400);
  tcase_add_test (c, the_lines_of_fm);
  tcase_add_test (c, the_width_of_fm);
  tcase_add_test (c, harmonics_are_wider);
  tcase_add_test (c, a_window_holds_its_share);
  tcase_add_loop_test (c, the_sum_is_the_power, 0, G_N_ELEMENTS (shapes));
  tcase_add_loop_test (c, noise_is_exponential, 0, 10);
  tcase_add_test (c, a_line_shows_the_filter);
  tcase_add_test (c, noise_in_windows);
  tcase_add_test (c, each_has_its_own_chance);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
