/* analyzer.c - noise, filters and products of a profile against application-note theory and closed forms */
#include <string.h>

#include "core/analyzer/analyzer.h"
#include "tests/analyzer/text.h"

START_TEST (noise_bandwidth)
{
  sp_outside ("noise over 3 dB bandwidth, Gaussian", "calculated: sqrt (pi / (4 ln 2))", sp_filter_nbw_ratio (SP_FILTER_GAUSSIAN),
              1.0644670, 5e-8);
  sp_outside ("the same, four poles", "calculated: pi C(6,3) / 4^3 / (2 sqrt (2^(1/4) - 1))", sp_filter_nbw_ratio (SP_FILTER_SYNC4),
              1.128499, 5e-7);
  for (int k = 0; k < 2; k++) /* 1.05 to 1.13 */
    sp_outside ("noise bandwidth of analog filters, middle of range", "common range of analog filters: 1.05 to 1.13",
                sp_filter_nbw_ratio ((SpFilter) k), 1.09, 0.04);
}
END_TEST

/* The ratio once more, by integrating the response that the code gives. */
START_TEST (noise_bandwidth_is_that_of_the_response)
{
  for (int k = 0; k < 2; k++) {
    double sum = 0, step = 1e-3;
    for (double x = step / 2; x < 50; x += step)
      sum += 2 * step * pow (10, sp_filter_response_db ((SpFilter) k, x, 1) / 10);
    sp_outside ("integral of the response", "calculated: midpoint sum to 50 bandwidths", sp_filter_nbw_ratio ((SpFilter) k), sum, 1e-6);
  }
}
END_TEST

/* Width between the -60 dB points of a filter of 3 dB width 1. */
static double
shape_factor (SpFilter filter)
{
  double low = 0, high = 100;
  for (int i = 0; i < 100; i++) {
    double middle = (low + high) / 2;
    if (sp_filter_response_db (filter, middle / 2, 1) > -60)
      low = middle;
    else
      high = middle;
  }
  return low;
}

START_TEST (responses)
{
  static const double gaussian[][2] = { { .1, .12041 }, { .25, .75257 },  { .5, 3.01030 }, { .75, 6.77317 },
                                        { 1, 12.0412 }, { 1.5, 27.0927 }, { 2, 48.1648 } };
  for (guint i = 0; i < G_N_ELEMENTS (gaussian); i++)
    sp_outside ("Gaussian filter, dB", "calculated: 12.0412 (df/B)^2",
                sp_filter_response_db (SP_FILTER_GAUSSIAN, gaussian[i][0] * 1e3, 1e3), -gaussian[i][1], 5.1e-5);
  sp_outside ("four poles, 3 kHz wide, at 4 kHz", "calculated: -40 lg ((f/f0)^2 + 1)", sp_filter_response_db (SP_FILTER_SYNC4, 4e3, 3e3),
              -14.80922, 5e-6);
  sp_outside ("four poles, 1 kHz wide, at 4 kHz", "calculated: -40 lg ((f/f0)^2 + 1)", sp_filter_response_db (SP_FILTER_SYNC4, 4e3, 1e3),
              -44.70312, 5e-6);
  sp_outside ("four poles at half the bandwidth", "definition of the 3 dB bandwidth", sp_filter_response_db (SP_FILTER_SYNC4, 500, 1e3),
              -3.0103, 1e-4);
  sp_outside ("four poles, 60 dB over 3 dB width", "calculated: sqrt ((10^(60/40) - 1) / (2^(1/4) - 1))", shape_factor (SP_FILTER_SYNC4),
              12.7219, 5e-5);
  sp_outside ("Gaussian, 60 dB over 3 dB width", "calculated: sqrt (60 / 3.0103)", shape_factor (SP_FILTER_GAUSSIAN), 4.46448, 5e-6);
}
END_TEST

