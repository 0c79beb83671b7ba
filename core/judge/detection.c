#include "core/judge/detection.h"

#include <complex.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <gsl/gsl_sf_gamma.h>
#include <math.h>

/* One engine for all laws. A reading is made in three steps: of `looks` powers the mean, or the greatest; of `count` of those the mean of
 * g, g being the identity, the logarithm or the root; of `held` of those the greatest. The first has a closed distribution; the second, where
 * count > 1, by an inversion integral over a grid of the first's density. */
typedef struct {
  gboolean greatest;
  double looks;
  SpAverage g; /* POWER, LOG or VOLTAGE */
  double count;
  double held;
} Making;

/* The grid is uniform in v, amplitude = ln(1 + e^v): logarithmic towards no amplitude, uniform above, smooth throughout, so that the trapezoid
 * rule converges exponentially. Its step is 1/16, its reach 24, both over sqrt(looks) for a mean: at least eight steps in a standard deviation, and
 * all that the tilts for a false alarm in 1e10 ask for. */
#define GRID_STEPS 16
#define GRID_REACH 24
#define GRID (2 * GRID_STEPS * GRID_REACH + 1)

typedef struct {
  Making making;
  double signal;     /* power over mean noise power */
  guint n;           /* 0: no grid yet */
  double g[GRID];    /* ascending */
  double ln_w[GRID]; /* logarithm of the probability there */
} Reading;

/* The logarithm or root of a mean of this many powers is as good as linear (they read 0.02 dB low), and a mean of means is a mean. */
#define MANY_LOOKS 100
#define MOST_IN_MEAN 1e9 /* beyond, rounding; a shorter mean is the safe side */

static Making
making_of (const SpLaw *law)
{
  double sweeps = law->average == SP_AVERAGE_NONE || law->max_hold ? 1 : law->averages;
  Making making = { FALSE, 1, law->average == SP_AVERAGE_NONE ? SP_AVERAGE_POWER : law->average, sweeps, law->max_hold ? law->averages : 1 };

  if (law->detector == SP_DETECTOR_PEAK || law->detector == SP_DETECTOR_RMS)
    making.looks = law->looks;
  making.greatest = law->detector == SP_DETECTOR_PEAK && law->looks > 1;
  if (law->detector == SP_DETECTOR_AVERAGE)
    {
      making.count *= law->looks;
      making.g = law->average == SP_AVERAGE_NONE ? SP_AVERAGE_VOLTAGE : law->average;
    }
  if (making.looks >= MANY_LOOKS && !making.greatest)
    making.g = SP_AVERAGE_POWER;
  if (making.g == SP_AVERAGE_POWER && !making.greatest)
    {
      making.looks *= making.count; /* a mean of means */
      making.count = 1;
    }
  if (!making.greatest)
    making.looks = fmin (making.looks, MOST_IN_MEAN);
  making.count = fmin (making.count, MOST_IN_MEAN);
  return making;
}

/* -- the first step: mean or greatest of some powers -- */

#define NEVER 745.

/* P(mean of m powers > t): noncentral chi-square of 2m degrees of freedom as a Poisson mixture of gamma tails, to 1e-14 (Johnson, Kotz, Balakrishnan,
 * Continuous Univariate Distributions 2, chapter 29, from memory). */
static double
mean_tail (double m, double t, double signal)
{
  double lambda = m * signal, y = m * t, mean = m + lambda, spread = sqrt (2 * (m + 2 * lambda) * NEVER);

  if (!(y > mean - spread)) /* Birge's bounds (2001, from memory): either side e^-NEVER, less than a double can say */
    return 1;
  if (y > mean + spread + NEVER)
    return 0;
  double from = fmax (0, floor (lambda - 9 * sqrt (lambda) - 30)), to = lambda + 9 * sqrt (lambda) + 40, a = m + from;
  double ln_y = log (y), ln_lambda = lambda > 0 ? log (lambda) : 0;
  double ln_p = -lambda + from * ln_lambda - gsl_sf_lngamma (from + 1); /* Poisson's */
  double ln_d = a * ln_y - y - gsl_sf_lngamma (a + 1);                  /* what the tail grows by for a -> a + 1 */
  gsl_sf_result tail = { 0, 0 };
  gsl_sf_gamma_inc_Q_e (a, y, &tail); /* fails only by underflow, and then leaves 0 */
  if (lambda == 0)
    return tail.val;

  double sum = 0, mass = 0;
  for (double j = from; j < to; j++)
    {
      double p = exp (ln_p);
      sum += p * tail.val;
      mass += p;
      tail.val += exp (ln_d);
      ln_p += ln_lambda - log (j + 1);
      ln_d += ln_y - log (m + j + 1);
    }
  return fmin (1, sum / mass);
}

