/* emission.c - lists each harmonic and spur of a condition once, from the sweep that shows it best */
#include "core/judge/emission/emission.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

void
sp_emission_init (SpEmission *e, guint order, double frequency_hz)
{
  *e = (SpEmission){ .order = order, .frequency_hz = frequency_hz, .from_hz = frequency_hz, .to_hz = frequency_hz, .sweep = -1 };
  e->level_dbm = e->level_dbc = e->floor_dbm = e->product_high_dbm = e->limit_dbm = e->margin_db = e->conformity = NAN;
  e->radio_low_dbm = e->radio_high_dbm = e->noise_u_db = e->reference_bandwidth_hz = e->frequency_half_hz = e->power_dbm = e->bandwidth_hz
      = NAN;
  e->sampling_loss_db = 0;
  e->reading_dbm = e->loss_db = NAN;
}

/* Splits level minus reading into its parts. The remainder is the line's rise between two points. */
static void
take_apart (const SpJudging *c, SpEmission *e, const SpDetection *detection, const SpJudgedSweep *s, double loss_db)
{
  const SpCurve *correction = c->analyzer->amplitude_correction_db;
  e->loss_db = loss_db;
  e->correction_db = correction ? sp_curve_at (correction, e->frequency_hz, 0).value : 0;
  e->shift_db = s->shift_db;
  double added = e->loss_db + e->correction_db + e->shift_db;
  e->near_noise_db = detection->detected ? detection->near_noise_db : 0;
  e->reading_dbm = detection->detected ? detection->reading_dbm : e->level_dbm - added;
  e->line_db = detection->detected ? e->level_dbm - (e->reading_dbm + e->near_noise_db + added) : 0;
}

/* Half a point's spacing, for a band the error of its middle, a twentieth (common practice, no source), and the analyzer's clock error. */
static double
frequency_half_hz (const SpJudging *c, const SpJudgedSweep *s, const SpDetection *detection)
{
  guint64 i = MIN (sp_trace_find (s->trace, detection->frequency_hz), s->trace->n - 1);
  double ppm = isnan (c->analyzer->frequency_ppm) ? 0 : c->analyzer->frequency_ppm;
  return sp_judging_spacing (s, i) / 2 + (detection->to_hz - detection->from_hz) / 20 + detection->frequency_hz * ppm * 1e-6;
}

void
sp_judging_fill (const SpJudging *c, SpEmission *e, const SpDetection *detection, guint k, GPtrArray *warnings)
{
  const SpJudgedSweep *s = &c->sweeps[k];
  e->swept = TRUE;
  e->detected = detection->detected;
  e->corrected = k;
  e->sweep = (int) s->out->sweep;
  e->frequency_hz = detection->frequency_hz;
  e->frequency_half_hz = detection->detected ? frequency_half_hz (c, s, detection) : NAN;
  e->level_dbm = detection->level_dbm;
  e->power_dbm = sp_judging_power_dbm (c, s);
  e->level_dbc = detection->level_dbm - e->power_dbm;
  e->kind = detection->detected ? detection->kind : SP_KIND_LINE;
  e->bandwidth_hz = detection->to_hz > detection->from_hz ? detection->width_hz : NAN;
  e->from_hz = detection->from_hz;
  e->to_hz = detection->to_hz;
  e->summed = detection->detected && detection->kind != SP_KIND_LINE;
  e->reference_bandwidth_hz = detection->reference_hz;
  e->excess_db = detection->below_db;
  e->floor_dbm = detection->floor_dbm;
  e->floor_cause = detection->cause;
  e->noise_u_db = detection->detected ? detection->noise_u_db : 0;
  e->sampling_loss_db = detection->loss_db;
  e->product_high_dbm = sp_judging_product_high (c, s, e->order);
  SpChainLoss loss = sp_chain_loss (s->chain, e->frequency_hz, c->bench->temperature_c, 0, NULL);
  e->calibrated = loss.calibrated;
  take_apart (c, e, detection, s, loss.loss_db);
  if (!loss.calibrated) {
    const char *stage = loss.uncalibrated_stage >= 0 ? s->chain->stages[loss.uncalibrated_stage]->name : "";
    sp_reasons_add (warnings, sp_reason (OUTSIDE_CALIBRATION, .stage = stage, .at_hz = e->frequency_hz));
  }
}

/* Two sweeps differ in possible loss and excess only from here on (common practice, no source) */
#define LESS_OPEN_DB 0.3

/* Of two sweeps that agree on a line, takes the one with less possible loss and excess; if equal, the one with the lower floor. */
static gboolean
tells_more (const SpDetection *a, const SpDetection *b)
{
  double open_a = a->loss_db + a->below_db, open_b = b->loss_db + b->below_db;
  return fabs (open_a - open_b) > LESS_OPEN_DB ? open_a < open_b : a->floor_dbm < b->floor_dbm;
}

/* The emission's level is the highest reading so far. If sweeps with other settings agree with it within U, one of them may be better;
 * among repeats of that one, takes the highest. */
static void
settle (const SpJudging *c, SpEmission *e, GPtrArray *warnings)
{
  if (!e->detected)
    return;
  const SpJudgedSweep *highest = &c->sweeps[e->corrected];
  double level = e->level_dbm, noise_u = e->noise_u_db, open = e->sampling_loss_db + e->excess_db, frequency_hz = e->frequency_hz;
  SpDetection best = sp_judging_detect_emission (c, &c->sweeps[e->corrected], e);
  int from = -1;
  for (guint k = 0; k < c->n; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    if (sp_judging_equal_settings (s, highest) || !sp_judging_could_see (c, s, e))
      continue;
    SpDetection detection = sp_judging_detect_emission (c, s, e);
    double u = hypot (hypot (noise_u, detection.noise_u_db), sp_judging_differential_u_db (c, highest, s, frequency_hz));
    gboolean repeated = from >= 0 && sp_judging_equal_settings (s, &c->sweeps[from]);
    if (!detection.detected || !(level - detection.level_dbm <= 2 * u) || detection.loss_db + detection.below_db > open)
      continue;
    if (repeated ? detection.level_dbm > best.level_dbm : tells_more (&detection, &best)) {
      best = detection;
      from = (int) k;
    }
  }
  if (from < 0)
    return;
  if (!e->order) /* a spur may be anywhere in the sweep */
    best.floor_dbm = sp_judging_floor_at (c, &c->sweeps[from],
                                          MIN (sp_trace_find (c->sweeps[from].trace, best.frequency_hz), c->sweeps[from].trace->n - 1),
                                          best.frequency_hz, (double) c->sweeps[from].trace->n, &best.cause);
  sp_judging_fill (c, e, &best, (guint) from, warnings);
}

GArray *
sp_judging_emissions (const SpJudging *c, GArray *climbs, GPtrArray *warnings)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (SpEmission));
  for (guint order = 2; order <= c->mask->harmonics && !isnan (c->out->fundamental_hz); order++) {
    SpEmission e = sp_judging_harmonic (c, order, warnings);
    g_array_append_val (found, e);
  }
  g_autoptr (GArray) spurs = sp_judging_spurs (c, found, climbs, warnings);
  g_array_append_vals (found, spurs->data, spurs->len);
  for (guint i = 0; c->n > 1 && i < found->len; i++)
    settle (c, &g_array_index (found, SpEmission, i), warnings);
  return found;
}
