/* band.h - the power of an emission that is wider than the filter, and what such a figure bounds (core/docs/computation.md, section 15)
 *
 * A reading is the power within the filter's noise bandwidth B_n. Of what is wider than the filter no reading is the whole: its power is the
 * sum over its band, 10 lg sum 10^(L/10) s/B_n, less the noise's, with s the spacing. That sum is a power where the readings are mean powers and no
 * further apart than the RBW (a Gaussian response sampled an RBW apart ripples by 6 %, calculated); readings of a log or voltage average are too low by
 * what noise-like signals lose there, and the greatest of several looks are upper bounds, and so is their sum.
 *
 * All of it works on one corrected sweep, at the socket, and knows of no case.
 */
#pragma once

#include "core/detection/detection.h"

#define SP_BAND_LINE_RBWS 1.5 /* what is narrower reads as a line does, within 1.5 dB (core/docs/computation.md, section 15) */

/* A sweep, as far as sums ask for it. n >= 2 points, ascending; noise: mean power in B_n at each point. */
typedef struct {
  guint64 n;
  const double *frequency_hz, *level_dbm, *noise_dbm;
  double spacing_hz;     /* greatest */
  double rbw_hz, nbw_hz; /* NaN: not known; then nothing is summed */
  double noise_reach_hz; /* half the window that the noise was taken from: what is wider has lifted it */
  double noise_u;        /* relative standard uncertainty of that noise */
  double
      noise_error_db; /* what a sum of noise-like readings lacks: 0 mean powers, 2.51 log, 1.05 voltage; NaN: the greatest of several looks */
  double greatest_db; /* by how much those stand over mean power, where noise_error_db is NaN */
  double averages;    /* looks of which a reading is the mean, >= 1 */
} SpBandView;

/* What a band holds. */
typedef struct {
  double power_dbm; /* less the noise's; -INFINITY: nothing over it. Upper bound: with it */
  double
      noise_u_db; /* standard uncertainty that noise, that noise's own u, B_n and, of what is wider than a line, its own scatter leave of it */
  double over_noise; /* power over the mean noise in B_n */
  double width_hz;   /* that holds 99 % of the power (ITU-R SM.328), half of the rest on either side */
  double middle_hz;  /* mean frequency of that power; the band's middle where there is none */
  gboolean seen;     /* noise alone holds as much with a probability under SP_FALSE_ALARM */
} SpBandSum;

/* Can readings of this sweep be summed, at least to a bound? */
gboolean sp_band_can_sum (const SpBandView *view);

/* The noise beside [from, to], out of reach of what stands in it: the lower of the two sides, as a carrier may stand on the other. INFINITY: the sweep ends
 * before that. */
double sp_band_noise_beside_dbm (const SpBandView *view, double from_hz, double to_hz);

/* The sum over [from, to] or, with a reference bandwidth that is narrower, over the window of that width in it that holds most; reference NaN: all. The
 * noise is that of the places beside the band, where that is lower: a band as wide as the noise's window has lifted what stands in it.
 * B_n is known to 5 % (common practice, no source). */
SpBandSum sp_band_sum (const SpBandView *view, double from_hz, double to_hz, double reference_hz);

/* Detection limit of a sum over width_hz, dB over the mean noise in B_n: the least steady power that the sum shows with probability SP_DETECTION, and not
 * less than the noise in the band and 4.33 of its scatter (core/docs/computation.md, section 15): whose that noise is nobody knows. Looks:
 * one each B_n or each point, whichever is wider. Width under B_n counts as B_n. */
double sp_band_floor_db (const SpBandView *view, double width_hz);

/* Does the greatest of several looks hold the whole of a frequency-modulated signal of that width, made n-fold of a carrier's that is signal_hz wide and
 * fills its bandwidth (0: of none that folds, n = 1)? It follows what sweeps through the filter by no faster than RBW^2: RBW >= 0.63 width/sqrt n
 * (calculated; a little less where either tone or deviation alone fills it). */
gboolean sp_band_is_slow (double width_hz, double signal_hz, double rbw_hz);

/* How much lower the greatest reading of a signal of that width may stand than its power, where nothing can be summed: 10 lg (1 + w/B_n). */
double sp_band_spread_db (double width_hz, double nbw_hz);
