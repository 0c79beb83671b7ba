/* decision.c - the quantity that decides a verdict, and the unsettled emission beside it */
#include "core/findings/verdict-table.h"
#include "core/judge/verdict/verdict.h"

#include <math.h>

/* The verdict by the level alone, if the emission were wholly the radio's. */
static SpVerdict
by_level_alone (const SpEmission *e, const SpGuard *guard)
{
  guint facts = sp_judging_facts_of_part (e, e->level_dbm, e->level_dbm, guard);
  if (!e->calibrated)
    return facts & SP_FACT_GROSS ? SP_VERDICT_EXCEEDS : SP_VERDICT_NOT_PROVEN;
  if (facts & SP_FACT_BELOW)
    return SP_VERDICT_COMPLIES;
  return facts & SP_FACT_OVER ? SP_VERDICT_EXCEEDS : SP_VERDICT_INCONCLUSIVE;
}

/* For an emission of origin radio, the part decides only if the level alone would have another verdict. A verdict not proven for
 * another reason, such as an unknown power, does not count. */
static gboolean
part_decides (const SpEmission *e, const SpGuard *guard)
{
  if (isnan (e->radio_high_dbm) || e->origin == SP_ORIGIN_UNTESTED || e->origin == SP_ORIGIN_NONE)
    return FALSE;
  if (e->origin != SP_ORIGIN_RADIO)
    return TRUE;
  return (e->verdict != SP_VERDICT_NOT_PROVEN || !e->calibrated) && by_level_alone (e, guard) != e->verdict;
}

SpDecision
sp_judging_decision (const SpEmission *e, const SpGuard *guard)
{
  if (e->verdict == SP_VERDICT_NO_LIMIT)
    return SP_DECISION_NONE;
  if (sp_emission_is_blind (e))
    return SP_DECISION_BLIND;
  if (isnan (e->margin_db))
    return SP_DECISION_NONE;
  if (!e->detected)
    return SP_DECISION_FLOOR;
  if (part_decides (e, guard))
    return e->verdict == SP_VERDICT_EXCEEDS ? SP_DECISION_PART_LOW : SP_DECISION_PART_HIGH;
  return SP_DECISION_LEVEL;
}

int
sp_judging_unsettled (const SpConditionFindings *found)
{
  int highest = -1;
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpEmission *e = &found->emissions[i];
    if ((int) i == found->worst_emission || !e->detected || e->verdict != SP_VERDICT_NOT_PROVEN || !(e->margin_db < 0))
      continue;
    if (highest < 0 || e->margin_db < found->emissions[highest].margin_db)
      highest = (int) i;
  }
  return highest;
}
