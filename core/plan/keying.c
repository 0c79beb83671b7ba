/* keying.c - key-down time of a sweep, and pauses between its parts */
#include "core/plan/plan-private.h"

#include <math.h>

const char *
sp_time_basis_name (SpTimeBasis basis)
{
  static const char *const names[] = { "profile", "sweep", "common practice" };
  return names[basis];
}

void
sp_task_take_condition (SpTask *task, const SpBench *bench, const SpCondition *condition)
{
  task->signal_folds = sp_condition_folds (bench, condition);
  task->longest_key_down_s = bench->radios[condition->radio].longest_key_down_s;
  for (guint i = 0; i < condition->n_sweeps && !(task->swept_s > 0); i++) {
    const SpTrace *trace = condition->sweeps[i].trace;
    double span = trace->frequency_hz[trace->n - 1] - trace->frequency_hz[0];
    if (!(trace->settings.sweep_time_s > 0) || !(trace->settings.rbw_hz > 0) || !(span > 0))
      continue;
    task->swept_s = trace->settings.sweep_time_s;
    task->swept_rbw_hz = trace->settings.rbw_hz;
    task->swept_span_hz = span;
  }
}

/* Time of a single sweep over a span. */
static double
sweep_s (const SpPlan *plan, double rbw_hz, double span_hz, SpTimeBasis *basis)
{
  const SpTask *task = &plan->task;
  double stated = sp_analyzer_sweep_s (task->analyzer, rbw_hz, span_hz);
  *basis = SP_TIME_PROFILE;
  if (!isnan (stated))
    return stated;
  double told = task->swept_s * (span_hz / task->swept_span_hz) * pow (task->swept_rbw_hz / rbw_hz, 2);
  *basis = SP_TIME_SWEEP;
  if (told > 0 && isfinite (told))
    return told;
  *basis = SP_TIME_ASSUMED;
  return SP_SWEEP_FACTOR * span_hz / (rbw_hz * rbw_hz);
}

SpKeying
sp_plan_keying (const SpPlan *plan, const SpSetting *s)
{
  double longest = plan->task.longest_key_down_s;
  SpKeying k = { .parts = s->parts };
  k.longest_assumed = !(longest > 0);
  k.longest_s = k.longest_assumed ? SP_KEY_DOWN_ASSUMED_S : longest;
  k.key_down_s = s->averages * sweep_s (plan, s->rbw_hz, (s->stop_hz - s->start_hz) / s->parts, &k.basis);
  k.keyed_s = k.parts * k.key_down_s;
  k.too_long = k.key_down_s > k.longest_s;
  if (k.parts > 1) {
    double cools = k.key_down_s * (plan->heat / SP_HEAT_SHARE - 1), rests = k.keyed_s > k.longest_s ? k.key_down_s : 0;
    k.pause_s = fmax (0, fmax (cools, rests));
  }
  k.total_s = k.keyed_s + (k.parts - 1) * k.pause_s;
  return k;
}

gboolean
sp_plan_fit_key_down (const SpPlan *plan, SpSetting *s)
{
  SpKeying k = sp_plan_keying (plan, s);
  if (k.too_long)
    s->parts = ceil (s->parts * k.key_down_s / k.longest_s - 1e-9);
  return s->parts <= SP_PARTS_MOST;
}

double
sp_plan_effort_s (const SpPlan *plan, const SpSetting *s)
{
  SpKeying k = sp_plan_keying (plan, s);
  return fmax (SP_SHORT_S, k.total_s) + SP_PART_S * (s->parts - 1) + (s->averages > 1 ? SP_AVERAGING_S : 0);
}
