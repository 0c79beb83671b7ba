/* Detection against exact mathematics, scipy, and 100,000 simulated sweeps a law. */
#include "core/detection/detection.h"
#include "tests/suite.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_bessel.h>
#include <gsl/gsl_sf_expint.h>
#include <gsl/gsl_sf_gamma.h>

#define SAMPLE SP_DETECTOR_SAMPLE
#define PEAK SP_DETECTOR_PEAK
#define RMS SP_DETECTOR_RMS
#define AVERAGE SP_DETECTOR_AVERAGE
#define NONE SP_AVERAGE_NONE
#define POWER SP_AVERAGE_POWER
#define LOG SP_AVERAGE_LOG
#define VOLTAGE SP_AVERAGE_VOLTAGE

static const SpDetectorLaw one_look = { SAMPLE, NONE, 1, 1, FALSE };

START_TEST (noise_means)
{
  const SpDetectorLaw log10_ = { SAMPLE, LOG, 1, 10, FALSE }, voltage = { AVERAGE, NONE, 10, 1, FALSE },
                      power = { RMS, POWER, 4, 10, FALSE };

  sp_outside ("log average of noise", "calculated: -10 lg e^gamma", sp_law_noise_mean_db (&log10_), -2.506816, 5e-7);
  sp_outside ("voltage average of noise", "calculated: 10 lg(pi/4)", sp_law_noise_mean_db (&voltage), -1.049101, 5e-7);
  sp_outside ("power average of noise", "calculated: 0 dB", sp_law_noise_mean_db (&power), 0, 1e-12);
}
END_TEST

START_TEST (peak_means)
{
  static const struct {
    double looks, mean;
  } table[] = { { 1, 0 }, { 2, 1.7609 }, { 4, 3.1876 }, { 10, 4.6671 }, { 30, 6.0152 }, { 100, 7.1495 }, { 1000, 8.7422 } };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    SpDetectorLaw law = { PEAK, NONE, table[i].looks, 1, FALSE };
    sp_outside ("positive peak of noise", "calculated: 10 lg(1 + 1/2 + ... + 1/N)", sp_law_noise_mean_db (&law), table[i].mean, 5e-5);
  }
}
END_TEST

START_TEST (thresholds)
{
  double t1001 = sp_law_threshold_db (&one_look, 1001), t3 = sp_law_threshold_db (&one_look, 3);

  sp_outside ("threshold, 1001 samples", "calculated: 10 lg(-ln(1 - 0.99^(1/1001)))", t1001, 10 * log10 (-log (1 - pow (0.99, 1 / 1001.))),
              1e-6);
  sp_outside ("threshold, 3 samples", "calculated: 10 lg(-ln(1 - 0.99^(1/3)))", t3, 10 * log10 (-log (1 - pow (0.99, 1 / 3.))), 1e-6);
  sp_outside ("detection limit, 1001 samples", "calculated: noncentral chi-square, 2 degrees of freedom",
              sp_law_detection_limit_db (&one_look, t1001), 13.5, 0.05);
  sp_outside ("detection limit, 3 samples", "calculated: noncentral chi-square, 2 degrees of freedom",
              sp_law_detection_limit_db (&one_look, t3), 11.4, 0.05);
}
END_TEST

/* Mean of two: the sum at its hardest. P(mean ln > ln t) = 2t K1(2t); of two amplitudes by scipy below. */
START_TEST (mean_of_two_logarithms)
{
  const SpDetectorLaw law = { SAMPLE, LOG, 1, 2, FALSE };

  for (double db = -12; db <= 11; db += 1) {
    double t = pow (10, db / 10), exact = 2 * t * gsl_sf_bessel_K1 (2 * t);
    sp_outside ("log average of two", "calculated: 2t K1(2t)", sp_law_exceed (&law, db, -INFINITY), exact, 1e-7 * exact);
  }
}
END_TEST

