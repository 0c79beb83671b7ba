/* reading-distribution.h - the distribution of one reading: the engine under detection.h, for it alone
 *
 * A reading is made in three steps: of `looks` powers the mean, or the greatest; of `count` of those the mean of g, g being the identity,
 * the logarithm or the root; of `held` of those the greatest, or the least. The first has a closed distribution; the second, where count > 1, goes by an
 * inversion integral over a grid of the first's density. Powers are over the mean noise power; levels are dB over it.
 */
#pragma once

#include "core/detection/detection.h"

typedef struct {
  gboolean greatest;
  double looks;
  double with_line; /* of the greatest of the looks, so many hold the signal and the others none; >= 1 */
  SpAverage g;      /* POWER, LOG or VOLTAGE */
  double count;
  double held;
  gboolean least; /* of those held */
} SpReadingModel;

/* The grid is uniform in v, amplitude = ln(1 + e^v): logarithmic towards no amplitude, uniform above, smooth throughout, so that the
 * trapezoid rule converges exponentially. Its step is 1/16, its reach 24, both over sqrt(looks) for a mean: at least eight steps in a
 * standard deviation, and all that the tilts for a false alarm in 1e10 ask for. */
#define SP_GRID_STEPS 16
#define SP_GRID_REACH 24
#define SP_GRID (2 * SP_GRID_STEPS * SP_GRID_REACH + 1)

/* Some 12 kB: for the stack. */
typedef struct {
  SpReadingModel model;
  double signal;        /* power over mean noise power */
  guint n;              /* points of the grid; 0: not laid yet */
  double g[SP_GRID];    /* ascending */
  double ln_w[SP_GRID]; /* logarithm of the probability there */
} SpReadingDistribution;

/* How readings of a law are made, in its simplest form: a mean of means is a mean. */
SpReadingModel sp_reading_model_of (const SpDetectorLaw *law);

/* Readings where a signal of `signal_db` is present; _prepare leaves the grid to be laid by whoever needs it, for the three functions of
 * moments. */
void sp_reading_prepare (SpReadingDistribution *r, const SpDetectorLaw *law, double signal_db);
void sp_reading_init (SpReadingDistribution *r, const SpDetectorLaw *law, double signal_db);

/* P(reading > level_db), and the level exceeded with probability `tail`. Of an initialised reading. */
double sp_reading_tail (const SpReadingDistribution *r, double level_db);
double sp_reading_quantile_db (const SpReadingDistribution *r, double tail);

/* Mean of g as a level: what stands on the display of an endless average. */
double sp_reading_mean_db (SpReadingDistribution *r);
/* Standard deviation in dB if the reading (before any hold) were normal: by moments. */
double sp_reading_normal_u_db (SpReadingDistribution *r);

/* Root of f in [low, high] to 1e-7 (Brent); the end where f is nearer 0 if there is no change of sign; NaN if f is NaN there. */
double sp_solve (double (*f) (double x, void *data), void *data, double low, double high);
