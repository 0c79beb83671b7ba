/* uncertainty-source.c - the sources of a +- U */
#include "core/findings/findings.h"

#include <math.h>

#include "core/quantity/coverage.h"

#define NONE (-2) /* in place of an index */

SpUncertaintySource
sp_uncertainty_source (const SpFindings *findings, guint condition, int emission)
{
  const SpConditionFindings *c = &findings->conditions[condition];
  if (emission < 0)
    return (SpUncertaintySource){ c, NULL, &c->power_budget, c->fundamental_hz, c->power_dbm, 0, NAN, 0 };
  const SpEmission *e = &c->emissions[emission];
  return (SpUncertaintySource){ c, e, &e->budget, e->frequency_hz, e->level_dbm, e->level_dbc, e->margin_db, e->limit_slope };
}

int
sp_findings_of_order (const SpFindings *findings, guint condition, guint order)
{
  const SpConditionFindings *c = &findings->conditions[condition];
  for (guint i = 0; i < c->n_emissions; i++)
    if (order > 1 && c->emissions[i].order == order)
      return (int) i;
  return order == 1 && !isnan (c->power_dbm) ? SP_SOURCE_POWER : NONE;
}

int
sp_findings_nearest (const SpFindings *findings, guint condition, double frequency_hz)
{
  const SpConditionFindings *c = &findings->conditions[condition];
  int best = NONE;
  double distance = INFINITY;
  if (!isnan (c->power_dbm) && !isnan (c->fundamental_hz)) {
    best = SP_SOURCE_POWER;
    distance = fabs (frequency_hz - c->fundamental_hz);
  }
  for (guint i = 0; i < c->n_emissions; i++)
    if (fabs (frequency_hz - c->emissions[i].frequency_hz) < distance) {
      best = (int) i;
      distance = fabs (frequency_hz - c->emissions[i].frequency_hz);
    }
  return best;
}

const SpChain *
sp_uncertainty_source_chain (const SpFindings *findings, const SpUncertaintySource *source)
{
  const SpCondition *condition = &findings->bench->conditions[source->found->condition];
  int sweep = source->emission ? source->emission->sweep : -1;
  return sweep >= 0 && condition->sweeps[sweep].chain ? condition->sweeps[sweep].chain : sp_condition_chain (findings->bench, condition);
}

static SpBudgetSource
from_what (const SpStage *stage)
{
  if (stage->run)
    return SP_BUDGET_FROM_RUN;
  if (stage->loss)
    return stage->touchstone ? SP_BUDGET_FROM_TOUCHSTONE : SP_BUDGET_FROM_POINTS;
  return isnan (stage->label_db) ? SP_BUDGET_FROM_NOTHING : SP_BUDGET_FROM_LABEL;
}

SpUncertaintyStage *
sp_uncertainty_source_stages (const SpFindings *findings, const SpUncertaintySource *source, guint *n)
{
  const SpChain *chain = sp_uncertainty_source_chain (findings, source);
  g_autofree SpStageLoss *losses = g_new0 (SpStageLoss, chain->n);
  SpUncertaintyStage *out = g_new0 (SpUncertaintyStage, chain->n);
  sp_chain_loss (chain, source->frequency_hz, findings->bench->temperature_c, 0, losses);
  for (guint i = 0; i < chain->n; i++) {
    double u[] = { losses[i].u_curve_db, losses[i].u_connector_db }, dof[] = { losses[i].dof, INFINITY };
    out[i] = (SpUncertaintyStage){ chain->stages[i], from_what (chain->stages[i]), losses[i].loss_db, hypot (u[0], u[1]),
                                   sp_effective_dof (2, u, dof) };
  }
  *n = chain->n;
  return out;
}

const SpRunPoint *
sp_uncertainty_stage_run (const SpUncertaintyStage *stage, double frequency_hz, SpRunResult **result)
{
  *result = stage->stage->run ? sp_run_result (stage->stage->run, NAN) : NULL;
  const SpRunPoint *best = NULL;
  for (guint i = 0; *result && i < (*result)->n; i++) {
    const SpRunPoint *p = &(*result)->points[i];
    if (!best || fabs (log (p->frequency_hz / frequency_hz)) < fabs (log (best->frequency_hz / frequency_hz)))
      best = p;
  }
  return best;
}