START_TEST (noise_levels)
{
  double kt0 = 10 * log10 (1.380649e-23 * 290 / 1e-3);
  g_autofree char *text = g_strdup_printf ("[analyzer]\ndanl_dbm_hz=%.12g\nfilter=flat\n", kt0);
  g_autoptr (SpAnalyzer) perfect = analyzer_from (text);
  sp_outside ("noise of a perfect input in 1 Hz, dBm", "calculated: k T0, T0 = 290 K", sp_analyzer_noise_dbm (perfect, 1e8, 1, 0),
              -173.97519, 5e-6);
  sp_outside ("floor, ten times the bandwidth", "calculated: 10 lg (RBW2 / RBW1)",
              sp_analyzer_noise_dbm (perfect, 1e8, 1e4, 0) - sp_analyzer_noise_dbm (perfect, 1e8, 1e3, 0), 10, 1e-9);
  sp_outside ("floor, 10 dB more attenuation", "calculated: the attenuator divides the signal alone",
              sp_analyzer_noise_dbm (perfect, 1e8, 1e3, 10) - sp_analyzer_noise_dbm (perfect, 1e8, 1e3, 0), 10, 1e-9);
  sp_outside ("log average of noise below its power", "calculated: 10 lg e^gamma", SP_LOG_NOISE_DB, 2.506816, 5e-5);
}
END_TEST

START_TEST (phase_noise_pedestal)
{
  g_autoptr (SpAnalyzer) a = analyzer_from ("[analyzer]\nphase_noise_dbc_hz=10kHz -110; 1MHz -110\n");
  double density = sp_analyzer_phase_noise (a, 1e5, NULL);
  sp_outside ("pedestal in 1 kHz, dBc", "calculated: L + 10 lg RBW", density + 10 * log10 (1e3), -80, 1e-9);
  sp_outside ("pedestal in a Gaussian 1 kHz, dBc", "calculated: L + 10 lg NBW",
              density + 10 * log10 (1e3 * sp_filter_nbw_ratio (SP_FILTER_GAUSSIAN)), -79.7287, 5e-5);
}
END_TEST

/* The greatest distance from the mixer level down to the higher of noise and nth-order product, over all mixer levels. */
static double
dynamic_range_db (const SpAnalyzer *analyzer, guint order, double rbw_hz, double *best_dbm)
{
  double low = -150, high = 50; /* noise rules below the best level, product above */
  for (int i = 0; i < 200; i++) {
    double middle = (low + high) / 2;
    if (sp_analyzer_product_dbm (analyzer, order, 1e8, middle) < sp_analyzer_noise_dbm (analyzer, 1e8, rbw_hz, 0))
      low = middle;
    else
      high = middle;
  }
  *best_dbm = low;
  return low - sp_analyzer_noise_dbm (analyzer, 1e8, rbw_hz, 0);
}

/* Third-order products of two tones follow the same law as the third harmonic with their own intercept. */
START_TEST (dynamic_range)
{
  g_autoptr (SpAnalyzer) a = analyzer_from ("[analyzer]\ndanl_dbm_hz=-150\nfilter=flat\nsecond_intercept_dbm=35\n"
                                            "third_harmonic_intercept_dbm=12.5\n");
  double best;
  sp_outside ("second-order dynamic range in 10 kHz, dB", "calculated: (SHI - DANL) / 2", dynamic_range_db (a, 2, 1e4, &best), 72.5, 0.05);
  sp_outside ("its mixer level, dBm", "calculated: (SHI + DANL) / 2", best, -37.5, 1e-6);
  sp_outside ("third-order dynamic range in 10 kHz, dB", "calculated: 2/3 (TOI - DANL)", dynamic_range_db (a, 3, 1e4, &best), 81.7, 0.05);
  sp_outside ("its mixer level, dBm", "calculated: (2 TOI + DANL) / 3", best, -28.3333333, 1e-6);
  sp_outside ("third-order dynamic range in 1 kHz, dB", "calculated: 2/3 (12.5 + 120)", dynamic_range_db (a, 3, 1e3, &best), 88.3333, 1e-4);
  sp_outside ("10 dB less noise, second order", "calculated: half of it",
              dynamic_range_db (a, 2, 1e3, &best) - dynamic_range_db (a, 2, 1e4, &best), 5, 1e-6);
  sp_outside ("10 dB less noise, third order", "calculated: two thirds of it",
              dynamic_range_db (a, 3, 1e3, &best) - dynamic_range_db (a, 3, 1e4, &best), 20 / 3.0, 1e-6);

  g_autoptr (SpAnalyzer) b = analyzer_from ("[analyzer]\ndanl_dbm_hz=-135\nfilter=flat\nthird_harmonic_intercept_dbm=10\n");
  sp_outside ("third-order dynamic range in 1 Hz, dB", "calculated: 2/3 (10 + 135)", dynamic_range_db (b, 3, 1, &best), 96.7, 0.05);
}
END_TEST

