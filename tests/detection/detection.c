#include "core/detection/band.h"
#include "tests/suite.h"

static const SpDetectorLaw laws[] = {
  { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 1, FALSE },    { SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 4, 1, FALSE },
  { SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1e5, 1, FALSE },    { SP_DETECTOR_RMS, SP_AVERAGE_NONE, 5.5, 1, FALSE },
  { SP_DETECTOR_SAMPLE, SP_AVERAGE_POWER, 1, 10, FALSE },  { SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 1, 10, FALSE },
  { SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 1, 2, FALSE },     { SP_DETECTOR_SAMPLE, SP_AVERAGE_VOLTAGE, 1, 100, FALSE },
  { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 5, TRUE },     { SP_DETECTOR_AVERAGE, SP_AVERAGE_NONE, 1.2, 1, FALSE },
  { SP_DETECTOR_AVERAGE, SP_AVERAGE_LOG, 7, 1000, FALSE }, { SP_DETECTOR_RMS, SP_AVERAGE_LOG, 50, 20, FALSE },
  { SP_DETECTOR_PEAK, SP_AVERAGE_POWER, 4, 10, FALSE },    { SP_DETECTOR_PEAK, SP_AVERAGE_LOG, 300, 3, FALSE },
  { SP_DETECTOR_AVERAGE, SP_AVERAGE_LOG, 3, 6, TRUE },     { SP_DETECTOR_PEAK, SP_AVERAGE_VOLTAGE, 1.3, 4, TRUE },
};

/* A quantile is the inverse of the tail, a threshold n points' worth of it, a limit that of the probability of detection. */
START_TEST (inverses)
{
  static const double ps[] = { 1e-4, 0.2, 0.5, 0.9, 0.9999 }, ns[] = { 1, 3, 1001, 1e6 };
  const SpDetectorLaw *law = &laws[_i];

  for (guint i = 0; i < G_N_ELEMENTS (ps); i++)
    ck_assert_double_eq_tol (sp_law_exceed (law, sp_law_noise_quantile_db (law, ps[i]), -INFINITY), 1 - ps[i],
                             1e-5 * fmin (ps[i], 1 - ps[i]));
  for (guint i = 0; i < G_N_ELEMENTS (ns); i++) {
    double threshold = sp_law_threshold_db (law, ns[i]), one = sp_law_exceed (law, threshold, -INFINITY),
           limit = sp_law_detection_limit_db (law, threshold);
    ck_assert_double_eq_tol (-expm1 (ns[i] * log1p (-one)), SP_FALSE_ALARM, 1e-5 * SP_FALSE_ALARM);
    ck_assert (isfinite (limit));
    ck_assert_double_eq_tol (sp_law_exceed (law, threshold, limit), SP_DETECTION, 1e-5);
  }
}
END_TEST

/* Tails fall with the threshold and rise with the signal, from 1 to 0, wherever one looks. */
START_TEST (monotonic)
{
  const SpDetectorLaw *law = &laws[_i];

  for (double signal = -30; signal <= 50; signal += 35)
    for (double last = 1, t = -90; t <= 70; t += 5.3) {
      double p = sp_law_exceed (law, t, signal), more = sp_law_exceed (law, t, signal + 1);
      ck_assert_msg (p >= 0 && p <= last + 1e-9, "at %g dB, signal %g dB: %g after %g", t, signal, p, last);
      ck_assert_msg (more >= p - 1e-9, "at %g dB, signal %g dB: %g, 1 dB more %g", t, signal, p, more);
      last = p;
    }
  ck_assert_double_ge (sp_law_exceed (law, -60, 10), 1 - 1e-6);
  ck_assert_double_le (sp_law_exceed (law, 60, 10), 1e-6);
}
END_TEST