/* Its density, summed outwards from the largest term. */
static double
mean_density (double m, double t, double signal)
{
  double lambda = m * signal, y = m * t;

  if (lambda == 0)
    return m * exp ((m - 1) * log (y) - y - gsl_sf_lngamma (m));
  double j0 = floor ((1 - m + sqrt ((m - 1) * (m - 1) + 4 * lambda * y)) / 2), ratio = lambda * y;
  j0 = fmax (0, j0);
  double top = exp (j0 * log (lambda) - lambda - gsl_sf_lngamma (j0 + 1) + (m + j0 - 1) * log (y) - y - gsl_sf_lngamma (m + j0));
  double sum = 1, term = 1;
  for (double j = j0; term > 1e-17 * sum; j++)
    sum += term *= ratio / ((j + 1) * (m + j));
  term = 1;
  for (double j = j0; j > 0 && term > 1e-17 * sum; j--)
    sum += term *= j * (m + j - 1) / ratio;
  return m * top * sum;
}

/* ln P(one look of noise <= t), exact at either end. */
static double
ln_noise_below (double t)
{
  return t > M_LN2 ? log1p (-exp (-t)) : log (-expm1 (-t));
}

/* Of the greatest of m looks one holds all the signal and the others none: the least favourable. */
static double
looks_tail (const Making *making, double t, double signal)
{
  double m = making->looks;

  if (!making->greatest)
    return mean_tail (m, t, signal);
  double others_below = (m - 1) * ln_noise_below (t), one = mean_tail (1, t, signal);
  return t > 0 ? one - (1 - one) * expm1 (others_below) : 1; /* 1 - (1 - one) e^others, without cancellation */
}

static double
looks_density (const Making *making, double t, double signal)
{
  double m = making->looks;

  if (!making->greatest)
    return mean_density (m, t, signal);
  double noise = -expm1 (-t), density = mean_density (1, t, signal), off = sqrt (t) - sqrt (signal), below = noise;
  if (signal > 0) /* the amplitude is off the signal's by no more than the noise's, which exceeds 7 once in e^49 */
    below = off > 7 ? 1 : off < -7 ? 0 : 1 - mean_tail (1, t, signal);
  return density * pow (noise, m - 1) + below * (m - 1) * exp (-t) * pow (noise, m - 2);
}

/* -- the second step: mean of g -- */

static double
g_of_power (SpAverage g, double t)
{
  return g == SP_AVERAGE_LOG ? log (t) : g == SP_AVERAGE_VOLTAGE ? sqrt (t) : t;
}

static double
power_of_g (SpAverage g, double y)
{
  return g == SP_AVERAGE_LOG ? exp (y) : g == SP_AVERAGE_VOLTAGE ? y * y : y;
}

static void
reading_grid (Reading *r)
{
  const Making *m = &r->making;
  double scale = m->greatest ? 1 : 1 / sqrt (m->looks), step = scale / GRID_STEPS, total = 0;
  double middle = sqrt (fmax (1 + r->signal, m->greatest ? 0.5772 + log (m->looks) : 0)); /* an amplitude */
  middle += log (-expm1 (-middle));                                                       /* its v */

  r->n = 0;
  for (int i = 0; i < GRID; i++)
    {
      double v = middle + (i - GRID / 2) * step;
      double amplitude = v > 0 ? v + log1p (exp (-v)) : log1p (exp (v)), t = amplitude * amplitude;
      double w = looks_density (m, t, r->signal) * 2 * amplitude / (1 + exp (-v)) * step;
      if (!(w > 0))
        continue;
      r->g[r->n] = g_of_power (m->g, t);
      r->ln_w[r->n++] = log (w);
      total += w;
    }
  for (guint i = 0; i < r->n; i++)
    r->ln_w[i] -= log (total);
}

/* Mean and variance of d = g - y under the tilt e^(theta d), and the logarithm of the tilt's mean. */
typedef struct {
  double k, mean, variance;
} Tilted;

static Tilted
tilt (const Reading *r, double y, double theta)
{
  double top = -INFINITY, s0 = 0, s1 = 0, s2 = 0;

  for (guint i = 0; i < r->n; i++)
    top = fmax (top, r->ln_w[i] + theta * (r->g[i] - y));
  for (guint i = 0; i < r->n; i++)
    {
      double d = r->g[i] - y, w = exp (r->ln_w[i] + theta * d - top);
      s0 += w;
      s1 += w * d;
      s2 += w * d * d;
    }
  double mean = s1 / s0;
  return (Tilted) { top + log (s0), mean, fmax (0, s2 / s0 - mean * mean) };
}

