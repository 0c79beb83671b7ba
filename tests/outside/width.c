/* Widths of spectra whose answers are known in closed form: Gaussian, sinc^2, Lorentzian, flat band, FM and AM lines, two tones. */
#include "core/width/width.h"
#include "tests/suite.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_bessel.h>

#define CENTER 100e6
#define STANDARD "ITU-R SM.328 and SM.443: 0.5 % of the mean power on either side; "

typedef double (*Density) (double offset_hz, double width_hz);

static double
gaussian (double x, double sigma)
{
  return exp (-x * x / (2 * sigma * sigma));
}

static double
sinc2 (double x, double rate)
{
  double y = M_PI * x / rate;
  return fabs (y) < 1e-9 ? 1 : pow (sin (y) / y, 2);
}

static double
lorentzian (double x, double half)
{
  return 1 / (1 + pow (x / half, 2));
}

static double
flat (double x, double width)
{
  return fabs (x) <= width / 2 * (1 + 1e-12) ? 1 : 1e-20;
}

/* n readings `step` apart, the middle one at CENTER + shift. */
static SpWidths *
measure (Density density, double parameter, guint64 n, double step, double shift, const SpWidthAsked *asked)
{
  g_autofree double *f = g_new (double, n), *level = g_new (double, n);
  SpSettings set;
  sp_settings_init (&set);
  set.rbw_hz = step;
  set.detector = SP_DETECTOR_RMS;
  for (guint64 i = 0; i < n; i++) {
    double x = ((double) i - (double) (n - 1) / 2) * step + shift;
    f[i] = CENTER + x;
    level[i] = fmax (-300, -20 + 10 * log10 (density (x, parameter)));
  }
  SpWidthAsked all;
  sp_width_asked_init (&all);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpTrace) trace = sp_trace_new ("made", n, f, level, &set, &error);
  sp_no_error (error);
  SpWidths *w = sp_widths_measure (trace, asked ? asked : &all, &error);
  sp_no_error (error);
  return w;
}

START_TEST (densities)
{
  g_autoptr (SpWidths) bell = measure (gaussian, 3e3, 4001, 25, 7, NULL);
  sp_outside ("Gaussian spectrum: 99 % bandwidth over sigma", STANDARD "5.1516586 (calculated: erf)", bell->occupied_hz / 3e3, 5.1516586,
              2e-3);
  sp_outside ("Gaussian spectrum: 26 dB width over sigma", "calculated: 2 sqrt (2.6 ln 10 * 2)", bell->drop[1].width_hz / 3e3, 6.9205325,
              2e-3);
  sp_outside ("Gaussian spectrum: 26 dB width over the 99 % bandwidth", "calculated", bell->drop[1].width_hz / bell->occupied_hz, 1.34336,
              1e-3);
  sp_outside ("Gaussian spectrum: middle of the occupied band", "symmetry", (bell->occupied_low_hz + bell->occupied_high_hz) / 2, CENTER,
              1);
}
END_TEST

/* Tails without end, and no noise: the occupied band of the readings alone. */
static double
occupied (Density density, double parameter, guint64 n, double step)
{
  g_autofree double *f = g_new (double, n), *level = g_new (double, n);
  for (guint64 i = 0; i < n; i++) {
    f[i] = ((double) i - (double) (n - 1) / 2) * step;
    level[i] = fmax (-300, 10 * log10 (density (f[i], parameter)));
  }
  SpReadings readings = { n, f, level };
  double low, high;
  sp_width_occupied (&readings, 0, SP_WIDTH_SHARE, &low, &high);
  ck_assert_double_eq_tol (low, -high, step);
  return high - low;
}

START_TEST (tails)
{
  sp_outside ("sinc^2 spectrum of symbol time T: 99 % bandwidth times T", STANDARD "20.57161 (calculated: integral)",
              occupied (sinc2, 1e3, 2000001, 20) / 1e3, 20.57161, 0.01);
  sp_outside ("Lorentzian spectrum: 99 % bandwidth over its half-width", STANDARD "2 tan (0.99 pi/2) = 127.31348",
              occupied (lorentzian, 100, 2000001, 20) / 100, 127.31348, 0.1);
}
END_TEST

