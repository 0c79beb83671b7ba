/* signs.c - what of a condition's sweeps is held against overload.h, and said */
#include "core/judge/case.h"
#include "core/judge/overload.h"

#include <math.h>

#define AWAY_RBWS 20.0
#define AWAY_UNKNOWN_HZ 1e6 /* from the carrier, where the profile has no phase noise (common practice, no source) */

typedef struct {
  const SpCase *c;
  const SpCaseSweep *s;
} Place;

/* Phase noise at the socket: the carrier there, L(df), NBW, and the chain's tilt between f0 and f. */
static double
phase_noise_at (double frequency_hz, gpointer data)
{
  const Place *p = data;
  guint64 i = MIN (sp_trace_find (p->s->trace, frequency_hz), p->s->trace->n - 1);
  double tilt = p->s->out->level_dbm[i] - p->s->trace->level_dbm[i] - p->s->to_socket_db;
  gboolean held;
  double density = sp_analyzer_phase_noise (p->c->analyzer, fabs (frequency_hz - p->c->out->fundamental_hz), &held);
  return p->c->out->power_dbm + tilt + density + sp_db_from_ratio (p->s->nbw_hz);
}

static void
look_at_noise (SpCase *c, const SpCaseSweep *keyed, const SpCaseSweep *unkeyed)
{
  if (!sp_settings_alike (&keyed->trace->settings, &unkeyed->trace->settings) || isnan (c->out->power_dbm))
    return;
  gboolean known = c->analyzer->phase_noise_dbc_hz && isfinite (keyed->nbw_hz);
  double away = fmax (fmax (c->out->exclude_hz, keyed->noise_window_hz), fmax (AWAY_RBWS * keyed->rbw_hz, known ? 0 : AWAY_UNKNOWN_HZ)), at;
  Place place = { c, keyed };
  SpNoiseTrace with = { keyed->trace->n, keyed->trace->frequency_hz, keyed->out->noise_dbm };
  SpNoiseTrace without = { unkeyed->trace->n, unkeyed->trace->frequency_hz, unkeyed->out->noise_dbm };
  double rise = sp_noise_rise_db (&with, &without, c->out->fundamental_hz, away, known ? phase_noise_at : NULL, &place, &at);
  if (rise > SP_NOISE_RISE_DB)
    sp_case_warn (c, sp_reason_new (SP_REASON_NOISE_RISES, keyed->trace->file, unkeyed->trace->file, NULL, 2, rise, at));
}

static void
look_for_raster (SpCase *c)
{
  g_autofree SpLine *lines = g_new0 (SpLine, c->out->n_emissions + 1);
  guint n = 0;
  for (guint i = 0; i < c->out->n_emissions; i++) {
    const SpEmission *e = &c->out->emissions[i];
    if (e->detected)
      lines[n++] = (SpLine){ e->frequency_hz, e->level_dbm, c->sweeps[e->case_sweep].spacing_hz / 2 };
  }
  SpRaster raster;
  if (sp_odd_raster (c->out->fundamental_hz, c->out->power_dbm, c->carrier_half_hz, c->out->exclude_hz, n, lines, &raster))
    sp_case_warn (c, sp_reason_new (SP_REASON_ODD_RASTER, NULL, NULL, NULL, 6, c->out->fundamental_hz, raster.other_hz, raster.spacing_hz,
                                    raster.third_db, raster.fifth_db, (double) raster.n));
}

void
sp_case_overload_signs (SpCase *c)
{
  if (!c->out->has_fundamental)
    return;
  for (guint k = 0; k < c->n; k++)
    for (guint j = c->n; j < c->n_all && c->sweeps[k].purpose == SP_PURPOSE_KEYED; j++)
      if (c->sweeps[j].purpose == SP_PURPOSE_UNKEYED)
        look_at_noise (c, &c->sweeps[k], &c->sweeps[j]);
  look_for_raster (c);
}
