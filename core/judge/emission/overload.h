/* overload.h - measures signs of an overloaded analyzer input: noise that rises with level, a raster of odd products
 *
 * Pure: arrays in, figures out. Common practice, no source; each sign's other possible causes are listed with it.
 */
#pragma once

#include "core/trace/trace.h"

#define SP_NOISE_RISE_DB 3.0 /* after phase noise is subtracted (common practice, no source) */
/* The second line of the pair is at most this far below the first (common practice, no source) */
#define SP_RASTER_CARRIERS_DB 40.0

/* TRUE if noise reads the same in both: RBW, attenuation, detector and average are known and equal; the spans may differ. */
gboolean sp_settings_alike (const SpSettings *a, const SpSettings *b);

/* Mean noise at ascending frequencies; both arrays at the same plane. */
typedef struct {
  guint64 n;
  const double *frequency_hz, *noise_dbm;
} SpNoiseTrace;

/* Rise of a keyed sweep's noise over that of an unkeyed sweep with equal settings, further than `away_hz` from the carrier: the median
 * over 256 frequencies of their common range. Phase noise is added in power to the unkeyed noise (`phase_noise_dbm` gives it in the
 * same bandwidth; NULL: none known).
 * *at_hz: the frequency of the greatest rise. NaN: fewer than 16 frequencies remain.
 * Causes: falling gain, products of noise with the carrier, or the transmitter's own broadband noise, which only a step test
 * separates. */
typedef double (*SpPhaseNoiseAt) (double frequency_hz, gpointer data);
double sp_noise_rise_db (const SpNoiseTrace *keyed, const SpNoiseTrace *unkeyed, double carrier_hz, double away_hz,
                         SpPhaseNoiseAt phase_noise_dbm, gpointer data, double *at_hz);

/* Seen lines in any order, with or without the carrier. */
typedef struct {
  double frequency_hz, level_dbm, half_hz;
} SpSpectralLine; /* frequency known to +- half_hz */

typedef struct {
  double other_hz; /* the second carrier */
  double spacing_hz;
  /* Highest order up to which all products are present: 5, 7 ... */
  guint highest;
  /* The stronger product of each order's pair, below the first carrier */
  double third_db, fifth_db;
  guint n; /* number of products seen */
} SpRaster;

/* Finds a second line within SP_RASTER_CARRIERS_DB of the carrier and further than `away_hz` from it (nearer is modulation) with both
 * third-order products 2 f1 - f2 and 2 f2 - f1 and a fifth-order one, levels falling from carriers to third to fifth. Prefers the pair
 * with the most products, then the closest.
 * Causes: an overloaded input with two signals, a transmitter fed with two, or two transmitters in one place. */
gboolean sp_odd_raster (double carrier_hz, double carrier_dbm, double carrier_half_hz, double away_hz, guint n, const SpSpectralLine *lines,
                        SpRaster *found);
