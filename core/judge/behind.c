/* behind.c - what a +- U stands on */
#include "core/judge/findings.h"

#include <math.h>

#define NONE (-2)

SpBehind
sp_findings_behind (const SpFindings *findings, guint condition, int emission)
{
  const SpConditionFindings *c = &findings->conditions[condition];
  if (emission < 0)
    return (SpBehind){ c, NULL, &c->power_budget, c->fundamental_hz, c->power_dbm, 0, NAN, 0 };
  const SpEmission *e = &c->emissions[emission];
  return (SpBehind){ c, e, &e->budget, e->frequency_hz, e->level_dbm, e->level_dbc, e->margin_db, e->limit_slope };
}

int
sp_findings_of_order (const SpFindings *findings, guint condition, guint order)
{
  const SpConditionFindings *c = &findings->conditions[condition];
  for (guint i = 0; i < c->n_emissions; i++)
    if (order > 1 && c->emissions[i].order == order)
      return (int) i;
  return order == 1 && !isnan (c->power_dbm) ? SP_BEHIND_POWER : NONE;
}

int
sp_findings_nearest (const SpFindings *findings, guint condition, double frequency_hz)
{
  const SpConditionFindings *c = &findings->conditions[condition];
  int best = NONE;
  double distance = INFINITY;
  if (!isnan (c->power_dbm) && !isnan (c->fundamental_hz)) {
    best = SP_BEHIND_POWER;
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
sp_findings_behind_chain (const SpFindings *findings, const SpBehind *behind)
{
  const SpCondition *condition = &findings->bench->conditions[behind->found->condition];
  int sweep = behind->emission ? behind->emission->sweep : -1;
  return sweep >= 0 && condition->sweeps[sweep].chain ? condition->sweeps[sweep].chain : sp_condition_chain (findings->bench, condition);
}
