/* shift.c - the shift of a sweep's levels by warm stages and by the power meter, P by the meter, and the carrier at the mixer */
#include "core/judge/sweep/sweep.h"
#include "core/quantity/large.h"

#include <math.h>

double
sp_judging_warm_db (const SpJudging *c, const SpJudgedSweep *s, const SpTracePower *power)
{
  double f0 = power->fundamental_hz, temperature = c->bench->temperature_c;
  double average_w = sp_watt_from_dbm (power->level_dbm) * c->condition->duty;
  if (power->sweep < 0 || s->purpose == SP_PURPOSE_UNKEYED)
    return 0;
  return sp_chain_loss (s->chain, f0, temperature, average_w, NULL).loss_db - sp_chain_loss (s->chain, f0, temperature, 0, NULL).loss_db;
}

/* u of a meter that is told nothing of is assumed; a meter far from the trace is told. */
static void
warn_meter (const SpJudging *c, const SpMeteredPower *metered, GPtrArray *warnings)
{
  double meter = c->condition->meter_dbm, traced = c->out->trace_level_dbm;
  if (isnan (c->condition->meter_u_db))
    sp_reasons_add (warnings, sp_reason (U_ASSUMED, .what = "meter_u_db", .of = c->out->name, .assumed_db = metered->u_db));
  if (!metered->good)
    return;
  double u = hypot (metered->u_db, sp_judging_level (c, &c->sweeps[c->carrier_sweep], c->out->fundamental_hz, traced).u_db);
  if (fabs (meter - traced) > SP_COMPARE_K * u)
    sp_reasons_add (warnings, sp_reason (METER_DISAGREES, .meter_dbm = meter, .trace_dbm = traced, .expanded_db = SP_COMPARE_K * u));
}

/* Anchoring needs a good carrier: the error of an undersampled, clipped, foreign or uncalibrated one would enter every level. */
SpMeteredPower
sp_judging_meter (const SpJudging *c, GPtrArray *warnings)
{
  const SpJudgedSweep *carrier = c->carrier_sweep < 0 ? NULL : &c->sweeps[c->carrier_sweep];
  SpMeteredPower found = { .power_dbm = c->out->trace_level_dbm, .at_least = carrier && carrier->carrier.clipped };
  if (isnan (c->condition->meter_dbm))
    return found;
  found.good = carrier && sp_judging_carrier_is_whole (carrier) && c->carrier_calibrated && !c->no_carrier;
  found.u_db = isnan (c->condition->meter_u_db) ? SP_CARRIER_U_METER_DB : c->condition->meter_u_db;
  warn_meter (c, &found, warnings);
  if (c->condition->meter_use == SP_METER_CHECK) /* for comparison only */
    return found;
  found.power_dbm = c->condition->meter_dbm;
  found.at_least = FALSE;
  found.by_meter = TRUE;
  found.anchored = found.good;
  return found;
}

/* Sums warm_db into each level before the meter's part: not both at once, for the sake of the last bit. */
static double *
shifted (const double *from, guint64 n, double warm_db, double anchor_db)
{
  double *to = sp_large_new (double, n);
  for (guint64 i = 0; i < n; i++)
    to[i] = from[i] + warm_db + anchor_db;
  return to;
}

