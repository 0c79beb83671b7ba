/* job.c - which of the job's eight steps are done */
#include "core/findings/job.h"

#include <math.h>

typedef guint (*Count) (gconstpointer resource);

/* What a condition goes by; NULL: nothing. Condition n_conditions: the bench's. */
static gpointer
resource_of (const SpBench *bench, SpResourceKind kind, guint condition)
{
  const SpCondition *c = condition < bench->n_conditions ? &bench->conditions[condition] : NULL;
  switch (kind) {
  case SP_RESOURCE_CHAIN: return c ? sp_condition_chain (bench, c) : bench->chain;
  case SP_RESOURCE_ANALYZER: return c ? sp_condition_analyzer (bench, c) : bench->analyzer;
  default: return c ? sp_condition_mask (bench, c) : bench->mask;
  }
}

static void
add_once (GPtrArray *all, gpointer resource)
{
  if (!g_ptr_array_find (all, resource, NULL))
    g_ptr_array_add (all, resource);
}

/* The chains of steps and notched sweeps that do not go through the condition's. */
static void
add_own_chains (GPtrArray *all, const SpCondition *condition)
{
  for (guint k = 0; k < condition->n_sweeps; k++)
    if (condition->sweeps[k].chain && condition->sweeps[k].purpose != SP_PURPOSE_SUPERSEDED)
      add_once (all, condition->sweeps[k].chain);
}

/* Over what the conditions and their sweeps go by, without conditions the bench's: each once, however many share it; one that is missing counts
 * as one. */
static guint
sum_over (const SpBench *bench, SpResourceKind kind, Count count)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new ();
  guint sum = 0;
  for (guint i = 0; i < MAX (bench->n_conditions, 1); i++) {
    add_once (all, resource_of (bench, kind, i));
    if (kind == SP_RESOURCE_CHAIN && i < bench->n_conditions)
      add_own_chains (all, &bench->conditions[i]);
  }
  for (guint i = 0; i < all->len; i++)
    sum += all->pdata[i] ? count (all->pdata[i]) : 1;
  return sum;
}

static guint
stages (gconstpointer resource, gboolean (*lacks) (const SpStage *stage))
{
  const SpChain *chain = resource;
  guint sum = 0;
  for (guint i = 0; i < chain->n; i++)
    sum += lacks (chain->stages[i]);
  return sum;
}

static gboolean
lacks_loss (const SpStage *stage)
{
  return !stage->loss && isnan (stage->label_db);
}

static gboolean
lacks_rating (const SpStage *stage)
{
  return isnan (stage->rating_w);
}

static gboolean
lacks_measurement (const SpStage *stage)
{
  return !stage->loss;
}

static guint
without_loss (gconstpointer chain)
{
  return stages (chain, lacks_loss);
}

static guint
without_rating (gconstpointer chain)
{
  return stages (chain, lacks_rating);
}

static guint
not_measured (gconstpointer chain)
{
  return stages (chain, lacks_measurement);
}

static guint
without_damage (gconstpointer resource)
{
  return isnan (((const SpAnalyzer *) resource)->damage_dbm);
}

static guint
not_stated (gconstpointer resource)
{
  const SpAnalyzer *analyzer = resource;
  return !analyzer->danl_dbm_hz || analyzer->accuracy.assumed || analyzer->flatness.assumed;
}

static guint
nothing (gconstpointer mask)
{
  (void) mask;
  return 0;
}

static guint
not_safe (const SpFindings *findings)
{
  guint sum = 0;
  for (guint i = 0; findings && i < findings->n; i++) {
    const SpConditionFindings *c = &findings->conditions[i];
    sum += !c->safe || !c->headroom || !c->headroom->safe;
  }
  return sum;
}

static gboolean
has_purpose (const SpCondition *condition, gboolean keyed)
{
  for (guint i = 0; i < condition->n_sweeps; i++)
    if (!keyed || condition->sweeps[i].purpose == SP_PURPOSE_KEYED)
      return TRUE;
  return FALSE;
}

static guint
not_swept (const SpBench *bench)
{
  guint sum = bench->n_conditions ? 0 : 1;
  for (guint i = 0; i < bench->n_conditions; i++)
    sum += !has_purpose (&bench->conditions[i], TRUE);
  return sum;
}

