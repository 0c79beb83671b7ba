/* overload-checks.c - runs the overload checks of overload.h on a condition's sweeps and adds the warnings */
#include "core/judge/emission/emission.h"
#include "core/judge/emission/overload.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

#define AWAY_RBWS 20.0   /* distance from the carrier (common practice, no source) */
#define STEP_POINTS 4096 /* points of a step's noise that are compared; bounds time */

typedef struct {
  const SpJudging *c;
  const SpJudgedSweep *s;
} OfSweep;

static double
phase_noise_at (double frequency_hz, gpointer data)
{
  const OfSweep *p = data;
  guint64 i = MIN (sp_trace_find (p->s->trace, frequency_hz), p->s->trace->n - 1);
  return sp_predict_phase_noise_dbm (p->c->analyzer, sp_judging_carrier_at_dbm (p->c, p->s, i), frequency_hz - p->c->out->fundamental_hz,
                                     p->s->nbw_hz);
}

static gboolean
knows_phase_noise (const SpJudging *c, const SpJudgedSweep *s)
{
  return c->analyzer->phase_noise_dbc_hz && isfinite (s->nbw_hz) && !isnan (c->out->power_dbm);
}

/* Rise of the sweep's noise over `without`, dB. Known phase noise is subtracted; if it is unknown, 1 MHz round the carrier is left out. */
static double
noise_over (const SpJudging *c, const SpJudgedSweep *s, const SpNoiseTrace *without, gboolean phase_noise, double *at_hz)
{
  gboolean known = knows_phase_noise (c, s);
  double away = fmax (fmax (c->out->exclude_hz, s->noise_window_hz), fmax (AWAY_RBWS * s->rbw_hz, known ? 0 : SP_PHASE_NOISE_UNKNOWN_HZ));
  OfSweep of = { c, s };
  SpNoiseTrace with = { s->trace->n, s->trace->frequency_hz, s->out->noise_dbm };
  return sp_noise_rise_db (&with, without, c->out->fundamental_hz, away, known && phase_noise ? phase_noise_at : NULL, &of, at_hz);
}

static void
check_noise (const SpJudging *c, const SpJudgedSweep *keyed, const SpJudgedSweep *unkeyed, GPtrArray *warnings)
{
  if (!sp_settings_alike (&keyed->trace->settings, &unkeyed->trace->settings) || isnan (c->out->power_dbm) || unkeyed->use.not_usable)
    return;
  SpNoiseTrace without = { unkeyed->trace->n, unkeyed->trace->frequency_hz, unkeyed->out->noise_dbm };
  double at, rise = noise_over (c, keyed, &without, TRUE, &at);
  if (rise > SP_NOISE_RISE_DB)
    sp_reasons_add (warnings, sp_reason (NOISE_RISES, .file = keyed->trace->file, .unkeyed_file = unkeyed->trace->file, .rise_db = rise,
                                         .at_hz = at));
}

/* The carrier's loss before the mixer, up to a constant: only differences are used. */
static double
before_mixer_db (const SpJudgedSweep *s)
{
  return s->attenuation_db + s->to_socket_db - s->shift_db;
}

double
sp_judging_noise_over_step_db (const SpJudging *c, const SpJudgedSweep *a, const SpJudgedSweep *b, gboolean phase_noise, double *at_hz)
{
  const SpJudgedSweep *loud = before_mixer_db (a) <= before_mixer_db (b) ? a : b, *quiet = loud == a ? b : a;
  SpSettings of_loud = loud->trace->settings, of_quiet = quiet->trace->settings;
  double step_db = quiet->attenuation_db - loud->attenuation_db;
  of_loud.attenuation_db = of_quiet.attenuation_db = 0;
  if (isnan (step_db) || isnan (c->out->fundamental_hz) || !sp_settings_alike (&of_loud, &of_quiet))
    return NAN;
  /* The quiet sweep's noise moved to the loud sweep's mixer and socket. A running quantile needs no more points. */
  guint64 n = MIN (quiet->trace->n, STEP_POINTS);
  g_autofree double *frequency_hz = g_new (double, 2 * n);
  double *noise_dbm = frequency_hz + n;
  for (guint64 k = 0; k < n; k++) {
    guint64 i = k * (quiet->trace->n - 1) / (n - 1);
    frequency_hz[k] = quiet->trace->frequency_hz[i];
    guint64 j = MIN (sp_trace_find (loud->trace, frequency_hz[k]), loud->trace->n - 1);
    noise_dbm[k] = quiet->out->noise_dbm[i] - sp_judging_to_socket_db (quiet, i) + sp_judging_to_socket_db (loud, j) - step_db;
  }
  SpNoiseTrace without = { n, frequency_hz, noise_dbm };
  return noise_over (c, loud, &without, phase_noise, at_hz);
}

static void
check_step_noise (const SpJudging *c, const SpJudgedSweep *keyed, const SpJudgedSweep *step, GPtrArray *warnings)
{
  double at, apart = fabs (before_mixer_db (step) - before_mixer_db (keyed));
  double over = sp_judging_noise_over_step_db (c, keyed, step, TRUE, &at);
  if (over > SP_NOISE_RISE_DB)
    sp_reasons_add (warnings, sp_reason (STEP_NOISE, .file = step->trace->file, .keyed_file = keyed->trace->file, .short_db = over,
                                         .step_db = apart, .at_hz = at));
}

static void
check_raster (const SpJudging *c, GPtrArray *warnings)
{
  g_autofree SpSpectralLine *lines = g_new0 (SpSpectralLine, c->out->n_emissions + 1);
  guint n = 0;
  for (guint i = 0; i < c->out->n_emissions; i++) {
    const SpEmission *e = &c->out->emissions[i];
    if (e->detected)
      lines[n++] = (SpSpectralLine){ e->frequency_hz, e->level_dbm, c->sweeps[e->corrected].spacing_hz / 2 };
  }
  SpRaster raster;
  if (sp_odd_raster (c->out->fundamental_hz, c->out->power_dbm, c->carrier_half_hz, c->out->exclude_hz, n, lines, &raster))
    sp_reasons_add (warnings, sp_reason (ODD_RASTER, .carrier_hz = c->out->fundamental_hz, .other_hz = raster.other_hz,
                                         .spacing_hz = raster.spacing_hz, .third_db = raster.third_db, .fifth_db = raster.fifth_db,
                                         .products = raster.n));
}

void
sp_judging_overload_signs (const SpJudging *c, GPtrArray *warnings)
{
  if (!c->out->has_fundamental)
    return;
  for (guint k = 0; k < c->n; k++)
    for (guint j = c->n; j < c->n_all && c->sweeps[k].purpose == SP_PURPOSE_KEYED; j++)
      if (c->sweeps[j].purpose == SP_PURPOSE_UNKEYED)
        check_noise (c, &c->sweeps[k], &c->sweeps[j], warnings);
  for (guint j = c->n; j < c->n_all; j++)
    if (c->sweeps[j].purpose == SP_PURPOSE_STEP)
      check_step_noise (c, &c->sweeps[MAX (c->keyed_carrier, 0)], &c->sweeps[j], warnings);
  check_raster (c, warnings);
}
