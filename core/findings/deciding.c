/* deciding.c - the figure that a verdict goes by: limit less level, floor, or an end of the radio's part */
#include "core/findings/findings.h"

#include <math.h>

const char *
sp_decision_name (SpDecision decision)
{
  static const char *const names[] = { NULL, "level", "floor", "radio-part-high", "radio-part-low", "blind" };
  return names[decision];
}

double
sp_emission_deciding_margin_db (const SpEmission *emission)
{
  switch (emission->decision) {
  case SP_DECISION_LEVEL:
  case SP_DECISION_FLOOR: return emission->margin_db;
  case SP_DECISION_PART_HIGH: return emission->limit_dbm - emission->radio_high_dbm;
  case SP_DECISION_PART_LOW: return emission->limit_dbm - (emission->radio_low_dbm - emission->excess_db);
  case SP_DECISION_NONE:
  case SP_DECISION_BLIND: return NAN;
  }
  g_return_val_if_reached (NAN);
}

double
sp_emission_deciding_conformity (const SpEmission *emission)
{
  return emission->decision == SP_DECISION_LEVEL ? emission->conformity : NAN;
}

static const SpEmission *
at_index (const SpConditionFindings *found, int index)
{
  return index >= 0 && index < (int) found->n_emissions ? &found->emissions[index] : NULL;
}

const SpEmission *
sp_findings_deciding (const SpConditionFindings *found)
{
  return at_index (found, found->worst_emission);
}

const SpEmission *
sp_findings_unsettled (const SpConditionFindings *found)
{
  return at_index (found, found->unsettled_emission);
}

double
sp_findings_deciding_margin_db (const SpConditionFindings *found)
{
  const SpEmission *deciding = sp_findings_deciding (found);
  return deciding ? sp_emission_deciding_margin_db (deciding)
                  : found->clear_room_db; /* no emission decides: the least room of the clear ranges */
}