/* The band's edges fall halfway between points, its half per cent points within bins. */
START_TEST (a_flat_band)
{
  static const double widths[] = { 10100, 20100, 1000100, 4100 };
  double w = widths[_i];
  g_autoptr (SpWidths) band = measure (flat, w, 3 * (guint64) (w / 100) | 1, 100, 0, NULL);
  sp_outside ("flat band: 99 % bandwidth over its width", STANDARD "0.99 (calculated)", band->occupied_hz / w, 0.99, 1e-9);
  double channel = band->channel_dbm, all = -20 + 10 * log10 (w / (100 * sp_filter_nbw_ratio (SP_FILTER_GAUSSIAN)));
  if (w == 4100 || w == 1000100) /* the channel chosen is wider, or the band's own 99 % */
    sp_outside ("flat band: power in the channel, dBm", "calculated: density times width", channel,
                w == 4100 ? all : all + 10 * log10 (0.99), 1e-6);
}
END_TEST

/* Lines as a Gaussian filter of bandwidth `rbw` shows them, `step` apart, over a noise that is next to nothing. */
static SpWidths *
measure_lines (guint n_lines, const double *offset_hz, const double *level_dbm, double rbw, double span, const SpWidthAsked *asked)
{
  double step = rbw / 5;
  guint64 n = (guint64) (span / step) | 1;
  g_autofree double *f = g_new (double, n), *level = g_new (double, n);
  for (guint64 i = 0; i < n; i++) {
    double x = ((double) i - (double) (n - 1) / 2) * step, power = 1e-20;
    f[i] = CENTER + x;
    for (guint k = 0; k < n_lines; k++)
      power += sp_ratio_from_db (level_dbm[k] - 12.041199826559248 * pow ((x - offset_hz[k]) / rbw, 2));
    level[i] = sp_db_from_ratio (power);
  }
  SpSettings set;
  sp_settings_init (&set);
  set.rbw_hz = rbw;
  set.detector = SP_DETECTOR_SAMPLE;
  SpWidthAsked all;
  sp_width_asked_init (&all);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpTrace) trace = sp_trace_new ("lines", n, f, level, &set, &error);
  sp_no_error (error);
  SpWidths *w = sp_widths_measure (trace, asked ? asked : &all, &error);
  sp_no_error (error);
  return w;
}

#define FM_LINES 31

/* One tone of 1 kHz, index beta: line n has J_n(beta)^2 of the power, and 99 % of it lies within +-n lines. */
START_TEST (frequency_modulation)
{
  static const struct {
    double beta;
    int n;
  } rows[] = { { 0.25, 1 },     { 0.5, 1 }, { 1, 2 },        { 1.5, 2 }, { 2, 3 },
               { 2.404826, 3 }, { 3, 4 },   { 3.831706, 5 }, { 5, 6 },   { 5.520078, 7 } };
  double beta = rows[_i].beta, fm = 1000, rbw = 20, offset[FM_LINES], level[FM_LINES];
  for (int k = 0; k < FM_LINES; k++) {
    int line = k - FM_LINES / 2;
    offset[k] = line * fm;
    level[k] = fmax (-250, 20 * log10 (fabs (gsl_sf_bessel_Jn (abs (line), beta))));
  }
  SpWidthAsked asked;
  sp_width_asked_init (&asked);
  asked.channel_hz = 2 * rows[_i].n * fm + fm; /* halfway to the next lines */
  asked.spacing_hz = asked.channel_hz;
  asked.center_hz = CENTER;
  g_autoptr (SpWidths) w = measure_lines (FM_LINES, offset, level, rbw, 40e3, &asked);
  sp_outside ("FM by one tone: 99 % bandwidth, Hz", "calculated: Bessel functions (GSL), 2 n fm; +- a line's own width", w->occupied_hz,
              2 * rows[_i].n * fm, sp_width_line_occupied_hz (SP_FILTER_GAUSSIAN, rbw));
  sp_outside ("FM by one tone: all of its lines together, dBm", "calculated: the sum of J_n^2 is 1; within the channel at least 99 %",
              w->channel_dbm, 10 * log10 (0.995), 10 * log10 (1 / 0.995) + 1e-6);
}
END_TEST

