/* band.c - sums power over a band, and gives the uncertainty that noise causes */
#include "core/detection/band.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "core/quantity/ascending.h"
#include "core/quantity/units.h"

#define B_N_RELATIVE 0.05 /* of a filter within 5 % of its name (common practice, no source) */
/* Normal distribution: noise exceeds its mean by 2.33 once in a hundred, and 97.7 % of a signal's readings are above -2.00; calculated */
#define BOTH_TAILS 4.33

static guint64
first_from (const SpBandView *v, double frequency_hz)
{
  return sp_ascending_first (v->n, v->frequency_hz, frequency_hz);
}

gboolean
sp_band_can_sum (const SpBandView *v)
{
  return isfinite (v->nbw_hz) && v->spacing_hz <= 1.001 * v->rbw_hz;
}

static double
noise_at (const SpBandView *v, double frequency_hz)
{
  return v->noise_dbm[MIN (first_from (v, frequency_hz), v->n - 1)];
}

double
sp_band_noise_beside_dbm (const SpBandView *v, double from_hz, double to_hz)
{
  double below = from_hz - v->noise_reach_hz, above = to_hz + v->noise_reach_hz, least = INFINITY;
  if (below >= v->frequency_hz[0])
    least = noise_at (v, below);
  if (above <= v->frequency_hz[v->n - 1])
    least = fmin (least, noise_at (v, above));
  return least;
}

/* Width of point i's bin within [from, to]; the bin reaches halfway to the neighbours. */
static double
bin_within (const SpBandView *v, guint64 i, double from_hz, double to_hz)
{
  const double *f = v->frequency_hz;
  double low = i > 0 ? (f[i - 1] + f[i]) / 2 : f[0] - (f[1] - f[0]) / 2,
         high = i + 1 < v->n ? (f[i] + f[i + 1]) / 2 : f[i] + (f[i] - f[i - 1]) / 2;
  return fmax (0, fmin (high, to_hz) - fmax (low, from_hz));
}

/* Power over the noise's in point i's bin, times Hz. */
static double
excess_of (const SpBandView *v, guint64 i, double beside_dbm, double from_hz, double to_hz)
{
  double noise = isnan (v->noise_error_db) ? -INFINITY : fmin (v->noise_dbm[i], beside_dbm) - v->noise_error_db;
  return (sp_ratio_from_db (v->level_dbm[i]) - sp_ratio_from_db (noise)) * bin_within (v, i, from_hz, to_hz);
}

/* The window of `wide` points that holds most power: [*first, *end). */
static double
greatest_window (guint64 from, guint64 to, guint64 wide, const double *excess, guint64 *first, guint64 *end)
{
  double sum = 0, best = -INFINITY;
  for (guint64 i = from; i < to; i++) {
    sum += excess[i - from];
    if (i >= from + wide)
      sum -= excess[i - from - wide];
    if ((i + 1 >= from + wide || i + 1 == to) && sum > best) {
      best = sum;
      *end = i + 1;
      *first = i + 1 > from + wide ? i + 1 - wide : from;
    }
  }
  return best;
}

/* Mean and limit of noise alone in a band, over the mean noise in B_n; looks: number of independent looks in the band. */
static void
noise_in (const SpBandView *v, double width_hz, double *mean, double *looks, double *over)
{
  double step = fmax (v->nbw_hz, v->spacing_hz), tail = SP_FALSE_ALARM;
  *mean = fmax (1, width_hz / v->nbw_hz);
  *looks = fmax (1, width_hz / step) * fmax (1, v->averages);
  *over = *mean * (gsl_cdf_gamma_Qinv (tail, *looks, 1 / *looks) - 1 + 2 * v->noise_u);
}

/* Scatter of a signal that is like noise or sweeps through the filter, relative to the sum: each look scatters by its whole power.
 * Readings closer than B_n count as one look. */
static double
readings_scatter (const SpBandView *v, const double *excess, guint64 n, double sum)
{
  double squares = 0;
  for (guint64 i = 0; i < n; i++)
    squares += excess[i] * excess[i];
  return sqrt (squares * fmax (1, v->nbw_hz / v->spacing_hz) / fmax (1, v->averages)) / sum;
}

#define SHARE 0.99 /* ITU-R SM.328: occupied bandwidth */

