/* advice-ahead.c - what to sweep where nothing was keyed yet: the whole sweep, and what no sweep proves */
#include "core/judge/advice/advice-stages.h"
#include "core/judge/plan-inputs.h"

#include <math.h>
#include <string.h>

static const SpUnprovable *
unprovable (const SpAdvice *a, guint order)
{
  for (guint i = 0; i < a->n_unprovable; i++)
    if (a->unprovable[i].order == order)
      return &a->unprovable[i];
  return NULL;
}

/* The sweep that proves the most; of a harmonic that none proves what stands in the way, and where that is the chain what to measure. */
static SpReason *
answer_for (SpPlan *plan, const SpAdvice *a, const SpTask *task, const SpEmission *e)
{
  const SpUnprovable *u = unprovable (a, e->order);
  if (u && strcmp (u->why, "outside-calibration") == 0) {
    gboolean here = !sp_chain_loss (task->chain, e->frequency_hz, task->temperature_c, 0, NULL).calibrated;
    return sp_reason (PROVE_CALIBRATION, .at_hz = here ? e->frequency_hz : task->fundamental_hz);
  }
  if (!a->noise_known)
    return NULL;
  double floor_dbm = u ? NAN : sp_plan_harmonic (plan, &a->setting, e->order).floor_dbm;
  return sp_plan_span_reason (plan, &a->setting, floor_dbm);
}

void
sp_judging_prove_ahead (SpJudging *c)
{
  SpConditionFindings *out = c->out;
  if (c->n > 0)
    return;
  SpTask task = sp_condition_task (c->bench, out, c->chain);
  if (!(task.power_w > 0) || !(task.fundamental_hz > 0))
    return;
  g_autoptr (SpPlan) plan = sp_plan_new (&task);
  SpAdvice advice = sp_plan_advise (plan);
  for (guint i = 0; advice.any && i < out->n_emissions; i++) {
    SpEmission *e = &out->emissions[i];
    if (!e->order || !e->would_prove || e->would_prove->code != SP_REASON_PROVE_SWEEP)
      continue;
    SpReason *answer = answer_for (plan, &advice, &task, e);
    if (!answer)
      continue;
    sp_reason_unref (e->would_prove);
    e->would_prove = answer;
  }
}
