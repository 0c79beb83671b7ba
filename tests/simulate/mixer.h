/* mixer.h - the analyzer's first mixer as what it is: a voltage that is not quite proportional, driven in the time domain
 *
 * y = a1 x + a2 x^2 + ... + a5 x^5 over one period of the fundamental, then a Fourier transform: every product comes with its own level and
 * phase, and all of them at once. Nothing here knows the formula n Pm - (n - 1) In; tests/simulate/instrument.c finds it again.
 */
#pragma once

#include <glib.h>

#define SIM_ORDERS 10 /* harmonics carried */
#define SIM_DEGREE 5  /* of the polynomial */

/* Voltages of the harmonics of one fundamental, peak volts into 50 ohm; [0] is not used. */
typedef struct {
  double re[SIM_ORDERS + 1], im[SIM_ORDERS + 1];
} SimWave;

typedef struct {
  double a[SIM_DEGREE + 1]; /* a[1] = 1 */
} SimMixer;

/* Coefficients whose nth product, alone, would reach the carrier at an input of intercept_dbm[n] (NaN: none), n = 2 .. SIM_DEGREE;
 * sign[n] +-1. */
SimMixer sim_mixer (const double *intercept_dbm, const int *sign);
SimWave sim_mix (const SimMixer *mixer, const SimWave *in);

void sim_wave_set (SimWave *wave, guint order, double dbm, double phase);
double sim_wave_dbm (const SimWave *wave, guint order); /* -INFINITY: nothing */
/* The same wave, `db` higher, all orders alike. */
SimWave sim_wave_shift (const SimWave *wave, double db);

double sim_volts (double dbm); /* peak, into 50 ohm */
