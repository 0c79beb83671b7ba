/* advice.c - for each emission that is not proven: the setting that would prove it */
#include "core/judge/advice/advice.h"
#include "core/findings/plan-inputs.h"

#include <math.h>

/* core/plan searches it from the measured noise and the step test. */

#define MOST_FITS 64 /* some milliseconds each; bounds time */

/* TRUE if one more sweep with other settings could decide: floor too high, sampling too coarse, or analyzer product too near.
 * Contradicting steps allow no prediction. */
static gboolean
settings_might (const SpEmission *e)
{
  if (e->evidence && e->evidence->contradicts)
    return FALSE;
  gboolean product_known = !isnan (e->product_high_dbm) || sp_emission_shows_product (e);
  return e->row == SP_ROW_FLOOR_ABOVE || e->row == SP_ROW_BLIND || e->row == SP_ROW_COARSE
         || (e->row == SP_ROW_ANALYZER_POSSIBLE && product_known);
}

/* The plan for the emission's sweep, with the noise measured at its frequency; NULL: the search lacks input. */
static SpPlan *
plan_for (const SpJudging *c, SpPlan **plans, const SpEmission *e, const SpSetting *today)
{
  const SpJudgedSweep *s = &c->sweeps[e->corrected];
  SpPlan **plan = &plans[e->corrected];
  if (isnan (c->out->power_dbm) || isnan (c->out->fundamental_hz) || !isfinite (s->rbw_hz) || isnan (today->attenuation_db))
    return NULL;
  if (!*plan) {
    SpTask task = sp_condition_task (c->bench, c->out, s->chain);
    *plan = sp_plan_new (&task);
  }
  guint64 i = MIN (sp_trace_find (s->trace, e->frequency_hz), s->trace->n - 1);
  sp_plan_measured (*plan, e->order, e->frequency_hz, today, s->out->noise_dbm[i]);
  sp_plan_measured_u (*plan, e->order, e->frequency_hz, e->budget.expanded_margin_db);
  sp_plan_take_steps (*plan, e, today);
  return *plan;
}

/* ---- one sweep added to the existing steps ---- */

typedef struct {
  const SpJudging *c;
  const SpEmission *e;
  const SpSetting *today;
  double room_dbm; /* upper bound allowed for the radio's part */
  double part_dbm; /* expected radio's part */
  guint fits;
} MoreStep;

/* A step is checked by its carrier: the part of the span that shows the emission has to show the carrier too. */
static gboolean
shows_both (const MoreStep *b, const SpSetting *s)
{
  double width = (s->stop_hz - s->start_hz) / s->parts;
  return floor ((b->c->out->fundamental_hz - s->start_hz) / width) == floor ((b->e->frequency_hz - s->start_hz) / width);
}

/* Rejects cheaply before fitting: the fit cannot bound the radio's part below the detection limit, nor far below the analyzer's product. */
static gboolean
settles (gpointer data, const SpSetting *s, const SpOutlook *o)
{
  MoreStep *b = data;
  const SpEvidence *v = b->e->evidence;
  double step = s->attenuation_db + s->pad_db - b->today->attenuation_db - b->today->pad_db;
  double product = v->analyzer_dbm + step * (1 - (double) v->order);
  if (step == 0 || !shows_both (b, s) || product >= v->analyzer_dbm || o->detection_dbm > b->room_dbm || product > b->room_dbm
      || b->fits++ >= MOST_FITS)
    return FALSE;
  b->part_dbm = sp_judging_foreseen_part_dbm (b->c, b->e, step, o->detection_dbm);
  return b->part_dbm <= b->room_dbm;
}

/* NULL: no setting would decide together with the existing steps. */
static SpReason *
with_steps (const SpJudging *c, SpPlan *plan, const SpEmission *e, const SpSetting *today)
{
  double guard = c->bench->decision_rule == SP_DECISION_RULE_GUARDED ? e->budget.expanded_margin_db : 0;
  MoreStep b = { .c = c, .e = e, .today = today, .room_dbm = e->limit_dbm - guard - SP_PROVE_RESERVE_DB };
  SpSetting found;
  if (!sp_plan_seek (plan, today, e->order, e->frequency_hz, settles, &b, &found))
    return NULL;
  return sp_plan_change (plan, today, &found, SP_REASON_PROVE_BESIDE, b.part_dbm);
}

