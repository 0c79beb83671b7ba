/* verdict.c - the verdict on an emission: margin, conformity, the row of the rule that decides, and what withholds it afterwards */
#include "core/judge/rule.h"
#include "core/judge/sweep/sweep-stages.h"
#include "core/judge/verdict/verdict-stages.h"

#include <math.h>

/* p = T((limit - level)/u); of what may be the analyzer's or the air's own, in part or whole, no such probability can be told. A trace of the air's in
 * what is the radio's widens its part, and decides where that does (decision.c). */
static void
find_conformity (SpEmission *e)
{
  gboolean own = e->origin == SP_ORIGIN_RADIO || e->origin == SP_ORIGIN_UNTESTED;
  if (!e->detected || isnan (e->limit_dbm) || !own)
    return;
  gboolean over = e->margin_db < 0; /* a level that may only be higher is no likelier to comply for that */
  double u = over ? e->budget.u_margin_low_db : e->budget.u_margin_db, dof = over ? e->budget.dof_margin_low : e->budget.dof_margin;
  e->conformity = u > 0 ? sp_student_below (e->margin_db / u, dof) : e->margin_db >= 0;
}

static void
withhold (SpEmission *e, SpRuleRow row, SpReason *why, SpReason *prove)
{
  sp_reason_unref (e->reason);
  g_clear_pointer (&e->would_prove, sp_reason_unref);
  e->row = row;
  e->verdict = SP_VERDICT_NOT_PROVEN;
  e->reason = why;
  e->would_prove = prove;
}

/* P is at least so much: does what was decided hold for every power from there on? */
static void
hold_for_more_power (SpJudging *c, SpEmission *e, const SpGuard *guard)
{
  double p = sp_watt_from_dbm (c->out->power_dbm), low, high, part_low, part_high;
  if (isnan (e->limit_dbm) || !sp_judging_limit_range (c, e, p, fmax (p, SP_MOST_RADIO_W), &low, &high))
    return;
  sp_judging_part (e, &part_low, &part_high);
  double most = fmin (e->level_dbm, part_high);
  gboolean holds = e->verdict == SP_VERDICT_COMPLIES  ? most + guard->high_db <= low
                   : e->verdict == SP_VERDICT_EXCEEDS ? part_low - guard->low_db > high
                                                      : low == high;
  if (!holds)
    withhold (e, SP_ROW_MORE_POWER,
              sp_reason (POWER_LOWER_BOUND, .power_dbm = c->out->power_dbm, .limit_dbm = e->limit_dbm, .limit_low_dbm = low,
                         .limit_high_dbm = isinf (high) ? NAN : high),
              sp_reason (PROVE_REFERENCE, .reading_dbm = c->sweeps[c->carrier_sweep].carrier_reading_dbm));
}

/* No sweep shows the radio where it was said to send: nothing complies, and nothing exceeds a limit that its power makes. */
static void
hold_without_carrier (SpJudging *c, SpEmission *e)
{
  double low, high;
  gboolean absolute = !sp_judging_limit_range (c, e, SP_LEAST_RADIO_W, SP_MOST_RADIO_W, &low, &high) || low == high || c->out->by_meter;
  if (e->verdict == SP_VERDICT_COMPLIES || !absolute)
    withhold (e, SP_ROW_NO_CARRIER, sp_reason_ref (c->doubt),
              c->doubt->code == SP_REASON_FUNDAMENTAL_NEAR_ZERO ? sp_reason (PROVE_RBW, .rbw_hz = c->doubt->FUNDAMENTAL_NEAR_ZERO.rbw_hz)
                                                                : NULL);
}

static gboolean
is_settled (const SpEmission *e)
{
  return e->verdict != SP_VERDICT_NOT_PROVEN && e->verdict != SP_VERDICT_NO_LIMIT;
}

void
sp_judging_verdict (SpJudging *c, SpEmission *e)
{
  sp_judging_limit (c, e);
  sp_judging_budget (c, e);
  if (e->swept && !e->unresolved && !isnan (e->limit_dbm))
    e->margin_db = e->limit_dbm - e->level_dbm;
  find_conformity (e);
  SpGuard guard = sp_judging_guard (c, e);
  e->facts = sp_judging_facts (c, e, &guard);
  const SpRuleLine *rule = sp_rule_of_facts (e->facts);
  e->row = rule->row;
  e->verdict = rule->verdict;
  e->reason = sp_judging_row_reason (c, e, &guard);
  e->would_prove = sp_judging_row_proof (c, e, &guard);
  if (c->power_at_least && is_settled (e))
    hold_for_more_power (c, e, &guard);
  if (c->doubt && is_settled (e))
    hold_without_carrier (c, e);
  sp_judging_decision (e, guard.high_db, guard.low_db);
}
