/* row-reasons.c - the reason of a row of the verdict table, with its numbers */
#include "core/findings/verdict-table.h"
#include "core/judge/origin/origin.h"
#include "core/judge/sweep/sweep.h"
#include "core/judge/verdict/verdict.h"

#include <math.h>

/* Exceeds: by how much the reading is over; if the radio's part differs by more than U, or the reading alone would not exceed, also by
 * how much its lower end is over. */
static SpReason *
above_limit (const SpEmission *e, double low, double expanded_db)
{
  return sp_reason (ABOVE_LIMIT, .over_db = -e->margin_db, .expanded_db = expanded_db,
                    .part_over_db = fabs (low - e->level_dbm) > expanded_db || -e->margin_db <= expanded_db ? low - e->limit_dbm : NAN);
}

/* Complies as read; where the radio's part decides, also by how much its upper end is below. */
static SpReason *
below_limit (const SpEmission *e, double high, const SpGuard *guard)
{
  gboolean by_part = sp_judging_decision (e, guard) == SP_DECISION_PART_HIGH;
  return sp_reason (BELOW_LIMIT, .margin_db = e->margin_db, .expanded_db = guard->expanded_db,
                    .part_off_db = by_part ? e->limit_dbm - high : NAN);
}

static SpReason *
ambient_part (const SpEmission *e, double expanded_db)
{
  double low = NAN, high = NAN;
  sp_judging_less_ambient (e, &low, &high);
  return sp_reason (AMBIENT_PART, .level_dbm = e->level_dbm, .ambient_dbm = e->evidence->ambient_dbm, .part_low_dbm = low,
                    .part_high_dbm = high, .expanded_db = expanded_db);
}

static SpReason *
floor_above (const SpEmission *e, const SpGuard *guard)
{
  return sp_reason (FLOOR_ABOVE_LIMIT, .cause = e->floor_cause, .floor_dbm = e->floor_dbm, .limit_dbm = e->limit_dbm,
                    .expanded_db = guard->expanded_db, .missing_db = e->floor_dbm + guard->high_db - e->limit_dbm);
}

static SpReason *
bound_straddles (const SpJudging *c, const SpEmission *e, double expanded_db)
{
  return sp_reason (BOUND_STRADDLES, .level_dbm = e->level_dbm, .low_dbm = e->level_dbm - e->excess_db,
                    .high_dbm = e->level_dbm + e->sampling_loss_db, .limit_dbm = e->limit_dbm, .expanded_db = expanded_db,
                    .reference_hz = e->reference_bandwidth_hz, .rbw_hz = c->sweeps[e->corrected].rbw_hz);
}

static SpReason *
analyzer_possible (const SpEmission *e, double low, double high, double expanded_db)
{
  gboolean cancels = e->evidence && e->evidence->may_cancel;
  return sp_reason (ANALYZER_POSSIBLE, .may_cancel = cancels, .level_dbm = e->level_dbm,
                    .product_dbm = e->origin_basis == SP_BASIS_STEP && !cancels ? NAN : e->product_high_dbm, .part_low_dbm = low,
                    .part_high_dbm = high, .expanded_db = expanded_db);
}

/* The sweep is too coarse there, seen or not. */
static SpReason *
undersampled (const SpJudging *c, const SpEmission *e)
{
  const SpJudgedSweep *s = &c->sweeps[e->corrected];
  return sp_reason (UNDERSAMPLED, .file = s->trace->file, .seen = e->detected, .spacing_hz = s->spacing_hz, .rbw_hz = s->rbw_hz,
                    .loss_db = e->sampling_loss_db);
}

static SpReason *
not_resolved (const SpJudging *c, const SpEmission *e)
{
  const SpJudgedSweep *s = &c->sweeps[e->corrected];
  guint beside = 0;
  sp_judging_unresolved (c, s, e->order, &beside);
  return sp_reason (NOT_RESOLVED, .file = s->trace->file, .at_hz = e->frequency_hz, .spacing_hz = s->spacing_hz, .rbw_hz = s->rbw_hz,
                    .beside_order = beside);
}

static SpReason *
outside_calibration (double frequency_hz)
{
  return sp_reason (OUTSIDE_CALIBRATION, .stage = NULL, .at_hz = frequency_hz);
}

SpReason *
sp_judging_row_reason (const SpJudging *c, const SpEmission *e, const SpGuard *guard)
{
  double low, high, expanded_db = sp_judging_guard_margin_db (e, guard);
  sp_judging_part (e, &low, &high);
  switch (e->row) {
  case SP_ROW_NO_LIMIT: return sp_reason_bare (NO_NUMBER);
  case SP_ROW_NOT_SWEPT: return sp_reason (NOT_SWEPT, .at_hz = e->frequency_hz);
  case SP_ROW_NOT_RESOLVED: return not_resolved (c, e);
  case SP_ROW_NO_POWER: return sp_reason_bare (NO_POWER);
  case SP_ROW_POWER_UNCALIBRATED: return outside_calibration (c->out->fundamental_hz);
  case SP_ROW_UNCALIBRATED: return outside_calibration (e->frequency_hz);
  case SP_ROW_BLIND:
  case SP_ROW_COARSE: return undersampled (c, e);
  case SP_ROW_FLOOR_BELOW:
    return sp_reason (FLOOR_BELOW_LIMIT, .floor_dbm = e->floor_dbm, .limit_dbm = e->limit_dbm, .expanded_db = guard->expanded_db);
  case SP_ROW_FLOOR_ABOVE: return floor_above (e, guard);
  case SP_ROW_LEVEL_BELOW: return below_limit (e, high, guard);
  case SP_ROW_PART_BELOW:
    return sp_reason (RADIO_PART_BELOW, .part_dbm = high, .limit_dbm = e->limit_dbm, .expanded_db = guard->expanded_db,
                      .level_dbm = e->level_dbm);
  case SP_ROW_AMBIENT: return sp_reason (AMBIENT_POSSIBLE, .level_dbm = e->level_dbm, .ambient_dbm = e->evidence->ambient_dbm);
  case SP_ROW_AMBIENT_IN_RADIO:
  case SP_ROW_AMBIENT_PART: return ambient_part (e, guard->expanded_db);
  case SP_ROW_UNTESTED: return sp_reason (UNTESTED, .level_dbm = e->level_dbm, .limit_dbm = e->limit_dbm, .expanded_db = expanded_db);
  case SP_ROW_GROSS_EXCESS:
  case SP_ROW_PART_ABOVE: return above_limit (e, low - e->excess_db, guard->expanded_low_db);
  case SP_ROW_BOUND_STRADDLES: return bound_straddles (c, e, guard->expanded_low_db);
  case SP_ROW_WITHIN_UNCERTAINTY: return sp_reason (WITHIN_UNCERTAINTY, .margin_db = e->margin_db, .expanded_db = expanded_db);
  case SP_ROW_PART_STRADDLES:
    return sp_reason (RADIO_PART_STRADDLES, .part_low_dbm = low, .part_high_dbm = high, .limit_dbm = e->limit_dbm,
                      .expanded_db = expanded_db);
  case SP_ROW_ANALYZER_POSSIBLE: return analyzer_possible (e, low, high, expanded_db);
  case SP_ROW_MORE_POWER:
  case SP_ROW_NO_CARRIER: break; /* set afterwards in verdict.c */
  }
  g_return_val_if_reached (NULL);
}
