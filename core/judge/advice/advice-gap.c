/* advice-gap.c - the sweep that would close a gap: planning's search over the gap's stretch (core/plan/plan.h, sp_plan_close) */
#include "core/findings/plan-inputs.h"
#include "core/judge/advice/advice.h"

#include <math.h>

/* Only the widest gaps are searched, some milliseconds each; one sweep serves both sides of the carrier; bounds time */
#define MOST_SEARCHED 4

static gboolean
is_ring (const SpGap *gap)
{
  return gap->why == SP_REASON_TOO_WIDE;
}

/* The keyed sweep whose setting and chain are the start of the search. */
static const SpJudgedSweep *
starting_sweep (const SpJudging *c)
{
  return c->carrier_sweep >= 0 && (guint) c->carrier_sweep < c->n ? &c->sweeps[c->carrier_sweep] : c->n > 0 ? &c->sweeps[0] : NULL;
}

static SpReason *
search (SpPlan *plan, const SpSetting *today, double from_hz, double to_hz)
{
  SpReason *why = NULL;
  sp_plan_close (plan, today, from_hz, to_hz, NAN, NULL, &why);
  return why;
}

/* One sweep covers both sides of the carrier. */
static void
close_ring (const SpConditionFindings *out, SpPlan *plan, const SpSetting *today, SpReason **closes)
{
  double from = INFINITY, to = -INFINITY;
  for (guint i = 0; i < out->n_gaps; i++)
    if (is_ring (&out->gaps[i])) {
      from = fmin (from, out->gaps[i].from_hz);
      to = fmax (to, out->gaps[i].to_hz);
    }
  if (!(to > from))
    return;
  g_autoptr (SpReason) why = search (plan, today, from, to);
  for (guint i = 0; why && i < out->n_gaps; i++)
    if (is_ring (&out->gaps[i]))
      closes[i] = sp_reason_ref (why);
}

static int
by_width_down (const void *a, const void *b)
{
  const SpGap *x = *(const SpGap *const *) a, *y = *(const SpGap *const *) b;
  double wide = x->to_hz - x->from_hz, other = y->to_hz - y->from_hz;
  return (wide < other) - (wide > other);
}

static void
close_others (const SpConditionFindings *out, SpPlan *plan, const SpSetting *today, SpReason **closes, GPtrArray *warnings)
{
  g_autofree const SpGap **widest = g_new (const SpGap *, out->n_gaps + 1);
  guint n = 0;
  for (guint i = 0; i < out->n_gaps; i++)
    if (!is_ring (&out->gaps[i]) && out->gaps[i].why != SP_REASON_NO_POWER)
      widest[n++] = &out->gaps[i];
  qsort (widest, n, sizeof *widest, by_width_down);
  for (guint i = 0; i < MIN (n, MOST_SEARCHED); i++)
    closes[widest[i] - out->gaps] = search (plan, today, widest[i]->from_hz, widest[i]->to_hz);
  if (n > MOST_SEARCHED)
    sp_reasons_add (warnings, sp_reason (GAPS_LEFT, .searched = MOST_SEARCHED, .left = n - MOST_SEARCHED));
}

SpReason **
sp_judging_prove_gaps (const SpJudging *c, GPtrArray *warnings)
{
  const SpJudgedSweep *s = starting_sweep (c);
  SpReason **closes = g_new0 (SpReason *, c->out->n_gaps + 1);
  if (c->out->n_gaps == 0 || !s || isnan (c->out->power_dbm) || isnan (c->out->fundamental_hz))
    return closes;
  SpTask task = sp_condition_task (c->bench, c->out, s->chain);
  g_autoptr (SpPlan) plan = sp_plan_new (&task);
  SpSetting today = sp_setting_of_trace (s->trace);
  close_ring (c->out, plan, &today, closes);
  close_others (c->out, plan, &today, closes, warnings);
  return closes;
}
