/* statement.c - the sentence on a condition, as a reason: what decided its verdict, in the words of a radio's owner */
#include "core/findings/verdict-table.h"
#include "core/judge/verdict/verdict.h"

#include <math.h>

/* The highest order up to which every harmonic complies; NaN: not even the 2nd does. */
static double
proven_order (const SpConditionFindings *found)
{
  guint proven = 1;
  for (guint i = 0; i < found->n_emissions; i++) { /* harmonics come first, in order */
    const SpEmission *e = &found->emissions[i];
    if (e->order != proven + 1 || e->verdict != SP_VERDICT_COMPLIES)
      break;
    proven++;
  }
  return proven > 1 ? proven : NAN;
}

static gboolean
nothing_seen (const SpConditionFindings *found)
{
  for (guint i = 0; i < found->n_emissions; i++)
    if (found->emissions[i].detected)
      return FALSE;
  return TRUE;
}

static double
swept_to_hz (const SpConditionFindings *found)
{
  double to = NAN;
  for (guint k = 0; k < found->n_corrected; k++)
    if (found->corrected[k].n > 0)
      to = fmax (to, found->corrected[k].frequency_hz[found->corrected[k].n - 1]);
  return to;
}

/* ---- the gap, where no emission decides ---- */

static SpReason *
of_gap (const SpConditionFindings *found)
{
  const SpGap *worst = &found->gaps[0];
  for (guint i = 1; i < found->n_gaps; i++)
    if (sp_gap_missing_db (&found->gaps[i]) > sp_gap_missing_db (worst) || isnan (sp_gap_missing_db (worst)))
      worst = &found->gaps[i];
  return sp_reason (STATES_GAP, .proven_order = proven_order (found), .from_hz = worst->from_hz, .to_hz = worst->to_hz,
                    .why = (int) worst->why, .short_db = sp_gap_missing_db (worst), .others = found->n_gaps - 1);
}

static SpReason *
without_emission (const SpConditionFindings *found)
{
  if (found->n_gaps > 0 && found->verdict == SP_VERDICT_NOT_PROVEN)
    return of_gap (found);
  if (found->verdict == SP_VERDICT_COMPLIES)
    return sp_reason (STATES_CLEAR, .off_db = found->clear_room_db);
  return found->verdict == SP_VERDICT_NO_LIMIT ? sp_reason_bare (STATES_NO_LIMIT) : sp_reason_bare (STATES_NO_CARRIER);
}

/* ---- the emission that decides ---- */

static SpReason *
of_part_below (const SpEmission *e)
{
  return sp_reason (STATES_PART_BELOW, .order = e->order, .at_hz = e->frequency_hz, .analyzer = e->origin == SP_ORIGIN_ANALYZER,
                    .over_db = -e->margin_db, .level_dbm = e->level_dbm, .part_dbm = e->radio_high_dbm,
                    .off_db = sp_emission_deciding_margin_db (e), .expanded_db = sp_emission_deciding_expanded_db (e));
}

static SpReason *
of_excess (const SpEmission *e)
{
  return sp_reason (STATES_EXCEEDS, .order = e->order, .at_hz = e->frequency_hz, .part = e->decision == SP_DECISION_PART_LOW,
                    .uncalibrated = !e->calibrated, .off_db = -sp_emission_deciding_margin_db (e),
                    .expanded_db = sp_emission_deciding_expanded_db (e), .part_over_db = e->reason->ABOVE_LIMIT.part_over_db);
}

/* What is short of a verdict: by how much `dbm` and its guard lie over the limit. */
static double
short_db (const SpJudging *c, const SpEmission *e, double dbm)
{
  return dbm + sp_judging_guard (c, e).high_db - e->limit_dbm;
}

static SpReason *
of_floor (const SpJudging *c, const SpEmission *e)
{
  double room_db = sp_emission_deciding_margin_db (e);
  return sp_reason (STATES_FLOOR, .order = e->order, .at_hz = e->frequency_hz, .proven_order = proven_order (c->out), .over = room_db < 0,
                    .off_db = fabs (room_db), .expanded_db = sp_emission_deciding_expanded_db (e),
                    .short_db = short_db (c, e, e->floor_dbm));
}

static SpReason *
of_origin (const SpJudging *c, const SpEmission *e)
{
  double low, high;
  sp_judging_part (e, &low, &high);
  return sp_reason (STATES_WHOSE, .order = e->order, .at_hz = e->frequency_hz, .tested = e->origin != SP_ORIGIN_UNTESTED,
                    .over = e->margin_db < 0, .off_db = fabs (e->margin_db), .part_dbm = high,
                    .expanded_db = sp_emission_deciding_expanded_db (e), .short_db = short_db (c, e, high));
}