/* The range of points that holds this share of the power, with half of the rest on either side. */
static double
occupied_hz (const SpBandView *v, guint64 from, guint64 first, guint64 end, const double *excess, double sum)
{
  double below = 0, rest = (1 - SHARE) / 2 * sum, above = 0;
  guint64 low = first, high = end;
  while (low + 1 < end && below + excess[low - from] <= rest)
    below += excess[low++ - from];
  while (high > low + 1 && above + excess[high - 1 - from] <= rest)
    above += excess[--high - from];
  return v->frequency_hz[high - 1] - v->frequency_hz[low] + v->spacing_hz;
}

SpBandSum
sp_band_sum (const SpBandView *v, double from_hz, double to_hz, double reference_hz)
{
  guint64 from = first_from (v, from_hz - v->spacing_hz), to = MIN (first_from (v, to_hz) + 1, v->n), first = from, end = to;
  SpBandSum out = { .power_dbm = -INFINITY, .noise_u_db = INFINITY, .middle_hz = (from_hz + to_hz) / 2 };
  if (!(to > from))
    return out;
  double beside = sp_band_noise_beside_dbm (v, from_hz, to_hz), sum = 0, moment = 0, width = to_hz - from_hz;
  g_autofree double *excess = g_new (double, to - from);
  for (guint64 i = from; i < to; i++)
    sum += excess[i - from] = excess_of (v, i, beside, from_hz, to_hz);
  if (reference_hz < width) {
    guint64 wide = MAX (1, (guint64) round (reference_hz / v->spacing_hz));
    sum = greatest_window (from, to, wide, excess, &first, &end);
    width = reference_hz;
  }
  for (guint64 i = first; i < end; i++)
    moment += fmax (0, excess[i - from]) * (v->frequency_hz[i] - out.middle_hz);
  double noise = sp_ratio_from_db (fmin (beside, noise_at (v, out.middle_hz))), mean, looks, over;
  noise_in (v, width, &mean, &looks, &over);
  out.over_noise = sum / v->nbw_hz / noise;
  out.seen = out.over_noise > (isnan (v->noise_error_db) ? (mean + over) * sp_ratio_from_db (v->greatest_db) : over);
  if (!(sum > 0))
    return out;
  out.power_dbm = sp_db_from_ratio (sum / v->nbw_hz);
  out.middle_hz += moment / sum;
  out.width_hz = occupied_hz (v, from, first, end, excess, sum);
  double scatter_alone = out.width_hz > SP_BAND_LINE_RBWS * v->rbw_hz ? readings_scatter (v, excess + (first - from), end - first, sum) : 0;
  double scatter = mean * sqrt ((1 + 2 * out.over_noise / mean) / looks)
                   / out.over_noise; /* |s + n|^2: the noise alone, and noise times signal */
  out.noise_u_db = SP_DB_PER_NEPER / 2 * hypot (hypot (scatter, scatter_alone), hypot (v->noise_u * mean / out.over_noise, B_N_RELATIVE));
  return out;
}

double
sp_band_floor_db (const SpBandView *v, double width_hz)
{
  double mean, looks, over;
  noise_in (v, width_hz, &mean, &looks, &over);
  double greatest = isnan (v->noise_error_db) ? sp_ratio_from_db (v->greatest_db) : 1, q = mean / looks;
  /* (S - over)^2 = 2^2 q (mean + 2 S): a signal two of its standard deviations below falls to the threshold. */
  double steady = over + 4 * q + sqrt ((over + 4 * q) * (over + 4 * q) - over * over + 4 * q * mean);
  return sp_db_from_ratio (fmax (steady, greatest * mean * (1 + BOTH_TAILS / sqrt (looks))));
}

double
sp_band_spread_db (double width_hz, double nbw_hz)
{
  return width_hz > 0 && nbw_hz > 0 ? sp_db_from_ratio (1 + width_hz / nbw_hz) : 0;
}

/* Calculated: of Carson's width w the frequency moves fastest, by 2 pi (w/4)^2, where tone and deviation share it equally. */
#define SLOW_WIDTHS (M_SQRT2 / M_2_SQRTPI / 2) /* sqrt (2 pi)/4 = 0.627 */

gboolean
sp_band_is_slow (double width_hz, double signal_hz, double rbw_hz)
{
  double order = signal_hz > 0 ? fmax (1, round (width_hz / signal_hz)) : 1;
  return rbw_hz >= SLOW_WIDTHS * width_hz / sqrt (order);
}
