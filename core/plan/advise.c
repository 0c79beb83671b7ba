/* advise.c - the sweep to take before anything was keyed */
#include "core/plan/plan-private.h"

#include <math.h>

#define BELOW_F0 0.9
#define ABOVE_TOP 1.02

static void
put_span (const SpPlan *plan, SpSetting *s)
{
  const SpTask *task = &plan->task;
  const SpMask *mask = task->mask;
  s->start_hz = fmin (BELOW_F0 * task->fundamental_hz, isnan (mask->search_low_hz) ? INFINITY : mask->search_low_hz);
  s->start_hz = fmin (fmax (s->start_hz, SP_ZERO_HERTZ_RBWS * s->rbw_hz), task->fundamental_hz / 2);
  s->stop_hz = fmax (ABOVE_TOP * plan->harmonics * task->fundamental_hz, isnan (mask->search_high_hz) ? 0 : mask->search_high_hz);
}

/* A spur anywhere in the sweep crosses a higher threshold; where the mask asks for a whole range that floor counts, too. */
static gboolean
proves_between (SpPlan *plan, const SpSetting *s, const SpPlace *p)
{
  if (isnan (plan->task.mask->search_low_hz))
    return TRUE;
  SpOutlook o = sp_plan_outlook (plan, s, p, s->points);
  return sp_outlook_proves (plan, s, &o);
}

/* So does the place beside the carrier where the mask begins: skirt and phase noise stand there. */
static gboolean
proves_beside (SpPlan *plan, const SpSetting *s)
{
  const SpTask *task = &plan->task;
  double beside = task->fundamental_hz + sp_mask_exclude_hz (task->mask, task->fundamental_hz, task->power_w, task->necessary_bandwidth_hz, s->rbw_hz);
  if (!(task->mask->search_low_hz <= beside && beside <= task->mask->search_high_hz))
    return TRUE;
  SpOutlook o = sp_plan_spur (plan, s, beside * (1 + 1e-9));
  return isnan (o.limit_dbm) || sp_outlook_proves (plan, s, &o);
}

static void
weigh (SpPlan *plan, SpAdvice *a)
{
  a->proves = proves_beside (plan, &a->setting);
  a->worst_order = a->unpredicted = 0;
  a->worst_missing_db = NAN;
  a->noise_known = TRUE;
  a->mixer_dbm = sp_plan_mixer_dbm (plan, &a->setting);
  a->keying = sp_plan_keying (plan, &a->setting);
  a->time_s = a->keying.keyed_s;
  for (guint order = 2; order <= plan->harmonics; order++) {
    const SpPlace *p = &plan->places[order];
    if (isnan (p->limit.limit_dbm))
      continue;
    SpOutlook o = sp_plan_outlook (plan, &a->setting, p, sp_plan_points (plan, &a->setting, order));
    a->noise_known = a->noise_known && !isnan (o.noise_dbm);
    a->unpredicted += isnan (o.distortion_high_dbm);
    a->proves = a->proves && sp_outlook_proves (plan, &a->setting, &o) && proves_between (plan, &a->setting, p);
    if (!(o.missing_db <= a->worst_missing_db)) {
      a->worst_missing_db = o.missing_db;
      a->worst_order = order;
    }
  }
}

static gboolean
is_better (const SpPlan *plan, const SpAdvice *a, const SpAdvice *b)
{
  double effort = sp_plan_effort_s (plan, &a->setting), other = b->any ? sp_plan_effort_s (plan, &b->setting) : INFINITY;
  if (!b->any || a->proves != b->proves)
    return !b->any || a->proves;
  if (a->proves && effort != other)
    return effort < other;
  if (a->worst_missing_db != b->worst_missing_db && !(isnan (a->worst_missing_db) && isnan (b->worst_missing_db)))
    return a->worst_missing_db < b->worst_missing_db;
  return effort < other;
}

SpAdvice
sp_plan_advise (SpPlan *plan)
{
  SpAdvice best = { 0 };
  SpMeans means = sp_plan_means (plan, NULL);
  for (guint i = 0; i < means.n_rbws; i++)
    for (guint way = 1; way < SP_WAYS; way++) {
      SpAdvice a = { .any = TRUE, .setting = { .rbw_hz = means.rbws_hz[i], .parts = 1, .averages = 1, .points = means.points } };
      put_span (plan, &a.setting);
      if (!sp_means_way (&means, way, &a.setting))
        continue;
      for (guint j = 0; j < means.n_attenuations; j++) {
        a.setting.attenuation_db = means.attenuations_db[j];
        if (sp_plan_unsafe (plan, &a.setting) != SP_UNSAFE_NOT)
          continue;
        weigh (plan, &a);
        if (is_better (plan, &a, &best))
          best = a;
      }
    }
  return best;
}

SpSetting
sp_plan_setting (SpPlan *plan, const SpTrace *trace, double rbw_hz, double attenuation_db)
{
  SpAdvice advice = sp_plan_advise (plan);
  SpSetting s = trace ? sp_setting_of_trace (trace) : advice.setting;
  double f0 = plan->task.fundamental_hz;
  if (!advice.any) { /* nothing is safe: something to look at all the same */
    advice.setting = (SpSetting){ .rbw_hz = 10e3, .attenuation_db = 20, .detector = SP_DETECTOR_PEAK, .averages = 1, .parts = 1 };
    advice.setting.points = sp_plan_means (plan, NULL).points;
    put_span (plan, &advice.setting);
    s = trace ? s : advice.setting;
  }
  s.rbw_hz = !isnan (rbw_hz) ? rbw_hz : isnan (s.rbw_hz) ? advice.setting.rbw_hz : s.rbw_hz;
  s.attenuation_db = !isnan (attenuation_db) ? attenuation_db : isnan (s.attenuation_db) ? advice.setting.attenuation_db : s.attenuation_db;
  if (trace && !(s.start_hz <= f0 && f0 <= s.stop_hz))
    put_span (plan, &s);
  return s;
}