START_TEST (fm_lines_in_channels)
{
  double offset[FM_LINES], level[FM_LINES], beta = 1, fm = 1000;
  for (int k = 0; k < FM_LINES; k++) {
    offset[k] = (k - FM_LINES / 2) * fm;
    level[k] = fmax (-250, 20 * log10 (fabs (gsl_sf_bessel_Jn (abs (k - FM_LINES / 2), beta))));
  }
  SpWidthAsked asked;
  sp_width_asked_init (&asked);
  asked.channel_hz = 2 * fm * 0.5;
  asked.spacing_hz = fm;
  asked.center_hz = CENTER;
  g_autoptr (SpWidths) w = measure_lines (FM_LINES, offset, level, 20, 40e3, &asked);
  sp_outside ("FM, beta 1: carrier, dB to unmodulated", "calculated: 20 lg J0(1) = -2.3245", w->channel_dbm, -2.3245, 1e-3);
  sp_outside ("FM, beta 1: first upper line", "calculated: 20 lg J1(1) = -7.1299", w->beside[2].power_dbm, -7.1299, 1e-3);
  sp_outside ("FM, beta 1: second upper line", "calculated: 20 lg J2(1) = -18.7933", w->beside[3].power_dbm, -18.7933, 1e-3);
  sp_outside ("FM, beta 1: first lower line", "calculated: 20 lg J1(1) = -7.1299", w->beside[1].power_dbm, -7.1299, 1e-3);
}
END_TEST

START_TEST (amplitude_modulation)
{
  static const struct {
    double m, sideband_db;
  } rows[] = { { 1, -6.0206 }, { 0.5, -12.0412 } };
  double fm = 2e3, offset[] = { -fm, 0, fm }, level[] = { 20 * log10 (rows[_i].m / 2), 0, 20 * log10 (rows[_i].m / 2) };
  SpWidthAsked asked;
  sp_width_asked_init (&asked);
  asked.channel_hz = 1e3;
  asked.spacing_hz = fm;
  g_autoptr (SpWidths) w = measure_lines (3, offset, level, 50, 12e3, &asked);
  sp_outside ("AM: upper sideband to carrier, dB", "calculated: 20 lg (m/2)", w->beside[2].relative_db, rows[_i].sideband_db, 1e-3);
  sp_outside ("AM: lower sideband to carrier, dB", "calculated: 20 lg (m/2)", w->beside[1].relative_db, rows[_i].sideband_db, 1e-3);
  sp_outside ("AM: 99 % bandwidth, Hz", "calculated: both sidebands hold more than 0.5 %", w->occupied_hz, 2 * fm, 110);
  ck_assert (w->beside[0].in_noise || w->beside[0].relative_db < -100);
}
END_TEST

START_TEST (two_tones)
{
  double offset[] = { -500, 500 }, level[] = { -6.0206, -6.0206 };
  SpWidthAsked asked;
  sp_width_asked_init (&asked);
  asked.channel_hz = 3e3;
  g_autoptr (SpWidths) w = measure_lines (2, offset, level, 20, 12e3, &asked);
  sp_outside ("two equal tones: mean power below the envelope's peak, dB", "calculated: -6.0206 + 3.0103", w->channel_dbm, -3.0103, 1e-3);
}
END_TEST