/* The tilt that moves g's mean to y, to a tenth of the sum's spread: Newton's step kept within what is known. */
static Tilted
saddle (const Reading *r, double y, double *theta)
{
  double low = -INFINITY, high = INFINITY;
  Tilted at = tilt (r, y, *theta = 0);

  for (int i = 0; i < 100 && fabs (at.mean) > 0.1 * sqrt (at.variance / r->making.count); i++)
    {
      *(at.mean > 0 ? &high : &low) = *theta;
      double most = 3 / sqrt (at.variance), next = *theta - CLAMP (at.mean / at.variance, -most, most);
      *theta = next > low && next < high ? next : (low + high) / 2;
      at = tilt (r, y, *theta);
    }
  return at;
}

/* The tilted density's points that matter, as rotating phasors w e^(i omega d): a frequency step is one multiplication each. */
typedef struct {
  guint n;
  double w[GRID], re[GRID], im[GRID], turn_re[GRID], turn_im[GRID];
  double coarsest; /* greatest distance in g between neighbours that hold more than 1e-6 of the top */
} Phasors;

static void
phasors_init (Phasors *p, const Reading *r, double y, double theta, const Tilted *at, double step)
{
  p->n = 0;
  p->coarsest = 0;
  for (guint i = 0; i < r->n; i++)
    {
      double d = r->g[i] - y, w = exp (r->ln_w[i] + theta * d - at->k);
      if (w < 1e-18)
        continue;
      if (w > 1e-8 && i > 0)
        p->coarsest = fmax (p->coarsest, r->g[i] - r->g[i - 1]);
      p->w[p->n] = w;
      p->re[p->n] = cos (step / 2 * d);
      p->im[p->n] = sin (step / 2 * d);
      p->turn_re[p->n] = cos (step * d);
      p->turn_im[p->n++] = sin (step * d);
    }
}

/* Sum at this frequency; turns on to the next. */
static complex double
phasors_next (Phasors *p)
{
  double re = 0, im = 0;

  for (guint i = 0; i < p->n; i++)
    {
      double a = p->re[i], b = p->im[i];
      re += p->w[i] * a;
      im += p->w[i] * b;
      p->re[i] = a * p->turn_re[i] - b * p->turn_im[i];
      p->im[i] = a * p->turn_im[i] + b * p->turn_re[i];
    }
  return re + I * im;
}

#define REACH_SPREADS 30   /* half of it either side of y holds all of the tilted sum but 1e-13 */
#define MOST_FREQUENCIES 4000

/* P(mean of `count` g > y): the inversion integral of the sum's moment generating function over 1/theta, on the line through the saddle point, where
 * nothing cancels (Helstrom, Elements of Signal Detection and Estimation, saddle-point integration, from memory), by the midpoint rule. The rule's
 * error from the pole at theta = 0 is known, 1/(1 + e^(2 pi theta/step)) (Poisson's summation; at theta = 0 it is Davies' 1/2, Biometrika 1973), so
 * that y may lie at the mean as well. Lugannani and Rice's closed form is not enough: for few logarithms with a signal one deep fade
 * makes the tilted density two-humped, and it misses the misses by a factor of two. */
static double
sum_tail (const Reading *r, double y)
{
  if (y <= r->g[0])
    return 1;
  if (y >= r->g[r->n - 1])
    return 0;

  double count = r->making.count, theta;
  Tilted at = saddle (r, y, &theta);
  if (!(at.variance > 0))
    return theta < 0;
  double step = 2 * M_PI / (REACH_SPREADS * sqrt (count * at.variance)), sum = 0, argument = 0;
  Phasors p;
  phasors_init (&p, r, y, theta, &at, step);
  int n = (int) fmin (MOST_FREQUENCIES, M_PI / (p.coarsest * step)); /* beyond, the grid's own step shows */
  for (int i = 0; i < n; i++)
    {
      complex double phi = phasors_next (&p);
      argument += remainder (carg (phi) - argument, 2 * M_PI); /* continuous, for counts that are not whole */
      complex double term = cexp (count * (log (cabs (phi)) + I * argument)) / (theta + I * (i + 0.5) * step);
      sum += creal (term);
      if (cabs (term) * (i + 0.5) < 1e-13 * fabs (sum))
        break;
    }
  return CLAMP (exp (count * at.k) * sum * step / M_PI + 1 / (1 + exp (2 * M_PI * theta / step)), 0, 1);
}

