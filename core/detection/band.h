/* band.h - the power of an emission wider than the filter, and the bounds of such a figure (core/docs/computation.md, section 15)
 *
 * A reading is the power within the filter's noise bandwidth B_n, so a wider emission is in no single reading. Its power is the sum
 * over its band, 10 lg sum 10^(L/10) s/B_n, less the noise's, with spacing s.
 * The sum is a power if the readings are mean powers no further apart than the RBW (a Gaussian response sampled an RBW apart ripples
 * by 6 %, calculated). With log or voltage averages it is too low by the loss of noise-like signals. With the greatest of several
 * looks it is an upper bound.
 *
 * All functions work on one corrected sweep, at the socket, and know no condition.
 */
#pragma once

#include "core/detection/detection.h"

/* A narrower emission reads like a line, within 1.5 dB (core/docs/computation.md, section 15) */
#define SP_BAND_LINE_RBWS 1.5

/* A sweep as the sums need it: n >= 2 points, ascending; noise is the mean power in B_n at each point. */
typedef struct {
  guint64 n;
  const double *frequency_hz, *level_dbm, *noise_dbm;
  double spacing_hz;     /* greatest */
  double rbw_hz, nbw_hz; /* NaN: not known; then no sums */
  /* Half the window of the noise estimate: a wider emission has raised it */
  double noise_reach_hz;
  double noise_u; /* relative standard uncertainty of the noise */
  /* A sum of noise-like readings is too low by this: 0 mean powers, 2.51 log, 1.05 voltage; NaN: the greatest of several looks */
  double noise_error_db;
  double greatest_db; /* excess of such readings over mean power, if noise_error_db is NaN */
  double averages;    /* number of looks averaged in a reading, >= 1 */
} SpBandView;

/* Content of a band. */
typedef struct {
  double power_dbm; /* without the noise's, -INFINITY: none over it. An upper bound includes the noise */
  /* Standard uncertainty by noise, u of the noise estimate and B_n; for an emission wider than a line also by its own scatter */
  double noise_u_db;
  double over_noise; /* power over the mean noise in B_n */
  double width_hz;   /* holds 99 % of the power (ITU-R SM.328), half of the rest on either side */
  double middle_hz;  /* mean frequency of that power; the band's middle if there is none */
  gboolean seen;     /* noise alone holds as much with probability under SP_FALSE_ALARM */
} SpBandSum;

/* TRUE if readings of this sweep can be summed, at least to a bound. */
gboolean sp_band_can_sum (const SpBandView *view);

/* The noise beside [from, to], outside the reach of a signal in it: the lower side, since a carrier may be on the other. INFINITY: the
 * sweep ends before. */
double sp_band_noise_beside_dbm (const SpBandView *view, double from_hz, double to_hz);

/* The sum over [from, to], or over the window of the reference bandwidth in it that holds most power, if that is narrower; reference
 * NaN: no window.
 * Uses the noise beside the band if that is lower: a band as wide as the noise window raises the estimate inside. B_n is known to 5 %
 * (common practice, no source). */
SpBandSum sp_band_sum (const SpBandView *view, double from_hz, double to_hz, double reference_hz);

/* Detection limit of a sum over width_hz, dB over the mean noise in B_n: the least steady power that the sum shows with probability
 * SP_DETECTION, and at least the band's noise plus 4.33 of its standard deviation, since the origin of that noise is unknown
 * (core/docs/computation.md, section 15).
 * One look for each B_n or point, whichever is wider. A width under B_n counts as B_n. */
double sp_band_floor_db (const SpBandView *view, double width_hz);

/* TRUE if the greatest of several looks holds the whole of a frequency-modulated signal of that width. signal_hz: the width of the
 * carrier whose nth multiple it is, filling its bandwidth (0: no multiple, n = 1).
 * The filter follows a sweep rate up to RBW^2: RBW >= 0.627 width/sqrt n (calculated; less if tone or deviation fills more than half
 * of the bandwidth). */
gboolean sp_band_is_slow (double width_hz, double signal_hz, double rbw_hz);

/* Greatest difference between a signal's power and its greatest reading, if no sum is possible: 10 lg (1 + w/B_n). */
double sp_band_spread_db (double width_hz, double nbw_hz);
