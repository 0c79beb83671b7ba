/* fundamental.c - whether the sweeps show the fundamental, and P if every keyed carrier is clipped */
#include "core/judge/sweep/sweep.h"
#include "core/width/width.h"

#include <math.h>

SpOccupied
sp_judging_occupied (const SpJudging *c)
{
  SpOccupied found = { .signal = SP_NO_SIGNAL, .by_line_hz = NAN };
  if (c->carrier_sweep < 0)
    return found;
  const SpJudgedSweep *s = &c->sweeps[c->carrier_sweep];
  found.signal = sp_judging_signal_of_sweep (c, s, &s->carrier);
  if (found.signal.told)
    found.by_line_hz = sp_width_line_occupied_hz (c->analyzer->filter, s->rbw_hz);
  return found;
}

gboolean
sp_judging_calibrated (const SpJudging *c, GPtrArray *warnings)
{
  const SpChain *chain = c->carrier_sweep >= 0 ? c->sweeps[c->carrier_sweep].chain : c->chain;
  double f0 = c->out->fundamental_hz;
  if (isnan (f0))
    return TRUE;
  SpChainLoss loss = sp_chain_loss (chain, f0, c->bench->temperature_c, 0, NULL);
  if (!loss.calibrated && loss.uncalibrated_stage >= 0)
    sp_reasons_add (warnings, sp_reason (OUTSIDE_CALIBRATION, .stage = chain->stages[loss.uncalibrated_stage]->name, .at_hz = f0));
  return loss.calibrated;
}

void
sp_judging_power_warnings (const SpJudging *c, GPtrArray *warnings)
{
  double p = c->out->power_dbm, rated = c->condition->rated_w, u = c->out->power_expanded_db, over = p - sp_dbm_from_watt (rated);
  gboolean may_be_more = c->power_at_least && over < 0; /* P of a clipped carrier */
  if (!c->out->has_fundamental && !sp_reasons_have (warnings, SP_REASON_FUNDAMENTAL_NEAR_ZERO))
    sp_reasons_add (warnings, sp_reason (NO_FUNDAMENTAL, .sought_hz = c->condition->fundamental_hz));
  if (fabs (over) > u && !may_be_more) /* FALSE for NaN */
    sp_reasons_add (warnings,
                    sp_reason (RATED_POWER, .power_w = sp_watt_from_dbm (p), .rated_w = rated, .over_db = over, .expanded_db = u));
}

/* ---- no carrier where one should be ---- */

/* A keyed sweep covers the stated frequency but shows no carrier: the radio may be another. NULL also if a meter read power and this
 * sweep may have missed it. */
static SpReason *
not_shown_in (const SpJudging *c, const SpJudgedSweep *s, GPtrArray *warnings)
{
  double f0 = c->condition->fundamental_hz, zero = sp_judging_zero_hertz_end (s);
  if (s->purpose != SP_PURPOSE_KEYED || isnan (f0) || !sp_judging_holds (s, f0))
    return NULL;
  guint64 i = MIN (sp_trace_find (s->trace, f0), s->trace->n - 1);
  gboolean near_zero = f0 <= zero, metered = !isnan (c->condition->meter_dbm) && c->condition->meter_use != SP_METER_CHECK;
  g_autoptr (SpReason) why = near_zero ? sp_reason (FUNDAMENTAL_NEAR_ZERO, .file = s->trace->file, .stated_hz = f0, .response_hz = zero,
                                                    .rbw_hz = f0 / SP_ZERO_HERTZ_RBWS)
                                       : sp_reason (NO_FUNDAMENTAL, .sought_hz = f0);
  sp_reasons_add (warnings, sp_reason_ref (why));
  gboolean may_miss = near_zero || !sp_judging_narrow (s, i) || c->condition->meter_dbm <= s->out->noise_dbm[i] + s->sweep_threshold_db;
  return metered && may_miss ? NULL : g_steal_pointer (&why);
}

SpReason *
sp_judging_no_carrier (const SpJudging *c, const SpTracePower *power, GPtrArray *warnings)
{
  g_autoptr (SpReason) found = NULL;
  for (guint k = 0; k < c->n; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    if (power->sweep < 0 && !found)
      found = not_shown_in (c, s, warnings);
    if (!s->carrier.elsewhere)
      continue;
    g_autoptr (SpReason) why = sp_reason (FUNDAMENTAL_ELSEWHERE, .file = s->trace->file, .stated_hz = c->condition->fundamental_hz,
                                          .line_hz = s->carrier.frequency_hz, .line_dbm = s->carrier.level_dbm);
    sp_reasons_add (warnings, sp_reason_ref (why));
    if ((int) k == power->sweep)
      found = g_steal_pointer (&why);
  }
  return g_steal_pointer (&found);
}

/* ---- P if every keyed carrier is clipped ---- */

/* TRUE if the step's path to the socket is known: a chain of its own, or the analyzer's attenuator, which it corrects for. A pad
 * without a chain is not known, and a reading below the clipped top proves the path wrong. */
static gboolean
shows_power (const SpJudging *c, const SpJudgedSweep *keyed, const SpJudgedSweep *s, double f0, double u_db)
{
  if (s->purpose != SP_PURPOSE_STEP || !sp_judging_carrier_is_whole (s) || s->carrier.elsewhere)
    return FALSE;
  double inside = s->trace->settings.attenuation_db - keyed->trace->settings.attenuation_db;
  gboolean known = s->chain != keyed->chain ? sp_chain_loss (s->chain, f0, c->bench->temperature_c, 0, NULL).calibrated
                                            : fabs (inside - (s->attenuation_db - keyed->attenuation_db)) < SP_SAME_SETTING_DB;
  return known && s->carrier.level_dbm + s->carrier.loss_db + SP_COMPARE_K * u_db >= keyed->carrier.level_dbm;
}

/* The step with the least u against the keyed sweep; -1: none shows P. */
static int
step_with_power (const SpJudging *c, const SpJudgedSweep *keyed, double f0)
{
  double least = INFINITY;
  int best = -1;
  for (guint k = c->n; k < c->n_all; k++) {
    const SpJudgedSweep *s = &c->sweeps[k];
    double u = hypot (sp_judging_differential_u_db (c, keyed, s, f0), s->carrier.noise_u_db);
    if (u < least && shows_power (c, keyed, s, f0, u)) {
      least = u;
      best = (int) k;
    }
  }
  return best;
}

/* A clipped top is only a bound. Levels stay the keyed sweep's; its mixer level follows from P (sp_judging_mixer_level). */
SpTracePower
sp_judging_power_from_step (const SpJudging *c, const SpTracePower *by_keyed, GPtrArray *warnings)
{
  SpTracePower power = *by_keyed;
  if (by_keyed->sweep < 0 || !c->sweeps[by_keyed->sweep].carrier.clipped || c->no_carrier)
    return power;
  const SpJudgedSweep *keyed = &c->sweeps[by_keyed->sweep];
  int step = step_with_power (c, keyed, by_keyed->fundamental_hz);
  if (step < 0)
    return power;
  const SpSweepCarrier *carrier = &c->sweeps[step].carrier;
  power.sweep = step;
  power.fundamental_hz = carrier->frequency_hz;
  power.half_hz = carrier->half_hz;
  power.level_dbm = carrier->level_dbm;
  sp_reasons_add (warnings, sp_reason (POWER_FROM_STEP, .file = c->sweeps[step].trace->file, .keyed_file = keyed->trace->file,
                                       .power_dbm = carrier->level_dbm, .clipped_dbm = keyed->carrier.level_dbm));
  return power;
}
