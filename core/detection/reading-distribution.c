/* reading-distribution.c - the distribution of one reading, given the line and the noise */
#include "core/detection/reading-distribution.h"

#include "core/quantity/large.h"

#include <complex.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_roots.h>
#include <gsl/gsl_sf_bessel.h>
#include <gsl/gsl_sf_gamma.h>
#include <math.h>

/* The logarithm or root of a mean of this many powers is practically linear (they read 0.02 dB low), and a mean of means is a mean. */
#define MANY_LOOKS 100   /* calculated */
#define MOST_IN_MEAN 1e9 /* more would be rounding; a shorter mean is safe; bounds time */
/* Limit for means of greatest readings: more scatter less, but the density is costly, and a slightly high threshold is safe; bounds time */
#define MOST_GREATEST_IN_MEAN 16.

SpReadingModel
sp_reading_model_of (const SpDetectorLaw *law)
{
  gboolean held = law->max_hold || law->min_hold;
  SpReadingModel model = { .looks = 1,
                           .with_line = fmax (1, law->line_looks),
                           .g = law->average == SP_AVERAGE_NONE ? SP_AVERAGE_POWER : law->average,
                           .count = law->average == SP_AVERAGE_NONE || held ? 1 : law->averages,
                           .held = held ? law->averages : 1,
                           .least = law->min_hold };

  if (law->detector == SP_DETECTOR_PEAK || law->detector == SP_DETECTOR_RMS)
    model.looks = law->looks;
  model.looks = law->detector == SP_DETECTOR_PEAK ? fmax (model.looks, model.with_line) : model.looks;
  model.greatest = law->detector == SP_DETECTOR_PEAK && model.looks > 1;
  if (law->detector == SP_DETECTOR_AVERAGE) {
    model.count *= law->looks;
    model.g = law->average == SP_AVERAGE_NONE ? SP_AVERAGE_VOLTAGE : law->average;
  }
  if (model.looks >= MANY_LOOKS && !model.greatest)
    model.g = SP_AVERAGE_POWER;
  if (model.g == SP_AVERAGE_POWER && !model.greatest) {
    model.looks *= model.count; /* a mean of means is a mean */
    model.count = 1;
  }
  if (!model.greatest)
    model.looks = fmin (model.looks, MOST_IN_MEAN);
  model.count = fmin (model.count, model.greatest ? MOST_GREATEST_IN_MEAN : MOST_IN_MEAN);
  return model;
}

/* -- step 1: mean or greatest of some powers -- */

#define NEVER 745.     /* e^-745 is the least positive double; calculated */
#define LEAST_LN -650. /* below this, factors would underflow; above, they are eight times faster than logarithms and powers; bounds time */

/* P(mean of m powers > t): noncentral chi-square of 2m degrees of freedom as a Poisson mixture of gamma tails, to 1e-14 (Johnson, Kotz,
 * Balakrishnan, Continuous Univariate Distributions 2, chapter 29, from memory). */
static double
mean_tail (double m, double t, double signal)
{
  double lambda = m * signal, y = m * t, mean = m + lambda, spread = sqrt (2 * (m + 2 * lambda) * NEVER);

  if (!(y > mean - spread)) /* Birge's bounds (2001, from memory): e^-NEVER on either side */
    return 1;
  if (y > mean + spread + NEVER)
    return 0;
  /* fewer than 9 spreads below the mean weigh e^-40 (Chernoff), and their tails are the smaller ones */
  double from = fmax (0, floor (lambda - 9 * sqrt (lambda))), a = m + from;
  double ln_y = log (y), ln_lambda = lambda > 0 ? log (lambda) : 0;
  double ln_p = -lambda + from * ln_lambda - gsl_sf_lngamma (from + 1); /* Poisson's */
  double ln_d = a * ln_y - y - gsl_sf_lngamma (a + 1);                  /* increment of the tail for a -> a + 1 */
  gsl_sf_result tail = { 0, 0 };
  gsl_sf_gamma_inc_Q_e (a, y, &tail); /* fails only by underflow, and then gives 0 */
  if (lambda == 0)
    return tail.val;

  double sum = 0, mass = 0, p = exp (ln_p), d = exp (ln_d); /* p never underflows: 9 spreads from its largest */
  gboolean least = ln_d < LEAST_LN;
  for (double j = from; j < lambda || p > 1e-17 * sum; j++) {
    double both = 1 / ((j + 1) * (m + j + 1)); /* a division takes longer than all the rest */
    sum += p * tail.val;
    mass += p;
    tail.val += d;
    p *= lambda * (m + j + 1) * both;
    ln_d += least ? ln_y - log (m + j + 1) : 0;
    d = least ? exp (ln_d) : d * y * (j + 1) * both;
  }
  return fmin (1, sum / mass);
}

