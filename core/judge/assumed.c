/* assumed.c - terms that nobody stated, where a verdict hangs on them */
#include "core/judge/case.h"

#include <math.h>

const SpTerm *
sp_budget_assumed_of_weight (const SpBudget *budget)
{
  const SpTerm *first = NULL, *second = NULL;
  for (guint i = 0; i < budget->n; i++) {
    const SpTerm *t = &budget->terms[i];
    if (!(t->u_margin_db > 0))
      continue;
    if (!first || t->u_margin_db > first->u_margin_db) {
      second = first;
      first = t;
    } else if (!second || t->u_margin_db > second->u_margin_db)
      second = t;
  }
  if (first && first->assumed_stage)
    return first;
  return second && second->assumed_stage ? second : NULL;
}

/* Of the emission that decides: a U that is made of what nobody stated is said, whatever the verdict. */
void
sp_case_assumed (SpCase *c)
{
  const SpEmission *e = sp_findings_deciding (c->out);
  const SpTerm *term = e && !isnan (e->margin_db) ? sp_budget_assumed_of_weight (&e->budget) : NULL;
  if (term)
    sp_case_warn (c, sp_reason_new (SP_REASON_ASSUMED_DECIDES, term->name, term->assumed_stage, NULL, 4, term->u_margin_db, (double) e->order,
                                    e->frequency_hz, e->budget.expanded_margin_db));
}