/* A meter at the socket knows P better than the analyzer: all levels shift with it (core/docs/computation.md, section 6). */
SpShift
sp_judging_shift (const SpJudging *c, const SpJudgedSweep *s)
{
  gboolean whole = sp_judging_carrier_is_whole (s) && s->purpose == SP_PURPOSE_KEYED;
  double level_dbm = whole ? sp_judging_carrier_dbm (s) : c->out->trace_level_dbm, f0 = c->out->fundamental_hz;
  double anchor_db = c->out->anchored ? c->condition->meter_dbm - level_dbm : 0;
  const SpCurve *correction = c->analyzer->amplitude_correction_db;
  SpShift shift = { .shift_db = s->warm_db + anchor_db };
  shift.to_socket_db = isnan (f0) ? NAN : sp_chain_loss (s->chain, f0, c->bench->temperature_c, 0, NULL).loss_db + shift.shift_db;
  if (correction && !isnan (f0))
    shift.to_socket_db += sp_curve_at (correction, f0, 0).value;
  if (s->warm_db == 0 && anchor_db == 0)
    return shift;
  shift.level_dbm = shifted (s->out->level_dbm, s->trace->n, s->warm_db, anchor_db);
  shift.noise_dbm = shifted (s->out->noise_dbm, s->trace->n, s->warm_db, anchor_db);
  return shift;
}

/* The carrier at the mixer by P, as planning has it: behind a chain as warm as P makes it, and as the analyzer would read it. */
static SpMixerLevel
mixer_by_power (const SpJudging *c, const SpJudgedSweep *s)
{
  double average_w = sp_watt_from_dbm (c->out->power_dbm) * c->condition->duty, f0 = c->out->fundamental_hz;
  const SpCurve *correction = c->analyzer->amplitude_correction_db;
  SpChainLoss loss = sp_chain_loss (s->chain, f0, c->bench->temperature_c, average_w, NULL);
  double to_socket_db = loss.loss_db + (correction ? sp_curve_at (correction, f0, 0).value : 0);
  return (SpMixerLevel){ c->out->power_dbm - to_socket_db - s->trace->settings.attenuation_db, hypot (loss.u_db, c->out->power_u_db) };
}

/* By this sweep's own carrier. An overloaded mixer compresses: it reads its carrier too low, and its products are made by what really is
 * there. So where P puts more on the mixer than is advised, and more than is read, P tells the level. By no meter P was read by the same
 * analyzer through the chain, whose loss then drops out of u. */
static SpMixerLevel
mixer_by_carrier (const SpJudging *c, const SpJudgedSweep *s)
{
  double u_db = sp_predict_mixer_u_db (c->analyzer);
  SpMixerLevel read = { s->carrier.reading_dbm - s->trace->settings.attenuation_db, u_db }, by_power = mixer_by_power (c, s);
  if (s->purpose != SP_PURPOSE_KEYED || !(by_power.dbm > fmax (read.dbm, sp_plan_safe_mixer_dbm (c->analyzer))))
    return read;
  return (SpMixerLevel){ by_power.dbm, c->out->by_meter ? by_power.u_db : u_db };
}

/* From P only if there is no carrier, or it is clipped or compressed (core/docs/computation.md, section 9): a lower bound would predict
 * too small products. */
SpMixerLevel
sp_judging_mixer_level (const SpJudging *c, const SpJudgedSweep *s)
{
  gboolean by_power = c->out->by_meter || !sp_judging_has_carrier (s) || s->carrier.clipped;
  if (isnan (s->trace->settings.attenuation_db) || isnan (c->out->fundamental_hz) || s->purpose == SP_PURPOSE_UNKEYED)
    return (SpMixerLevel){ NAN, NAN };
  if (sp_judging_carrier_is_whole (s))
    return mixer_by_carrier (c, s);
  if (isnan (c->out->power_dbm) || c->power_at_least || !by_power)
    return (SpMixerLevel){ NAN, NAN };
  return mixer_by_power (c, s);
}

double
sp_judging_least_mixer_dbm (const SpJudgedSweep *s)
{
  return isnan (s->mixer.dbm) && s->carrier.clipped ? s->carrier.reading_dbm - s->trace->settings.attenuation_db : s->mixer.dbm;
}

double
sp_judging_most_mixer_dbm (const SpJudging *c)
{
  double most = NAN;
  for (guint k = 0; k < c->n; k++)
    if (isnan (most) || c->sweeps[k].mixer.dbm > most)
      most = c->sweeps[k].mixer.dbm;
  return most;
}
