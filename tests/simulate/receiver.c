#include "tests/simulate/receiver.h"

#include <math.h>

#define LOOKS_PER_INVERSE_RBW 4
#define TAPS 4    /* either side: the response in time is down by 100 dB there */
#define REACH 4.0 /* RBW from a line where nothing of it is left */

/* |H(f)| of a Gaussian filter that is 3.01 dB down at half its bandwidth. */
static double
response (double offset_rbw)
{
  return exp (-2 * G_LN2 * offset_rbw * offset_rbw);
}

double
sim_noise_bandwidth_ratio (void)
{
  double sum = 0, step = 1e-3;
  for (double x = -REACH; x <= REACH; x += step)
    sum += response (x) * response (x) * step;
  return sum;
}

double
sim_frequency (const SimSettings *s, guint point)
{
  return s->start_hz + (s->stop_hz - s->start_hz) * point / (s->points - 1);
}

typedef struct {
  double re, im;
} Volt;

static guint
looks_per_point (const SimSettings *s)
{
  double spacing = (s->stop_hz - s->start_hz) / (s->points - 1), seconds = spacing / (s->rate * s->rbw_hz * s->rbw_hz);
  guint looks = (guint) fmax (1, round (seconds * LOOKS_PER_INVERSE_RBW * s->rbw_hz));
  /* One look a point needs no others, once those of its neighbours are independent. */
  return s->detector == SP_DETECTOR_SAMPLE && looks >= LOOKS_PER_INVERSE_RBW ? 1 : looks;
}

/* Noise of unit mean power in the filter, look by look. */
static void
make_noise (SimChance *chance, guint n, gboolean independent, Volt *out)
{
  double tap[2 * TAPS + 1], power = 0;
  for (int k = -TAPS; k <= TAPS; k++) {
    double t = (double) k / LOOKS_PER_INVERSE_RBW;
    tap[k + TAPS] = exp (-G_PI * G_PI * t * t / (2 * G_LN2)); /* the filter's answer to an impulse */
    power += tap[k + TAPS] * tap[k + TAPS];
  }
  guint m = independent ? n : n + 2 * TAPS;
  g_autofree Volt *white = g_new (Volt, m);
  for (guint i = 0; i < m; i++)
    sim_normal_pair (chance, &white[i].re, &white[i].im);
  for (guint i = 0; i < n; i++) {
    Volt v = { 0, 0 };
    for (guint k = 0; k <= 2 * TAPS && !independent; k++) {
      v.re += tap[k] * white[i + k].re;
      v.im += tap[k] * white[i + k].im;
    }
    double scale = sqrt (independent ? 0.5 : 0.5 / power);
    out[i] = independent ? white[i] : v;
    out[i].re *= scale;
    out[i].im *= scale;
  }
}

/* A line at each look: what the filter lets through of it, turning by its own frequency, look by look. */
static void
add_line (const SimSettings *s, guint looks, const SimLine *line, Volt *out)
{
  double spacing = (s->stop_hz - s->start_hz) / (s->points - 1), a = pow (10, line->level_dbm / 20);
  double seconds = spacing / (s->rate * s->rbw_hz * s->rbw_hz) / looks;
  double from = (line->frequency_hz - REACH * s->rbw_hz - s->start_hz) / spacing - 1, to = from + 2 * REACH * s->rbw_hz / spacing + 2;
  guint first = (guint) fmin (fmax (0, from), s->points);
  double start = line->phase + 2 * G_PI * fmod (line->frequency_hz * seconds * ((double) first * looks), 1);
  double step = 2 * G_PI * fmod (line->frequency_hz * seconds, 1);
  Volt at = { cos (start), sin (start) }, turn = { cos (step), sin (step) };
  for (guint i = first; i < s->points && i <= to; i++)
    for (guint j = 0; j < looks; j++) {
      double f = sim_frequency (s, i) + ((j + 0.5) / looks - 0.5) * spacing, v = a * response ((f - line->frequency_hz) / s->rbw_hz);
      out[i * looks + j].re += v * at.re;
      out[i * looks + j].im += v * at.im;
      at = (Volt){ at.re * turn.re - at.im * turn.im, at.re * turn.im + at.im * turn.re };
    }
}

/* What the detector makes of one point's looks, as a power. */
static double
detect (const SimSettings *s, guint point, guint looks, const Volt *v)
{
  double sum = 0, greatest = 0, least = INFINITY;
  for (guint j = 0; j < looks; j++) {
    double p = v[j].re * v[j].re + v[j].im * v[j].im;
    greatest = fmax (greatest, p);
    least = fmin (least, p);
    if (s->detector == SP_DETECTOR_RMS || s->average == SP_AVERAGE_POWER)
      sum += p;
    else
      sum += s->average == SP_AVERAGE_LOG ? log (p) : sqrt (p);
  }
  sum /= looks;
  switch (s->detector) {
  case SP_DETECTOR_PEAK: return greatest;
  case SP_DETECTOR_NEGATIVE: return least;
  case SP_DETECTOR_NORMAL: return point % 2 ? greatest : least;
  case SP_DETECTOR_RMS: return sum;
  case SP_DETECTOR_AVERAGE: return s->average == SP_AVERAGE_POWER ? sum : s->average == SP_AVERAGE_LOG ? exp (sum) : sum * sum;
  default: return v[looks / 2].re * v[looks / 2].re + v[looks / 2].im * v[looks / 2].im;
  }
}

static double
put_in (const SimSettings *s, double so_far, double power)
{
  if (s->max_hold)
    return fmax (so_far, power);
  if (s->min_hold)
    return fmin (so_far, power);
  return so_far + (s->average == SP_AVERAGE_LOG ? log (power) : s->average == SP_AVERAGE_VOLTAGE ? sqrt (power) : power);
}

static double
take_out (const SimSettings *s, double sum)
{
  if (s->max_hold || s->min_hold)
    return sum;
  double mean = sum / s->averages;
  return s->average == SP_AVERAGE_LOG ? exp (mean) : s->average == SP_AVERAGE_VOLTAGE ? mean * mean : mean;
}

void
sim_receive (SimChance *chance, const SimSettings *s, guint n, const SimLine *lines, double noise_dbm, double *out_dbm)
{
  guint looks = looks_per_point (s), all = looks * s->points;
  gboolean independent = s->detector == SP_DETECTOR_SAMPLE && looks == 1;
  g_autofree Volt *v = g_new (Volt, all);
  double a = pow (10, noise_dbm / 20), last = 1;
  for (guint i = 0; i < s->points; i++)
    out_dbm[i] = s->min_hold ? INFINITY : 0;
  for (guint sweep = 0; sweep < s->averages; sweep++) {
    make_noise (chance, all, independent, v);
    for (guint i = 0; i < all; i++) {
      double over = s->ground_db && i % looks == 0 ? pow (10, s->ground_db (sim_frequency (s, i / looks), s->ground) / 20) : last;
      v[i].re *= a * over;
      v[i].im *= a * over;
      last = over;
    }
    for (guint k = 0; k < n; k++)
      add_line (s, looks, &lines[k], v);
    for (guint i = 0; i < s->points; i++)
      out_dbm[i] = put_in (s, out_dbm[i], detect (s, i, looks, v + (gsize) i * looks));
  }
  for (guint i = 0; i < s->points; i++)
    out_dbm[i] = 10 * log10 (take_out (s, out_dbm[i]));
}