START_TEST (near_noise_power)
{
  static const struct {
    double d, correction;
  } table[] = { { 1, -6.8683 }, { 2, -4.3292 }, { 3, -3.0206 }, { 4, -2.2048 }, { 5, -1.6509 }, { 6, -1.2563 }, { 7, -.9665 },
                { 8, -.7494 },  { 9, -.5844 },  { 10, -.4576 }, { 12, -.2830 }, { 15, -.1396 }, { 20, -.0436 } };
  const SpDetectorLaw law = { SAMPLE, POWER, 1, 10, FALSE };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    double correction, u;
    sp_law_near_noise (&law, table[i].d, &correction, &u);
    sp_outside ("power average near noise", "calculated: 10 lg(1 - 10^(-d/10))", correction, table[i].correction, 5e-5);
  }
}
END_TEST

START_TEST (near_noise_log)
{
  static const struct {
    double snr, error, height;
  } table[] = { { -10, 7.9169, .4237 }, { -6, 4.5192, 1.0260 }, { -3, 2.4248, 1.9316 }, { 0, .9528, 3.4596 },
                { 1, .6271, 4.1339 },   { 2, .3832, 4.8900 },   { 3, .2138, 5.7206 },   { 4, .1065, 6.6133 },
                { 5, .0461, 7.5530 },   { 6, .0168, 8.5236 },   { 8, .0011, 10.5079 },  { 10, 0, 12.5068 } };
  const SpDetectorLaw law = { SAMPLE, LOG, 1, 10, FALSE };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++) {
    double reading = table[i].snr + 10 / M_LN10 * gsl_sf_expint_E1 (pow (10, table[i].snr / 10)), correction, u;
    sp_law_near_noise (&law, reading, &correction, &u);
    sp_outside ("log average near noise", "calculated: 10/ln 10 E1(SNR)", -correction, table[i].error, 6e-5);
    sp_outside ("its height over displayed noise", "calculated: SNR + 10/ln 10 E1(SNR) over -10 lg e^gamma",
                reading - sp_law_noise_mean_db (&law), table[i].height, 6e-5);
  }
}
END_TEST

/* Rice's mean amplitude: sqrt(pi)/2 e^(-s/2) ((1 + s) I0(s/2) + s I1(s/2)) in units of the noise's rms. */
START_TEST (near_noise_voltage)
{
  const SpDetectorLaw law = { AVERAGE, NONE, 6, 1, FALSE };

  for (double snr = -6; snr <= 20; snr += 2) {
    double s = pow (10, snr / 10),
           mean = sqrt (M_PI) / 2 * ((1 + s) * gsl_sf_bessel_I0_scaled (s / 2) + s * gsl_sf_bessel_I1_scaled (s / 2)), correction, u;
    sp_law_near_noise (&law, 20 * log10 (mean), &correction, &u);
    sp_outside ("voltage average near noise", "calculated: Rice's mean", 20 * log10 (mean) + correction, snr, 1e-5);
  }
}
END_TEST

START_TEST (sampling_loss)
{
  static const struct {
    double s, loss;
  } sample[] = { { 1 / 3., .3345 }, { 0.5, .7526 }, { 1, 3.0103 } };

  for (guint i = 0; i < G_N_ELEMENTS (sample); i++)
    sp_outside ("worst loss between samples", "calculated: 12.0412 (s/2B)^2",
                sp_sampling_loss_db (SAMPLE, LOG, sample[i].s * 1e4, 1e4, 1.0644670), sample[i].loss, 5e-5);
  sp_outside ("rms loss, wide buckets", "calculated: 10 lg(s/NBW) + 3.01", sp_sampling_loss_db (RMS, NONE, 40, 1, 1.0644670),
              10 * log10 (40 / 1.0644670) + 3.0103, 1e-4);
}
END_TEST

/* -- scipy, run here -- */

static double *
scipy (const char *script, guint n)
{
  g_autofree char *out = NULL, *errors = NULL;
  g_autoptr (GError) error = NULL;
  const char *argv[] = { "/usr/bin/python3", "-c", script, NULL };
  double *values = g_new (double, n);
  int status;

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, &errors, &status, &error);
  sp_no_error (error);
  ck_assert_msg (status == 0, "python3-scipy is needed: %s", errors);
  char *at = out;
  for (guint i = 0; i < n; i++) {
    char *end;
    values[i] = g_ascii_strtod (at, &end);
    ck_assert_msg (end != at, "scipy gave fewer than %u numbers", n);
    at = end;
  }
  return values;
}

