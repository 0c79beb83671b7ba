/* advice-row.c - the advice that the row of the verdict table alone implies */
#include "core/findings/verdict-table.h"
#include "core/judge/advice/advice.h"
#include "core/judge/verdict/verdict.h"

#include <math.h>

static SpReason *
prove_uncertainty (const SpEmission *e)
{
  const SpTerm *largest = NULL;
  for (guint i = 0; i < e->budget.n; i++)
    if (!largest || e->budget.terms[i].u_margin_db > largest->u_margin_db)
      largest = &e->budget.terms[i];
  const SpTerm *assumed = sp_budget_assumed_of_weight (&e->budget, SP_BUDGET_MARGIN);
  return sp_reason (PROVE_UNCERTAINTY, .largest = largest ? (int) largest->kind : SP_NO_WORD,
                    .assumed = assumed ? (int) assumed->kind : SP_NO_WORD, .stage = assumed ? assumed->assumed_stage : NULL,
                    .below_db = fabs (e->margin_db));
}

/* NULL if the RBW is not known. */
static SpReason *
prove_sampling (const SpJudging *c, const SpEmission *e)
{
  const SpJudgedSweep *s = &c->sweeps[e->corrected];
  double span = s->trace->frequency_hz[s->trace->n - 1] - s->trace->frequency_hz[0];
  return isnan (s->rbw_hz) ? NULL : sp_reason (PROVE_SAMPLING, .spacing_hz = s->rbw_hz, .points = ceil (span / s->rbw_hz) + 1);
}

/* One more step; advice.c chooses which. */
static SpReason *
prove_step (const SpEmission *e)
{
  return sp_reason (PROVE_STEP, .pad = FALSE, .condition = NULL, .step_db = NAN, .order = e->order, .settles = NAN);
}

/* Points and RBW that resolve the harmonics, about twice what sp_is_unresolved() asks (calculated).
 * A coarse point at f0 costs more at higher orders. */
static SpReason *
prove_resolve (const SpJudging *c, const SpEmission *e)
{
  double f0 = c->out->fundamental_hz, rbw = f0 / 8;
  return sp_reason (PROVE_RESOLVE, .spacing_hz = f0 / (4 + 2 * e->order), .rbw_hz = c->sweeps[e->corrected].rbw_hz <= rbw ? NAN : rbw);
}

static SpReason *
prove_floor (const SpJudging *c, const SpEmission *e)
{
  double missing = e->floor_dbm + sp_judging_guard (c, e).high_db - e->limit_dbm;
  return sp_reason (PROVE_FLOOR, .cause = e->floor_cause, .unsafe = FALSE, .missing_db = missing + SP_PROVE_RESERVE_DB);
}

static SpReason *
prove_narrower (const SpJudging *c, const SpEmission *e)
{
  double rbw = c->sweeps[e->corrected].rbw_hz, reference = e->reference_bandwidth_hz;
  return sp_reason (PROVE_NARROWER, .rbw_hz = fmin (rbw, isnan (reference) ? rbw : reference));
}

SpReason *
sp_judging_prove_by_row (const SpJudging *c, const SpEmission *e)
{
  switch (e->row) {
  case SP_ROW_NOT_SWEPT: return sp_reason (PROVE_SWEEP, .to_hz = e->frequency_hz);
  case SP_ROW_NOT_RESOLVED: return prove_resolve (c, e);
  case SP_ROW_POWER_UNCALIBRATED: return sp_reason (PROVE_CALIBRATION, .at_hz = c->out->fundamental_hz);
  case SP_ROW_UNCALIBRATED: return sp_reason (PROVE_CALIBRATION, .at_hz = e->frequency_hz);
  case SP_ROW_BLIND:
  case SP_ROW_COARSE: return prove_sampling (c, e);
  case SP_ROW_FLOOR_ABOVE: return prove_floor (c, e);
  case SP_ROW_AMBIENT:
  case SP_ROW_AMBIENT_IN_RADIO:
  case SP_ROW_AMBIENT_PART: return sp_reason (PROVE_AMBIENT, .at_hz = e->frequency_hz);
  case SP_ROW_UNTESTED: /* a step of so coarse a sweep would test nothing */
    return e->sampling_loss_db <= SP_BLIND_LOSS_DB ? prove_step (e) : prove_sampling (c, e);
  case SP_ROW_BOUND_STRADDLES: return prove_narrower (c, e);
  case SP_ROW_WITHIN_UNCERTAINTY: return prove_uncertainty (e);
  case SP_ROW_PART_STRADDLES:
  case SP_ROW_ANALYZER_POSSIBLE: return prove_step (e);
  case SP_ROW_MORE_POWER: return sp_reason (PROVE_REFERENCE, .reading_dbm = c->sweeps[c->carrier_sweep].carrier.reading_dbm);
  case SP_ROW_NO_CARRIER:
    return e->reason->code == SP_REASON_FUNDAMENTAL_NEAR_ZERO ? sp_reason (PROVE_RBW, .rbw_hz = e->reason->FUNDAMENTAL_NEAR_ZERO.rbw_hz)
                                                              : NULL;
  case SP_ROW_NO_LIMIT:
  case SP_ROW_NO_POWER: /* no sweep would help */
  case SP_ROW_GROSS_EXCESS:
  case SP_ROW_FLOOR_BELOW:
  case SP_ROW_LEVEL_BELOW:
  case SP_ROW_PART_BELOW:
  case SP_ROW_PART_ABOVE: return NULL; /* settled */
  }
  g_return_val_if_reached (NULL);
}