START_TEST (slopes)
{
  g_autoptr (SpAnalyzer) a = analyzer_from ("[analyzer]\nsecond_intercept_dbm=35\nthird_harmonic_intercept_dbm=12.5\n");
  sp_outside ("second harmonic at -40 dBm, dBc", "calculated: Pm - SHI", sp_analyzer_product_dbm (a, 2, 1e8, -40) + 40, -75, 1e-9);
  sp_outside ("third-order product at -30 dBm, dBc", "calculated: 2 (Pm - TOI)", sp_analyzer_product_dbm (a, 3, 1e8, -30) + 30, -85, 1e-9);
  sp_outside ("third-order product at -40 dBm, dBc", "calculated: 2 (Pm - TOI)", sp_analyzer_product_dbm (a, 3, 1e8, -40) + 40, -105, 1e-9);
}
END_TEST

/* Amplitude of line k of a periodic waveform through y = x + c2 x^2 + c3 x^3; tones at lines 10 and 11 (or 10 alone). */
static double
line_of_cubic (int k, double amplitude, gboolean two_tones, double c2, double c3)
{
  enum { N = 1024 };
  double re = 0, im = 0;
  for (int i = 0; i < N; i++) {
    double t = 2 * G_PI * i / N, x = amplitude * (cos (10 * t) + (two_tones ? cos (11 * t) : 0)), y = x + c2 * x * x + c3 * x * x * x;
    re += y * cos (k * t);
    im += y * sin (k * t);
  }
  return 2 * hypot (re, im) / N;
}

START_TEST (two_tone_and_harmonic)
{
  double a = 1e-3, c3 = 1; /* far below compression */
  double hd3 = 20 * log10 (line_of_cubic (30, a, FALSE, 0, c3) / line_of_cubic (10, a, FALSE, 0, c3));
  double im3 = 20 * log10 (line_of_cubic (9, a, TRUE, 0, c3) / line_of_cubic (10, a, TRUE, 0, c3));
  sp_outside ("harmonic over two-tone intercept, dB", "calculated: Fourier sum of a cubic, (IM3 - HD3) / 2", SP_TWO_TONE_TO_HARMONIC_DB,
              (im3 - hd3) / 2, 5e-5);
  sp_outside ("harmonic over two-tone intercept, dB", "calculated: 10 lg 3", SP_TWO_TONE_TO_HARMONIC_DB, 4.7712125, 5e-5);

  /* y = x + .02 x^2 + .01 x^3 at amplitude 0.1: intercepts from the coefficients, products from the profile. */
  double level = 10 * log10 (0.1 * 0.1 / 2 / 50 / 1e-3), i2 = level - 20 * log10 (.02 * .1 / 2), i3 = level - 10 * log10 (.01 * .01 / 4);
  g_autofree char *text = g_strdup_printf ("[analyzer]\nsecond_intercept_dbm=%.12g\nthird_harmonic_intercept_dbm=%.12g\n", i2, i3);
  g_autoptr (SpAnalyzer) analyzer = analyzer_from (text);
  sp_outside ("second harmonic of a polynomial, dBc", "calculated: -60.00065 with its compression of 0.00065",
              sp_analyzer_product_dbm (analyzer, 2, 1e8, level) - level, -60.00065, 1e-3);
  sp_outside ("third harmonic of a polynomial, dBc", "calculated: -92.04185 with its compression of 0.00065",
              sp_analyzer_product_dbm (analyzer, 3, 1e8, level) - level, -92.04185, 1e-3);
}
END_TEST

START_TEST (standard_from_half_width)
{
  SpWidth rectangular = { 0.00433, SP_WIDTH_RECTANGULAR, FALSE }, normal = { 0.005, SP_WIDTH_NORMAL2, FALSE };
  sp_outside ("u of a rectangular half-width 0.00433", "NIST TN 1900 example E11: 0.0025", sp_width_u_db (&rectangular), 0.0025, 5e-6);
  sp_outside ("u of an expanded 0.005, k = 2", "EA-4/02 M:2022 S7: 0.0025", sp_width_u_db (&normal), 0.0025, 1e-12);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/analyzer");
  TCase *t = tcase_create ("analyzer");
  tcase_add_test (t, noise_bandwidth);
  tcase_add_test (t, noise_bandwidth_is_that_of_the_response);
  tcase_add_test (t, responses);
  tcase_add_test (t, noise_levels);
  tcase_add_test (t, phase_noise_pedestal);
  tcase_add_test (t, dynamic_range);
  tcase_add_test (t, slopes);
  tcase_add_test (t, two_tone_and_harmonic);
  tcase_add_test (t, standard_from_half_width);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
