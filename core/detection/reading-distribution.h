/* reading-distribution.h - the distribution of one reading: private to detection.h
 *
 * A reading is made in three steps: the mean or the greatest of `looks` powers; the mean of g of `count` of those, where g is the
 * identity, the logarithm or the root; the greatest or the least of `held` of those.
 * Step 1 has a closed distribution. Step 2, if count > 1, is an inversion integral over a grid of step 1's density. Powers are
 * relative to the mean noise power; levels are dB over it.
 */
#pragma once

#include "core/detection/detection.h"

typedef struct {
  gboolean greatest;
  double looks;
  double with_line; /* number of looks that hold the signal, of the greatest of them; >= 1 */
  SpAverage g;      /* POWER, LOG or VOLTAGE */
  double count;
  double held;
  gboolean least; /* the least of those held, else the greatest */
} SpReadingModel;

/* The grid is uniform in v, amplitude = ln(1 + e^v): logarithmic near zero amplitude, uniform above, smooth throughout, so the
 * trapezoid rule converges exponentially. Step 1/16 and reach 24, both over sqrt(looks) for a mean: at least eight steps in a standard
 * deviation, enough for the tilts of a false alarm in 1e10 (calculated). */
#define SP_GRID_STEPS 16
#define SP_GRID_REACH 24                                /* calculated */
#define SP_GRID (2 * SP_GRID_STEPS * SP_GRID_REACH + 1) /* room for the grid */

/* Some 12 kB, to be put on the stack. */
typedef struct {
  SpReadingModel model;
  double signal;        /* power over mean noise power */
  guint n;              /* points of the grid; 0: not built yet */
  double g[SP_GRID];    /* ascending */
  double ln_w[SP_GRID]; /* logarithm of the probability at g[] */
} SpReadingDistribution;

/* The simplest model of a law's readings: a mean of means is a mean. */
SpReadingModel sp_reading_model_of (const SpDetectorLaw *law);

/* Readings with a signal of `signal_db`. _prepare does not build the grid; the three moment functions do so when needed. */
void sp_reading_prepare (SpReadingDistribution *r, const SpDetectorLaw *law, double signal_db);
void sp_reading_init (SpReadingDistribution *r, const SpDetectorLaw *law, double signal_db);

/* P(reading > level_db), and the level exceeded with probability `tail`, of an initialised reading. */
double sp_reading_tail (const SpReadingDistribution *r, double level_db);
double sp_reading_quantile_db (const SpReadingDistribution *r, double tail);

/* Mean of g as a level: the display of an infinite average. */
double sp_reading_mean_db (SpReadingDistribution *r);
/* Standard deviation in dB, by moments, as if the reading before any hold were normal. */
double sp_reading_normal_u_db (SpReadingDistribution *r);

/* Root of f in [low, high] to 1e-7 (Brent); the end where f is nearer 0 if there is no change of sign; NaN if f is NaN there. */
double sp_solve (double (*f) (double x, void *data), void *data, double low, double high);
