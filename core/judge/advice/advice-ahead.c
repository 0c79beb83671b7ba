/* advice-ahead.c - advice before anything was keyed: the whole sweep to make, and the harmonics that no sweep can prove */
#include "core/findings/plan-inputs.h"
#include "core/judge/advice/advice.h"

#include <math.h>

struct _SpAhead {
  SpTask task;
  SpPlan *plan;
  SpAdvice advice;
};

void
sp_ahead_free (SpAhead *ahead)
{
  sp_plan_free (ahead->plan);
  g_free (ahead);
}

SpAhead *
sp_judging_plan_ahead (const SpJudging *c)
{
  if (c->n > 0)
    return NULL;
  SpTask task = sp_condition_task (c->bench, c->out, c->chain);
  if (!(task.power_w > 0) || !(task.fundamental_hz > 0))
    return NULL;
  SpAhead *ahead = g_new0 (SpAhead, 1);
  ahead->task = task;
  ahead->plan = sp_plan_new (&ahead->task);
  ahead->advice = sp_plan_advise (ahead->plan);
  return ahead;
}

static const SpUnprovable *
unprovable (const SpAdvice *a, guint order)
{
  for (guint i = 0; i < a->n_unprovable; i++)
    if (a->unprovable[i].order == order)
      return &a->unprovable[i];
  return NULL;
}

/* The sweep that proves the most. For a harmonic that no sweep proves: the obstacle, and the missing calibration if that is the chain. */
static SpReason *
answer_for (const SpAhead *ahead, const SpEmission *e)
{
  const SpAdvice *a = &ahead->advice;
  const SpTask *task = &ahead->task;
  const SpUnprovable *u = unprovable (a, e->order);
  if (u && u->obstacle == SP_OBSTACLE_CALIBRATION) {
    gboolean here = !sp_chain_loss (task->chain, e->frequency_hz, task->temperature_c, 0, NULL).calibrated;
    return sp_reason (PROVE_CALIBRATION, .at_hz = here ? e->frequency_hz : task->fundamental_hz);
  }
  if (!a->noise_known)
    return NULL;
  double floor_dbm = u ? NAN : sp_plan_harmonic (ahead->plan, &a->setting, e->order).floor_dbm;
  return sp_plan_span_reason (ahead->plan, &a->setting, floor_dbm);
}

SpReason *
sp_judging_prove_ahead (const SpAhead *ahead, const SpEmission *e, const SpReason *by_row)
{
  gboolean unswept = e->order && by_row && by_row->code == SP_REASON_PROVE_SWEEP;
  return unswept && ahead->advice.any ? answer_for (ahead, e) : NULL;
}
