/* deciding.c - the figure that a verdict goes by: limit less level, floor, or an end of the radio's part; and what of two proposals serves both */
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

gboolean
sp_emission_room_is_known (const SpEmission *emission)
{
  return emission->row != SP_ROW_UNCALIBRATED && emission->row != SP_ROW_POWER_UNCALIBRATED;
}

double
sp_emission_room_db (const SpEmission *emission)
{
  return sp_emission_room_is_known (emission) ? sp_emission_deciding_margin_db (emission) : NAN;
}

double
sp_emission_deciding_conformity (const SpEmission *emission)
{
  return emission->decision == SP_DECISION_LEVEL && sp_emission_room_is_known (emission) ? emission->conformity : NAN;
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

gboolean
sp_findings_use (const SpConditionFindings *found, const SpTrace *trace, SpPurpose purpose)
{
  for (guint i = 0; i < found->warnings->len; i++) {
    const SpReason *reason = g_ptr_array_index (found->warnings, i);
    if (reason->code == SP_REASON_SWEEP_NOT_USED && g_strcmp0 (reason->SWEEP_NOT_USED.file, trace->file) == 0
        && reason->SWEEP_NOT_USED.purpose == (int) purpose)
      return FALSE;
  }
  return purpose != SP_PURPOSE_SUPERSEDED;
}

const SpReason *
sp_findings_overload (const SpConditionFindings *found)
{
  const SpReason *most = NULL;
  for (guint i = 0; i < found->warnings->len; i++) {
    const SpReason *reason = g_ptr_array_index (found->warnings, i);
    if (reason->code == SP_REASON_OVERLOAD && reason->OVERLOAD.shown && (!most || reason->OVERLOAD.over_db > most->OVERLOAD.over_db))
      most = reason;
  }
  return most;
}

double
sp_findings_dbc (const SpConditionFindings *found, double level_dbm)
{
  return level_dbm - found->power_dbm;
}

double
sp_findings_deciding_margin_db (const SpConditionFindings *found)
{
  const SpEmission *deciding = sp_findings_deciding (found);
  return deciding ? sp_emission_deciding_margin_db (deciding)
                  : found->clear_room_db; /* no emission decides: the least room of the clear ranges */
}

double
sp_findings_room_db (const SpConditionFindings *found)
{
  const SpEmission *deciding = sp_findings_deciding (found);
  return deciding ? sp_emission_room_db (deciding) : found->clear_room_db;
}

double
sp_gap_missing_db (const SpGap *gap)
{
  return gap->floor_dbm + gap->guard_db - gap->limit_dbm;
}

SpFall
sp_evidence_fall (const SpEvidence *evidence)
{
  SpFall fall = { FALSE, FALSE, -INFINITY, NAN };
  for (guint k = 1; evidence && k < evidence->n; k++) {
    const SpEvidencePoint *point = &evidence->points[k];
    double more_db = point->attenuation_db;
    if (!point->seen && (!fall.gone || more_db < fall.more_db))
      fall = (SpFall){ TRUE, TRUE, more_db, NAN };
    else if (point->seen && !fall.gone && more_db > fall.more_db)
      fall = (SpFall){ TRUE, FALSE, more_db, evidence->points[0].level_dbm - point->level_dbm };
  }
  return fall;
}

static double
first_number (const SpReason *proof)
{
  for (const SpReasonField *f = sp_reason_fields (proof->code); f->name; f++)
    if (sp_reason_field_kept (f->kind) == SP_KEPT_NUMBER)
      return sp_reason_number (proof, f);
  return NAN;
}

static gboolean
is_upper_bound (SpReasonCode code)
{
  return code == SP_REASON_PROVE_RESOLVE || code == SP_REASON_PROVE_SAMPLING || code == SP_REASON_PROVE_NARROWER
         || code == SP_REASON_PROVE_RBW;
}

gboolean
sp_would_prove_asks_more (const SpReason *a, const SpReason *b)
{
  return is_upper_bound (a->code) ? first_number (a) < first_number (b) : first_number (a) > first_number (b);
}