/* -- the whole reading -- */

static void
reading_prepare (Reading *r, const SpLaw *law, double signal_db)
{
  gsl_set_error_handler_off ();
  r->making = making_of (law);
  r->signal = sp_ratio_from_db (signal_db);
  r->n = 0;
}

static void
reading_init (Reading *r, const SpLaw *law, double signal_db)
{
  reading_prepare (r, law, signal_db);
  if (r->making.count > 1)
    reading_grid (r);
}

static double
reading_tail (const Reading *r, double level_db)
{
  const Making *m = &r->making;
  double t = sp_ratio_from_db (level_db);
  double one = m->count > 1 ? sum_tail (r, g_of_power (m->g, t)) : looks_tail (m, t, r->signal);

  return m->held > 1 ? -expm1 (m->held * log1p (-one)) : one;
}

/* Mean of g as a level: what stands on the display of an endless average. */
static double
reading_mean_db (Reading *r)
{
  if (!r->making.greatest && r->making.g == SP_AVERAGE_POWER)
    return sp_db_from_ratio (1 + r->signal);
  if (r->n == 0)
    reading_grid (r);
  return sp_db_from_ratio (power_of_g (r->making.g, tilt (r, 0, 0).mean));
}

/* Brent's method on [low, high]; the end that lies nearer where there is no change of sign. */
static double
solve (double (*f) (double, void *), void *data, double low, double high)
{
  double at_low = f (low, data), at_high = f (high, data), root = NAN;
  gsl_function function = { f, data };

  if (isnan (at_low) || isnan (at_high))
    return NAN;
  if ((at_low > 0) == (at_high > 0))
    return fabs (at_low) < fabs (at_high) ? low : high;
  gsl_root_fsolver *solver = gsl_root_fsolver_alloc (gsl_root_fsolver_brent);
  int status = gsl_root_fsolver_set (solver, &function, low, high);
  for (int i = 0; i < 200 && status == GSL_SUCCESS; i++)
    {
      status = gsl_root_fsolver_iterate (solver);
      root = gsl_root_fsolver_root (solver);
      if (gsl_root_test_interval (gsl_root_fsolver_x_lower (solver), gsl_root_fsolver_x_upper (solver), 1e-7, 0) == GSL_SUCCESS)
        break;
    }
  gsl_root_fsolver_free (solver);
  return status == GSL_SUCCESS ? root : NAN;
}

typedef struct {
  const Reading *reading;
  double wanted;
} Quantile;

static double
logit (double p)
{
  return p <= 0 ? -700 : p >= 1 ? 700 : log (p) - log1p (-p);
}

static double
quantile_miss (double level_db, void *data)
{
  Quantile *q = data;
  return logit (reading_tail (q->reading, level_db)) - q->wanted;
}

/* Level exceeded with probability `tail`: sought outwards from the mean power, since far tails cost more than near ones. */
static double
reading_quantile_db (const Reading *r, double tail)
{
  Quantile q = { r, logit (tail) };
  double middle = sp_db_from_ratio (1 + r->signal), low = middle - 1, high = middle + 1;

  for (double step = 1; quantile_miss (low, &q) < 0 && step < 500; step *= 2)
    low -= step;
  for (double step = 1; quantile_miss (high, &q) > 0 && step < 500; step *= 2)
    high += step;
  return solve (quantile_miss, &q, low, high);
}

double
sp_law_noise_quantile_db (const SpLaw *law, double p)
{
  Reading r;

  reading_init (&r, law, -INFINITY);
  return reading_quantile_db (&r, 1 - p);
}

double
sp_law_threshold_db (const SpLaw *law, double n)
{
  Reading r;

  reading_init (&r, law, -INFINITY);
  return reading_quantile_db (&r, -expm1 (log1p (-SP_FALSE_ALARM) / fmax (n, 1)));
}

double
sp_law_exceed (const SpLaw *law, double threshold_db, double signal_db)
{
  Reading r;

  reading_init (&r, law, signal_db);
  return reading_tail (&r, threshold_db);
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
  return solve (detection_miss, &wanted, -60, fmax (threshold_db, -10) + 20);
}

/* -- near the noise -- */

static double
mean_miss (double signal_db, void *data)
{
  Wanted *wanted = data;
  Reading r;

  reading_prepare (&r, wanted->law, signal_db);
  return reading_mean_db (&r) - wanted->level_db;
}

double
sp_law_noise_mean_db (const SpLaw *law)
{
  Reading r;

  reading_init (&r, law, -INFINITY);
  return reading_mean_db (&r);
}

