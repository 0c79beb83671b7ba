/* predict.c - predicts carrier, phase noise, skirt, the analyzer's product, and their floor */
#include "core/predict/predict.h"

#include <math.h>

#include "core/quantity/units.h"

double
sp_predict_mixer_u_db (const SpAnalyzer *a)
{
  return hypot (sp_width_u_db (&a->accuracy), hypot (sp_width_u_db (&a->flatness), sp_width_u_db (&a->scale)));
}

double
sp_predict_line_half_hz (SpDetector detector, double spacing_hz, double rbw_hz)
{
  const SpDetectorTraits *traits = sp_detector_traits (detector);
  if (traits->follows_a_line && spacing_hz <= rbw_hz)
    return spacing_hz / 10;
  return (traits->alternates ? 1.5 : 0.5) * spacing_hz;
}

double
sp_predict_phase_noise_dbm (const SpAnalyzer *analyzer, double carrier_dbm, double offset_hz, double nbw_hz)
{
  if (!analyzer->phase_noise_dbc_hz)
    return -INFINITY;
  return carrier_dbm + sp_analyzer_phase_noise (analyzer, offset_hz, NULL) + sp_db_from_ratio (nbw_hz);
}

double
sp_predict_skirt_dbm (const SpAnalyzer *analyzer, double carrier_dbm, double offset_hz, double spacing_hz, double half_hz, double rbw_hz)
{
  double away = fabs (offset_hz) - spacing_hz / 2 - half_hz;
  return carrier_dbm + sp_filter_response_db (analyzer->filter, fmax (away, 0), rbw_hz);
}

double
sp_predict_product_reserve_db (const SpAnalyzer *analyzer, guint order, double mixer_u_db)
{
  return 2 * hypot (order * mixer_u_db, (order - 1.0) * analyzer->intercept_u_db);
}

const char *
sp_floor_cause_name (SpFloorCause cause)
{
  static const char *const names[] = { "noise", "phase noise", "skirt", "distortion" };
  return names[cause];
}

double
sp_floor_dbm (double detection_dbm, gboolean by_phase_noise, double skirt_dbm, double product_high_dbm, SpFloorCause *cause)
{
  double floor_dbm = detection_dbm;
  *cause = by_phase_noise ? SP_CAUSE_PHASE_NOISE : SP_CAUSE_NOISE;
  if (skirt_dbm > detection_dbm - SP_SKIRT_LEAST_DB)
    floor_dbm = sp_add_powers_dbm (floor_dbm, skirt_dbm);
  if (!isnan (product_high_dbm))
    floor_dbm = sp_add_powers_dbm (floor_dbm, product_high_dbm);
  if (skirt_dbm > detection_dbm && !(product_high_dbm > skirt_dbm))
    *cause = SP_CAUSE_SKIRT;
  else if (product_high_dbm > detection_dbm)
    *cause = SP_CAUSE_PRODUCT;
  return floor_dbm;
}

gboolean
sp_is_unresolved (guint order, double f0, double rbw_hz, double spacing_hz, double carrier_half_hz, double zero_hertz_end_hz, guint *other)
{
  double half = fmax (rbw_hz, spacing_hz) + order * carrier_half_hz, shows = fmax (SP_LINE_SHOWS_RBWS * rbw_hz, spacing_hz);
  guint found = G_MAXUINT;
  if (order * f0 - half <= zero_hertz_end_hz)
    found = 0;
  if (f0 <= half + shows + (order + 1) * carrier_half_hz) /* the next harmonic reads inside this one's window */
    found = order + 1;
  if ((order - 1) * f0 <= half + shows + carrier_half_hz)
    found = 1;
  if (other && found != G_MAXUINT)
    *other = found;
  return found != G_MAXUINT;
}
