#include "tests/simulate/mixer.h"

#include <gsl/gsl_fft_real.h>
#include <math.h>

#define SAMPLES 128 /* products of the degree times the orders, 50, stay under half of it */

double
sim_volts (double dbm)
{
  return sqrt (2 * 50 * 1e-3 * pow (10, dbm / 10));
}

void
sim_wave_set (SimWave *wave, guint order, double dbm, double phase)
{
  double v = sim_volts (dbm);
  wave->re[order] = v * cos (phase);
  wave->im[order] = v * sin (phase);
}

double
sim_wave_dbm (const SimWave *wave, guint order)
{
  double v2 = wave->re[order] * wave->re[order] + wave->im[order] * wave->im[order];
  return 10 * log10 (v2 / (2 * 50 * 1e-3));
}

SimWave
sim_wave_shift (const SimWave *wave, double db)
{
  SimWave out = *wave;
  double factor = pow (10, db / 20);
  for (guint n = 1; n <= SIM_ORDERS; n++) {
    out.re[n] *= factor;
    out.im[n] *= factor;
  }
  return out;
}

/* x = A cos wt: x^n holds cos nwt with A^n / 2^(n - 1); it equals A where a_n (A/2)^(n - 1) = 1. */
SimMixer
sim_mixer (const double *intercept_dbm, const int *sign)
{
  SimMixer mixer = { .a = { 0, 1 } };
  for (guint n = 2; n <= SIM_DEGREE; n++)
    mixer.a[n] = isnan (intercept_dbm[n]) ? 0 : sign[n] * pow (2 / sim_volts (intercept_dbm[n]), n - 1);
  return mixer;
}

static const double *
cosines (void)
{
  static double table[SAMPLES];
  if (table[0] == 0)
    for (guint i = 0; i < SAMPLES; i++)
      table[i] = cos (2 * G_PI * i / SAMPLES);
  return table;
}

SimWave
sim_mix (const SimMixer *mixer, const SimWave *in)
{
  const double *cosine = cosines ();
  double y[SAMPLES] = { 0 };
  for (guint n = 1; n <= SIM_ORDERS; n++)
    for (guint i = 0; i < SAMPLES && (in->re[n] != 0 || in->im[n] != 0); i++)
      y[i] += in->re[n] * cosine[n * i % SAMPLES] - in->im[n] * cosine[(n * i + 3 * SAMPLES / 4) % SAMPLES];
  for (guint i = 0; i < SAMPLES; i++) {
    double x = y[i], power = 0;
    for (guint n = SIM_DEGREE; n >= 1; n--)
      power = (power + mixer->a[n]) * x;
    y[i] = power;
  }
  gsl_fft_real_radix2_transform (y, 1, SAMPLES); /* real parts ascending, imaginary ones from the end */
  SimWave out = { { 0 }, { 0 } };
  for (guint n = 1; n <= SIM_ORDERS; n++) {
    out.re[n] = 2 * y[n] / SAMPLES;
    out.im[n] = 2 * y[SAMPLES - n] / SAMPLES;
  }
  return out;
}