/* Density of that mean, summed outwards from the largest term. */
static double
mean_density (double m, double t, double signal)
{
  double lambda = m * signal, y = m * t;

  if (lambda == 0)
    return m * exp ((m - 1) * log (y) - y - gsl_sf_lngamma (m));
  if (m == 1)
    return exp (-gsl_pow_2 (sqrt (y) - sqrt (lambda))) * gsl_sf_bessel_I0_scaled (2 * sqrt (lambda * y)); /* Rice's */
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

/* ln P(one look of noise <= t), exact at both ends. */
static double
ln_noise_below (double t)
{
  return t > M_LN2 ? log1p (-exp (-t)) : log (-expm1 (-t));
}

/* Number of looks that hold the signal, of the greatest of m; the others hold none. One, the hardest to see, if not known. */
static double
looks_tail (const SpReadingModel *model, double t, double signal)
{
  double m = model->looks;

  if (!model->greatest)
    return mean_tail (m, t, signal);
  double k = model->with_line, others_below = (m - k) * ln_noise_below (t), one = mean_tail (1, t, signal);
  double any = k > 1 ? -expm1 (k * log1p (-one)) : one;
  return t > 0 ? any - (1 - any) * expm1 (others_below) : 1; /* 1 - (1 - any) e^others, without cancellation */
}

static double
looks_density (const SpReadingModel *model, double t, double signal)
{
  double m = model->looks;

  if (!model->greatest)
    return mean_density (m, t, signal);
  double k = model->with_line, others = exp ((m - k) * ln_noise_below (t)); /* P(none of the other looks is above t) */
  if (!(signal > 0))
    return m * others * pow (-expm1 (-t), k - 1) * exp (-t);
  if (others == 0)
    return 0;
  /* the amplitude differs from the signal's by at most the noise's, which exceeds 7 once in e^49 */
  double off = sqrt (t) - sqrt (signal), below = off > 7 ? 1 : off < -7 ? 0 : 1 - mean_tail (1, t, signal);
  return others * pow (below, k - 1) * (k * mean_density (1, t, signal) + below * (m - k) * exp (-t) / -expm1 (-t));
}

/* -- step 2: mean of g -- */

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
reading_grid (SpReadingDistribution *r)
{
  const SpReadingModel *m = &r->model;
  double scale = m->greatest ? 1 : 1 / sqrt (m->looks), step = scale / SP_GRID_STEPS, total = 0;
  double middle = sqrt (fmax (1 + r->signal, m->greatest ? 0.5772 + log (m->looks) : 0)); /* an amplitude */
  middle += log (-expm1 (-middle));                                                       /* as v of the grid */

  r->n = 0;
  for (int i = 0; i < SP_GRID; i++) {
    double v = middle + (i - SP_GRID / 2) * step;
    double e = exp (-fabs (v)), amplitude = fmax (0, v) + log1p (e), slope = (v > 0 ? 1 : e) / (1 + e), t = amplitude * amplitude;
    double w = looks_density (m, t, r->signal) * 2 * amplitude * slope * step;
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
tilt (const SpReadingDistribution *r, double y, double theta)
{
  double top = -INFINITY, s0 = 0, s1 = 0, s2 = 0;

  for (guint i = 0; i < r->n; i++)
    top = fmax (top, r->ln_w[i] + theta * (r->g[i] - y));
  for (guint i = 0; i < r->n; i++) {
    double d = r->g[i] - y, w = exp (r->ln_w[i] + theta * d - top);
    s0 += w;
    s1 += w * d;
    s2 += w * d * d;
  }
  double mean = s1 / s0;
  return (Tilted){ top + log (s0), mean, fmax (0, s2 / s0 - mean * mean) };
}

/* The tilt that moves g's mean to y, to a tenth of the sum's spread: Newton's step, limited to the known interval. */
static Tilted
saddle (const SpReadingDistribution *r, double y, double *theta)
{
  double low = -INFINITY, high = INFINITY;
  Tilted at = tilt (r, y, *theta = 0);

  for (int i = 0; i < 100 && fabs (at.mean) > 0.1 * sqrt (at.variance / r->model.count); i++) {
    *(at.mean > 0 ? &high : &low) = *theta;
    double most = 3 / sqrt (at.variance), next = *theta - CLAMP (at.mean / at.variance, -most, most);
    *theta = next > low && next < high ? next : (low + high) / 2;
    at = tilt (r, y, *theta);
  }
  return at;
}

/* The relevant points of the tilted density as rotating phasors w e^(i omega d): a frequency step costs one multiplication each. */
typedef struct {
  guint n;
  double w[SP_GRID], re[SP_GRID], im[SP_GRID], turn_re[SP_GRID], turn_im[SP_GRID];
  double coarsest; /* greatest distance in g between neighbours with more than 1e-8 of the total */
} Phasors;

static void
phasors_init (Phasors *p, const SpReadingDistribution *r, double y, double theta, const Tilted *at, double step)
{
  p->n = 0;
  p->coarsest = 0;
  for (guint i = 0; i < r->n; i++) {
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

/* Sum at the current frequency; advances to the next. */
static complex double
phasors_next (Phasors *p)
{
  double re = 0, im = 0;

  for (guint i = 0; i < p->n; i++) {
    double a = p->re[i], b = p->im[i];
    re += p->w[i] * a;
    im += p->w[i] * b;
    p->re[i] = a * p->turn_re[i] - b * p->turn_im[i];
    p->im[i] = a * p->turn_im[i] + b * p->turn_re[i];
  }
  return re + I * im;
}

#define REACH_SPREADS 30      /* half of it on either side of y holds all of the tilted sum but 1e-13; calculated */
#define MOST_FREQUENCIES 4000 /* bounds time */

/* P(mean of `count` g > y): the inversion integral of the sum's moment generating function over 1/theta, through the saddle point,
 * where nothing cancels (Helstrom, Elements of Signal Detection and Estimation, saddle-point integration, from memory), by the
 * midpoint rule.
 * The rule's error from the pole at theta = 0 is known, 1/(1 + e^(2 pi theta/step)) (Poisson's summation; at theta = 0 it is Davies'
 * 1/2, Biometrika 1973), so y may also be at the mean.
 * Lugannani and Rice's closed form is not accurate enough: for few logarithms with a signal, one deep fade makes the tilted density
 * two-humped, and the missed probability is off by a factor of two. */
static double
sum_tail (const SpReadingDistribution *r, double y)
{
  if (y <= r->g[0])
    return 1;
  if (y >= r->g[r->n - 1])
    return 0;

  double count = r->model.count, theta;
  Tilted at = saddle (r, y, &theta);
  if (!(at.variance > 0))
    return theta < 0;
  double step = 2 * M_PI / (REACH_SPREADS * sqrt (count * at.variance)), sum = 0, argument = 0;
  Phasors p;
  phasors_init (&p, r, y, theta, &at, step);
  int n = (int) fmin (MOST_FREQUENCIES, M_PI / (p.coarsest * step)); /* beyond it the grid's step would show */
  for (int i = 0; i < n; i++) {
    complex double phi = phasors_next (&p);
    argument += remainder (carg (phi) - argument, 2 * M_PI); /* continuous, for counts that are not whole */
    complex double term = cexp (count * (log (cabs (phi)) + I * argument)) / (theta + I * (i + 0.5) * step);
    sum += creal (term);
    if (cabs (term) * (i + 0.5) < 1e-13 * fabs (sum))
      break;
  }
  return CLAMP (exp (count * at.k) * sum * step / M_PI + 1 / (1 + exp (2 * M_PI * theta / step)), 0, 1);
}

/* -- the complete reading -- */

void
sp_reading_prepare (SpReadingDistribution *r, const SpDetectorLaw *law, double signal_db)
{
  gsl_set_error_handler_off ();
  r->model = sp_reading_model_of (law);
  r->signal = sp_ratio_from_db (signal_db);
  r->n = 0;
}

void
sp_reading_init (SpReadingDistribution *r, const SpDetectorLaw *law, double signal_db)
{
  sp_reading_prepare (r, law, signal_db);
  if (r->model.count > 1)
    reading_grid (r);
}

double
sp_reading_tail (const SpReadingDistribution *r, double level_db)
{
  const SpReadingModel *m = &r->model;
  double t = sp_ratio_from_db (level_db);
  double one = m->count > 1 ? sum_tail (r, g_of_power (m->g, t)) : looks_tail (m, t, r->signal);

  if (m->least)
    return m->held > 1 ? pow (one, m->held) : one;
  return m->held > 1 ? -expm1 (m->held * log1p (-one)) : one;
}

double
sp_reading_mean_db (SpReadingDistribution *r)
{
  if (!r->model.greatest && r->model.g == SP_AVERAGE_POWER)
    return sp_db_from_ratio (1 + r->signal);
  if (r->n == 0)
    reading_grid (r);
  return sp_db_from_ratio (power_of_g (r->model.g, tilt (r, 0, 0).mean));
}

double
sp_solve (double (*f) (double, void *), void *data, double low, double high)
{
  double at_low = f (low, data), at_high = f (high, data), root = NAN;
  gsl_function function = { f, data };

  if (isnan (at_low) || isnan (at_high))
    return NAN;
  if ((at_low > 0) == (at_high > 0))
    return fabs (at_low) < fabs (at_high) ? low : high;
  gsl_root_fsolver *solver = sp_made (gsl_root_fsolver_alloc (gsl_root_fsolver_brent));
  int status = gsl_root_fsolver_set (solver, &function, low, high);
  for (int i = 0; i < 200 && status == GSL_SUCCESS; i++) {
    status = gsl_root_fsolver_iterate (solver);
    root = gsl_root_fsolver_root (solver);
    if (gsl_root_test_interval (gsl_root_fsolver_x_lower (solver), gsl_root_fsolver_x_upper (solver), 1e-7, 0) == GSL_SUCCESS)
      break;
  }
  gsl_root_fsolver_free (solver);
  return status == GSL_SUCCESS ? root : NAN;
}

typedef struct {
  const SpReadingDistribution *reading;
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
  return logit (sp_reading_tail (q->reading, level_db)) - q->wanted;
}

/* Searches outwards from the mean power: far tails cost more than near ones. */
double
sp_reading_quantile_db (const SpReadingDistribution *r, double tail)
{
  Quantile q = { r, logit (tail) };
  double middle = sp_db_from_ratio (1 + r->signal), low = middle - 1, high = middle + 1;

  for (double step = 1; quantile_miss (low, &q) < 0 && step < 500; step *= 2)
    low -= step;
  for (double step = 1; quantile_miss (high, &q) > 0 && step < 500; step *= 2)
    high += step;
  return sp_solve (quantile_miss, &q, low, high);
}

/* From 20 dB over the noise all kinds scatter alike, within 1 %. */
double
sp_reading_normal_u_db (SpReadingDistribution *r)
{
  const SpReadingModel *m = &r->model;
  double s = r->signal;

  if (s > 100 || (m->g == SP_AVERAGE_POWER && !m->greatest))
    return SP_DB_PER_NEPER / 2 * sqrt ((1 + 2 * s) / (m->count * (m->greatest ? 1 : m->looks))) / (1 + s);
  if (r->n == 0)
    reading_grid (r);
  Tilted at = tilt (r, 0, 0);
  double spread = sqrt (at.variance / m->count);
  return SP_DB_PER_NEPER / 2 * (m->g == SP_AVERAGE_LOG ? spread : m->g == SP_AVERAGE_VOLTAGE ? 2 * spread / at.mean : spread / at.mean);
}
