#include "core/detection/reading.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

double
sp_law_noise_quantile_db (const SpLaw *law, double p)
{
  SpReading r;

  sp_reading_init (&r, law, -INFINITY);
  return sp_reading_quantile_db (&r, 1 - p);
}

double
sp_law_threshold_db (const SpLaw *law, double n)
{
  SpReading r;

  sp_reading_init (&r, law, -INFINITY);
  return sp_reading_quantile_db (&r, -expm1 (log1p (-SP_FALSE_ALARM) / fmax (n, 1)));
}

double
sp_law_exceed (const SpLaw *law, double threshold_db, double signal_db)
{
  SpReading r;

  sp_reading_init (&r, law, signal_db);
  return sp_reading_tail (&r, threshold_db);
}

typedef struct {
  const SpLaw *law;
  double level_db;
} Wanted;

static double
detection_miss (double signal_db, void *data)
{
  Wanted *wanted = data;
  return sp_law_exceed (wanted->law, wanted->level_db, signal_db) - SP_DETECTION;
}

double
sp_law_detection_limit_db (const SpLaw *law, double threshold_db)
{
  Wanted wanted = { law, threshold_db };

  if (isnan (threshold_db))
    return NAN;
  if (sp_law_exceed (law, threshold_db, -INFINITY) >= SP_DETECTION)
    return -INFINITY;
  return sp_solve (detection_miss, &wanted, -60, fmax (threshold_db, -10) + 20);
}

/* -- near the noise -- */

static double
mean_miss (double signal_db, void *data)
{
  Wanted *wanted = data;
  SpReading r;

  sp_reading_prepare (&r, wanted->law, signal_db);
  return sp_reading_mean_db (&r) - wanted->level_db;
}

double
sp_law_noise_mean_db (const SpLaw *law)
{
  SpReading r;

  sp_reading_init (&r, law, -INFINITY);
  return sp_reading_mean_db (&r);
}

/* Half the readings of a held line lie above this one: the greatest of several reads high. */
static double
held_miss (double signal_db, void *data)
{
  Wanted *wanted = data;
  SpReading r;

  sp_reading_init (&r, wanted->law, signal_db);
  return sp_reading_quantile_db (&r, 0.5) - wanted->level_db;
}

/* The same where a line scatters normally: the median of the greatest of so many. */
static double
held_over_db (const SpLaw *law, double signal_db)
{
  SpReading r;

  sp_reading_prepare (&r, law, signal_db);
  return sp_reading_normal_u_db (&r) * gsl_cdf_ugaussian_Pinv (pow (0.5, 1 / r.making.held));
}

#define FAR_OVER_NOISE_DB 40 /* corrections of log and voltage averages are under 0.0003 dB */

/* The signal whose typical reading this is, and by how much it moves for a dB of the reading. */
static double
solve_signal (double (*miss) (double, void *), const SpLaw *law, double reading_db, double *slope)
{
  Wanted wanted = { law, reading_db };
  if (!(miss (-60, &wanted) < 0))
    return -INFINITY;
  double signal = sp_solve (miss, &wanted, -60, fmax (reading_db, 0) + 10), d = 0.05;
  *slope = 2 * d / (miss (signal + d, &wanted) - miss (signal - d, &wanted));
  return signal;
}

/* Signal under a mean reading, and by how much it moves for a dB of the reading. */
static double
signal_under (const SpLaw *law, double reading_db, double *slope)
{
  SpMaking making = sp_making_of (law);
  double noise = sp_ratio_from_db (-reading_db);

  *slope = 1;
  /* A mean of powers, however many, is S + N on average; of a single sample nobody has said that it is one. */
  gboolean mean_of_powers = law->detector == SP_DETECTOR_RMS || law->average == SP_AVERAGE_POWER;
  if (making.held > 1 && making.looks * making.count <= 1)
    return reading_db < FAR_OVER_NOISE_DB ? solve_signal (held_miss, law, reading_db, slope) : reading_db - held_over_db (law, reading_db);
  if (making.greatest || law->max_hold || (making.looks * making.count <= 1 && !mean_of_powers))
    return reading_db;
  if (making.g == SP_AVERAGE_POWER) {
    *slope = 1 / (1 - noise);
    return noise < 1 ? reading_db + sp_db_from_ratio (1 - noise) : -INFINITY;
  }
  if (reading_db > FAR_OVER_NOISE_DB)
    return reading_db;
  return solve_signal (mean_miss, law, reading_db, slope);
}

#define NARROW_DB 0.05 /* a reading that scatters less is normal to 1 % of that */

