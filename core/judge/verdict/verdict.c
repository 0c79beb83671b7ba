/* verdict.c - the verdict on an emission: margin, conformity, the deciding row, and rows that withhold it afterwards */
#include "core/judge/verdict/verdict.h"
#include "core/findings/verdict-table.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* p = T((limit - level)/u). NaN if the emission may be partly the analyzer's or ambient. A weak ambient signal in a radio emission
 * widens the part, which decides if that matters (decision.c). */
static double
conformity (const SpEmission *e)
{
  gboolean settled = e->origin == SP_ORIGIN_RADIO || e->origin == SP_ORIGIN_UNTESTED;
  if (!e->detected || isnan (e->limit_dbm) || !settled)
    return NAN;
  gboolean over = e->margin_db < 0; /* a level that may be higher is no more likely to comply */
  double u = over ? e->budget.u_margin_low_db : e->budget.u_margin_db, dof = over ? e->budget.dof_margin_low : e->budget.dof_margin;
  return u > 0 ? sp_student_below (e->margin_db / u, dof) : e->margin_db >= 0;
}

/* The table's verdict if the limit were another. */
static SpVerdict
verdict_at (const SpJudging *c, const SpEmission *e, const SpGuard *guard, double limit_dbm)
{
  SpEmission at = *e; /* owns nothing */
  at.limit_dbm = limit_dbm;
  at.margin_db = limit_dbm - e->level_dbm;
  return sp_verdict_of_facts (sp_judging_facts (c, &at, guard))->verdict;
}

/* P is a lower bound: why the verdict does not hold for every higher power; NULL: it does. */
static SpReason *
for_more_power (const SpJudging *c, const SpEmission *e, const SpGuard *guard)
{
  double p = sp_watt_from_dbm (c->out->power_dbm), low, high;
  if (isnan (e->limit_dbm) || !sp_judging_limit_range (c, e, p, fmax (p, SP_MOST_RADIO_W), &low, &high))
    return NULL;
  gboolean holds = e->verdict == SP_VERDICT_COMPLIES  ? verdict_at (c, e, guard, low) == e->verdict
                   : e->verdict == SP_VERDICT_EXCEEDS ? verdict_at (c, e, guard, high) == e->verdict
                                                      : low == high;
  return holds ? NULL
               : sp_reason (POWER_LOWER_BOUND, .power_dbm = c->out->power_dbm, .limit_dbm = e->limit_dbm, .limit_low_dbm = low,
                            .limit_high_dbm = isinf (high) ? NAN : high);
}

/* No sweep shows the fundamental at its stated frequency: nothing complies, and nothing exceeds a limit that depends on P. */
static gboolean
stands_without_carrier (const SpJudging *c, const SpEmission *e)
{
  double low, high;
  gboolean absolute = !sp_judging_limit_range (c, e, SP_LEAST_RADIO_W, SP_MOST_RADIO_W, &low, &high) || low == high || c->out->by_meter;
  return e->verdict != SP_VERDICT_COMPLIES && absolute;
}

static gboolean
is_settled (const SpEmission *e)
{
  return e->verdict != SP_VERDICT_NOT_PROVEN && e->verdict != SP_VERDICT_NO_LIMIT;
}

static void
withhold (SpEmission *e, SpVerdictRow row, SpReason *why)
{
  sp_reason_unref (e->reason);
  e->row = row;
  e->verdict = SP_VERDICT_NOT_PROVEN;
  e->reason = why;
}

SpDecided
sp_judging_verdict (const SpJudging *c, const SpEmission *emission)
{
  SpEmission e = *emission; /* a copy that receives the first decisions; it owns only its reason */
  SpGuard guard = sp_judging_guard (c, &e);
  e.margin_db = e.swept && !e.unresolved ? e.limit_dbm - e.level_dbm : NAN;
  e.conformity = conformity (&e);
  e.facts = sp_judging_facts (c, &e, &guard);
  const SpVerdictEntry *entry = sp_verdict_of_facts (e.facts);
  e.row = entry->row;
  e.verdict = entry->verdict;
  e.reason = sp_judging_row_reason (c, &e, &guard);
  SpReason *more = c->power_at_least && is_settled (&e) ? for_more_power (c, &e, &guard) : NULL;
  if (more)
    withhold (&e, SP_ROW_MORE_POWER, more);
  if (c->no_carrier && is_settled (&e) && !stands_without_carrier (c, &e))
    withhold (&e, SP_ROW_NO_CARRIER, sp_reason_ref (c->no_carrier));
  return (SpDecided){ .margin_db = e.margin_db,
                      .conformity = e.conformity,
                      .facts = e.facts,
                      .row = e.row,
                      .verdict = e.verdict,
                      .decision = sp_judging_decision (&e, &guard),
                      .reason = e.reason };
}
