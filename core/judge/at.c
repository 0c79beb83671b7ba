/* at.c - values at one frequency, read from the findings */
#include "core/chain/sample.h"
#include "core/judge/judge.h"
#include "core/judge/sweep/sweep.h"
#include "core/quantity/ascending.h"

#include <math.h>

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

/* U of a level at f, without noise. */
static double
level_expanded_db (const SpFindings *findings, SpConditionFindings *out, double frequency_hz)
{
  const SpBench *bench = findings->bench;
  const SpCondition *value = &bench->conditions[out->condition];
  SpJudging c = { .bench = bench, .condition = value, .analyzer = sp_condition_analyzer (bench, value), .out = out };
  SpJudgedSweep s = { .chain = sp_condition_chain (bench, value) };
  c.meter_u_db = out->by_meter ? out->power_u_db : NAN;
  return sp_judging_level (&c, &s, frequency_hz, out->power_dbm).expanded_db;
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
  at.loss_expanded_db = sp_chain_loss_expanded_db (&loss);
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
  at.expanded_db = c->n_emissions ? level_expanded_db (findings, &findings->conditions[condition], frequency_hz) : NAN;
  return at;
}

SpBetween
sp_findings_between (const SpFindings *findings, guint condition, double from_hz, double to_hz)
{
  SpAt from = sp_findings_at (findings, condition, from_hz), to = sp_findings_at (findings, condition, to_hz);
  return (SpBetween){ to_hz - from_hz, to.level_dbm - from.level_dbm };
}
