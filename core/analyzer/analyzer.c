/* analyzer.c - the life of a profile, and what follows from it: noise, products, phase noise, filter, damage */
#include "core/analyzer/analyzer-private.h"

#include <math.h>

SpAnalyzer *
sp_analyzer_ref (const SpAnalyzer *analyzer)
{
  return g_atomic_rc_box_acquire ((SpAnalyzer *) analyzer);
}

static void
clear (gpointer data)
{
  SpAnalyzer *analyzer = data;
  g_clear_pointer (&analyzer->danl_dbm_hz, sp_curve_unref);
  for (guint order = 0; order <= SP_MAX_ORDER; order++)
    g_clear_pointer (&analyzer->intercept_dbm[order], sp_curve_unref);
  g_clear_pointer (&analyzer->phase_noise_dbc_hz, sp_curve_unref);
  g_clear_pointer (&analyzer->amplitude_correction_db, sp_curve_unref);
  g_clear_pointer (&analyzer->vswr, sp_curve_unref);
  g_clear_pointer (&analyzer->attenuator_steps_db, g_array_unref);
  g_clear_pointer (&analyzer->rbw_steps_hz, g_array_unref);
  g_clear_pointer (&analyzer->sweep_times, g_array_unref);
  g_clear_pointer (&analyzer->residuals, g_array_unref);
  g_clear_pointer (&analyzer->warnings, g_ptr_array_unref);
  g_free (analyzer->name);
  g_free (analyzer->file);
  g_free (analyzer->check_text);
  g_free (analyzer->text);
  g_free (analyzer->sha256);
}

void
sp_analyzer_unref (SpAnalyzer *analyzer)
{
  g_atomic_rc_box_release_full (analyzer, clear);
}

double
sp_width_u_db (const SpWidth *width)
{
  switch (width->kind) {
  case SP_WIDTH_RECTANGULAR: return width->width_db / sqrt (3);
  case SP_WIDTH_NORMAL2: return width->width_db / 2;
  case SP_WIDTH_STANDARD: return width->width_db;
  }
  g_return_val_if_reached (NAN);
}

/* Half-power frequency of one pole over the 3 dB half-width of n = 4 of them: 1 / sqrt (2^(1/4) - 1). */
static double
pole_over_half_width (void)
{
  return 1 / sqrt (pow (2, 0.25) - 1);
}

double
sp_filter_nbw_ratio (SpFilter filter)
{
  switch (filter) {
  case SP_FILTER_GAUSSIAN: return sqrt (G_PI / (4 * G_LN2));
  case SP_FILTER_SYNC4: /* pi C(6, 3) / 4^3 poles' widths of B / 2 each */ return G_PI * 20 / 64 * pole_over_half_width () / 2;
  case SP_FILTER_FLAT: return 1;
  }
  g_return_val_if_reached (NAN);
}

double
sp_filter_response_db (SpFilter filter, double offset_hz, double rbw_hz)
{
  double x = offset_hz / rbw_hz;
  switch (filter) {
  case SP_FILTER_GAUSSIAN: return -40 * log10 (2) * x * x;
  case SP_FILTER_SYNC4: {
    double pole = 2 * x / pole_over_half_width ();
    return -40 * log10 (1 + pole * pole);
  }
  case SP_FILTER_FLAT: return fabs (x) <= 0.5 ? 0 : -INFINITY;
  }
  g_return_val_if_reached (NAN);
}

double
sp_analyzer_noise_dbm (const SpAnalyzer *analyzer, double frequency_hz, double rbw_hz, double attenuation_db)
{
  if (!analyzer->danl_dbm_hz)
    return NAN;
  double density = sp_curve_at (analyzer->danl_dbm_hz, frequency_hz, 0).value + (analyzer->danl_log_averaged ? SP_LOG_NOISE_DB : 0);
  return density + 10 * log10 (rbw_hz * sp_filter_nbw_ratio (analyzer->filter)) + attenuation_db;
}

gboolean
sp_analyzer_checked (const SpAnalyzer *analyzer)
{
  const SpCurve *curve = analyzer->amplitude_correction_db;
  for (guint i = 0; curve && i < curve->n; i++)
    if (isnan (curve->u[i]))
      return FALSE;
  return curve != NULL;
}

double
sp_analyzer_correction_u_db (const SpAnalyzer *analyzer, double frequency_hz, gboolean *inside)
{
  *inside = FALSE;
  if (!sp_analyzer_checked (analyzer))
    return 0;
  SpCurveAt at = sp_curve_at (analyzer->amplitude_correction_db, frequency_hz, 0);
  *inside = at.inside;
  return hypot (at.u, analyzer->correction_between_u_db * sp_curve_between (analyzer->amplitude_correction_db, frequency_hz));
}

double
sp_analyzer_product_dbm (const SpAnalyzer *analyzer, guint order, double fundamental_hz, double mixer_dbm)
{
  if (order < 2 || order > SP_MAX_ORDER || !analyzer->intercept_dbm[order])
    return NAN;
  double intercept = sp_curve_at (analyzer->intercept_dbm[order], fundamental_hz, 0).value;
  return order * mixer_dbm - (order - 1) * intercept;
}

double
sp_analyzer_phase_noise (const SpAnalyzer *analyzer, double offset_hz, gboolean *held)
{
  if (held)
    *held = FALSE;
  if (!analyzer->phase_noise_dbc_hz)
    return NAN;
  SpCurveAt at = sp_curve_at (analyzer->phase_noise_dbc_hz, fabs (offset_hz), 0);
  if (held)
    *held = !at.inside;
  return at.value;
}

/* Seconds a hertz of the k-th of the stated sweeps. */
static double
stated_pace (const double *triple, guint k)
{
  return triple[3 * k + 2] / triple[3 * k + 1];
}

double
sp_analyzer_sweep_s (const SpAnalyzer *analyzer, double rbw_hz, double span_hz)
{
  const double *t = (const double *) (void *) analyzer->sweep_times->data;
  guint n = analyzer->sweep_times->len / 3, k = 0;
  if (n == 0)
    return NAN;
  if (rbw_hz <= t[0])
    return span_hz * stated_pace (t, 0) * (t[0] / rbw_hz) * (t[0] / rbw_hz);
  while (k + 1 < n && t[3 * (k + 1)] <= rbw_hz)
    k++;
  double pace = stated_pace (t, k);
  if (k + 1 < n)
    pace *= pow (stated_pace (t, k + 1) / pace, log (rbw_hz / t[3 * k]) / log (t[3 * (k + 1)] / t[3 * k]));
  return span_hz * pace;
}

double
sp_analyzer_damage_dbm (const SpAnalyzer *analyzer, double attenuation_db)
{
  if (isnan (analyzer->damage_attenuation_db))
    return analyzer->damage_dbm;
  double setting = isnan (attenuation_db) ? 0 : attenuation_db;
  return analyzer->damage_dbm - fmax (0, analyzer->damage_attenuation_db - setting);
}
