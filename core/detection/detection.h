/* detection.h - noise readings, the threshold that noise practically never exceeds, and the least signal that would be seen
 *
 * All levels are dB relative to the mean noise power in the RBW's noise bandwidth at that point.
 * A reading of one look is the power |s + n|^2 of a steady signal in complex Gaussian noise: exponential without signal, noncentral
 * chi-square with two degrees of freedom with one (Rice). Detectors and averages combine several looks:
 *   sample: one look; peak: the greatest of m looks; rms, power average: the mean of m*N powers;
 *   log and voltage average: the mean of m*N logarithms or amplitudes; max hold of N sweeps: the greatest of N; min hold: the least of N.
 * Sums are exact: gamma, Poisson mixture, or the inversion integral through the saddle point; never a normal approximation in the
 * tail.
 */
#pragma once

#include "core/analyzer/analyzer.h"

#define SP_FALSE_ALARM 0.01 /* probability that noise alone exceeds the threshold at any considered point (common practice, no source) */
/* probability that a signal at the detection limit is seen; calculated: two standard deviations of a normal law */
#define SP_DETECTION 0.977

/* Properties of a detector alone. A new detector is a row of the table in traits.c. */
typedef struct {
  gboolean law_known;      /* the distribution of its noise readings is known, apart from averaging */
  gboolean follows_a_line; /* readings follow the filter's curve: a vertex can be fitted through three */
  gboolean sums;           /* a reading combines all looks of its bucket */
  /* A reading is the greatest or the least look of its bucket, or weights the greatest most */
  gboolean extreme;
  gboolean least; /* the least: a line narrower than the bucket may vanish */
  /* Alternates, or may alternate, between greatest and least: a line may appear a bucket late */
  gboolean alternates;
  gboolean shows_greatest; /* unknown law, but shows a line with points within the RBW in full */
} SpDetectorTraits;
const SpDetectorTraits *sp_detector_traits (SpDetector detector);

/* How the readings of a trace were made. */
typedef struct {
  SpDetector detector; /* never UNKNOWN, NORMAL or QUASI_PEAK: sp_law_of() assumes the worst case for those and reports it */
  SpAverage average;
  double looks;    /* independent looks per point, m >= 1 */
  double averages; /* N >= 1 */
  gboolean max_hold;
  gboolean min_hold;  /* the least of the N sweeps */
  double line_looks;  /* number of a peak's looks that hold the line; 0: one, the hardest to see */
  gboolean kind_open; /* the kind of the averages is unknown: `average` is the kind with the highest detection limit */
} SpDetectorLaw;

/* Rank of the quantile taken for the median of the law's noise, and a constant to add. Normally 0.5 and 0.
 * 'Normal' alternates between greatest and least, so its upper half is the peak's: its median is the 0.75 quantile (3 dB high if the
 * halves are alike, which is safe), and an unknown detector may be that one. The least of a bucket dips deeper than any law here, 2.5
 * dB (by simulation, tests/simulate). */
void sp_noise_place (const SpSettings *settings, double *rank, double *extra_db);

/* The law of a trace: m from spacing and RBW, max (1, s/NBW). N is the number of averages; 1 if not known, which is safe since the
 * noise is read from the trace, but 10 for a minimum hold, where 1 would be unsafe.
 * `assumed` is set for an unknown, 'normal', negative or quasi-peak detector and for minimum hold. 'Normal' is judged as peak. For the
 * others: of sample, peak, rms and average, the law with the highest detection limit *over the displayed median of the noise*;
 * likewise of power, voltage and log for an average of unknown kind (`kind_open`). */
SpDetectorLaw sp_law_of (const SpSettings *settings, double spacing_hz, double nbw_hz, gboolean *assumed);

/* Level that a reading of noise alone stays below with probability p (0 < p < 1), dB over mean noise power. */
double sp_law_noise_quantile_db (const SpDetectorLaw *law, double p);
/* Threshold for n >= 1 points: noise alone exceeds it at any of them with probability SP_FALSE_ALARM. */
double sp_law_threshold_db (const SpDetectorLaw *law, double n);
/* Probability that a reading exceeds `threshold_db` with a signal of `signal_db` (-INFINITY: noise alone). */
double sp_law_exceed (const SpDetectorLaw *law, double threshold_db, double signal_db);
/* Least signal, dB over mean noise power, that exceeds the threshold with probability SP_DETECTION; -INFINITY if noise alone does. */
double sp_law_detection_limit_db (const SpDetectorLaw *law, double threshold_db);

/* u of the median of noise readings, times the root of their number: 1.25 of their spread (half between the 15.87 and 84.13 %
 * quantiles). */
double sp_law_median_u_db (const SpDetectorLaw *law);
/* Number of looks averaged in a reading; 1 if it is no mean. */
double sp_law_looks_averaged (const SpDetectorLaw *law);

/* Mean noise in the reading's kind (log averages -2.5068 dB, voltage averages -1.0491 dB, peaks of m looks 10 lg(1 + 1/2 + ... +
 * 1/m)), dB over mean noise power; under max or min hold that of one sweep. */
double sp_law_noise_mean_db (const SpDetectorLaw *law);

/* Correction from a reading (dB over mean noise *power*) to the signal, and its standard uncertainty by noise: half the 15.87 .. 84.13
 * % spread of the reading times the slope of the correction. The correction is <= 0, but > 0 under minimum hold, where noise lowers
 * the reading.
 * Power averages: 10 lg(1 - 10^(-reading/10)). Log and voltage averages and averages of peaks: the signal with this mean reading (for
 * one look E1 and Rice's mean). Maximum and minimum hold: the signal with this median held reading. Single looks and peaks: 0.
 * If the law is open (kind of average; looks of an averaged peak, or points of a held line, that had the line), the result is the
 * middle of the range and u includes half its width as a rectangle.
 * The reading should be at least the threshold; a reading not over the displayed noise gives -INFINITY and INFINITY. Verified by
 * tests/simulate/near. */
void sp_law_near_noise (const SpDetectorLaw *law, double reading_db, double *correction_db, double *u_db);

/* Worst-case loss of a line between points `spacing_hz` apart, dB >= 0: sample 12.04 (s/2B)^2, however sweeps are averaged; rms and
 * power average over the bucket -10 lg of the mean response with the line at the bucket's edge; log average 12.04 (s/B)^2/3; voltage
 * average by its integral; negative 12.04 (s/B)^2; positive peak 0.
 * Unknown, normal, quasi-peak: the greatest of sample, rms and the averages. An average of unknown kind: the greatest of its kinds.
 * rbw NaN: INFINITY except for peak. Gaussian filter; `nbw_ratio` sets the noise bandwidth for the means. */
double sp_sampling_loss_db (SpDetector detector, SpAverage average, double spacing_hz, double rbw_hz, double nbw_ratio);