#define FAR_OVER_NOISE_DB 40 /* corrections of log and voltage averages are under 0.0003 dB */

/* Signal under a mean reading, and by how much it moves for a dB of the reading. */
static double
signal_under (const SpLaw *law, double reading_db, double *slope)
{
  Making making = making_of (law);
  double noise = sp_ratio_from_db (-reading_db);

  *slope = 1;
  if (making.looks * making.count <= 1 || making.greatest || law->max_hold)
    return reading_db;
  if (making.g == SP_AVERAGE_POWER)
    {
      *slope = 1 / (1 - noise);
      return noise < 1 ? reading_db + sp_db_from_ratio (1 - noise) : -INFINITY;
    }
  if (reading_db > FAR_OVER_NOISE_DB)
    return reading_db;
  Wanted wanted = { law, reading_db };
  if (!(mean_miss (-60, &wanted) < 0))
    return -INFINITY;
  double signal = solve (mean_miss, &wanted, -60, fmax (reading_db, 0) + 10), d = 0.05;
  *slope = 2 * d / (mean_miss (signal + d, &wanted) - mean_miss (signal - d, &wanted));
  return signal;
}

/* Standard deviation of a reading in dB if it were normal: by moments. Of 20 dB and more over the noise all kinds scatter alike, within 1 %. */
static double
normal_u_db (Reading *r)
{
  const Making *m = &r->making;
  double s = r->signal;

  if (s > 100 || (m->g == SP_AVERAGE_POWER && !m->greatest))
    return SP_DB_PER_NEPER / 2 * sqrt ((1 + 2 * s) / (m->count * (m->greatest ? 1 : m->looks))) / (1 + s);
  if (r->n == 0)
    reading_grid (r);
  Tilted at = tilt (r, 0, 0);
  double spread = sqrt (at.variance / m->count);
  return SP_DB_PER_NEPER / 2 * (m->g == SP_AVERAGE_LOG ? spread : m->g == SP_AVERAGE_VOLTAGE ? 2 * spread / at.mean : spread / at.mean);
}

#define NARROW_DB 0.05 /* a reading that scatters less is normal to 1 % of that */

void
sp_law_near_noise (const SpLaw *law, double reading_db, double *correction_db, double *u_db)
{
  const double low = gsl_cdf_ugaussian_Q (1), high = gsl_cdf_ugaussian_P (1);
  double slope, signal_db = signal_under (law, reading_db, &slope);
  Reading r;

  *correction_db = fmin (0, signal_db - reading_db);
  *u_db = INFINITY;
  if (isinf (signal_db))
    return;
  reading_prepare (&r, law, signal_db);
  double normal = normal_u_db (&r), held = 1 / r.making.held;
  if (normal < NARROW_DB) /* of the greatest of `held`: of one it is `normal` itself */
    *u_db = slope * normal * 0.5 * (gsl_cdf_ugaussian_Pinv (pow (high, held)) - gsl_cdf_ugaussian_Pinv (pow (low, held)));
  else
    {
      if (r.making.count > 1 && r.n == 0)
        reading_grid (&r);
      *u_db = slope * 0.5 * (reading_quantile_db (&r, low) - reading_quantile_db (&r, high));
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
  SpDetector detector = settings->detector;
  gboolean known = detector == SP_DETECTOR_PEAK || detector == SP_DETECTOR_SAMPLE || detector == SP_DETECTOR_RMS || detector == SP_DETECTOR_AVERAGE;
  double looks = spacing_hz / nbw_hz, worst = -INFINITY;
  SpLaw law = { detector, settings->average, looks > 1 ? looks : 1, settings->averages >= 1 ? settings->averages : 1, settings->hold == SP_HOLD_MAX };

  *assumed = !known || settings->hold == SP_HOLD_MIN;
  if (settings->hold == SP_HOLD_MIN)
    law.averages = 1;
  for (guint i = 0; i < G_N_ELEMENTS (candidates) && !known; i++)
    {
      SpLaw one = law;
      one.detector = candidates[i];
      double limit = limit_over_displayed (&one);
      if (limit > worst)
        {
          worst = limit;
          law.detector = candidates[i];
        }
    }
  return law;
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
  double a = M_PI / (nbw_ratio * nbw_ratio);                                /* power response e^(-a x^2) of that noise bandwidth */
  double sample = square / 4, rms = -sp_db_from_ratio (mean_response (a, s)), log_mean = square / 3,
         voltage = -2 * sp_db_from_ratio (mean_response (a / 2, s));

  switch (detector)
    {
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
