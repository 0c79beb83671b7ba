/* emission.c - the emissions of a condition: each harmonic and each spur once, as the sweep shows it that tells most */
#include "core/judge/case.h"

#include <math.h>

void
sp_emission_init (SpEmission *e, guint order, double frequency_hz)
{
  *e = (SpEmission){ .order = order, .frequency_hz = frequency_hz, .from_hz = frequency_hz, .to_hz = frequency_hz, .sweep = -1 };
  e->level_dbm = e->level_dbc = e->floor_dbm = e->distortion_high_dbm = e->limit_dbm = e->margin_db = e->conformity = NAN;
  e->radio_low_dbm = e->radio_high_dbm = e->noise_u_db = e->reference_bandwidth_hz = e->frequency_half_hz = e->power_dbm = e->bandwidth_hz
      = NAN;
  e->sampling_loss_db = 0;
  e->reading_dbm = e->loss_db = NAN;
}

/* What stands between the reading and the level, each part on its own; what is left between two points is the line's. */
static void
take_apart (SpCase *c, SpEmission *e, const SpSight *sight, const SpCaseSweep *s, double loss_db)
{
  const SpCurve *correction = c->analyzer->amplitude_correction_db;
  e->loss_db = loss_db;
  e->correction_db = correction ? sp_curve_at (correction, e->frequency_hz, 0).value : 0;
  e->shift_db = s->shift_db;
  double added = e->loss_db + e->correction_db + e->shift_db;
  e->near_noise_db = sight->detected ? sight->near_noise_db : 0;
  e->reading_dbm = sight->detected ? sight->reading_dbm : e->level_dbm - added;
  e->line_db = sight->detected ? e->level_dbm - (e->reading_dbm + e->near_noise_db + added) : 0;
}

/* Where it was seen: half a point's spacing, or of a band what its middle may be off by; the analyzer's own clock with it. */
static double
frequency_half_hz (const SpCase *c, const SpCaseSweep *s, const SpSight *sight)
{
  guint64 i = MIN (sp_trace_find (s->trace, sight->frequency_hz), s->trace->n - 1);
  double ppm = isnan (c->analyzer->frequency_ppm) ? 0 : c->analyzer->frequency_ppm;
  return sp_case_spacing (s, i) / 2 + (sight->to_hz - sight->from_hz) / 20 + sight->frequency_hz * ppm * 1e-6;
}

void
sp_case_fill (SpCase *c, SpEmission *e, const SpSight *sight, guint k)
{
  const SpCaseSweep *s = &c->sweeps[k];
  e->swept = TRUE;
  e->detected = sight->detected;
  e->case_sweep = k;
  e->sweep = (int) s->out->sweep;
  e->frequency_hz = sight->frequency_hz;
  e->frequency_half_hz = sight->detected ? frequency_half_hz (c, s, sight) : NAN;
  e->level_dbm = sight->level_dbm;
  e->power_dbm = sp_case_power_dbm (c, s);
  e->level_dbc = sight->level_dbm - e->power_dbm;
  e->kind = sight->detected ? sight->kind : SP_KIND_LINE;
  e->bandwidth_hz = sight->to_hz > sight->from_hz ? sight->width_hz : NAN;
  e->from_hz = sight->from_hz;
  e->to_hz = sight->to_hz;
  e->summed = sight->detected && sight->kind != SP_KIND_LINE;
  e->reference_bandwidth_hz = sight->reference_hz;
  e->excess_db = sight->below_db;
  e->floor_dbm = sight->floor_dbm;
  e->floor_cause = sight->cause;
  e->noise_u_db = sight->detected ? sight->noise_u_db : 0;
  e->sampling_loss_db = sight->loss_db;
  e->distortion_high_dbm = sp_case_distortion_high (c, s, e->order);
  SpChainLoss loss = sp_chain_loss (s->chain, e->frequency_hz, c->bench->temperature_c, 0, NULL);
  e->calibrated = loss.calibrated;
  take_apart (c, e, sight, s, loss.loss_db);
  if (!loss.calibrated) {
    const char *stage = loss.uncalibrated_stage >= 0 ? s->chain->stages[loss.uncalibrated_stage]->name : "";
    sp_case_warn (c, sp_reason_new (SP_REASON_OUTSIDE_CALIBRATION, stage, NULL, NULL, 1, e->frequency_hz));
  }
}

#define LESS_OPEN_DB 0.3 /* what two sweeps leave open differs by so much before it chooses between them */

/* Of two sweeps that agree on a line the one that leaves less of it open tells more; among equals that of the lower floor. */
static gboolean
tells_more (const SpSight *a, const SpSight *b)
{
  double open_a = a->loss_db + a->below_db, open_b = b->loss_db + b->below_db;
  return fabs (open_a - open_b) > LESS_OPEN_DB ? open_a < open_b : a->floor_dbm < b->floor_dbm;
}

/* What stands is the highest reading so far. Of the sweeps of other settings that see it too and agree, the noise and the analyzer's limits of the
 * reading apart, one may tell more; of its repeats again the highest. */
static void
settle (SpCase *c, SpEmission *e)
{
  if (!e->detected)
    return;
  const SpCaseSweep *highest = &c->sweeps[e->case_sweep];
  double level = e->level_dbm, noise_u = e->noise_u_db, open = e->sampling_loss_db + e->excess_db, frequency_hz = e->frequency_hz;
  SpSight best = sp_case_sight_of (c, &c->sweeps[e->case_sweep], e);
  int from = -1;
  for (guint k = 0; k < c->n; k++) {
    SpCaseSweep *s = &c->sweeps[k];
    if (sp_case_equal_settings (s, highest) || !sp_case_could_see (c, s, e))
      continue;
    SpSight sight = sp_case_sight_of (c, s, e);
    double u = hypot (hypot (noise_u, sight.noise_u_db), sp_case_differential_u_db (c, highest, s, frequency_hz));
    gboolean repeated = from >= 0 && sp_case_equal_settings (s, &c->sweeps[from]);
    if (!sight.detected || !(level - sight.level_dbm <= 2 * u) || sight.loss_db + sight.below_db > open)
      continue;
    if (repeated ? sight.level_dbm > best.level_dbm : tells_more (&sight, &best)) {
      best = sight;
      from = (int) k;
    }
  }
  if (from < 0)
    return;
  if (!e->order) /* anywhere in the sweep */
    best.floor_dbm = sp_case_floor_at (c, &c->sweeps[from],
                                       MIN (sp_trace_find (c->sweeps[from].trace, best.frequency_hz), c->sweeps[from].trace->n - 1),
                                       best.frequency_hz, (double) c->sweeps[from].trace->n, &best.cause);
  sp_case_fill (c, e, &best, (guint) from);
}

void
sp_case_emissions (SpCase *c)
{
  g_autoptr (GArray) found = g_array_new (FALSE, FALSE, sizeof (SpEmission));
  c->climbs = g_array_new (FALSE, FALSE, sizeof (SpClimb));
  if (!isnan (c->out->fundamental_hz))
    for (guint order = 2; order <= c->mask->harmonics; order++) {
      SpEmission e;
      sp_case_harmonic (c, &e, order);
      g_array_append_val (found, e);
    }
  g_autoptr (GArray) spurs = sp_case_spurs (c, found);
  g_array_append_vals (found, spurs->data, spurs->len);
  for (guint i = 0; c->n > 1 && i < found->len; i++)
    settle (c, &g_array_index (found, SpEmission, i));
  c->out->n_emissions = found->len;
  c->out->emissions = (SpEmission *) g_array_steal (found, NULL);
}
