/* budget.c - what a case asks core/budget for: the view of a condition's sweep */
#include "core/judge/case.h"

#include <math.h>

/* s NULL: nothing of a sweep is asked for. */
static SpBudgetView
view_of (const SpCase *c, const SpCaseSweep *s)
{
  const SpConditionFindings *out = c->out;
  SpBudgetView view = { .chain = s ? s->chain : c->chain, .analyzer = c->analyzer, .temperature_c = c->bench->temperature_c };
  view.average_w = isnan (out->power_dbm) ? 0 : sp_watt_from_dbm (out->power_dbm) * c->condition->duty;
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

/* The sweep that P and dBc stand on; NULL. */
static const SpCaseSweep *
carrier_sweep (const SpCase *c)
{
  return c->carrier_sweep < 0 ? NULL : &c->sweeps[c->carrier_sweep];
}

void
sp_case_budget (const SpCase *c, SpEmission *e)
{
  if (!e->swept) {
    sp_budget_none (&e->budget);
    return;
  }
  const SpCaseSweep *s = &c->sweeps[e->case_sweep], *carrier = carrier_sweep (c);
  SpBudgetView view = view_of (c, s);
  SpBudgetReadings readings = { 0 };
  if (e->detected) {
    readings.noise_u_db = e->noise_u_db;
    readings.loss_db = e->sampling_loss_db;
  }
  if (carrier) {
    const SpSettings *a = &s->trace->settings, *b = &carrier->trace->settings;
    readings.carrier_noise_u_db = carrier->carrier_noise_u_db;
    readings.carrier_loss_db = carrier->carrier_loss_db;
    view.sweep_differs = s != carrier;
    view.attenuation_differs = s != carrier && !(a->attenuation_db == b->attenuation_db);
    view.rbw_differs = s != carrier && !(a->rbw_hz == b->rbw_hz);
  }
  sp_budget (&view, e->frequency_hz, &readings, e->limit_slope, &e->budget);
}

void
sp_case_power_budget (SpCase *c)
{
  SpConditionFindings *out = c->out;
  SpBudget *budget = &out->power_budget;
  const SpCaseSweep *s = carrier_sweep (c);
  if (isnan (out->power_dbm)) {
    sp_budget_none (budget);
  } else {
    SpBudgetView view = view_of (c, s);
    SpBudgetReadings readings = { 0 };
    if (s) {
      readings.carrier_noise_u_db = s->carrier_noise_u_db;
      readings.carrier_loss_db = s->carrier_loss_db;
    }
    sp_budget_power (&view, &readings, budget);
  }
  out->power_u_db = budget->u_power_db;
  out->power_k = budget->k_power;
  out->power_dof = budget->dof_power;
  out->power_expanded_db = budget->expanded_power_db;
}

double
sp_case_level_u (const SpCase *c, const SpCaseSweep *s, double frequency_hz)
{
  SpBudgetView view = view_of (c, s);
  return sp_budget_level_u (&view, frequency_hz, fabs (frequency_hz - c->out->fundamental_hz) <= c->out->necessary_bandwidth_hz);
}

double
sp_findings_level_u (const SpFindings *findings, guint condition, double frequency_hz)
{
  const SpBench *bench = findings->bench;
  SpConditionFindings *out = &findings->conditions[condition];
  const SpCondition *value = &bench->conditions[out->condition];
  SpCase c = { .bench = bench, .condition = value, .analyzer = sp_condition_analyzer (bench, value), .out = out };
  SpCaseSweep s = { .chain = sp_condition_chain (bench, value) };
  c.meter_u_db = out->by_meter ? out->power_u_db : NAN;
  return sp_case_level_u (&c, &s, frequency_hz);
}