START_TEST (against_scipy)
{
  static const double looks[] = { 1, 2.5, 10, 300 }, signal[] = { -10, 0, 10, 25 }, off[] = { -0.9, -0.3, 0, 0.3, 0.9, 2.5 };
  g_autofree double *sf = scipy ("from scipy.stats import ncx2\n"
                                 "for m in (1, 2.5, 10, 300):\n"
                                 "  for s in (-10, 0, 10, 25):\n"
                                 "    for o in (-.9, -.3, 0, .3, .9, 2.5):\n"
                                 "      S = 10**(s/10); print(ncx2.sf(2*m*(1+S)*10**(o/10), 2*m, 2*m*S))\n",
                                 4 * 4 * 6);
  guint k = 0;

  for (guint i = 0; i < 4; i++)
    for (guint j = 0; j < 4; j++)
      for (guint l = 0; l < 6; l++, k++) {
        SpDetectorLaw law = { RMS, NONE, looks[i], 1, FALSE };
        double t = 10 * log10 (1 + pow (10, signal[j] / 10)) + off[l];
        sp_outside ("mean of powers, with signal", "scipy.stats.ncx2.sf, run in the test", sp_law_exceed (&law, t, signal[j]), sf[k],
                    1e-10 + 1e-7 * sf[k]);
      }
}
END_TEST

START_TEST (means_of_two_amplitudes)
{
  const SpDetectorLaw law = { SAMPLE, VOLTAGE, 1, 2, FALSE };
  g_autofree double *sf = scipy ("from scipy.integrate import quad\nfrom math import exp\n"
                                 "for db in range(-12, 12):\n"
                                 "  y = 2*10**(db/20)\n"
                                 "  print(quad(lambda r: 2*r*exp(-r*r-(y-r)**2), 0, y, epsabs=0)[0] + exp(-y*y))\n",
                                 24);

  for (int db = -12; db < 12; db++)
    sp_outside ("voltage average of two", "scipy.integrate.quad, run in the test", sp_law_exceed (&law, db, -INFINITY), sf[db + 12],
                1e-6 * sf[db + 12]);
}
END_TEST

/* -- simulation -- */

static double
look (gsl_rng *rng, double amplitude)
{
  double re = amplitude + gsl_ran_gaussian_ziggurat (rng, M_SQRT1_2), im = gsl_ran_gaussian_ziggurat (rng, M_SQRT1_2);
  return re * re + im * im;
}

/* One sweep's reading at a point. Of a peak's looks the first holds the signal. */
static double
sweep_power (gsl_rng *rng, const SpDetectorLaw *law, double amplitude)
{
  int looks = (int) law->looks;
  double sum = 0, top = 0;

  if (law->detector == SAMPLE)
    return look (rng, amplitude);
  for (int i = 0; i < looks; i++) {
    double x = look (rng, law->detector == PEAK && i > 0 ? 0 : amplitude);
    top = fmax (top, x);
    sum += law->detector == RMS ? x : law->average == LOG ? log (x) : law->average == POWER ? x : sqrt (x);
  }
  sum /= looks;
  return law->detector == PEAK ? top : law->detector == RMS || law->average == POWER ? sum : law->average == LOG ? exp (sum) : sum * sum;
}

static double
reading_db (gsl_rng *rng, const SpDetectorLaw *law, double amplitude)
{
  double sum = 0, top = 0;

  for (int i = 0; i < (int) law->averages; i++) {
    double x = sweep_power (rng, law, amplitude);
    top = fmax (top, x);
    sum += law->average == LOG ? log (x) : law->average == VOLTAGE ? sqrt (x) : x;
  }
  sum /= law->averages;
  return 10 * log10 (law->max_hold ? top : law->average == LOG ? exp (sum) : law->average == VOLTAGE ? sum * sum : sum);
}

#define SWEEPS 100000
#define POINTS 5

