/* summary.c - the verdict on a condition: the worst of its emissions and gaps */
#include "core/judge/verdict/verdict.h"

#include <math.h>

/* Order of emissions: the worse verdict, then blindness, then the lesser room; without room last. */
static gboolean
decides_before (const SpEmission *a, const SpEmission *b)
{
  if (a->verdict != b->verdict)
    return a->verdict > b->verdict;
  double margin_a = sp_emission_deciding_margin_db (a), margin_b = sp_emission_deciding_margin_db (b);
  if (sp_emission_is_blind (a) != sp_emission_is_blind (b))
    return sp_emission_is_blind (a);
  return margin_a < margin_b || (isnan (margin_b) && !isnan (margin_a));
}

SpSummary
sp_judging_summary (const SpJudging *c)
{
  const SpConditionFindings *out = c->out;
  SpSummary found = { .verdict = SP_VERDICT_NO_LIMIT, .worst_margin_db = NAN, .worst_emission = -1 };
  for (guint i = 0; i < out->n_emissions; i++) {
    const SpEmission *e = &out->emissions[i];
    if (!isnan (e->margin_db) && !(e->margin_db >= found.worst_margin_db))
      found.worst_margin_db = e->margin_db;
    const SpEmission *worst = found.worst_emission < 0 ? NULL : &out->emissions[found.worst_emission];
    if (!worst || decides_before (e, worst))
      found.worst_emission = (int) i;
    found.verdict = MAX (found.verdict, e->verdict);
  }
  if (out->searched && out->n_gaps == 0) /* the whole range that the mask requires is clear, with or without harmonics */
    found.verdict = MAX (found.verdict, SP_VERDICT_COMPLIES);
  gboolean blind = out->n_gaps > 0 || isnan (out->fundamental_hz);
  if (blind && found.verdict < SP_VERDICT_NOT_PROVEN)
    found.verdict = SP_VERDICT_NOT_PROVEN;
  return found;
}
