/* summary.c - the verdict on a condition: the worst of its emissions and gaps */
#include "core/judge/verdict/verdict-stages.h"

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

void
sp_judging_summary (SpJudging *c)
{
  SpConditionFindings *out = c->out;
  out->power_calibrated = c->carrier_calibrated;
  out->verdict = SP_VERDICT_NO_LIMIT;
  out->worst_margin_db = NAN;
  out->worst_emission = -1;
  for (guint i = 0; i < out->n_emissions; i++) {
    const SpEmission *e = &out->emissions[i];
    if (!isnan (e->margin_db) && !(e->margin_db >= out->worst_margin_db))
      out->worst_margin_db = e->margin_db;
    const SpEmission *worst = out->worst_emission < 0 ? NULL : &out->emissions[out->worst_emission];
    if (!worst || decides_before (e, worst))
      out->worst_emission = (int) i;
    out->verdict = MAX (out->verdict, e->verdict);
  }
  if (out->searched && out->n_gaps == 0) /* the whole range that the mask requires is clear, with or without harmonics */
    out->verdict = MAX (out->verdict, SP_VERDICT_COMPLIES);
  out->unsettled_emission = sp_judging_unsettled (out);
  gboolean blind = out->n_gaps > 0 || isnan (out->fundamental_hz);
  if (blind && out->verdict < SP_VERDICT_NOT_PROVEN)
    out->verdict = SP_VERDICT_NOT_PROVEN;
}
