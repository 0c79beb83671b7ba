#include "tests/simulate/alike.h"

#include <math.h>

SpVerdict
sim_rank (const SpConditionFindings *c)
{
  return MAX (c->verdict, SP_VERDICT_COMPLIES);
}

const SpEmission *
sim_same_emission (const SpConditionFindings *in, const SpEmission *e, double reach_hz)
{
  const SpEmission *best = NULL;
  for (guint i = 0; i < in->n_emissions; i++) {
    const SpEmission *other = &in->emissions[i];
    double wide = (e->to_hz - e->from_hz + other->to_hz - other->from_hz) / 2; /* 0 of lines */
    if (e->order > 0 ? other->order == e->order : other->order == 0 && fabs (other->frequency_hz - e->frequency_hz) <= reach_hz + wide)
      if (!best || fabs (other->frequency_hz - e->frequency_hz) < fabs (best->frequency_hz - e->frequency_hz))
        best = other;
  }
  return best;
}

void
sim_tell_emission (GString *why, const char *when, const SpEmission *e)
{
  if (!e) {
    g_string_append_printf (why, "; %s not listed", when);
    return;
  }
  g_string_append_printf (why, "; %s %.8g MHz order %u %s level %.2f (-%.2f +%.2f) floor %.2f U %.2f band %.4g kHz limit %.2f: %s, %s",
                          when, e->frequency_hz / 1e6, e->order,
                          e->detected ? "seen"
                          : e->swept  ? "not seen"
                                      : "not swept",
                          e->level_dbm, e->excess_db, e->sampling_loss_db, e->floor_dbm, e->budget.expanded_margin_db,
                          (e->to_hz - e->from_hz) / 1e3, e->limit_dbm, sp_verdict_name (e->verdict),
                          e->reason ? sp_reason_name (e->reason->code) : "");
}

void
sim_tell_gaps (GString *why, const char *when, const SpConditionFindings *c)
{
  g_string_append_printf (why, "; %s %u gaps", when, c->n_gaps);
  for (guint i = 0; i < MIN (c->n_gaps, 3); i++)
    g_string_append_printf (why, " [%.6g-%.6g MHz %s]", c->gaps[i].from_hz / 1e6, c->gaps[i].to_hz / 1e6, sp_reason_name (c->gaps[i].why));
}

static gboolean
same_level (const SpEmission *a, const SpEmission *b, double seen_db, double floor_db)
{
  if (a->detected != b->detected || a->swept != b->swept)
    return FALSE;
  double apart = fabs (a->level_dbm - b->level_dbm);
  return !a->swept || a->unresolved || apart <= (a->detected ? seen_db : floor_db) || (isnan (a->level_dbm) && isnan (b->level_dbm));
}

gboolean
sim_at_threshold (const SpEmission *e, double floor_db)
{
  return floor_db > 0 && e->detected && e->level_dbm <= e->floor_dbm + 1;
}

/* The verdict hangs on less than what may differ. */
static gboolean
at_edge (const SpConditionFindings *c, double db)
{
  for (guint i = 0; i < c->n_emissions; i++) {
    const SpEmission *e = &c->emissions[i];
    if (fabs (fabs (sp_emission_deciding_margin_db (e)) - e->budget.expanded_margin_db) <= db)
      return TRUE;
  }
  return FALSE;
}

gboolean
sim_alike (const SpConditionFindings *a, const SpConditionFindings *b, const SimLeave *leave, GString *why)
{
  double floor_db = leave->floor_db;
  gboolean good = a->verdict == b->verdict || (floor_db > 0 && at_edge (a, floor_db));
  if (!good) {
    g_string_append_printf (why, "; %s against %s", sp_verdict_name (a->verdict), sp_verdict_name (b->verdict));
    sim_tell_gaps (why, "one", a);
    sim_tell_gaps (why, "other", b);
    if (a->worst_emission >= 0)
      sim_tell_emission (why, "worst of one", &a->emissions[a->worst_emission]);
    if (b->worst_emission >= 0)
      sim_tell_emission (why, "worst of other", &b->emissions[b->worst_emission]);
  }
  for (guint i = 0; i < a->n_emissions; i++) {
    const SpEmission *e = &a->emissions[i], *other = sim_same_emission (b, e, 1e3 + e->frequency_hz * 1e-6);
    if (fabs (e->frequency_hz - leave->cut_hz) < leave->reach_hz || sim_at_threshold (e, floor_db)
        || (other && sim_at_threshold (other, floor_db)))
      continue;
    if (other && same_level (e, other, leave->seen_db, floor_db))
      continue;
    good = FALSE;
    sim_tell_emission (why, "one", e);
    sim_tell_emission (why, "other", other);
  }
  return good;
}
