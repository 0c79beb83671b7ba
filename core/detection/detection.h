/* detection.h - what noise alone reads, what it practically never reaches, and the least signal that would have been seen
 *
 * All levels here are dB relative to the mean noise power in the RBW's noise bandwidth at that point.
 * A reading of one look is the power |s + n|^2 of a steady signal in complex Gaussian noise: exponential without, noncentral
 * chi-square (two degrees of freedom) with a signal (Rice). Detectors and averages make of several looks:
 *   sample: one look; peak: the greatest of m looks; rms, power average: the mean of m*N powers; log and voltage average: the mean of
 *   m*N logarithms or amplitudes; max hold of N sweeps: the greatest of N; min hold: the least of N.
 * Sums are exact: gamma, Poisson mixture, or the inversion integral through the saddle point; never a normal approximation in the tail.
 */
#pragma once

#include "core/analyzer/analyzer.h"

#define SP_FALSE_ALARM 0.01 /* noise alone exceeds the threshold at any looked-at point */
#define SP_DETECTION 0.977  /* a signal at the detection limit is seen with this probability */

/* What follows from a detector alone: a new one is a row of the table in traits.c. */
typedef struct {
  gboolean law_known;      /* how its readings of noise are distributed is known, of what it averages aside */
  gboolean follows_a_line; /* its readings bend as the filter does, so a vertex can be laid through three of them */
  gboolean sums;           /* a reading gathers all looks of its bucket */
  gboolean extreme;        /* a reading is the greatest or the least of its bucket's looks, or weighs the greatest most */
  gboolean least;          /* it is the least: a line narrower than the bucket may vanish */
  gboolean alternates;     /* greatest and least in turn, or may be: a line may be shown a bucket late */
  gboolean shows_greatest; /* of unknown law, but a line whose points lie within the RBW is shown whole */
} SpDetectorTraits;
const SpDetectorTraits *sp_detector_traits (SpDetector detector);

/* How the readings of a trace were made. */
typedef struct {
  SpDetector detector; /* never UNKNOWN, NORMAL or QUASI_PEAK: sp_law_of() takes the worst case for those and says so */
  SpAverage average;
  double looks;    /* independent looks per point, m >= 1 */
  double averages; /* N >= 1 */
  gboolean max_hold;
  gboolean min_hold;  /* the least of the N sweeps */
  double line_looks;  /* of a peak's looks so many hold the line; 0: one, the least favourable to seeing it */
  gboolean kind_open; /* of what the averages are taken nobody knows: `average` is the kind of the highest detection limit */
} SpDetectorLaw;

/* Where the noise stands among the readings: the quantile that is taken for the median of the law's noise, and what is added to it. 0.5 and 0;
 * 'normal' alternates between greatest and least, so that its upper half is the peak's: its median is the 0.75 quantile (where the halves are
 * alike that is 3 dB high, on the safe side), and an unknown detector may be that one; the least of a bucket dips deeper than any law here,
 * 2.5 dB (by simulation, tests/simulate). */
void sp_noise_place (const SpSettings *settings, double *rank, double *extra_db);

/* The law of a trace: m from point spacing and RBW, max(1, s/NBW); N = averages, 1 where not known (the safe side: the noise is read from
 * the trace itself), but 10 for a minimum hold, where that would be the other side. `assumed` set where the detector is not known or is
 * 'normal', negative or quasi-peak, or at minimum hold. 'Normal' is judged as peak; for the others, among sample, peak, rms and average, the law
 * with the highest detection limit *over the displayed median of the noise* is returned; so it is of power, voltage and log for an average
 * that does not say of what (`kind_open`). */
SpDetectorLaw sp_law_of (const SpSettings *settings, double spacing_hz, double nbw_hz, gboolean *assumed);

/* Reading that noise alone stays below with probability p (0 < p < 1), dB over mean noise power. */
double sp_law_noise_quantile_db (const SpDetectorLaw *law, double p);
/* Threshold for n looked-at points (>= 1): exceeded by noise alone at any of them with probability SP_FALSE_ALARM. */
double sp_law_threshold_db (const SpDetectorLaw *law, double n);
/* Probability that a reading exceeds `threshold_db` where a signal of `signal_db` is present (-INFINITY: noise alone). */
double sp_law_exceed (const SpDetectorLaw *law, double threshold_db, double signal_db);
/* Least signal, dB over mean noise power, that exceeds the threshold with probability SP_DETECTION; -INFINITY where noise alone does. */
double sp_law_detection_limit_db (const SpDetectorLaw *law, double threshold_db);

/* u of the median of readings of noise alone, times the root of their number: 1.25 of their spread (half between the 15.87 and 84.13 % quantiles). */
double sp_law_median_u_db (const SpDetectorLaw *law);
/* How many looks a reading is the mean of; 1 where it is the mean of none. */
double sp_law_looks_averaged (const SpDetectorLaw *law);

/* Mean of the noise in the reading's own kind (log averages -2.5068 dB, voltage averages -1.0491 dB, peaks of m looks 10 lg(1 + 1/2 + ... +
 * 1/m)), dB over mean noise power; under max or min hold that of one sweep. */
double sp_law_noise_mean_db (const SpDetectorLaw *law);

/* Correction to add to a reading (dB over mean noise *power*, like all here) to get the signal: <= 0, but under minimum hold, where noise has taken
 * something off, > 0. And the standard uncertainty that noise gives the corrected reading: half the 15.87 .. 84.13 % spread of the reading
 * times the slope of the correction. Power averages: 10 lg(1 - 10^(-reading/10)); log and voltage averages, and averages of peaks: the
 * signal whose mean reading this is (for one look E1 and Rice's mean); maximum and minimum hold: the signal whose median held reading this is;
 * single looks and peaks: 0. Where the law leaves something open (the kind of the average; how many looks of an averaged peak, or how many points
 * of a held line, had the line) it is the middle of what may be, and u holds half the width as a rectangle. The reading should be at least the
 * threshold; one not over the displayed noise gives -INFINITY and INFINITY. Held by tests/simulate/near. */
void sp_law_near_noise (const SpDetectorLaw *law, double reading_db, double *correction_db, double *u_db);

/* Loss, dB >= 0, that a line suffers in the worst place between points `spacing_hz` apart: sample 12.04 (s/2B)^2, whatever is averaged over
 * sweeps; rms and power average over the bucket -10 lg of the mean response with the line at the bucket's edge; log average 12.04
 * (s/B)^2/3; voltage average by its own integral; negative 12.04 (s/B)^2; positive peak 0. Unknown, normal, quasi-peak: the greatest of
 * sample, rms and the averages; an average of no stated kind the greatest of its kinds. rbw NaN: INFINITY except for peak. Gaussian filter; `nbw_ratio` sets the noise bandwidth that the means
 * use. */
double sp_sampling_loss_db (SpDetector detector, SpAverage average, double spacing_hz, double rbw_hz, double nbw_ratio);