START_TEST (a_line_shows_the_filter)
{
  double offset[] = { 0 }, level[] = { -3 };
  g_autoptr (SpWidths) w = measure_lines (1, offset, level, 1000, 40e3, NULL);
  sp_outside ("a line through a Gaussian filter: 99 % bandwidth over RBW", "calculated: 2 * 2.575829 / 2.354820", w->occupied_hz / 1000,
              2.18783, 0.01);
  sp_outside ("the same as said", "calculated: 2 * 2.575829 / 2.354820", w->occupied_by_line_hz / 1000, 2.187707, 2e-4);
  static const double drops[] = { 1.411792, 2.938877, 3.645247, 4.464498 };
  for (guint k = 0; k < SP_WIDTH_DROPS; k++) {
    sp_outside ("a line through a Gaussian filter: x dB width over RBW", "calculated: sqrt (x / 3.0103); 60 dB: 4.46448",
                w->drop[k].width_hz / 1000, drops[k], 0.02);
    sp_outside ("the same as said", "calculated: sqrt (x / 3.0103)", w->drop[k].of_line_hz / 1000, drops[k], 2e-3);
  }
  sp_outside ("four-pole filter: 60 dB width over RBW", "calculated: 12.7219", sp_width_line_drop_hz (SP_FILTER_SYNC4, 1, 60), 12.7219,
              1e-3);
  ck_assert (sp_reasons_have (w->warnings, SP_REASON_WIDTH_OF_FILTER));
}
END_TEST

/* The four-pole filter's own 99 %, by summing its response. */
START_TEST (four_poles)
{
  double total = 0, sum = 0, step = 1e-4, f = 0;
  for (double x = step / 2; x < 60; x += step)
    total += sp_ratio_from_db (sp_filter_response_db (SP_FILTER_SYNC4, x, 1)) * step;
  for (f = step / 2; sum < 0.99 * total; f += step)
    sum += sp_ratio_from_db (sp_filter_response_db (SP_FILTER_SYNC4, f, 1)) * step;
  sp_outside ("four-pole filter: 99 % of a line's power over RBW", "calculated: sum of the response",
              sp_width_line_occupied_hz (SP_FILTER_SYNC4, 1), 2 * f, 1e-3);
}
END_TEST

/* Noise under a flat band, 20 dB down in density: taken off, the answer stands; left in, it would be 2.7 times too wide. */
START_TEST (noise_is_taken_off)
{
  guint64 n = 40001;
  g_autofree double *f = g_new (double, n), *level = g_new (double, n);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  gsl_rng_set (rng, 11 + (gulong) _i);
  for (guint64 i = 0; i < n; i++) {
    double x = ((double) i - (double) (n - 1) / 2) * 100, mean = 1e-10 * (0.01 + (fabs (x) <= 500050 ? 1 : 0));
    f[i] = CENTER + x;
    level[i] = 10 * log10 (gsl_ran_gamma (rng, 100, mean / 100)); /* 100 averages */
  }
  gsl_rng_free (rng);
  SpSettings set;
  sp_settings_init (&set);
  set.rbw_hz = 100;
  set.detector = SP_DETECTOR_RMS;
  set.average = SP_AVERAGE_POWER;
  set.averages = 100;
  SpWidthAsked asked;
  sp_width_asked_init (&asked);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpTrace) trace = sp_trace_new ("noisy", n, f, level, &set, &error);
  g_autoptr (SpWidths) w = sp_widths_measure (trace, &asked, &error);
  sp_no_error (error);
  sp_outside ("flat noise-like band over noise 20 dB down: 99 % bandwidth, kHz", STANDARD "0.99 W (calculated)", w->occupied_hz / 1e3,
              0.99 * 1000.1, 4);
  sp_outside ("the noise itself, dBm", "calculated: as made", w->noise_dbm, -120, 0.05);
  sp_outside ("its power, dBm", "calculated: as made", w->channel_dbm, -100 + 10 * log10 (0.99 * 1000100 / 106.447), 0.05);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/width");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 60);
  tcase_add_test (c, densities);
  tcase_add_test (c, tails);
  tcase_add_loop_test (c, a_flat_band, 0, 4);
  tcase_add_loop_test (c, frequency_modulation, 0, 10);
  tcase_add_test (c, fm_lines_in_channels);
  tcase_add_loop_test (c, amplitude_modulation, 0, 2);
  tcase_add_test (c, two_tones);
  tcase_add_test (c, a_line_shows_the_filter);
  tcase_add_test (c, four_poles);
  tcase_add_loop_test (c, noise_is_taken_off, 0, 5);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
