/* budget.c - prepares the view of a sweep that core/budget needs */
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* Below this number Student's t is meaningless for carriers that agree within U: their scatter is used as it is */

#define FAR_BELOW_DB 40.0 /* a product this far below changes a level by 0.09 dB at most (common practice, no source) */

/* s may be NULL if nothing of a sweep is needed. */
static SpBudgetView
view_of (const SpJudging *c, const SpJudgedSweep *s, double power_dbm)
{
  const SpConditionFindings *out = c->out;
  SpBudgetView view = { .chain = s ? s->chain : c->chain, .analyzer = c->analyzer, .temperature_c = c->bench->temperature_c };
  view.average_w = isnan (power_dbm) ? 0 : sp_watt_from_dbm (power_dbm) * c->condition->duty;
  view.drift_u_db = sp_budget_drift_u_db (c->bench);
  view.radio_vswr = c->bench->radio_vswr;
  view.radio_harmonic_vswr = c->bench->radio_harmonic_vswr;
  view.fundamental_hz = out->has_fundamental ? out->fundamental_hz : NAN;
  if (out->by_meter) {
    view.meter = out->anchored ? SP_METER_SHIFTS : SP_METER_ALONE;
    view.meter_u_db = c->meter_u_db;
    view.meter_assumed = isnan (c->condition->meter_u_db);
  }
  return view;
}

/* The sweep that P and dBc are based on; NULL: none. */
static const SpJudgedSweep *
carrier_sweep (const SpJudging *c)
{
  return c->carrier_sweep < 0 ? NULL : &c->sweeps[c->carrier_sweep];
}

/* u of all readings of a step test together: even without a product the fit's ends are this far apart. */
static double
readings_u_db (const SpEvidence *v)
{
  double weights = 0;
  for (guint k = 0; k < v->n; k++)
    weights += v->points[k].seen ? 1 / (v->points[k].u_db * v->points[k].u_db) : 0;
  return 1 / sqrt (weights);
}

/* Greatest error of the level by a product of q_dbm in the worst phase: 20 lg (1 + q/level). 0: negligible. */
static double
worst_phase_db (const SpEmission *e, double q_dbm)
{
  double below = e->level_dbm - q_dbm;
  return below < FAR_BELOW_DB ? 20 * log10 (1 + pow (10, -below / 20)) : 0; /* a NaN stays: not known */
}

/* Greatest error of the level by the analyzer's product, from the step test. The upper end of the product bounds it (the profile's
 * q_high, unless the steps contradict that), and so do the ends of the radio's part, less the readings' u (noise and repeatability). */
static double
product_by_step_db (const SpEmission *e, const SpEvidence *v)
{
  double q = v->analyzer_high_dbm;
  if (v->may_cancel)
    return fmax (0, v->radio_high_dbm - e->level_dbm);
  if (v->analyzer_dbm <= e->product_high_dbm)
    q = fmin (q, e->product_high_dbm);
  double apart = fmax (v->radio_high_dbm - e->level_dbm, e->level_dbm - v->radio_low_dbm);
  return fmax (0, fmin (worst_phase_db (e, q), apart - 2 * readings_u_db (v)));
}

/* Adds the term only if the emission is at least partly the radio's: the level of an analyzer product or an ambient signal is no
 * estimate of the radio's part. */
static void
find_product (const SpEmission *e, SpBudgetReadings *readings)
{
  const SpEvidence *v = e->evidence;
  if (e->origin != SP_ORIGIN_RADIO && e->origin != SP_ORIGIN_MIXED)
    return;
  readings->product_by_step = v && v->n > 0 && !v->contradicts;
  readings->product_db = readings->product_by_step ? product_by_step_db (e, v) : worst_phase_db (e, e->product_high_dbm);
}

SpBudget
sp_judging_budget (const SpJudging *c, const SpEmission *e)
{
  SpBudget budget = { 0 };
  sp_budget_none (&budget);
  if (!e->swept)
    return budget;
  const SpJudgedSweep *s = &c->sweeps[e->corrected], *carrier = sp_judging_has_own_power (c, s) ? s : carrier_sweep (c);
  SpBudgetView view = view_of (c, s, c->out->power_dbm);
  SpBudgetReadings readings = { 0 };
  if (e->detected) {
    readings.noise_u_db = e->noise_u_db;
    readings.loss_db = e->sampling_loss_db;
    find_product (e, &readings);
  }
  if (carrier) {
    const SpSettings *a = &s->trace->settings, *b = &carrier->trace->settings;
    readings.carrier_noise_u_db = carrier->carrier.noise_u_db;
    readings.carrier_loss_db = carrier->carrier.loss_db;
    view.sweep_differs = s != carrier;
    if (carrier->purpose == SP_PURPOSE_STEP)
      view.carrier_chain = carrier->chain;
    view.attenuation_differs = s != carrier && !(a->attenuation_db == b->attenuation_db);
    view.rbw_differs = s != carrier && !(a->rbw_hz == b->rbw_hz);
  }
  if (!c->out->by_meter && carrier != s && c->occasion_u_db > 0) { /* the radio's power in this sweep is not known better than so */
    readings.power_repeat_u_db = c->occasion_u_db;
    readings.power_repeat_dof = c->out->power_repeats < SP_LEAST_TYPE_A ? 0 : c->out->power_repeats - 1.0;
  }
  sp_budget (&view, e->frequency_hz, &readings, e->limit_slope, &budget);
  return budget;
}

SpBudget
sp_judging_power_budget (const SpJudging *c)
{
  const SpConditionFindings *out = c->out;
  const SpJudgedSweep *s = carrier_sweep (c);
  SpBudget budget = { 0 };
  if (isnan (out->power_dbm)) {
    sp_budget_none (&budget);
    return budget;
  }
  SpBudgetView view = view_of (c, s, out->power_dbm);
  SpBudgetReadings readings = { 0 };
  if (s) {
    readings.carrier_noise_u_db = s->carrier.noise_u_db;
    readings.carrier_loss_db = s->carrier.loss_db;
  }
  if (!out->by_meter && !isnan (out->power_repeat_u_db)) {
    readings.power_repeat_u_db = out->power_repeat_u_db;
    readings.power_repeat_dof = c->carriers_differ || out->power_repeats < SP_LEAST_TYPE_A ? 0 : out->power_repeats - 1.0;
  }
  sp_budget_power (&view, &readings, &budget);
  return budget;
}

SpSum
sp_judging_level (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz, double power_dbm)
{
  SpBudgetView view = view_of (c, s, power_dbm);
  return sp_budget_level (&view, frequency_hz, fabs (frequency_hz - c->out->fundamental_hz) <= c->out->necessary_bandwidth_hz);
}