static const struct {
  const char *name;
  SpDetectorLaw law;
} simulated[] = {
  { "sample", { SAMPLE, NONE, 1, 1, FALSE } },
  { "peak, 4 looks", { PEAK, NONE, 4, 1, FALSE } },
  { "rms, 5 looks", { RMS, NONE, 5, 1, FALSE } },
  { "power average of 10", { SAMPLE, POWER, 1, 10, FALSE } },
  { "log average of 10", { SAMPLE, LOG, 1, 10, FALSE } },
  { "log average of 2", { SAMPLE, LOG, 1, 2, FALSE } },
  { "voltage average of 10", { SAMPLE, VOLTAGE, 1, 10, FALSE } },
  { "max hold of 5", { SAMPLE, NONE, 1, 5, TRUE } },
  { "voltage average in the bucket, 7 looks", { AVERAGE, NONE, 7, 1, FALSE } },
  { "log average of 4 rms of 3", { RMS, LOG, 3, 4, FALSE } },
  { "power average of 3 peaks of 4", { PEAK, POWER, 4, 3, FALSE } },
  { "max hold of 3 log averages of 4", { AVERAGE, LOG, 4, 3, TRUE } },
};

static void
check_rate (const char *what, const char *law, guint count, double p)
{
  g_autofree char *name = g_strdup_printf ("%s: %s", law, what);
  sp_near (name, "100,000 simulated sweeps, seeded, 4.5 standard deviations", count, SWEEPS * p, 4.5 * sqrt (SWEEPS * p * (1 - p)));
}

START_TEST (simulation)
{
  const SpDetectorLaw *law = &simulated[_i].law;
  double threshold = sp_law_threshold_db (law, POINTS), limit = sp_law_detection_limit_db (law, threshold),
         amplitude = pow (10, limit / 20);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  guint alarms = 0, missed = 0;

  gsl_rng_set (rng, 20240 + _i);
  for (guint i = 0; i < SWEEPS; i++) {
    gboolean alarm = FALSE;
    for (guint j = 0; j < POINTS; j++)
      alarm |= reading_db (rng, law, 0) > threshold;
    alarms += alarm;
    missed += reading_db (rng, law, amplitude) <= threshold;
  }
  gsl_rng_free (rng);
  check_rate ("false alarms", simulated[_i].name, alarms, SP_FALSE_ALARM);
  check_rate ("misses at the detection limit", simulated[_i].name, missed, 1 - SP_DETECTION);
}
END_TEST

/* The u that near_noise states against the scatter of corrected readings of a signal 3 dB over the mean noise. */
START_TEST (simulated_u)
{
  static const SpDetectorLaw laws[] = {
    { SAMPLE, POWER, 1, 40, FALSE }, { SAMPLE, LOG, 1, 40, FALSE }, { AVERAGE, NONE, 40, 1, FALSE }, { RMS, LOG, 5, 8, FALSE }
  };
  const SpDetectorLaw *law = &laws[_i];
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  double s0 = 0, s1 = 0, s2 = 0, mean = 0, stated = 0, correction, u;

  gsl_rng_set (rng, 77 + _i);
  for (; s0 < 400; s0++) {
    double level = reading_db (rng, law, pow (10, 3 / 20.));
    sp_law_near_noise (law, level, &correction, &u);
    s1 += level + correction;
    s2 += (level + correction) * (level + correction);
    stated += u;
  }
  gsl_rng_free (rng);
  mean = s1 / s0;
  double spread = sqrt (s2 / s0 - mean * mean);
  sp_near ("u of corrected readings near noise", "400 simulated readings, 15 %", stated / s0, spread, 0.15 * spread);
  sp_near ("mean of corrected readings near noise", "400 simulated readings, 5 standard errors and the curvature", mean, 3,
           5 * spread / sqrt (s0) + 0.5 * spread * spread / 8.7);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/detection");
  TCase *c = tcase_create ("all");

  tcase_set_timeout (c, 120);
  tcase_add_test (c, noise_means);
  tcase_add_test (c, peak_means);
  tcase_add_test (c, thresholds);
  tcase_add_test (c, mean_of_two_logarithms);
  tcase_add_test (c, near_noise_power);
  tcase_add_test (c, near_noise_log);
  tcase_add_test (c, near_noise_voltage);
  tcase_add_test (c, sampling_loss);
  tcase_add_test (c, against_scipy);
  tcase_add_test (c, means_of_two_amplitudes);
  tcase_add_loop_test (c, simulation, 0, G_N_ELEMENTS (simulated));
  tcase_add_loop_test (c, simulated_u, 0, 4);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
