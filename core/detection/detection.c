/* detection.c - thresholds, detection limits and levels near the noise, for each detector and average */
#include "core/detection/reading-distribution.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

double
sp_law_noise_quantile_db (const SpDetectorLaw *law, double p)
{
  SpReadingDistribution r;

  sp_reading_init (&r, law, -INFINITY);
  return sp_reading_quantile_db (&r, 1 - p);
}

double
sp_law_threshold_db (const SpDetectorLaw *law, double n)
{
  SpReadingDistribution r;

  sp_reading_init (&r, law, -INFINITY);
  return sp_reading_quantile_db (&r, -expm1 (log1p (-SP_FALSE_ALARM) / fmax (n, 1)));
}

double
sp_law_exceed (const SpDetectorLaw *law, double threshold_db, double signal_db)
{
  SpReadingDistribution r;

  sp_reading_init (&r, law, signal_db);
  return sp_reading_tail (&r, threshold_db);
}

typedef struct {
  const SpDetectorLaw *law;
  double level_db;
} Wanted;

static double
detection_miss (double signal_db, void *data)
{
  Wanted *wanted = data;
  return sp_law_exceed (wanted->law, wanted->level_db, signal_db) - SP_DETECTION;
}

double
sp_law_detection_limit_db (const SpDetectorLaw *law, double threshold_db)
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
  SpReadingDistribution r;

  sp_reading_prepare (&r, wanted->law, signal_db);
  return sp_reading_mean_db (&r) - wanted->level_db;
}

double
sp_law_noise_mean_db (const SpDetectorLaw *law)
{
  SpReadingDistribution r;

  sp_reading_init (&r, law, -INFINITY);
  return sp_reading_mean_db (&r);
}

double
sp_law_median_u_db (const SpDetectorLaw *law)
{
  /* u of a median of normal readings is sqrt (pi/2) of their spread, half of what lies between P (-1) and P (1) (calculated). */
  double spread = (sp_law_noise_quantile_db (law, 0.8413) - sp_law_noise_quantile_db (law, 0.1587)) / 2;
  return 1.2533 * spread;
}

double
sp_law_looks_averaged (const SpDetectorLaw *law)
{
  gboolean sums = sp_detector_traits (law->detector)->sums;
  return fmax (1, sums || law->average != SP_AVERAGE_NONE ? law->looks * law->averages : 1);
}

static double
logit (double p)
{
  return p <= 0 ? -700 : p >= 1 ? 700 : log (p) - log1p (-p);
}

/* The level that half the held readings of a line exceed: the greatest of several reads high, the least low. */
static double
held_miss (double signal_db, void *data)
{
  Wanted *wanted = data;
  SpReadingDistribution r;

  sp_reading_init (&r, wanted->law, signal_db);
  return logit (sp_reading_tail (&r, wanted->level_db));
}

/* The same for held readings that scatter normally: a line far over the noise, and nearly so the mean of several looks. */
static double
held_over_db (SpReadingDistribution *r)
{
  const SpReadingModel *m = &r->model;
  double over = m->held > 1 ? sp_reading_normal_u_db (r) * gsl_cdf_ugaussian_Pinv (pow (0.5, 1 / m->held)) : 0;
  return m->least ? -over : over;
}

static double
mean_held_miss (double signal_db, void *data)
{
  Wanted *wanted = data;
  SpReadingDistribution r;

  sp_reading_prepare (&r, wanted->law, signal_db);
  return sp_reading_mean_db (&r) + held_over_db (&r) - wanted->level_db;
}

#define FAR_OVER_NOISE_DB 40 /* corrections of log and voltage averages are under 0.0003 dB; calculated */
#define NARROW_DB 0.05       /* a reading with less scatter is normal to 1 % of it; calculated */

/* The signal with this typical reading, and its change per dB of the reading. */
static double
solve_signal (double (*miss) (double, void *), const SpDetectorLaw *law, double reading_db, double *slope)
{
  double d = 0.05; /* dB: a slope over a tenth of a decibel (common practice, no source) */
  Wanted wanted = { law, reading_db }, under = { law, reading_db - d }, over = { law, reading_db + d };
  if (!(miss (-60, &wanted) < 0))
    return -INFINITY;
  double signal = sp_solve (miss, &wanted, -60, fmax (reading_db, 0) + 30);
  *slope = (miss (signal, &under) - miss (signal, &over)) / (miss (signal + d, &wanted) - miss (signal - d, &wanted));
  return signal;
}

static double
held_signal_under (const SpDetectorLaw *law, double reading_db, double *slope)
{
  SpReadingDistribution r;
  sp_reading_prepare (&r, law, reading_db);
  if (reading_db > FAR_OVER_NOISE_DB)
    return reading_db - held_over_db (&r);
  return solve_signal (sp_reading_normal_u_db (&r) < NARROW_DB ? mean_held_miss : held_miss, law, reading_db, slope);
}

