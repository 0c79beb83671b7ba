/* verdict-facts.c - evaluates the facts of the verdict table for one emission */
#include "core/findings/verdict-table.h"
#include "core/judge/origin/origin.h"
#include "core/judge/sweep/sweep.h"
#include "core/judge/verdict/verdict.h"

#include <math.h>

SpGuard
sp_judging_guard (const SpJudging *c, const SpEmission *e)
{
  SpGuard guard = { .expanded_db = e->budget.expanded_margin_db, .expanded_low_db = e->budget.expanded_margin_low_db };
  if (c->bench->decision_rule == SP_DECISION_RULE_GUARDED) {
    guard.high_db = guard.expanded_db;
    guard.low_db = guard.expanded_low_db;
  }
  return guard;
}

double
sp_judging_guard_margin_db (const SpEmission *e, const SpGuard *guard)
{
  return e->margin_db < 0 ? guard->expanded_low_db : guard->expanded_db;
}

void
sp_judging_part (const SpEmission *e, double *low_dbm, double *high_dbm)
{
  *low_dbm = isnan (e->radio_high_dbm) ? e->level_dbm : e->radio_low_dbm;
  *high_dbm = isnan (e->radio_high_dbm) ? e->level_dbm : e->radio_high_dbm;
}

/* TRUE if the level complies, unless another part may hide more of the radio's part than U covers. */
static gboolean
level_is_below (const SpEmission *e, double high_dbm, const SpGuard *guard)
{
  gboolean hides_more = high_dbm > e->level_dbm + guard->expanded_db
                        && (e->origin == SP_ORIGIN_ANALYZER || e->origin == SP_ORIGIN_MIXED || e->origin == SP_ORIGIN_AMBIENT);
  return e->level_dbm + guard->high_db <= e->limit_dbm && !hides_more;
}

/* TRUE if the ambient signal alone, by more than U, prevents a verdict. A step test cannot separate ambient from radio. */
static gboolean
ambient_leaves_open (const SpEmission *e, const SpGuard *guard)
{
  double low, high;
  if (!sp_judging_less_ambient (e, &low, &high) || (fabs (e->margin_db) <= guard->high_db && e->level_dbm - low <= guard->high_db))
    return FALSE;
  return high + guard->high_db > e->limit_dbm && low - guard->high_db <= e->limit_dbm;
}

/* TRUE if more points would decide and a lesser U would not: the sweep is too coarse to prove anything, or only the possible loss
 * between points prevents compliance. */
static gboolean
sampling_leaves_open (const SpJudging *c, const SpEmission *e, double high_dbm, const SpGuard *guard)
{
  const SpJudgedSweep *s = &c->sweeps[e->corrected];
  guint64 i = MIN (sp_trace_find (s->trace, e->frequency_hz), s->trace->n - 1);
  if (!(e->sampling_loss_db <= SP_BLIND_LOSS_DB))
    return TRUE;
  return e->sampling_loss_db > 0 && sp_judging_blurred (s, i) && high_dbm + guard->high_db > e->limit_dbm
         && high_dbm + guard->low_db <= e->limit_dbm;
}

/* TRUE if the level is a bound and the limit lies within its possible range: another sweep would decide, a lesser U would not. */
static gboolean
bound_leaves_open (const SpEmission *e, double low_dbm, double high_dbm, const SpGuard *guard)
{
  gboolean only_excess = e->excess_db > 0 && low_dbm - guard->low_db > e->limit_dbm;
  gboolean only_more = e->sampling_loss_db > 0 && high_dbm + guard->low_db <= e->limit_dbm;
  return only_excess || only_more;
}

static guint
when (gboolean holds, SpVerdictFact fact)
{
  return holds ? fact : 0;
}

guint
sp_judging_facts_of_part (const SpEmission *e, double low_dbm, double high_dbm, const SpGuard *guard)
{
  double least = low_dbm - e->excess_db;
  return when (least - guard->low_db > e->limit_dbm, SP_FACT_OVER) | when (high_dbm + guard->high_db <= e->limit_dbm, SP_FACT_BELOW)
         | when (e->origin != SP_ORIGIN_UNTESTED && least > e->limit_dbm + guard->expanded_low_db + SP_UNCALIBRATED_EXTRA_DB,
                 SP_FACT_GROSS);
}

/* Facts of a seen emission, by the ends of the radio's part. */
static guint
facts_of_seen (const SpJudging *c, const SpEmission *e, const SpGuard *guard)
{
  double low, high;
  sp_judging_part (e, &low, &high);
  return SP_FACT_SEEN | sp_judging_facts_of_part (e, low, high, guard) | when (sampling_leaves_open (c, e, high, guard), SP_FACT_COARSE)
         | when (level_is_below (e, high, guard), SP_FACT_LEVEL_BELOW) | when (ambient_leaves_open (e, guard), SP_FACT_AMBIENT_OPEN)
         | when (bound_leaves_open (e, low, high, guard), SP_FACT_BOUND_OPEN)
         | when (fabs (e->margin_db) <= sp_judging_guard_margin_db (e, guard), SP_FACT_WITHIN_U);
}

guint
sp_judging_facts (const SpJudging *c, const SpEmission *e, const SpGuard *guard)
{
  guint facts = when (!isnan (e->limit_dbm), SP_FACT_LIMIT) | when (sp_judging_limit_needs_power (c, e), SP_FACT_NEEDS_POWER)
                | when (e->swept, SP_FACT_SWEPT) | when (!e->unresolved, SP_FACT_RESOLVED)
                | when (c->carrier_calibrated || c->out->by_meter || e->limit_slope == 0, SP_FACT_REFERRED)
                | when (e->calibrated, SP_FACT_CALIBRATED) | when (sp_emission_is_blind (e), SP_FACT_BLIND)
                | when (e->floor_dbm + guard->high_db <= e->limit_dbm, SP_FACT_FLOOR_BELOW)
                | when (e->origin == SP_ORIGIN_AMBIENT, SP_FACT_AMBIENT) | when (e->origin == SP_ORIGIN_UNTESTED, SP_FACT_UNTESTED)
                | when (e->origin == SP_ORIGIN_RADIO, SP_FACT_RADIO);
  return e->swept && e->detected ? facts | facts_of_seen (c, e, guard) : facts;
}
