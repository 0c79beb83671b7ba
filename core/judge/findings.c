/* findings.c - queries on complete findings: values at a frequency, names, sums */
#include "core/judge/judging.h"
#include "core/quantity/ascending.h"

#include <math.h>

static void
clear_emission (SpEmission *e)
{
  g_free (e->limit_rule);
  g_free (e->budget.terms);
  if (e->evidence)
    g_free (e->evidence->points);
  g_free (e->evidence);
  g_clear_pointer (&e->reason, sp_reason_unref);
  g_clear_pointer (&e->relation, sp_reason_unref);
  g_clear_pointer (&e->would_prove, sp_reason_unref);
}

static void
clear_corrected (SpCorrected *k)
{
  g_free (k->level_dbm);
  g_free (k->noise_dbm);
  g_free (k->floor_dbm);
  g_free (k->floor_cause);
}

static void
clear_condition (SpConditionFindings *c)
{
  g_free (c->power_budget.terms);
  for (guint i = 0; i < c->n_emissions; i++)
    clear_emission (&c->emissions[i]);
  for (guint i = 0; i < c->n_corrected; i++)
    clear_corrected (&c->corrected[i]);
  for (guint i = 0; i < c->n_evidence; i++)
    clear_corrected (&c->evidence[i]);
  for (guint i = 0; i < c->n_superseded; i++)
    clear_corrected (&c->superseded[i]);
  g_free (c->name);
  g_free (c->emissions);
  g_free (c->corrected);
  g_free (c->evidence);
  g_free (c->superseded);
  for (guint i = 0; i < c->n_gaps; i++)
    g_clear_pointer (&c->gaps[i].would_close, sp_reason_unref);
  g_free (c->gaps);
  g_free (c->seams);
  g_clear_pointer (&c->headroom, sp_headroom_free);
  g_clear_pointer (&c->limit, g_array_unref);
  g_clear_pointer (&c->warnings, g_ptr_array_unref);
}

static void
clear_findings (void *data)
{
  SpFindings *f = data;
  for (guint i = 0; i < f->n; i++)
    clear_condition (&f->conditions[i]);
  g_free (f->conditions);
  g_clear_pointer (&f->warnings, g_ptr_array_unref);
  g_clear_pointer (&f->bench, sp_bench_unref);
}

SpFindings *
sp_findings_ref (const SpFindings *findings)
{
  return g_atomic_rc_box_acquire ((SpFindings *) findings);
}

void
sp_findings_unref (SpFindings *findings)
{
  if (findings)
    g_atomic_rc_box_release_full (findings, clear_findings);
}

const char *
sp_verdict_name (SpVerdict verdict)
{
  static const char *const names[] = { "no limit", "complies", "not proven", "inconclusive", "exceeds" };
  return names[verdict];
}

const char *
sp_origin_name (SpOrigin origin)
{
  static const char *const names[] = { NULL, "radio", "analyzer", "mixed", "ambient", "untested" };
  return names[origin];
}

const char *
sp_origin_basis_name (SpOriginBasis basis)
{
  static const char *const names[] = { "none", "predicted", "step", "unkeyed" };
  return names[basis];
}

/* The sweep with the lowest floor at f, and its point nearest to f. */
static const SpCorrected *
sweep_at (const SpConditionFindings *c, double frequency_hz, guint64 *index)
{
  const SpCorrected *best = NULL;
  for (guint k = 0; k < c->n_corrected; k++) {
    const SpCorrected *s = &c->corrected[k];
    if (frequency_hz < s->frequency_hz[0] || frequency_hz > s->frequency_hz[s->n - 1])
      continue;
    guint64 i = sp_ascending_nearest (s->n, s->frequency_hz, frequency_hz);
    if (!best || s->floor_dbm[i] < best->floor_dbm[*index]) {
      best = s;
      *index = i;
    }
  }
  return best;
}

static void
limit_at (const SpFindings *findings, const SpConditionFindings *c, SpAt *at)
{
  const SpCondition *condition = &findings->bench->conditions[c->condition];
  double p = isnan (c->power_dbm) ? condition->rated_w : sp_watt_from_dbm (c->power_dbm);
  if (isnan (p) || isnan (c->fundamental_hz))
    return;
  SpLimit limit = sp_mask_limit (sp_condition_mask (findings->bench, condition), c->fundamental_hz, p, c->necessary_bandwidth_hz, NAN,
                                 at->frequency_hz);
  if (!limit.excluded && fabs (at->frequency_hz - c->fundamental_hz) > c->exclude_hz)
    at->limit_dbm = limit.limit_dbm;
}

gboolean
sp_emission_is_blind (const SpEmission *emission)
{
  return emission->unresolved || (emission->swept && !emission->detected && emission->sampling_loss_db > SP_BLIND_LOSS_DB);
}

double
sp_emission_deciding_expanded_db (const SpEmission *emission)
{
  return emission->margin_db < 0 ? emission->budget.expanded_margin_low_db : emission->budget.expanded_margin_db;
}

/* The emission at f: a harmonic within its window, another spur within a point; -1: none. */
static int
emission_at (const SpConditionFindings *c, double frequency_hz, double reach_hz)
{
  int best = -1;
  for (guint j = 0; j < c->n_emissions; j++) {
    const SpEmission *e = &c->emissions[j];
    double off = fabs (frequency_hz - e->frequency_hz), within = e->order ? fmax (reach_hz, c->necessary_bandwidth_hz) : reach_hz;
    if (off <= within && (best < 0 || off < fabs (frequency_hz - c->emissions[best].frequency_hz)))
      best = (int) j;
  }
  return best;
}

SpAt
sp_findings_at (const SpFindings *findings, guint condition, double frequency_hz)
{
  SpAt at = { .frequency_hz = frequency_hz, .emission = -1 };
  at.level_dbm = at.expanded_db = at.level_dbc = at.loss_db = at.loss_expanded_db = at.floor_dbm = at.limit_dbm = at.margin_db = NAN;
  if (condition >= findings->n || !isfinite (frequency_hz))
    return at;
  const SpConditionFindings *c = &findings->conditions[condition];
  const SpCondition *value = &findings->bench->conditions[c->condition];
  SpChainLoss loss = sp_chain_loss (sp_condition_chain (findings->bench, value), frequency_hz, findings->bench->temperature_c, 0, NULL);
  at.loss_db = loss.loss_db;
  at.loss_expanded_db = 2 * loss.u_db;
  limit_at (findings, c, &at);
  guint64 i = 0;
  const SpCorrected *s = sweep_at (c, frequency_hz, &i);
  double reach = s ? (s->frequency_hz[s->n - 1] - s->frequency_hz[0]) / (double) (s->n - 1) : 0;
  at.emission = emission_at (c, frequency_hz, reach);
  if (at.emission >= 0)
    at.order = c->emissions[at.emission].order;
  if (!isnan (c->fundamental_hz) && fabs (frequency_hz - c->fundamental_hz) <= fmax (reach, c->exclude_hz))
    at.order = 1;
  if (!s)
    return at;
  at.swept = TRUE;
  at.level_dbm = s->level_dbm[i];
  at.level_dbc = at.level_dbm - c->power_dbm;
  at.floor_dbm = s->floor_dbm[i];
  at.floor_cause = s->floor_cause[i];
  at.blind = s->loss_between_db > SP_BLIND_LOSS_DB;
  at.margin_db = at.blind ? NAN : at.limit_dbm - fmax (at.level_dbm, at.floor_dbm);
  at.expanded_db = c->n_emissions ? sp_findings_level_u (findings, condition, frequency_hz) * 2 : NAN;
  return at;
}
