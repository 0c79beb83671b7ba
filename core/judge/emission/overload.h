/* overload.h - signs that the analyzer's input is overloaded, as figures: noise that rises with level, a raster of odd products
 *
 * Pure: arrays in, figures out. Common practice, no source; what each sign can be mistaken for stands beside it.
 */
#pragma once

#include "core/trace/trace.h"

#define SP_NOISE_RISE_DB 3.0       /* beyond what phase noise explains */
#define SP_RASTER_CARRIERS_DB 40.0 /* the second of the pair lies at most this far below the first */

/* TRUE where noise reads the same in both: RBW, attenuation, detector and average equal and known, spans apart or not. */
gboolean sp_settings_alike (const SpSettings *a, const SpSettings *b);

/* Mean noise at ascending frequencies, both at the same plane. */
typedef struct {
  guint64 n;
  const double *frequency_hz, *noise_dbm;
} SpNoiseTrace;

/* How far the noise of a keyed sweep stands over that of an unkeyed one of like settings, in places further than `away_hz` from the carrier:
 * the median of 256 places over what both cover, each over the unkeyed noise and, in power, what phase noise explains there
 * (`phase_noise_dbm` gives it at a frequency, as noise power in the same bandwidth; NULL: none known). A gain that falls, and products of
 * noise with the carrier, raise it; so does a transmitter's own broadband noise, which a step test tells apart. *at_hz: where it is greatest
 * of those places. NaN: fewer than 16 places are left. */
typedef double (*SpPhaseNoiseAt) (double frequency_hz, gpointer data);
double sp_noise_rise_db (const SpNoiseTrace *keyed, const SpNoiseTrace *unkeyed, double carrier_hz, double away_hz,
                         SpPhaseNoiseAt phase_noise_dbm, gpointer data, double *at_hz);

/* Lines that are seen, in any order; the carrier among them or not. */
typedef struct {
  double frequency_hz, level_dbm, half_hz;
} SpSpectralLine; /* known to +- half_hz */

typedef struct {
  double other_hz; /* the second carrier */
  double spacing_hz;
  guint highest;             /* order of the furthest product that is there, with all below it: 5, 7 ... */
  double third_db, fifth_db; /* the stronger of either order's pair below the first carrier */
  guint n;                   /* products seen */
} SpRaster;

/* A second line within SP_RASTER_CARRIERS_DB of the carrier, further than `away_hz` from it (what is nearer is modulation), for which both
 * third-order products 2 f1 - f2 and 2 f2 - f1 are there and a fifth-order one too, levels falling from carriers to third to fifth.
 * An overloaded input makes that of two signals; so does a transmitter fed with two, or two transmitters in one room. The pair with the
 * most products, then the closest. */
gboolean sp_odd_raster (double carrier_hz, double carrier_dbm, double carrier_half_hz, double away_hz, guint n, const SpSpectralLine *lines,
                        SpRaster *found);
