/* receiver.h - behind the mixer: the filter that is swept, noise in it, the detector, averaging
 *
 * The envelope in the filter is followed in time: Gaussian filter, complex Gaussian noise through it, four looks in 1/RBW, so that how many
 * independent ones a point has follows from the speed of the sweep, not from a figure.
 */
#pragma once

#include "core/trace/trace.h"
#include "tests/simulate/chance.h"

typedef struct {
  double frequency_hz, level_dbm, phase;
} SimLine;

typedef struct {
  double start_hz, stop_hz;
  guint points;
  double rbw_hz;
  SpDetector detector; /* NORMAL: greatest and least in turn */
  SpAverage average;   /* over sweeps, and of the bucket where the detector is AVERAGE (NONE: voltage) */
  guint averages;      /* sweeps averaged, or held */
  gboolean max_hold;
  double rate; /* of the sweep, in RBW^2: 0.5 is what instruments couple to; slower is less */
  double (*ground_db) (double frequency_hz, gconstpointer data); /* noise over the mean one, where it is not level; NULL: it is */
  gconstpointer ground;                                          /* its data */
  gboolean min_hold;                                             /* the least of the sweeps */
  gboolean kind_unsaid;                                          /* the export does not say of what its averages are */
} SimSettings;

double sim_frequency (const SimSettings *settings, guint point);
/* Readings of all points, dBm. noise_dbm: mean power of the noise in the filter. */
void sim_receive (SimChance *chance, const SimSettings *settings, guint n, const SimLine *lines, double noise_dbm, double *out_dbm);
/* The filter's own noise bandwidth over its 3 dB bandwidth, integrated. */
double sim_noise_bandwidth_ratio (void);
