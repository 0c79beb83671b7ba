/* overload.c - measures signs of an overloaded input: noise that rises with level, a raster of odd products */
#include "core/judge/emission/overload.h"
#include "core/quantity/ascending.h"

#include <gsl/gsl_sort.h>
#include <math.h>
#include <stdlib.h>

#define PLACES 256       /* bounds time */
#define LEAST_PLACES 16  /* for a median (common practice, no source) */
#define HIGHEST_ORDER 15 /* bounds time */

/* ---- noise that rises with level ---- */

gboolean
sp_settings_alike (const SpSettings *a, const SpSettings *b)
{
  return fabs (a->rbw_hz - b->rbw_hz) <= 1e-3 * a->rbw_hz && a->attenuation_db == b->attenuation_db && a->detector == b->detector
         && a->detector != SP_DETECTOR_UNKNOWN && a->average == b->average && a->hold == b->hold;
}

static double
noise_at (const SpNoiseTrace *trace, double frequency_hz)
{
  return trace->noise_dbm[sp_ascending_nearest (trace->n, trace->frequency_hz, frequency_hz)];
}

double
sp_noise_rise_db (const SpNoiseTrace *keyed, const SpNoiseTrace *unkeyed, double carrier_hz, double away_hz, SpPhaseNoiseAt phase_noise_dbm,
                  gpointer data, double *at_hz)
{
  double rise[PLACES], most = -INFINITY;
  double low = fmax (keyed->frequency_hz[0], unkeyed->frequency_hz[0]);
  double high = fmin (keyed->frequency_hz[keyed->n - 1], unkeyed->frequency_hz[unkeyed->n - 1]);
  guint n = 0;
  *at_hz = NAN;
  for (guint k = 0; k < PLACES && high > low; k++) {
    double f = low + (high - low) * (k + 0.5) / PLACES;
    if (fabs (f - carrier_hz) <= away_hz)
      continue;
    double phase = phase_noise_dbm ? phase_noise_dbm (f, data) : -INFINITY;
    double explained = sp_add_powers_dbm (noise_at (unkeyed, f), isnan (phase) ? -INFINITY : phase);
    rise[n] = noise_at (keyed, f) - explained;
    if (rise[n] > most) {
      most = rise[n];
      *at_hz = f;
    }
    n++;
  }
  if (n < LEAST_PLACES)
    return NAN;
  gsl_sort (rise, 1, n);
  return rise[n / 2];
}

/* ---- a raster of odd products ---- */

/* Level of the strongest line at `frequency_hz`, which is known to +- half_hz; -INFINITY: none. */
static double
level_at (guint n, const SpSpectralLine *lines, double frequency_hz, double half_hz)
{
  double level = -INFINITY;
  for (guint i = 0; i < n; i++)
    if (fabs (lines[i].frequency_hz - frequency_hz) <= half_hz + lines[i].half_hz)
      level = fmax (level, lines[i].level_dbm);
  return level;
}

/* The products of odd order 2 k + 1: one spacing further out on either side for each k. */
static gboolean
raster_of (const SpSpectralLine *first, const SpSpectralLine *second, guint n, const SpSpectralLine *lines, SpRaster *found)
{
  double d = second->frequency_hz - first->frequency_hz, before = fmin (first->level_dbm, second->level_dbm);
  *found = (SpRaster){ .other_hz = second->frequency_hz, .spacing_hz = fabs (d), .third_db = NAN, .fifth_db = NAN };
  for (guint k = 1; 2 * k + 1 <= HIGHEST_ORDER; k++) {
    double half = (k + 1) * first->half_hz + k * second->half_hz, other_half = (k + 1) * second->half_hz + k * first->half_hz;
    if (half >= fabs (d) / 4 || other_half >= fabs (d) / 4) /* so wide a window would find a line anywhere */
      break;
    double here = level_at (n, lines, first->frequency_hz - k * d, half),
           there = level_at (n, lines, second->frequency_hz + k * d, other_half);
    double level = fmax (here, there);
    gboolean both = isfinite (here) && isfinite (there);
    if (!isfinite (level) || level >= before || (k == 1 && !both))
      break;
    found->highest = 2 * k + 1;
    found->n += both ? 2 : 1;
    before = level;
    if (k == 1)
      found->third_db = first->level_dbm - level;
    if (k == 2)
      found->fifth_db = first->level_dbm - level;
  }
  return found->highest >= 5;
}

gboolean
sp_odd_raster (double carrier_hz, double carrier_dbm, double carrier_half_hz, double away_hz, guint n, const SpSpectralLine *lines,
               SpRaster *found)
{
  SpSpectralLine carrier = { carrier_hz, carrier_dbm, carrier_half_hz };
  gboolean any = FALSE;
  for (guint i = 0; i < n; i++) {
    SpRaster raster;
    double apart = fabs (lines[i].frequency_hz - carrier_hz);
    if (apart <= away_hz || lines[i].level_dbm < carrier_dbm - SP_RASTER_CARRIERS_DB || !raster_of (&carrier, &lines[i], n, lines, &raster))
      continue;
    if (!any || raster.n > found->n || (raster.n == found->n && raster.spacing_hz < found->spacing_hz))
      *found = raster;
    any = TRUE;
  }
  return any;
}