/* ---- the answer ---- */

static gboolean
is (const SpReason *reason, SpReasonCode code)
{
  return reason && reason->code == code;
}

/* A seen emission, best advice first: one sweep that proves it alone; one sweep added to the steps; a notch; one more step, which may
 * tell the origin but does not prove compliance. */
static SpReason *
of_seen (const SpJudging *c, SpPlan *plan, const SpEmission *e, const SpSetting *today)
{
  if (e->evidence && e->evidence->may_cancel) /* the analyzer's product, as fitted, is then no basis for a prediction */
    return sp_judging_prove_step (c, e);
  g_autoptr (SpReason) found = plan ? sp_plan_prove (plan, today, e->order, e->frequency_hz, NULL) : NULL;
  if (is (found, SP_REASON_PROVE_SETTING))
    return g_steal_pointer (&found);
  gboolean fitted = sp_emission_shows_product (e) && e->row == SP_ROW_ANALYZER_POSSIBLE;
  SpReason *step = fitted && plan ? with_steps (c, plan, e, today) : NULL;
  if (step)
    return step;
  if (is (found, SP_REASON_PROVE_NOTCH))
    return g_steal_pointer (&found);
  if (fitted && !e->order && e->evidence->order == 0)
    return sp_reason (PROVE_RESIDUAL, .at_hz = e->frequency_hz);
  return sp_judging_prove_step (c, e);
}

/* An unseen emission: NULL keeps the row's advice. */
static SpReason *
of_not_seen (SpPlan *plan, const SpEmission *e, const SpSetting *today, const SpReason *by_row)
{
  g_autoptr (SpReason) found = plan ? sp_plan_prove (plan, today, e->order, e->frequency_hz, NULL) : NULL;
  if (is (found, SP_REASON_PROVE_SETTING) || is (found, SP_REASON_PROVE_NOTCH))
    return g_steal_pointer (&found);
  if (is (found, SP_REASON_PROVE_FLOOR) && found->PROVE_FLOOR.unsafe && is (by_row, SP_REASON_PROVE_FLOOR))
    return sp_reason (PROVE_FLOOR, .cause = by_row->PROVE_FLOOR.cause, .unsafe = TRUE, .missing_db = by_row->PROVE_FLOOR.missing_db);
  return NULL;
}

/* Advice from the emission's sweep and nearby settings, better than the row's; NULL: none. */
static SpReason *
by_sweep (const SpJudging *c, SpPlan **plans, const SpEmission *e, const SpReason *by_row)
{
  gboolean step = is (by_row, SP_REASON_PROVE_STEP), might = by_row && settings_might (e);
  if (!step && !might)
    return NULL;
  SpSetting today = sp_setting_of_trace (c->sweeps[e->corrected].trace);
  SpPlan *plan = might ? plan_for (c, plans, e, &today) : NULL;
  return step ? of_seen (c, plan, e, &today) : of_not_seen (plan, e, &today, by_row);
}

SpReason **
sp_judging_prove (const SpJudging *c)
{
  const SpConditionFindings *out = c->out;
  SpReason **proofs = g_new0 (SpReason *, out->n_emissions + 1);
  g_autofree SpPlan **plans = g_new0 (SpPlan *, c->n + 1);
  g_autoptr (SpAhead) ahead = sp_judging_plan_ahead (c);
  for (guint i = 0; i < out->n_emissions; i++) {
    const SpEmission *e = &out->emissions[i];
    g_autoptr (SpReason) by_row = sp_judging_prove_by_row (c, e);
    SpReason *better = ahead ? sp_judging_prove_ahead (ahead, e, by_row) : by_sweep (c, plans, e, by_row);
    proofs[i] = better ? better : g_steal_pointer (&by_row);
  }
  for (guint k = 0; k < c->n; k++)
    sp_plan_free (plans[k]);
  return proofs;
}
