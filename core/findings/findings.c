/* findings.c - queries on complete findings: values at a frequency, names, sums */
#include "core/findings/findings.h"
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
  for (guint i = 0; i < c->n_compared; i++)
    clear_corrected (&c->compared[i]);
  for (guint i = 0; i < c->n_superseded; i++)
    clear_corrected (&c->superseded[i]);
  g_free (c->name);
  g_free (c->emissions);
  g_free (c->corrected);
  g_free (c->compared);
  g_free (c->superseded);
  for (guint i = 0; i < c->n_gaps; i++)
    g_clear_pointer (&c->gaps[i].would_close, sp_reason_unref);
  g_free (c->gaps);
  g_free (c->seams);
  g_clear_pointer (&c->headroom, sp_headroom_free);
  for (guint i = 0; i < c->n_ways; i++)
    sp_headroom_free (c->ways[i].headroom);
  g_free (c->ways);
  g_clear_pointer (&c->limit, g_array_unref);
  g_clear_pointer (&c->statement, sp_reason_unref);
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
  g_clear_pointer (&f->second, sp_findings_unref);
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

const SpConditionFindings *
sp_findings_second (const SpFindings *findings, guint condition)
{
  const SpBench *bench = findings->bench;
  return findings->second && sp_condition_second_mask (bench, &bench->conditions[condition]) ? &findings->second->conditions[condition]
                                                                                             : NULL;
}

/* The mask takes no part in finding emissions but for the highest order that it looks for, over which a harmonic is a spur: a place is the same to both,
 * bit by bit. */
const SpEmission *
sp_second_emission (const SpConditionFindings *second, const SpEmission *emission)
{
  for (guint i = 0; i < second->n_emissions; i++)
    if ((emission->order > 0 && second->emissions[i].order == emission->order)
        || second->emissions[i].frequency_hz == emission->frequency_hz)
      return &second->emissions[i];
  return NULL;
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