void
sp_law_near_noise (const SpLaw *law, double reading_db, double *correction_db, double *u_db)
{
  const double low = gsl_cdf_ugaussian_Q (1), high = gsl_cdf_ugaussian_P (1);
  double slope, signal_db = signal_under (law, reading_db, &slope);
  SpReading r;

  *correction_db = fmin (0, signal_db - reading_db);
  *u_db = INFINITY;
  if (isinf (signal_db))
    return;
  sp_reading_prepare (&r, law, signal_db);
  double normal = sp_reading_normal_u_db (&r), held = 1 / r.making.held;
  if (normal < NARROW_DB) /* of the greatest of `held`: of one it is `normal` itself */
    *u_db = slope * normal * 0.5 * (gsl_cdf_ugaussian_Pinv (pow (high, held)) - gsl_cdf_ugaussian_Pinv (pow (low, held)));
  else {
    sp_reading_init (&r, law, signal_db);
    *u_db = slope * 0.5 * (sp_reading_quantile_db (&r, low) - sp_reading_quantile_db (&r, high));
  }
}

/* -- which law -- */

/* Detection limit over the noise as it is displayed (its median), which is all that a trace of an unknown detector tells of its noise. */
static double
limit_over_displayed (const SpLaw *law)
{
  return sp_law_detection_limit_db (law, sp_law_threshold_db (law, 1001)) - sp_law_noise_quantile_db (law, 0.5);
}

SpLaw
sp_law_of (const SpSettings *settings, double spacing_hz, double nbw_hz, gboolean *assumed)
{
  const SpDetector candidates[] = { SP_DETECTOR_SAMPLE, SP_DETECTOR_PEAK, SP_DETECTOR_RMS, SP_DETECTOR_AVERAGE };
  SpDetector detector = settings->detector == SP_DETECTOR_NORMAL ? SP_DETECTOR_PEAK : settings->detector;
  gboolean known
      = detector == SP_DETECTOR_PEAK || detector == SP_DETECTOR_SAMPLE || detector == SP_DETECTOR_RMS || detector == SP_DETECTOR_AVERAGE;
  double looks = spacing_hz / nbw_hz, worst = -INFINITY;
  SpLaw law = { detector, settings->average, looks > 1 ? looks : 1, settings->averages >= 1 ? settings->averages : 1,
                settings->hold == SP_HOLD_MAX };

  *assumed = detector != settings->detector || !known || settings->hold == SP_HOLD_MIN;
  if (settings->hold == SP_HOLD_MIN)
    law.averages = 1;
  for (guint i = 0; i < G_N_ELEMENTS (candidates) && !known; i++) {
    SpLaw one = law;
    one.detector = candidates[i];
    double limit = limit_over_displayed (&one);
    if (limit > worst) {
      worst = limit;
      law.detector = candidates[i];
    }
  }
  return law;
}

#define DIPS_DB 2.5 /* the least of a continuous envelope dips deep: 2.1 to 2.5 dB between its median and its tail over one look's (simulated) */

void
sp_noise_place (const SpSettings *settings, double *rank, double *extra_db)
{
  gboolean mixed = settings->detector == SP_DETECTOR_NORMAL || settings->detector == SP_DETECTOR_UNKNOWN;
  *rank = mixed ? 0.75 : 0.5;
  *extra_db = settings->detector == SP_DETECTOR_NEGATIVE || settings->hold == SP_HOLD_MIN ? DIPS_DB : 0;
}

/* -- lines between the points -- */

/* Mean over [0, s] of exp(-a x^2). */
static double
mean_response (double a, double s)
{
  double z = sqrt (a) * s;
  return z > 0 ? sqrt (M_PI) / 2 * erf (z) / z : 1;
}

double
sp_sampling_loss_db (SpDetector detector, SpAverage average, double spacing_hz, double rbw_hz, double nbw_ratio)
{
  if (detector == SP_DETECTOR_PEAK)
    return 0;
  if (isnan (rbw_hz))
    return INFINITY;
  double s = fmax (spacing_hz, 0) / rbw_hz, square = 40 * log10 (2) * s * s; /* the Gaussian filter a whole spacing away */
  double a = M_PI / (nbw_ratio * nbw_ratio);                                 /* power response e^(-a x^2) of that noise bandwidth */
  double sample = square / 4, rms = -sp_db_from_ratio (mean_response (a, s)), log_mean = square / 3,
         voltage = -2 * sp_db_from_ratio (mean_response (a / 2, s));

  switch (detector) {
  case SP_DETECTOR_SAMPLE:
    return sample;
  case SP_DETECTOR_RMS:
    return rms;
  case SP_DETECTOR_AVERAGE:
    return average == SP_AVERAGE_POWER ? rms : average == SP_AVERAGE_LOG ? log_mean : voltage;
  case SP_DETECTOR_NEGATIVE:
    return square; /* a line on the edge of two buckets, seen at the far end of either */
  default:
    return fmax (fmax (sample, rms), fmax (log_mean, voltage));
  }
}
