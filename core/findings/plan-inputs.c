/* plan-inputs.c - builds the plan of a judged condition from the noise and levels measured in its sweeps */
#include "core/findings/plan-inputs.h"

#include <math.h>

#include "core/quantity/units.h"

/* NULL: no keyed sweep is judged. */
static const SpCorrected *
first_keyed (const SpCondition *condition, const SpConditionFindings *c)
{
  for (guint k = 0; k < c->n_corrected; k++)
    if (condition->sweeps[c->corrected[k].sweep].purpose == SP_PURPOSE_KEYED)
      return &c->corrected[k];
  return NULL;
}

static double
noise_at (const SpTrace *trace, const SpCorrected *sweep, double frequency_hz)
{
  return sweep->noise_dbm[MIN (sp_trace_find (trace, frequency_hz), sweep->n - 1)];
}

gboolean
sp_emission_shows_product (const SpEmission *e)
{
  const SpEvidence *v = e->evidence;
  return v && v->n >= 2 && !v->contradicts && e->origin_basis == SP_BASIS_STEP && e->origin != SP_ORIGIN_RADIO;
}

void
sp_plan_take_steps (SpPlan *plan, const SpEmission *e, const SpSetting *today)
{
  if (sp_emission_shows_product (e))
    sp_plan_measured_product (plan, e->order, e->frequency_hz, today, e->evidence->order, e->evidence->analyzer_high_dbm);
}

/* Uses keyed sweeps only: a notched sweep has another chain. */
static void
take_measured (SpPlan *plan, const SpCondition *condition, const SpConditionFindings *c)
{
  for (guint i = 0; i < c->n_emissions; i++) {
    const SpEmission *e = &c->emissions[i];
    if (!e->order || !e->swept)
      continue;
    const SpCorrected *sweep = &c->corrected[e->corrected];
    const SpSweep *of = &condition->sweeps[sweep->sweep];
    SpSetting setting = sp_setting_of_trace (of->trace);
    if (of->purpose != SP_PURPOSE_KEYED || isnan (setting.rbw_hz) || isnan (setting.attenuation_db))
      continue;
    sp_plan_measured (plan, e->order, e->frequency_hz, &setting, noise_at (of->trace, sweep, e->frequency_hz));
    sp_plan_measured_u (plan, e->order, e->frequency_hz, e->budget.expanded_margin_db);
    sp_plan_take_steps (plan, e, &setting);
  }
}

SpTask
sp_condition_task (const SpBench *bench, const SpConditionFindings *c, const SpChain *chain)
{
  const SpCondition *condition = &bench->conditions[c->condition];
  SpTask task = { .chain = chain,
                  .analyzer = sp_condition_analyzer (bench, condition),
                  .mask = sp_condition_mask (bench, condition),
                  .power_w = isnan (c->power_dbm) ? condition->rated_w : sp_watt_from_dbm (c->power_dbm),
                  .power_expanded_db = isnan (c->power_expanded_db) ? 0 : c->power_expanded_db,
                  .fundamental_hz = c->has_fundamental ? c->fundamental_hz : condition->fundamental_hz,
                  .necessary_bandwidth_hz = c->necessary_bandwidth_hz,
                  .temperature_c = bench->temperature_c,
                  .duty = condition->duty,
                  .radio_vswr = bench->radio_vswr,
                  .radio_harmonic_vswr = bench->radio_harmonic_vswr,
                  .decision_rule = bench->decision_rule,
                  .drift_u_db = sp_budget_drift_u_db (bench),
                  .n_pads = bench->pads ? bench->pads->len : 0,
                  .pads = bench->pads ? (const SpPad *) (void *) bench->pads->data : NULL };
  sp_task_take_condition (&task, bench, condition);
  task.signal_hz = c->signal_hz;
  task.fundamental_half_hz = isnan (condition->fundamental_hz) ? NAN : SP_STATED_RELATIVE * task.fundamental_hz;
  return task;
}

SpPlan *
sp_findings_plan (const SpFindings *findings, guint condition, SpSetting *today, gboolean *advised)
{
  if (condition >= findings->n)
    return NULL;
  const SpConditionFindings *c = &findings->conditions[condition];
  const SpCondition *value = &findings->bench->conditions[c->condition];
  const SpCorrected *first = first_keyed (value, c);
  const SpSweep *keyed = first ? &value->sweeps[first->sweep] : NULL;
  SpTask task = sp_condition_task (findings->bench, c, keyed && keyed->chain ? keyed->chain : sp_condition_chain (findings->bench, value));
  if (!(task.power_w > 0) || !(task.fundamental_hz > 0) || !task.chain || !task.analyzer || !task.mask)
    return NULL;
  SpPlan *plan = sp_plan_new (&task);
  *today = sp_plan_setting (plan, keyed ? keyed->trace : NULL, NAN, NAN);
  gboolean known = keyed && !isnan (keyed->trace->settings.rbw_hz) && !isnan (keyed->trace->settings.attenuation_db);
  if (advised)
    *advised = !known;
  if (known)
    sp_plan_measured_mixer (plan, today, first->mixer_dbm, first->mixer_u_db);
  take_measured (plan, value, c);
  return plan;
}