static SpReason *
of_straddling_part (const SpEmission *e)
{
  double low, high;
  sp_judging_part (e, &low, &high);
  return sp_reason (STATES_PART_STRADDLES, .order = e->order, .at_hz = e->frequency_hz, .part_low_dbm = low, .part_high_dbm = high,
                    .expanded_db = sp_emission_deciding_expanded_db (e));
}

static SpReason *
of_bound (const SpEmission *e)
{
  return sp_reason (STATES_BOUND, .order = e->order, .at_hz = e->frequency_hz, .low_dbm = e->level_dbm - e->excess_db,
                    .high_dbm = e->level_dbm + e->sampling_loss_db, .limit_dbm = e->limit_dbm);
}

static SpReason *
of_emission (const SpJudging *c, const SpEmission *e)
{
  const SpConditionFindings *found = c->out;
  double proven = proven_order (found), room_db = sp_emission_deciding_margin_db (e), expanded_db = sp_emission_deciding_expanded_db (e);
  switch (e->row) {
  case SP_ROW_NO_LIMIT: return sp_reason_bare (STATES_NO_LIMIT);
  case SP_ROW_NOT_SWEPT:
    return sp_reason (STATES_NOT_SWEPT, .order = e->order, .at_hz = e->frequency_hz, .proven_order = proven,
                      .swept_to_hz = swept_to_hz (found));
  case SP_ROW_NOT_RESOLVED: return sp_reason (STATES_UNRESOLVED, .order = e->order, .at_hz = e->frequency_hz, .proven_order = proven);
  case SP_ROW_NO_POWER: return sp_reason_bare (STATES_NO_POWER);
  case SP_ROW_POWER_UNCALIBRATED:
    return sp_reason (STATES_UNCALIBRATED, .order = e->order, .at_hz = e->frequency_hz, .proven_order = proven,
                      .uncalibrated_hz = found->fundamental_hz);
  case SP_ROW_UNCALIBRATED:
    return sp_reason (STATES_UNCALIBRATED, .order = e->order, .at_hz = e->frequency_hz, .proven_order = proven,
                      .uncalibrated_hz = e->frequency_hz);
  case SP_ROW_BLIND:
  case SP_ROW_COARSE:
    return sp_reason (STATES_COARSE, .order = e->order, .at_hz = e->frequency_hz, .proven_order = proven, .seen = e->detected);
  case SP_ROW_FLOOR_BELOW:
    return sp_reason (STATES_UNSEEN, .order = e->order, .at_hz = e->frequency_hz, .nothing_seen = nothing_seen (found), .off_db = room_db,
                      .expanded_db = expanded_db);
  case SP_ROW_FLOOR_ABOVE: return of_floor (c, e);
  case SP_ROW_LEVEL_BELOW:
    return sp_reason (STATES_BELOW, .order = e->order, .at_hz = e->frequency_hz, .off_db = room_db, .expanded_db = expanded_db);
  case SP_ROW_PART_BELOW: return of_part_below (e);
  case SP_ROW_AMBIENT:
  case SP_ROW_AMBIENT_PART:
    return sp_reason (STATES_AMBIENT, .order = e->order, .at_hz = e->frequency_hz, .over = e->margin_db < 0, .off_db = fabs (e->margin_db));
  case SP_ROW_UNTESTED:
  case SP_ROW_ANALYZER_POSSIBLE: return of_origin (c, e);
  case SP_ROW_GROSS_EXCESS:
  case SP_ROW_PART_ABOVE: return of_excess (e);
  case SP_ROW_BOUND_STRADDLES: return of_bound (e);
  case SP_ROW_WITHIN_UNCERTAINTY:
    return sp_reason (STATES_WITHIN_U, .order = e->order, .at_hz = e->frequency_hz, .over = room_db < 0, .off_db = fabs (room_db),
                      .expanded_db = expanded_db);
  case SP_ROW_AMBIENT_IN_RADIO:
  case SP_ROW_PART_STRADDLES: return of_straddling_part (e);
  case SP_ROW_MORE_POWER: return sp_reason (STATES_MORE_POWER, .power_dbm = found->power_dbm);
  case SP_ROW_NO_CARRIER: return sp_reason_bare (STATES_NO_CARRIER);
  }
  g_return_val_if_reached (NULL);
}

SpReason *
sp_judging_statement (const SpJudging *c)
{
  const SpEmission *deciding = sp_findings_deciding (c->out);
  return deciding && deciding->verdict == c->out->verdict ? of_emission (c, deciding) : without_emission (c->out);
}
