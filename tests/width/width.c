#include "core/width/width.h"
#include "core/quantity/error.h"
#include "tests/suite.h"

#include <gsl/gsl_randist.h>
#include <string.h>

#define N 2001
#define STEP 100.0

/* A flat band of 16 kHz at -20 dBm in each reading over noise at `noise_dbm`; nothing else. */
static SpTrace *
band (const SpSettings *set, double noise_dbm, double step)
{
  double f[N], level[N];
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  for (int i = 0; i < N; i++) {
    double x = (i - N / 2) * step;
    f[i] = 50e6 + x;
    level[i] = fabs (x) <= 8e3 ? -20 : noise_dbm + 10 * log10 (gsl_ran_exponential (rng, 1));
  }
  gsl_rng_free (rng);
  g_autoptr (GError) error = NULL;
  SpTrace *trace = sp_trace_new ("band.csv", N, f, level, set, &error);
  sp_no_error (error);
  return trace;
}

static SpSettings
settings (double rbw, SpDetector detector)
{
  SpSettings set;
  sp_settings_init (&set);
  set.rbw_hz = rbw;
  set.detector = detector;
  return set;
}

static SpWidths *
measured (const SpSettings *set, double noise_dbm, double step)
{
  SpWidthAsked asked;
  sp_width_asked_init (&asked);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpTrace) trace = band (set, noise_dbm, step);
  SpWidths *w = sp_widths_measure (trace, &asked, &error);
  sp_no_error (error);
  return w;
}

START_TEST (channels_by_the_signal)
{
  SpSettings set = settings (200, SP_DETECTOR_SAMPLE);
  g_autoptr (SpWidths) w = measured (&set, -100, STEP);
  ck_assert (w->channel_chosen);
  ck_assert_double_eq (w->channel_hz, 16e3);
  ck_assert_double_eq (w->channel_spacing_hz, 25e3);
  ck_assert_double_eq_tol (w->center_hz, 50e6, 20);
  for (int k = 0; k < SP_WIDTH_BESIDE; k++) {
    ck_assert (w->beside[k].swept);
    ck_assert (w->beside[k].in_noise); /* 16 kHz of noise at -100 dBm, 80 dB under the same of signal */
    ck_assert_double_eq_tol (w->beside[k].relative_db, -80, 1);
  }
  ck_assert_uint_eq (w->warnings->len, 0);
}
END_TEST

START_TEST (one_of_channel_and_spacing_gives_the_other)
{
  SpSettings set = settings (200, SP_DETECTOR_SAMPLE);
  g_autoptr (SpTrace) trace = band (&set, -100, STEP);
  g_autoptr (GError) error = NULL;
  SpWidthAsked asked;
  sp_width_asked_init (&asked);
  asked.spacing_hz = 50e3;
  g_autoptr (SpWidths) by_spacing = sp_widths_measure (trace, &asked, &error);
  ck_assert_double_eq (by_spacing->channel_hz, 32e3);
  ck_assert (!by_spacing->channel_chosen);
  ck_assert (by_spacing->beside[1].swept);
  ck_assert (!by_spacing->beside[0].swept); /* the trace ends at 100 kHz */
  ck_assert (isnan (by_spacing->beside[0].power_dbm));
  sp_width_asked_init (&asked);
  asked.channel_hz = 12.8e3;
  g_autoptr (SpWidths) by_channel = sp_widths_measure (trace, &asked, &error);
  ck_assert_double_eq_tol (by_channel->channel_spacing_hz, 20e3, 1e-6);
  asked.channel_hz = 0;
  ck_assert_ptr_null (sp_widths_measure (trace, &asked, &error));
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_USAGE));
}
END_TEST

START_TEST (detectors_are_warned_about)
{
  static const struct {
    SpDetector detector;
    SpAverage average;
    SpHold hold;
    double wrong;
    gboolean warned;
  } rows[] = {
    { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, SP_HOLD_NONE, 0, FALSE },
    { SP_DETECTOR_RMS, SP_AVERAGE_POWER, SP_HOLD_NONE, 0, FALSE },
    { SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, SP_HOLD_NONE, -2.5068, TRUE },
    { SP_DETECTOR_SAMPLE, SP_AVERAGE_VOLTAGE, SP_HOLD_NONE, -1.0491, TRUE },
    { SP_DETECTOR_AVERAGE, SP_AVERAGE_LOG, SP_HOLD_NONE, -2.5068, TRUE },
    { SP_DETECTOR_AVERAGE, SP_AVERAGE_VOLTAGE, SP_HOLD_NONE, -1.0491, TRUE },
    { SP_DETECTOR_AVERAGE, SP_AVERAGE_NONE, SP_HOLD_NONE, -2.5068, TRUE }, /* of a kind that is not stated: the worst */
    { SP_DETECTOR_AVERAGE, SP_AVERAGE_POWER, SP_HOLD_NONE, 0, FALSE },
    { SP_DETECTOR_PEAK, SP_AVERAGE_NONE, SP_HOLD_NONE, NAN, TRUE },
    { SP_DETECTOR_RMS, SP_AVERAGE_NONE, SP_HOLD_MAX, NAN, TRUE },
  };
  for (guint k = 0; k < G_N_ELEMENTS (rows); k++) {
    SpSettings set = settings (200, rows[k].detector);
    set.average = rows[k].average;
    set.hold = rows[k].hold;
    g_autoptr (SpWidths) w = measured (&set, -100, STEP);
    ck_assert_int_eq (sp_reasons_have (w->warnings, SP_REASON_SUM_DETECTOR), rows[k].warned);
    for (guint i = 0; i < w->warnings->len; i++) {
      const SpReason *reason = g_ptr_array_index (w->warnings, i);
      if (reason->code == SP_REASON_SUM_DETECTOR)
        ck_assert (isnan (rows[k].wrong) ? isnan (reason->SUM_DETECTOR.wrong_db)
                                         : fabs (reason->SUM_DETECTOR.wrong_db - rows[k].wrong) < 1e-4);
    }
  }
}
END_TEST