static gboolean
is_open (SpVerdict verdict)
{
  return verdict == SP_VERDICT_NOT_PROVEN || verdict == SP_VERDICT_INCONCLUSIVE;
}

static gboolean
is_nobodys (const SpEmission *e)
{
  return e->detected && is_open (e->verdict) && e->origin != SP_ORIGIN_RADIO && e->origin != SP_ORIGIN_NONE;
}

static guint
nobody_knows_whose (const SpFindings *findings)
{
  guint sum = 0;
  for (guint i = 0; findings && i < findings->n; i++)
    for (guint k = 0; k < findings->conditions[i].n_emissions; k++)
      sum += is_nobodys (&findings->conditions[i].emissions[k]);
  return sum;
}

static guint
open_verdicts (const SpFindings *findings)
{
  guint sum = 0;
  for (guint i = 0; findings && i < findings->n; i++)
    sum += is_open (findings->conditions[i].verdict);
  return sum;
}

static gboolean
has_begun (const SpBench *bench)
{
  for (guint i = 0; i < bench->n_conditions; i++)
    if (has_purpose (&bench->conditions[i], FALSE))
      return TRUE;
  return bench->unkeyed != NULL;
}

SpJob
sp_job (const SpBench *bench, const SpFindings *findings, gboolean handed_out)
{
  SpJob job = { .next = -1, .begun = has_begun (bench) };
  const SpFindings *present = findings && findings->bench == bench ? findings : NULL;
  job.open[SP_JOB_CHAIN] = sum_over (bench, SP_RESOURCE_CHAIN, without_loss);
  job.open[SP_JOB_SAFE] = sum_over (bench, SP_RESOURCE_CHAIN, without_rating) + sum_over (bench, SP_RESOURCE_ANALYZER, without_damage)
                          + not_safe (present);
  job.open[SP_JOB_LOSSES] = sum_over (bench, SP_RESOURCE_CHAIN, not_measured);
  job.open[SP_JOB_ANALYZER] = sum_over (bench, SP_RESOURCE_ANALYZER, not_stated) + sum_over (bench, SP_RESOURCE_MASK, nothing);
  job.open[SP_JOB_SWEEPS] = not_swept (bench);
  job.open[SP_JOB_WHOSE] = nobody_knows_whose (present);
  job.open[SP_JOB_VERDICTS] = open_verdicts (present);
  job.open[SP_JOB_PAPER] = handed_out ? 0 : 1;
  gboolean judged = present && present->n > 0 && job.open[SP_JOB_SWEEPS] == 0;
  for (int step = 0; step < SP_JOB_STEPS; step++) {
    gboolean asks = step == SP_JOB_WHOSE || step == SP_JOB_VERDICTS || (step == SP_JOB_SAFE && bench->n_conditions > 0);
    job.done[step] = job.open[step] == 0 && (!asks || (step == SP_JOB_SAFE ? present != NULL : judged));
    job.n_done += job.done[step] ? 1 : 0;
    if (!job.done[step] && job.next < 0)
      job.next = step;
  }
  return job;
}

int
sp_job_stage (const SpChain *chain, SpJobStep step)
{
  gboolean (*const lacks[SP_JOB_STEPS]) (const SpStage *stage) = { lacks_loss, lacks_rating, lacks_measurement };
  for (guint i = 0; lacks[step] && i < chain->n; i++)
    if (lacks[step](chain->stages[i]))
      return (int) i;
  return -1;
}

gboolean
sp_job_place (const SpFindings *findings, SpJobStep step, guint *condition, int *emission)
{
  for (guint i = 0; i < findings->n; i++) {
    const SpConditionFindings *c = &findings->conditions[i];
    *condition = i;
    *emission = c->worst_emission;
    if (step == SP_JOB_VERDICTS && is_open (c->verdict))
      return TRUE;
    for (guint k = 0; step == SP_JOB_WHOSE && k < c->n_emissions; k++)
      if (is_nobodys (&c->emissions[k])) {
        *emission = (int) k;
        return TRUE;
      }
  }
  return FALSE;
}