/* One look is one look whatever it is called, and a mean of means is a mean. */
START_TEST (same_by_other_names)
{
  static const struct {
    SpDetectorLaw a, b;
  } pairs[] = {
    { { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 9, 1, FALSE }, { SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, 1, FALSE } },
    { { SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 1, 1, FALSE }, { SP_DETECTOR_RMS, SP_AVERAGE_NONE, 1, 1, FALSE } },
    { { SP_DETECTOR_RMS, SP_AVERAGE_POWER, 3, 4, FALSE }, { SP_DETECTOR_AVERAGE, SP_AVERAGE_POWER, 12, 1, FALSE } },
    { { SP_DETECTOR_AVERAGE, SP_AVERAGE_LOG, 3, 4, FALSE }, { SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 1, 12, FALSE } },
    { { SP_DETECTOR_AVERAGE, SP_AVERAGE_NONE, 6, 1, FALSE }, { SP_DETECTOR_SAMPLE, SP_AVERAGE_VOLTAGE, 1, 6, FALSE } },
    { { SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, 6, TRUE }, { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 6, TRUE } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    for (double t = -5; t < 15; t += 3)
      ck_assert_double_eq_tol (sp_law_exceed (&pairs[i].a, t, 6), sp_law_exceed (&pairs[i].b, t, 6), 1e-12);
}
END_TEST

/* The integral against the closed gamma law: greatest of hardly more than one look is one look, averaged. */
START_TEST (integral_against_closed_form)
{
  const SpDetectorLaw by_integral = { SP_DETECTOR_PEAK, SP_AVERAGE_POWER, 1 + 1e-9, 10, FALSE },
                      closed = { SP_DETECTOR_SAMPLE, SP_AVERAGE_POWER, 1, 10, FALSE };

  for (double signal = -20; signal < 20; signal += 7)
    for (double t = -4; t < 14; t += 0.5) {
      double want = sp_law_exceed (&closed, t, signal);
      ck_assert_double_eq_tol (sp_law_exceed (&by_integral, t, signal), want, 1e-6 * want + 1e-12);
    }
}
END_TEST

START_TEST (no_limit_under_the_noise)
{
  ck_assert (sp_law_detection_limit_db (&laws[0], -40) == -INFINITY);
  ck_assert (isnan (sp_law_detection_limit_db (&laws[0], NAN)));
}
END_TEST

/* Settings out of a broken file must not take forever, nor give no number. */
START_TEST (absurd_numbers)
{
  static const double sizes[] = { 1, 150, 1e5, 1e9 };
  static const SpDetector detectors[] = { SP_DETECTOR_SAMPLE, SP_DETECTOR_PEAK, SP_DETECTOR_RMS, SP_DETECTOR_AVERAGE };

  for (guint i = 0; i < 4 * 4 * 4 * 4 * 2; i++) {
    SpDetectorLaw law = { detectors[i % 4], i / 4 % 4, sizes[i / 16 % 4], sizes[i / 64 % 4], i / 256 };
    double threshold = sp_law_threshold_db (&law, 1e6), limit = sp_law_detection_limit_db (&law, threshold), correction, u;
    ck_assert_msg (isfinite (threshold) && isfinite (limit), "law %u: threshold %g, limit %g", i, threshold, limit);
    for (double reading = threshold; reading < 90; reading += 30) {
      sp_law_near_noise (&law, reading, &correction, &u);
      ck_assert_msg (isfinite (correction) && u > 0 && isfinite (u), "law %u at %g dB: %g, u %g", i, reading, correction, u);
    }
  }
}
END_TEST

/* Where the short way of a strong signal takes over, nothing jumps. */
START_TEST (far_over_noise)
{
  double c1, u1, c2, u2, last = -INFINITY;

  sp_law_near_noise (&laws[_i], 39.9999, &c1, &u1);
  sp_law_near_noise (&laws[_i], 40.0001, &c2, &u2);
  ck_assert_double_eq_tol (c1, c2, 1e-3);
  ck_assert_double_eq_tol (u1, u2, 2e-2 * u1);
  for (double reading = 3; reading < 45; reading += 3) {
    sp_law_near_noise (&laws[_i], reading, &c1, &u1);
    ck_assert (c1 <= 0 && c1 >= last - 1e-6 && u1 > 0);
    last = c1;
  }
}
END_TEST

START_TEST (nothing_under_the_displayed_noise)
{
  double correction, u;

  sp_law_near_noise (&laws[5], -2.6, &correction, &u);
  ck_assert (correction == -INFINITY && u == INFINITY);
  sp_law_near_noise (&laws[4], 0, &correction, &u);
  ck_assert (correction == -INFINITY && u == INFINITY);
  sp_law_near_noise (&laws[5], -2.4, &correction, &u);
  ck_assert (isfinite (correction) && isfinite (u));
}
END_TEST

START_TEST (law_of_settings)
{
  SpSettings settings = { .averages = NAN, .detector = SP_DETECTOR_PEAK };
  gboolean assumed;
  SpDetectorLaw law = sp_law_of (&settings, 3e4, 1e4, &assumed);

  ck_assert (!assumed && law.detector == SP_DETECTOR_PEAK && law.looks == 3 && law.averages == 1 && !law.max_hold);
  ck_assert (sp_law_of (&settings, 1e3, 1e4, &assumed).looks == 1);
  ck_assert (sp_law_of (&settings, 1e3, NAN, &assumed).looks == 1);
  settings.averages = 20;
  settings.average = SP_AVERAGE_LOG;
  settings.hold = SP_HOLD_MAX;
  law = sp_law_of (&settings, 3e4, 1e4, &assumed);
  ck_assert (!assumed && law.averages == 20 && law.max_hold && law.average == SP_AVERAGE_LOG);
}
END_TEST

START_TEST (normal_is_judged_as_peak_over_its_upper_half)
{
  SpSettings settings = { .detector = SP_DETECTOR_NORMAL, .averages = NAN };
  gboolean assumed;
  double rank, extra;
  ck_assert_int_eq (sp_law_of (&settings, 5e4, 1e4, &assumed).detector, SP_DETECTOR_PEAK);
  sp_noise_place (&settings, &rank, &extra);
  ck_assert (assumed && rank == 0.75 && extra == 0);
  settings.detector = SP_DETECTOR_NEGATIVE;
  sp_noise_place (&settings, &rank, &extra);
  ck_assert (rank == 0.5 && extra > 2);
  settings.detector = SP_DETECTOR_SAMPLE;
  sp_noise_place (&settings, &rank, &extra);
  ck_assert (rank == 0.5 && extra == 0);
}
END_TEST

/* An average of nobody says what is the one of its kinds that sees least over the noise it displays, and says so; stated it is what is stated. */
START_TEST (unsaid_average_is_the_worst)
{
  static const double looks[] = { 1.5, 6, 20 };
  for (guint j = 0; j < G_N_ELEMENTS (looks); j++) {
    SpSettings settings = { .detector = SP_DETECTOR_AVERAGE, .averages = NAN };
    gboolean assumed;
    SpDetectorLaw law = sp_law_of (&settings, looks[j] * 1e4, 1e4, &assumed);
    ck_assert (law.kind_open && law.average != SP_AVERAGE_NONE);
    double limit = sp_law_detection_limit_db (&law, sp_law_threshold_db (&law, 500)) - sp_law_noise_quantile_db (&law, 0.5);
    for (SpAverage kind = SP_AVERAGE_POWER; kind <= SP_AVERAGE_VOLTAGE; kind++) {
      settings.average = kind;
      SpDetectorLaw other = sp_law_of (&settings, looks[j] * 1e4, 1e4, &assumed);
      ck_assert (!other.kind_open && other.average == kind);
      ck_assert_double_ge (limit, sp_law_detection_limit_db (&other, sp_law_threshold_db (&other, 500))
                                      - sp_law_noise_quantile_db (&other, 0.5) - 1e-6);
    }
  }
}
END_TEST

/* The least of N single looks of noise is one look of an N-th of the power: all its quantiles lie 10 lg N lower. */
START_TEST (minimum_hold_of_noise)
{
  SpDetectorLaw one = { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 1, FALSE },
                least = { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 20, FALSE, TRUE };
  for (double p = 0.05; p < 1; p += 0.15)
    ck_assert_double_eq_tol (sp_law_noise_quantile_db (&least, p), sp_law_noise_quantile_db (&one, p) - 10 * log10 (20), 1e-5);
  /* What half of the held readings lie under is the level again. */
  double correction, u;
  for (double signal = 0; signal < 30; signal += 6) {
    double low = -60, high = 60;
    while (high - low > 1e-9)
      *(sp_law_exceed (&least, (low + high) / 2, signal) > 0.5 ? &low : &high) = (low + high) / 2;
    sp_law_near_noise (&least, low, &correction, &u);
    ck_assert_double_eq_tol (low + correction, signal, 1e-4);
    ck_assert (correction > 0 && u > 0);
  }
}
END_TEST

/* Not knowing must never promise more than knowing: over the displayed noise the assumed law's limit is the highest there is. */
START_TEST (assumed_law_is_the_worst)
{
  static const SpDetector unknown[] = { SP_DETECTOR_UNKNOWN, SP_DETECTOR_NEGATIVE, SP_DETECTOR_QUASI_PEAK };
  static const SpDetector known[] = { SP_DETECTOR_SAMPLE, SP_DETECTOR_PEAK, SP_DETECTOR_RMS, SP_DETECTOR_AVERAGE };
  static const double looks[] = { 0.5, 1.5, 20 };

  for (guint i = 0; i < G_N_ELEMENTS (unknown); i++)
    for (guint j = 0; j < G_N_ELEMENTS (looks); j++) {
      SpSettings settings = { .detector = unknown[i], .averages = NAN };
      gboolean assumed;
      SpDetectorLaw law = sp_law_of (&settings, looks[j] * 1e4, 1e4, &assumed);
      ck_assert (assumed);
      double limit = sp_law_detection_limit_db (&law, sp_law_threshold_db (&law, 500)) - sp_law_noise_quantile_db (&law, 0.5);
      for (guint k = 0; k < G_N_ELEMENTS (known); k++) {
        settings.detector = known[k];
        SpDetectorLaw other = sp_law_of (&settings, looks[j] * 1e4, 1e4, &assumed);
        ck_assert (!assumed);
        ck_assert_double_ge (limit, sp_law_detection_limit_db (&other, sp_law_threshold_db (&other, 500))
                                        - sp_law_noise_quantile_db (&other, 0.5) - 1e-6);
      }
    }
}
END_TEST

/* Simpson's rule over the Gaussian response, line at the bucket's edge. */
static double
bucket_loss (SpAverage kind, double s)
{
  double sum = 0;
  int n = 2000;

  for (int i = 0; i <= n; i++) {
    double db = -12.041199826559248 * pow (s * i / n, 2),
           g = kind == SP_AVERAGE_LOG ? db : pow (10, db / (kind == SP_AVERAGE_POWER ? 10 : 20));
    sum += g * (i == 0 || i == n ? 1 : i % 2 ? 4 : 2) / (3 * n);
  }
  return kind == SP_AVERAGE_LOG ? -sum : -(kind == SP_AVERAGE_POWER ? 10 : 20) * log10 (sum);
}

START_TEST (losses)
{
  const double ratio = 1.0644670194312262;

  for (double s = 0; s < 12; s += 0.4) {
    double rms = sp_sampling_loss_db (SP_DETECTOR_RMS, SP_AVERAGE_LOG, s * 1e4, 1e4, ratio),
           log_mean = sp_sampling_loss_db (SP_DETECTOR_AVERAGE, SP_AVERAGE_LOG, s * 1e4, 1e4, ratio),
           voltage = sp_sampling_loss_db (SP_DETECTOR_AVERAGE, SP_AVERAGE_VOLTAGE, s * 1e4, 1e4, ratio),
           unknown = sp_sampling_loss_db (SP_DETECTOR_UNKNOWN, SP_AVERAGE_NONE, s * 1e4, 1e4, ratio);
    ck_assert_double_eq_tol (rms, bucket_loss (SP_AVERAGE_POWER, s), 1e-6);
    ck_assert_double_eq_tol (voltage, bucket_loss (SP_AVERAGE_VOLTAGE, s), 1e-6);
    ck_assert_double_eq_tol (log_mean, bucket_loss (SP_AVERAGE_LOG, s), 1e-6);
    ck_assert (unknown >= fmax (fmax (rms, log_mean), voltage) - 1e-12);
    ck_assert (sp_sampling_loss_db (SP_DETECTOR_AVERAGE, SP_AVERAGE_POWER, s * 1e4, 1e4, ratio) == rms);
    ck_assert (sp_sampling_loss_db (SP_DETECTOR_AVERAGE, SP_AVERAGE_NONE, s * 1e4, 1e4, ratio) == fmax (fmax (rms, log_mean), voltage));
    ck_assert (sp_sampling_loss_db (SP_DETECTOR_PEAK, SP_AVERAGE_NONE, s * 1e4, 1e4, ratio) == 0);
    ck_assert (sp_sampling_loss_db (SP_DETECTOR_NEGATIVE, SP_AVERAGE_NONE, s * 1e4, 1e4, ratio) >= unknown);
  }
  ck_assert (sp_sampling_loss_db (SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, NAN, ratio) == INFINITY);
  ck_assert (sp_sampling_loss_db (SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, NAN, ratio) == 0);
}
END_TEST

#define TONES 200

/* The greatest rate at which the nth multiple of any tone that fills Carson's width moves: df/dt of n deviation sin (2 pi tone t) at t = 0. */
static double
greatest_rate_hz_s (double signal_hz, double order)
{
  double most = 0, t = 1e-9;
  for (int i = 1; i < TONES; i++) {
    double tone = signal_hz / 2 * i / TONES, deviation = signal_hz / 2 - tone;
    most = fmax (most, order * deviation * sin (2 * G_PI * tone * t) / t);
  }
  return most;
}

/* The filter follows RBW^2 and no more, whatever the modulation. */
START_TEST (a_slow_sweep_is_one_that_the_filter_follows)
{
  for (int order = 1; order <= 10; order++) {
    double signal = 16e3, follows = sqrt (greatest_rate_hz_s (signal, order));
    ck_assert (sp_band_is_slow (order * signal, signal, follows * 1.001));
    ck_assert (!sp_band_is_slow (order * signal, signal, follows * 0.999));
    ck_assert (order == 1 || !sp_band_is_slow (order * signal, 0, follows * 1.001)); /* no multiple: as wide a signal of its own */
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("detection/detection");
  TCase *c = tcase_create ("all");

  tcase_set_timeout (c, 120);
  tcase_add_loop_test (c, inverses, 0, G_N_ELEMENTS (laws));
  tcase_add_loop_test (c, monotonic, 0, G_N_ELEMENTS (laws));
  tcase_add_test (c, same_by_other_names);
  tcase_add_test (c, integral_against_closed_form);
  tcase_add_test (c, no_limit_under_the_noise);
  tcase_add_loop_test (c, far_over_noise, 0, G_N_ELEMENTS (laws));
  tcase_add_test (c, absurd_numbers);
  tcase_add_test (c, nothing_under_the_displayed_noise);
  tcase_add_test (c, law_of_settings);
  tcase_add_test (c, assumed_law_is_the_worst);
  tcase_add_test (c, unsaid_average_is_the_worst);
  tcase_add_test (c, minimum_hold_of_noise);
  tcase_add_test (c, normal_is_judged_as_peak_over_its_upper_half);
  tcase_add_test (c, losses);
  tcase_add_test (c, a_slow_sweep_is_one_that_the_filter_follows);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