static void
refused (const SpSettings *set, double noise_dbm, double step, double from, double to, const char *says)
{
  SpWidthAsked asked;
  sp_width_asked_init (&asked);
  asked.from_hz = from;
  asked.to_hz = to;
  g_autoptr (GError) error = NULL;
  g_autoptr (SpTrace) trace = band (set, noise_dbm, step);
  ck_assert_ptr_null (sp_widths_measure (trace, &asked, &error));
  ck_assert (g_error_matches (error, SP_ERROR, SP_ERROR_USAGE));
  ck_assert_msg (strstr (error->message, says) && strstr (error->message, "band.csv"), "%s", error->message);
}

START_TEST (what_cannot_be_told_is_refused)
{
  SpSettings set = settings (200, SP_DETECTOR_SAMPLE);
  refused (&set, -100, 201, NAN, NAN, "undersampled");
  refused (&set, -100, STEP, 49.95e6, 49.9505e6, "6 points");
  refused (&set, -100, STEP, 60e6, NAN, "0 points");
  refused (&set, -100, STEP, NAN, 49.98e6, "nothing stands out");
}
END_TEST

START_TEST (what_is_not_sure_is_said)
{
  SpSettings set = settings (150, SP_DETECTOR_SAMPLE);
  g_autoptr (SpWidths) coarse = measured (&set, -100, STEP);
  ck_assert (sp_reasons_have (coarse->warnings, SP_REASON_WIDTH_COARSE));
  set = settings (200, SP_DETECTOR_SAMPLE);
  g_autoptr (SpWidths) noisy = measured (&set, -45, STEP);
  ck_assert (sp_reasons_have (noisy->warnings, SP_REASON_WIDTH_NOISE));
  ck_assert (!noisy->drop[0].hidden && noisy->drop[1].hidden && isnan (noisy->drop[1].width_hz));
  set = settings (NAN, SP_DETECTOR_SAMPLE);
  g_autoptr (SpWidths) unknown = measured (&set, -100, STEP);
  ck_assert (sp_reasons_have (unknown->warnings, SP_REASON_RBW_UNKNOWN));
  ck_assert_double_eq_tol (unknown->occupied_hz, 0.99 * 16100, 1);
  ck_assert (isnan (unknown->channel_dbm) && isnan (unknown->occupied_by_line_hz));
  ck_assert (!isnan (unknown->beside[0].relative_db)); /* a ratio needs no bandwidth */
}
END_TEST

/* The noise stands at a known level whatever share of the readings is signal. */
START_TEST (noise_under_much_signal)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  double f[N], level[N];
  for (int percent = 0; percent <= 75; percent += 15) {
    for (int i = 0; i < N; i++) {
      f[i] = i;
      level[i] = 10 * log10 (gsl_ran_exponential (rng, 1)) + (i < N * percent / 100 ? 30 : -90);
    }
    SpReadings readings = { N, f, level };
    ck_assert_double_eq_tol (sp_db_from_ratio (sp_width_noise_mw (&readings, 1)), -90, 0.6);
  }
  gsl_rng_free (rng);
}
END_TEST

/* A band's sum is the sum of its parts, cut anywhere. */
START_TEST (sums_add_up)
{
  double f[] = { 1, 2, 3, 5, 9 }, level[] = { 0, 3, -3, 1, 2 };
  SpReadings readings = { 5, f, level };
  double all = sp_width_sum (&readings, 0.1, -INFINITY, INFINITY);
  for (double cut = 0; cut < 12; cut += 0.37)
    ck_assert_double_eq_tol (sp_width_sum (&readings, 0.1, -INFINITY, cut) + sp_width_sum (&readings, 0.1, cut, INFINITY), all, 1e-12);
  ck_assert_double_eq_tol (sp_width_sum (&readings, 0, 2.5, 4), pow (10, -0.3) * 1.5, 1e-12);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("width/width");
  TCase *c = tcase_create ("all");
  tcase_add_test (c, channels_by_the_signal);
  tcase_add_test (c, one_of_channel_and_spacing_gives_the_other);
  tcase_add_test (c, detectors_are_warned_about);
  tcase_add_test (c, what_cannot_be_told_is_refused);
  tcase_add_test (c, what_is_not_sure_is_said);
  tcase_add_test (c, noise_under_much_signal);
  tcase_add_test (c, sums_add_up);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
