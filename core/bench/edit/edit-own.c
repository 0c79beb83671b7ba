/* edit-own.c - what a condition has instead of the bench's, and a sweep instead of its condition's */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/bench/build.h"
#include "core/bench/edit/edit-private.h"
#include "core/quantity/error.h"

static void
set_own (SpCondition *condition, SpResourceKind kind, gpointer resource)
{
  gpointer *place = kind == SP_RESOURCE_CHAIN      ? (gpointer *) &condition->chain
                    : kind == SP_RESOURCE_ANALYZER ? (gpointer *) &condition->analyzer
                                                   : (gpointer *) &condition->mask;
  gpointer old = *place;
  *place = resource ? sp_resource_ref (kind, resource) : NULL;
  if (old)
    sp_resource_unref (kind, old);
}

SpBench *
sp_bench_set_own_of (const SpBench *bench, const guint *conditions, guint n, SpResourceKind kind, gpointer resource, GError **error)
{
  g_return_val_if_fail (kind < SP_RESOURCE_TRACE, NULL);
  SpBench *copy = sp_bench_copy (bench, 0);
  for (guint i = 0; i < n; i++)
    if (conditions[i] < copy->n_conditions)
      set_own (&copy->conditions[conditions[i]], kind, resource);
  return sp_bench_settle (copy, error);
}

SpBench *
sp_bench_set_own (const SpBench *bench, guint condition, SpResourceKind kind, gpointer resource, GError **error)
{
  g_return_val_if_fail (condition < bench->n_conditions, NULL);
  return sp_bench_set_own_of (bench, &condition, 1, kind, resource, error);
}

gboolean
sp_condition_share_chain (SpCondition *condition, SpPurpose purpose, const SpChain *chain)
{
  for (guint i = 0; i < condition->n_sweeps; i++) {
    SpSweep *sweep = &condition->sweeps[i];
    if (sweep->purpose != purpose || sweep->chain == chain)
      continue;
    if (chain && sweep->chain && !g_str_equal (sweep->chain->sha256, chain->sha256))
      return FALSE;
    if (chain) {
      g_clear_pointer (&sweep->chain, sp_chain_unref);
      sweep->chain = sp_chain_ref (chain);
    }
  }
  return TRUE;
}

SpBench *
sp_bench_set_purpose_through (const SpBench *bench, guint condition, guint sweep, SpPurpose purpose, double step_db, const SpChain *chain,
                              GError **error)
{
  if (!sp_bench_check_sweep (bench, condition, sweep, error) || !sp_bench_check_step (purpose, step_db, error))
    return NULL;
  if (!sp_purpose_has_chain (purpose)) {
    sp_fail (error, SP_ERROR_USAGE, _ ("only step and notched sweeps have a chain of their own; expected one of these"));
    return NULL;
  }
  SpBench *copy = sp_bench_copy (bench, 0);
  SpCondition *changed = &copy->conditions[condition];
  changed->sweeps[sweep].purpose = purpose;
  changed->sweeps[sweep].step_db = purpose == SP_PURPOSE_STEP ? step_db : NAN;
  for (guint i = 0; i < changed->n_sweeps; i++)
    if (changed->sweeps[i].purpose == purpose) {
      g_clear_pointer (&changed->sweeps[i].chain, sp_chain_unref);
      changed->sweeps[i].chain = chain ? sp_chain_ref (chain) : NULL;
    }
  return sp_bench_settle (copy, error);
}

SpChain *
sp_chain_with_loss (const SpChain *chain, SpStageKind kind, const char *path, GError **error)
{
  g_autofree char *stage = sp_chain_free_name (chain, sp_stage_kind_name (kind));
  g_autofree char *name = g_strdup_printf ("%s + %s", chain->name ? chain->name : "", stage);
  g_autoptr (SpChain) longer = sp_chain_add_stage (chain, chain->n, stage, kind, error);
  g_autoptr (SpChain) whole = longer ? sp_chain_take_loss (longer, chain->n, path, error) : NULL;
  return whole ? sp_chain_set (whole, -1, "name", name, error) : NULL;
}

SpChain *
sp_chain_for_sweep (const SpChain *chain, SpPurpose purpose, const char *path, GError **error)
{
  g_autofree char *small = g_ascii_strdown (path, -1);
  if (!chain || g_str_has_suffix (small, ".chain"))
    return sp_chain_read (path, error);
  return sp_chain_with_loss (chain, purpose == SP_PURPOSE_NOTCHED ? SP_STAGE_NOTCH : SP_STAGE_PAD, path, error);
}
