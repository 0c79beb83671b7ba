/* carry.c - applies a condition's step test to other conditions of the bench, for orders that the profile does not give */
#include "core/judge/origin/origin.h"

#include <math.h>
#include <string.h>

#define SAME_BAND 0.1     /* an intercept holds within this relative distance of the fundamental (common practice, no source) */
#define SAME_LEVEL_DB 1.0 /* equal mixer levels, within a radio's repeatability (common practice, no source) */

static gboolean
same_band (double a_hz, double b_hz)
{
  return fabs (a_hz / b_hz - 1) <= SAME_BAND;
}

/* TRUE up to the recommended mixer level: products follow the level by their order there, and none is near a level where its parts
 * cancel. */
static gboolean
within_range (const SpAnalyzer *analyzer, double mixer_dbm)
{
  return mixer_dbm <= sp_plan_safe_mixer_dbm (analyzer) + SAME_LEVEL_DB;
}

/* q_high at this sweep's mixer from that test; NaN: not applicable. It falls by the order, like an intercept
 * (core/docs/computation.md, section 9), with the uncertainty that scale and repeatability give the difference of the two carriers
 * (JCGM 100: 2 u, times the order). */
static double
carried_dbm (const SpJudging *c, const SpJudgedSweep *s, guint order, const SpConditionFindings *other, const SpEvidence *v)
{
  if (isnan (v->product_at_mixer_dbm) || !same_band (other->fundamental_hz, c->out->fundamental_hz)
      || !within_range (c->analyzer, v->mixer_dbm))
    return NAN;
  double more = s->mixer.dbm - v->mixer_dbm;
  if (!(more <= SAME_LEVEL_DB) || !(v->attenuation_db <= s->trace->settings.attenuation_db))
    return NAN;
  double u = hypot (sp_width_u_db (&c->analyzer->scale), sp_width_u_db (&c->analyzer->repeatability));
  return v->product_at_mixer_dbm + order * (more + 2 * u);
}

static gboolean
has_analyzer (const SpJudging *c, guint condition)
{
  const SpAnalyzer *other = sp_condition_analyzer (c->bench, &c->bench->conditions[condition]);
  return strcmp (other->sha256, c->analyzer->sha256) == 0;
}

SpReason *
sp_judging_carry (const SpJudging *c, const SpFindings *all, const SpEmission *e)
{
  const SpJudgedSweep *s = &c->sweeps[e->corrected];
  gboolean tested = e->evidence && e->evidence->n > 0;
  if (!e->detected || e->order < 2 || !isnan (e->product_high_dbm) || tested || s->purpose != SP_PURPOSE_KEYED || isnan (s->mixer.dbm))
    return NULL;
  double least = NAN;
  guint from = 0;
  for (guint k = 0; k < all->n; k++) {
    const SpConditionFindings *other = &all->conditions[k];
    const SpEmission *o = e->order - 2 < other->n_emissions ? &other->emissions[e->order - 2] : NULL; /* harmonics come first, by order */
    if (other == c->out || !o || o->order != e->order || !o->evidence || !has_analyzer (c, k))
      continue;
    double q = carried_dbm (c, s, e->order, other, o->evidence);
    if (!isnan (q) && !(q >= least)) {
      least = q;
      from = k;
    }
  }
  if (isnan (least))
    return NULL;
  double loss = sp_chain_loss (s->chain, e->frequency_hz, c->bench->temperature_c, 0, NULL).loss_db;
  return sp_reason (PRODUCT_CARRIED, .condition = all->conditions[from].name, .order = e->order,
                    .product_dbm = least + s->trace->settings.attenuation_db + loss + s->shift_db);
}

/* ---- one step that settles several conditions ---- */

/* Untested because no intercept is known; a step would test it. */
static gboolean
wants_step (const SpEmission *e)
{
  return e->order >= 2 && e->origin == SP_ORIGIN_UNTESTED && e->would_prove && e->would_prove->code == SP_REASON_PROVE_STEP;
}

/* The emission's order, fundamental and level at the mixer: equal ones can share one step test. */
typedef struct {
  guint condition, emission;
  double mixer_dbm, attenuation_db;
} Untested;

static gboolean
stands_for (const SpFindings *all, const Untested *strong, const Untested *weak)
{
  const SpConditionFindings *a = &all->conditions[strong->condition], *b = &all->conditions[weak->condition];
  const SpBench *bench = all->bench;
  const SpAnalyzer *first = sp_condition_analyzer (bench, &bench->conditions[a->condition]);
  const SpAnalyzer *second = sp_condition_analyzer (bench, &bench->conditions[b->condition]);
  return a->emissions[strong->emission].order == b->emissions[weak->emission].order && weak->mixer_dbm <= strong->mixer_dbm + SAME_LEVEL_DB
         && strong->attenuation_db <= weak->attenuation_db && same_band (a->fundamental_hz, b->fundamental_hz)
         && within_range (first, strong->mixer_dbm) && (first == second || strcmp (first->sha256, second->sha256) == 0);
}

static GArray *
all_untested (const SpFindings *all, const SpJudging *const *judgings)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (Untested));
  for (guint k = 0; k < all->n; k++)
    for (guint i = 0; i < all->conditions[k].n_emissions; i++) {
      const SpEmission *e = &all->conditions[k].emissions[i];
      if (!wants_step (e))
        continue;
      const SpJudgedSweep *s = &judgings[k]->sweeps[e->corrected];
      Untested u = { k, i, s->mixer.dbm, s->trace->settings.attenuation_db };
      if (s->purpose == SP_PURPOSE_KEYED && !isnan (u.mixer_dbm) && !isnan (u.attenuation_db))
        g_array_append_val (list, u);
    }
  return list;
}

GArray *
sp_judgings_share_steps (const SpFindings *all, const SpJudging *const *judgings)
{
  g_autoptr (GArray) list = all_untested (all, judgings);
  g_autofree guint *stands = g_new0 (guint, list->len + 1), *best = g_new0 (guint, list->len + 1);
  for (guint i = 0; i < list->len; i++) /* how many each step would settle, including its own */
    for (guint j = 0; j < list->len; j++)
      stands[i] += i == j || stands_for (all, &g_array_index (list, Untested, i), &g_array_index (list, Untested, j));
  for (guint j = 0; j < list->len; j++) {
    best[j] = j;
    for (guint i = 0; i < list->len; i++)
      if (stands[i] > stands[best[j]] && stands_for (all, &g_array_index (list, Untested, i), &g_array_index (list, Untested, j)))
        best[j] = i;
  }
  GArray *shared = g_array_new (FALSE, FALSE, sizeof (SpSharedStep));
  for (guint j = 0; j < list->len; j++) {
    const Untested *u = &g_array_index (list, Untested, j), *by = &g_array_index (list, Untested, best[j]);
    const SpReason *step = all->conditions[u->condition].emissions[u->emission].would_prove;
    if (stands[best[j]] < 2)
      continue;
    SpReason *why = sp_reason (PROVE_STEP, .pad = step->PROVE_STEP.pad, .condition = all->conditions[by->condition].name,
                               .step_db = step->PROVE_STEP.step_db, .order = step->PROVE_STEP.order, .settles = stands[best[j]]);
    SpSharedStep one = { u->condition, u->emission, why };
    g_array_append_val (shared, one);
  }
  return shared;
}
