/* emit.h - emissions that have a width: modulated ones as the lines that they are made of, noise-like ones as many lines of random size and
 * phase
 *
 * Levels are whole mean powers. Nothing here uses a formula of core: what a filter of any width makes of an emission follows from its
 * lines, added as voltages in the receiver (receiver.h), look by look. Where a noise-like emission is wider than WIDE_RBWS filters, it is
 * noise of its own density, smoothed by the filter: the same law, at less cost.
 *
 * The harmonic n of an FM carrier has n times its deviation: the caller says so (sim_emission_harmonic).
 */
#pragma once

#include "tests/simulate/receiver.h"

typedef enum {
  SIM_CW,
  SIM_FM_TONE,     /* one tone: lines J_k(deviation / tone) */
  SIM_FM_SPEECH,   /* tones of 300 Hz to 3 kHz in random phase: constant envelope, a spectrum nearly Gaussian */
  SIM_AM_TONE,     /* carrier and two sidebands; depth 0 to 1 */
  SIM_KEYING,      /* on and off, half of the time each, `tone_hz` times a second: level is the mean over both */
  SIM_NOISE_FLAT,  /* of even density, width_hz wide */
  SIM_NOISE_GAUSS, /* Gaussian density, width_hz holds 99 % of it */
  SIM_KINDS
} SimKind;

typedef struct {
  SimKind kind;
  double frequency_hz, level_dbm;
  double tone_hz;
  double deviation_hz; /* FM: peak of the one tone, rms of speech */
  double depth;        /* AM */
  double width_hz;     /* noise */
} SimEmission;

const char *sim_kind_name (SimKind kind);
/* The nth harmonic of a carrier: n times the frequency and, of FM, the deviation; that level. */
SimEmission sim_emission_harmonic (const SimEmission *carrier, guint order, double level_dbm);

/* Its lines at rest, frequencies absolute, the strongest carrying all but 10^-6 of the power. step_hz: of noise, the greatest distance
 * between two lines. (transfer full) of SimLine */
GArray *sim_emission_lines (const SimEmission *emission, double step_hz);
/* Narrowest width round the middle that holds 99 % of the power (of lines: from the outermost to the outermost). CW: 0. */
double sim_emission_width_hz (const SimEmission *emission);
/* Truth in a reference bandwidth: the greatest power in any window that wide. A line on both edges: in it (`edges` TRUE) or not. NaN: all
 * of it. */
double sim_emission_in_dbm (const SimEmission *emission, double window_hz, gboolean edges);

/* Readings of all points, dBm, as sim_receive(), of emissions that go on while one sweep after the other is averaged. The noise of the
 * receiver and each emission have random numbers of their own, from the seed and the emission's index: changing one leaves all else as it
 * was. */
void sim_receive_emissions (guint64 seed, const SimSettings *settings, guint n, const SimEmission *emissions, double noise_dbm,
                            double *out_dbm);

/* Power of what is read between two frequencies, by summing over the filter's noise bandwidth, dBm. */
double sim_sum_dbm (const SimSettings *settings, const double *level_dbm, double from_hz, double to_hz);
