/* assumed.c - finds assumed uncertainty terms that a verdict depends on */
#include "core/judge/verdict/verdict.h"

#include <math.h>

const SpTerm *
sp_budget_assumed_of_weight (const SpBudget *budget, SpBudgetColumn column)
{
  const SpTerm *first = NULL, *second = NULL;
  for (guint i = 0; i < budget->n; i++) {
    const SpTerm *t = &budget->terms[i];
    double u_db = sp_term_u_db (t, column);
    if (!(u_db > 0))
      continue;
    if (!first || u_db > sp_term_u_db (first, column)) {
      second = first;
      first = t;
    } else if (!second || u_db > sp_term_u_db (second, column))
      second = t;
  }
  if (first && first->assumed_stage)
    return first;
  return second && second->assumed_stage ? second : NULL;
}

/* Checks the deciding emission and P, whatever the verdict. */
void
sp_judging_assumed (const SpJudging *c, GPtrArray *warnings)
{
  const SpConditionFindings *out = c->out;
  const SpEmission *e = sp_findings_deciding (out);
  const SpTerm *term = e && !isnan (e->margin_db) ? sp_budget_assumed_of_weight (&e->budget, SP_BUDGET_MARGIN) : NULL;
  const SpTerm *of_power = sp_budget_assumed_of_weight (&out->power_budget, SP_BUDGET_POWER);
  if (term)
    sp_reasons_add (warnings, sp_reason (ASSUMED_DECIDES, .term = term->kind, .stage = term->assumed_stage, .u_db = term->u_margin_db,
                                         .order = e->order, .at_hz = e->frequency_hz, .expanded_db = e->budget.expanded_margin_db));
  else if (of_power)
    sp_reasons_add (warnings,
                    sp_reason (ASSUMED_DECIDES, .term = of_power->kind, .stage = of_power->assumed_stage, .u_db = of_power->u_power_db,
                               .order = 1.0, .at_hz = out->fundamental_hz, .expanded_db = out->power_expanded_db));
}
