/* prove.c - what would prove what is not proven: planning's search, from the noise that this very sweep showed */
#include "core/judge/case.h"
#include "core/judge/planning.h"

#include <math.h>

/* A settling that one more sweep of other settings could bring: the floor too high, the sampling too coarse, or what the analyzer makes too near. */
static gboolean
settings_might (const SpEmission *e)
{
  if (e->verdict != SP_VERDICT_NOT_PROVEN || !e->swept || !e->would_prove)
    return FALSE;
  SpReasonCode why = e->reason->code;
  return why == SP_REASON_FLOOR_ABOVE_LIMIT || why == SP_REASON_UNDERSAMPLED || (why == SP_REASON_ANALYZER_POSSIBLE && !isnan (e->distortion_high_dbm));
}

/* The search's answer in place of the general one, where it has one. */
static void
search (SpEmission *e, const SpCaseSweep *s, SpPlan *plan)
{
  SpSetting today = sp_setting_of_trace (s->trace);
  guint64 i = MIN (sp_trace_find (s->trace, e->frequency_hz), s->trace->n - 1);
  sp_plan_measured (plan, e->order, e->frequency_hz, &today, s->out->noise_dbm[i]);
  sp_plan_measured_u (plan, e->order, e->frequency_hz, e->budget.expanded_margin_db);
  SpReason *reason = sp_plan_prove (plan, &today, e->order, e->frequency_hz, NULL);
  if (reason && (reason->code == SP_REASON_PROVE_SETTING || reason->code == SP_REASON_PROVE_NOTCH)) {
    sp_reason_unref (e->would_prove);
    e->would_prove = reason;
  } else if (reason) {
    sp_reason_unref (reason);
  }
}

void
sp_case_prove (SpCase *c)
{
  const SpConditionFindings *out = c->out;
  if (isnan (out->power_dbm) || isnan (out->fundamental_hz))
    return;
  g_autofree SpPlan **plans = g_new0 (SpPlan *, c->n + 1);
  for (guint i = 0; i < out->n_emissions; i++) {
    SpEmission *e = &out->emissions[i];
    if (!settings_might (e))
      continue;
    const SpCaseSweep *s = &c->sweeps[e->case_sweep];
    if (!isfinite (s->rbw_hz) || isnan (s->trace->settings.attenuation_db))
      continue;
    if (!plans[e->case_sweep]) {
      SpTask task = sp_condition_task (c->bench, out, s->chain);
      plans[e->case_sweep] = sp_plan_new (&task);
    }
    search (e, s, plans[e->case_sweep]);
  }
  for (guint k = 0; k < c->n; k++)
    sp_plan_free (plans[k]);
}