/* The signal under a typical reading, and its change per dB of the reading. */
static double
signal_under (const SpDetectorLaw *law, double reading_db, double *slope)
{
  SpReadingModel model = sp_reading_model_of (law);
  double noise = sp_ratio_from_db (-reading_db);

  *slope = 1;
  if (model.held > 1)
    return held_signal_under (law, reading_db, slope);
  if (model.greatest && model.count > 1)
    return reading_db > FAR_OVER_NOISE_DB ? reading_db : solve_signal (mean_miss, law, reading_db, slope);
  /* A mean of powers is S + N on average. A single sample might be an average of another kind. */
  gboolean mean_of_powers = law->detector == SP_DETECTOR_RMS || law->average == SP_AVERAGE_POWER;
  if (model.greatest || (model.looks * model.count <= 1 && !mean_of_powers))
    return reading_db;
  if (model.g == SP_AVERAGE_POWER) {
    *slope = 1 / (1 - noise);
    return noise < 1 ? reading_db + sp_db_from_ratio (1 - noise) : -INFINITY;
  }
  if (reading_db > FAR_OVER_NOISE_DB)
    return reading_db;
  return solve_signal (mean_miss, law, reading_db, slope);
}

/* u by the noise for a signal of this level. */
static double
noise_u_db (const SpDetectorLaw *law, double signal_db, double slope)
{
  const double low = gsl_cdf_ugaussian_Q (1), high = gsl_cdf_ugaussian_P (1);
  SpReadingDistribution r;

  sp_reading_prepare (&r, law, signal_db);
  double normal = sp_reading_normal_u_db (&r), held = 1 / r.model.held;
  if (normal < NARROW_DB || (r.model.held > 1 && r.model.count > 1)) /* for `held` readings; for one it is `normal` itself */
    return slope * normal * 0.5 * (gsl_cdf_ugaussian_Pinv (pow (high, held)) - gsl_cdf_ugaussian_Pinv (pow (low, held)));
  sp_reading_init (&r, law, signal_db);
  return slope * 0.5 * (sp_reading_quantile_db (&r, low) - sp_reading_quantile_db (&r, high));
}

#define MOST_LAWS 3 /* room for those of maybe_of() */
/* Factor by which a bucket of a slow sweep may hold more looks up to 4 at a fifth of the speed, by simulation (tests/simulate/near.c) */
#define SLOW_LOOKS 3
/* Number of looks on a line that the greatest is taken of, if points are close (common practice, no source) */
#define NEIGHBOURS 2

/* Laws that may have made a reading; the stated one first. */
typedef struct {
  SpDetectorLaw law;
  /* Mean noise power below that of the first law, for the same displayed noise */
  double up_db;
} Maybe;

/* Candidates: every kind for averages of an unknown kind. For averaged peaks, a line held for one look of each bucket, and more looks:
 * the sweep's speed is unknown. For a maximum hold with several points in an RBW, the greatest held that many times more: it is taken
 * for the line. */
static guint
maybe_of (const SpDetectorLaw *law, Maybe maybe[MOST_LAWS])
{
  static const SpAverage kinds[] = { SP_AVERAGE_POWER, SP_AVERAGE_LOG, SP_AVERAGE_VOLTAGE };
  guint n = 1;

  for (guint i = 0; i < MOST_LAWS; i++)
    maybe[i] = (Maybe){ *law, 0 };
  for (guint i = 0; i < G_N_ELEMENTS (kinds) && law->kind_open; i++)
    if (kinds[i] != law->average)
      maybe[n++].law.average = kinds[i];
  if (law->detector == SP_DETECTOR_PEAK && law->average != SP_AVERAGE_NONE && law->averages > 1 && !law->max_hold && !law->min_hold) {
    maybe[n].law.looks = SLOW_LOOKS * fmax (1, law->looks);
    maybe[n++].law.line_looks = SLOW_LOOKS;
  }
  for (guint i = 1; i < n; i++)
    maybe[i].up_db = sp_law_noise_quantile_db (&maybe[i].law, 0.5) - sp_law_noise_quantile_db (law, 0.5);
  gboolean single = law->detector == SP_DETECTOR_SAMPLE || law->detector == SP_DETECTOR_PEAK;
  if (single && law->max_hold && law->averages > 1 && law->looks <= 1)
    maybe[n++].law.averages *= NEIGHBOURS;
  return n;
}

void
sp_law_near_noise (const SpDetectorLaw *law, double reading_db, double *correction_db, double *u_db)
{
  Maybe maybe[MOST_LAWS];
  guint n = maybe_of (law, maybe);
  double low = INFINITY, high = -INFINITY, steepest = 0;

  for (guint i = 0; i < n; i++) {
    double slope, signal_db = signal_under (&maybe[i].law, reading_db + maybe[i].up_db, &slope) - maybe[i].up_db;
    if (i > 0 && !isfinite (signal_db)) /* below the noise of that law, which thus did not make the reading */
      continue;
    low = fmin (low, signal_db);
    high = fmax (high, signal_db);
    steepest = fmax (steepest, slope);
  }
  *correction_db = fmin (law->min_hold ? INFINITY : 0, (low + high) / 2 - reading_db);
  *u_db = INFINITY;
  if (isfinite (low))
    *u_db = hypot (noise_u_db (law, (low + high) / 2, steepest), (high - low) / 2 / sqrt (3));
}

