/* limit.c - the limit at an emission, also for a P that is unknown or a lower bound */
#include "core/judge/sweep/sweep.h"

#include <math.h>

#define STEPS_A_DECADE 20 /* bounds time */
#define SAME_DB 1e-9      /* bounds what rounding does */

/* P of the sweep that shows it. */
static double
power_w (const SpJudging *c, const SpEmission *e)
{
  if (!isnan (c->out->power_dbm))
    return sp_watt_from_dbm (e->swept && !isnan (e->power_dbm) ? e->power_dbm : c->out->power_dbm);
  return c->condition->rated_w; /* only to name the limit that would apply: see sp_judging_limit_needs_power */
}

const SpLimitSegment *
sp_judging_segment (const SpJudging *c, double frequency_hz)
{
  const GArray *segments = c->out->limit;
  guint low = 0, high = segments ? segments->len : 0;
  while (low < high) {
    guint middle = (low + high) / 2;
    if (g_array_index (segments, SpLimitSegment, middle).to_hz < frequency_hz)
      low = middle + 1;
    else
      high = middle;
  }
  const SpLimitSegment *segment = segments && low < segments->len ? &g_array_index (segments, SpLimitSegment, low) : NULL;
  return segment && segment->from_hz <= frequency_hz && !isnan (segment->limit_dbm) ? segment : NULL;
}

double
sp_judging_reference_hz (const SpJudging *c, double frequency_hz)
{
  const SpLimitSegment *segment = sp_judging_segment (c, frequency_hz);
  return segment && segment->rule ? segment->rule->reference_bandwidth_hz : NAN;
}

gboolean
sp_judging_limit_range (const SpJudging *c, const SpEmission *e, double from_w, double to_w, double *low, double *high)
{
  gboolean some_without = FALSE;
  *low = INFINITY;
  *high = -INFINITY;
  if (isnan (c->out->fundamental_hz))
    return FALSE;
  for (int i = 0;; i++) {
    double p = fmin (to_w, from_w * pow (10, (double) i / STEPS_A_DECADE));
    SpLimit limit = sp_mask_limit (c->mask, c->out->fundamental_hz, p, c->out->necessary_bandwidth_hz, 0, e->frequency_hz);
    some_without |= isnan (limit.limit_dbm);
    *low = fmin (*low, limit.limit_dbm);
    *high = fmax (*high, limit.limit_dbm);
    if (p >= to_w)
      break;
  }
  gboolean any = *low <= *high;
  if (some_without)
    *high = INFINITY;
  return any;
}

gboolean
sp_judging_limit_needs_power (const SpJudging *c, const SpEmission *e)
{
  double low, high;
  return isnan (c->out->power_dbm) && sp_judging_limit_range (c, e, SP_LEAST_RADIO_W, SP_MOST_RADIO_W, &low, &high) && high - low > SAME_DB;
}

/* TRUE if the rule depends on P at this fundamental. An attenuation of a + 10 lg P is an absolute level. */
static gboolean
rule_follows_power (const SpMaskRule *rule, double f0)
{
  if (f0 < rule->f0.low.value || f0 > rule->f0.high.value)
    return FALSE;
  return (rule->has_attenuation && fabs (rule->b_db - 10) > SAME_DB) || rule->p.low.value > SP_LEAST_RADIO_W
         || rule->p.high.value < SP_MOST_RADIO_W;
}

double
sp_judging_limit_power_w (const SpJudging *c)
{
  if (!isnan (c->out->power_dbm))
    return sp_watt_from_dbm (c->out->power_dbm);
  for (guint i = 0; i < c->mask->n; i++)
    if (rule_follows_power (&c->mask->rules[i], c->out->fundamental_hz))
      return NAN;
  return 1; /* any power gives the same limit */
}

SpLimitThere
sp_judging_limit (const SpJudging *c, const SpEmission *e)
{
  double p = power_w (c, e), f0 = c->out->fundamental_hz;
  SpLimitThere there = { .limit_dbm = NAN };
  if (isnan (p) && !isnan (f0) && !sp_judging_limit_needs_power (c, e))
    p = 1; /* any power gives the same limit */
  if (isnan (p) || isnan (f0))
    return there;
  double expanded = isnan (c->out->power_u_db) ? 0 : c->out->power_expanded_db;
  SpClassEdge edge;
  SpLimit limit = sp_mask_limit_with_u (c->mask, f0, p, expanded, c->out->necessary_bandwidth_hz, 0, e->frequency_hz, &edge);
  there = (SpLimitThere){ limit.limit_dbm, limit.slope, limit.rule ? limit.rule->name : NULL, NULL };
  if (!isnan (edge.power_w))
    there.warning = sp_reason (POWER_CLASS, .mask = c->mask->name, .below = edge.below ? edge.below->name : NULL,
                               .above = edge.above ? edge.above->name : NULL, .power_w = p, .expanded_db = expanded,
                               .edge_w = edge.power_w);
  return there;
}