/* -- which law -- */

/* Detection limit over the displayed median of the noise: a trace of an unknown detector shows no other level of it. A sweep
 * of 1001 points (common practice, no source). */
static double
limit_over_displayed (const SpDetectorLaw *law)
{
  return sp_law_detection_limit_db (law, sp_law_threshold_db (law, 1001)) - sp_law_noise_quantile_db (law, 0.5);
}

/* Possible kinds of an average, if the export does not state one. */
static guint
kinds_of (const SpSettings *settings, SpAverage kinds[3])
{
  kinds[0] = settings->average;
  if (settings->average != SP_AVERAGE_NONE)
    return 1;
  kinds[0] = SP_AVERAGE_VOLTAGE;
  kinds[1] = SP_AVERAGE_LOG;
  kinds[2] = SP_AVERAGE_POWER;
  return 3;
}

/* Of `n` laws, the one with the highest detection limit over its displayed noise. */
static SpDetectorLaw
worst_of (guint n, const SpDetectorLaw *laws)
{
  guint worst = 0;
  double highest = n > 1 ? limit_over_displayed (&laws[0]) : 0;
  for (guint i = 1; i < n; i++) {
    double limit = limit_over_displayed (&laws[i]);
    if (limit > highest) {
      highest = limit;
      worst = i;
    }
  }
  return laws[worst];
}

/* Sweeps assumed for a minimum hold (common practice, no source): each lowers the noise more than a line */
#define HELD_UNKNOWN 10

SpDetectorLaw
sp_law_of (const SpSettings *settings, double spacing_hz, double nbw_hz, gboolean *assumed)
{
  const SpDetector plain[] = { SP_DETECTOR_SAMPLE, SP_DETECTOR_PEAK, SP_DETECTOR_RMS };
  SpDetector detector = settings->detector == SP_DETECTOR_NORMAL ? SP_DETECTOR_PEAK : settings->detector;
  gboolean known = sp_detector_traits (detector)->law_known;
  double looks = spacing_hz / nbw_hz, unknown = settings->hold == SP_HOLD_MIN ? HELD_UNKNOWN : 1;
  SpDetectorLaw law = { .detector = detector,
                        .average = settings->average,
                        .looks = looks > 1 ? looks : 1,
                        .averages = settings->averages >= 1 ? settings->averages : unknown,
                        .max_hold = settings->hold == SP_HOLD_MAX,
                        .min_hold = settings->hold == SP_HOLD_MIN };
  SpDetectorLaw laws[G_N_ELEMENTS (plain) + 3];
  SpAverage kinds[3];
  guint n = 0, n_kinds = kinds_of (settings, kinds);

  *assumed = detector != settings->detector || !known || settings->hold == SP_HOLD_MIN;
  if (known && detector != SP_DETECTOR_AVERAGE)
    return law;
  for (guint i = 0; i < G_N_ELEMENTS (plain) && !known; i++) {
    laws[n] = law;
    laws[n++].detector = plain[i];
  }
  for (guint i = 0; i < n_kinds; i++) {
    laws[n] = law;
    laws[n].detector = SP_DETECTOR_AVERAGE;
    laws[n].average = kinds[i];
    laws[n++].kind_open = known && n_kinds > 1;
  }
  return worst_of (n, laws);
}

/* The least of a continuous envelope has deep dips: its tail is 2.1 to 2.5 dB further from the median than one look's,
 * by simulation (tests/simulate/detection.c). */
#define DIPS_DB 2.5

void
sp_noise_place (const SpSettings *settings, double *rank, double *extra_db)
{
  const SpDetectorTraits *traits = sp_detector_traits (settings->detector);
  *rank = traits->alternates ? 0.75 : 0.5;
  *extra_db = traits->least ? DIPS_DB : 0;
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
  double s = fmax (spacing_hz, 0) / rbw_hz, square = 40 * log10 (2) * s * s; /* Gaussian filter, a whole spacing off */
  double a = M_PI / (nbw_ratio * nbw_ratio);                                 /* power response e^(-a x^2) for that noise bandwidth */
  double sample = square / 4, rms = -sp_db_from_ratio (mean_response (a, s)), log_mean = square / 3,
         voltage = -2 * sp_db_from_ratio (mean_response (a / 2, s));

  switch (detector) {
  case SP_DETECTOR_SAMPLE: return sample;
  case SP_DETECTOR_RMS: return rms;
  case SP_DETECTOR_AVERAGE:
    if (average == SP_AVERAGE_NONE) /* the kind of average is unknown */
      return fmax (rms, fmax (log_mean, voltage));
    return average == SP_AVERAGE_POWER ? rms : average == SP_AVERAGE_LOG ? log_mean : voltage;
  case SP_DETECTOR_NEGATIVE: return square; /* a line on the edge of two buckets is seen at the far end of either */
  default: return fmax (fmax (sample, rms), fmax (log_mean, voltage));
  }
}
