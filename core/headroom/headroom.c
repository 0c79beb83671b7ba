/* headroom.c - checks the safety of the chain as drawn and of its worst fault */
#include "core/headroom/headroom-private.h"

#include <math.h>

#include "core/quantity/units.h"

const char *
sp_fault_kind_name (SpFaultKind kind)
{
  static const char *const names[] = { "left-out", "swapped", "reversed" };
  g_return_val_if_fail ((guint) kind < G_N_ELEMENTS (names), NULL);
  return names[kind];
}

static void
unsafe (SpHeadroom *headroom, const SpNode *node, double rating_w, double headroom_db, double return_loss_db)
{
  headroom->safe = FALSE;
  sp_reasons_add (headroom->reasons, sp_reason (UNSAFE, .place = node->name, .throws_back = !isnan (return_loss_db),
                                                .power_w = node->power_w, .rating_w = rating_w, .level_dbm = node->level_dbm,
                                                .headroom_db = headroom_db, .return_loss_db = return_loss_db));
}

static void
judge_ratings (SpHeadroom *headroom)
{
  for (guint k = 0; k < headroom->n_nodes; k++) {
    const SpNode *node = &headroom->nodes[k];
    if (isnan (node->rating_w))
      sp_reasons_add (headroom->reasons, sp_reason (RATING_MISSING, .place = node->name));
    else if (node->headroom_db < 0)
      unsafe (headroom, node, node->rating_w, node->headroom_db, NAN);
  }
}

static void
judge_reflection (SpHeadroom *headroom, const SpThrownBack *back)
{
  headroom->notch_return_loss_db = back->return_loss_db;
  if (back->unsafe)
    unsafe (headroom, &headroom->nodes[back->stage], NAN, back->return_loss_db - SP_RETURN_LOSS_LEAST_DB, back->return_loss_db);
}

/* "brick", or "brick, thimble". (transfer full) */
static char *
stages_of (const SpFault *fault, const SpChain *chain)
{
  const char *first = chain->stages[fault->stages[0]]->name;
  return fault->stages[1] < 0 ? g_strdup (first) : g_strdup_printf ("%s, %s", first, chain->stages[fault->stages[1]]->name);
}

static void
warn_of_rating (SpHeadroom *headroom, const SpChain *chain)
{
  const SpFault *worst = headroom->n_faults ? &headroom->faults[0] : NULL; /* they are sorted, the worst first */
  if (!worst || !(worst->headroom_db < 0))
    return;
  g_autofree char *stages = stages_of (worst, chain);
  sp_reasons_add (headroom->reasons, sp_reason (FAULT, .kind = worst->kind, .stages = stages, .worst_place = worst->worst_node,
                                                .headroom_db = worst->headroom_db, .power_w = worst->power_w, .rating_w = worst->rating_w));
}

static void
warn_of_reflection (SpHeadroom *headroom, const SpChain *chain)
{
  const SpFault *worst = NULL;
  for (guint i = 0; i < headroom->n_faults; i++) {
    const SpFault *fault = &headroom->faults[i];
    if (fault->reflects && (!worst || fault->return_loss_db < worst->return_loss_db))
      worst = fault;
  }
  if (!worst)
    return;
  g_autofree char *stages = stages_of (worst, chain);
  sp_reasons_add (headroom->reasons,
                  sp_reason (FAULT_REFLECTS, .kind = worst->kind, .stages = stages, .reflector = chain->stages[worst->reflector]->name,
                             .return_loss_db = worst->return_loss_db));
}

/* Power enters the far end instead of the near end as drawn: the reversed stage gets the power of its own position. */
static void
warn_of_reversal (SpHeadroom *headroom, const SpChain *chain)
{
  const SpNode *most = NULL;
  for (guint i = 0; i < chain->n; i++)
    if (chain->stages[i]->directional && (!most || headroom->nodes[i].power_w > most->power_w))
      most = &headroom->nodes[i];
  if (most)
    sp_reasons_add (headroom->reasons,
                    sp_reason (FAULT_REVERSED, .stage = most->name, .power_w = most->power_w, .rating_w = most->rating_w));
}

/* A radio's DC at its socket is unknown: warns of an open DC path to an input with a limit. */
static void
warn_of_dc (SpHeadroom *headroom, const SpChain *chain, const SpAnalyzer *analyzer)
{
  for (guint i = 0; i < chain->n; i++)
    if (!chain->stages[i]->passes_dc)
      return;
  if (!isnan (analyzer->max_dc_v))
    sp_reasons_add (headroom->reasons, sp_reason (DC_PATH, .analyzer = analyzer->name, .most_v = analyzer->max_dc_v));
}

SpHeadroom *
sp_headroom (const SpChain *chain, const SpAnalyzer *analyzer, double power_w, double fundamental_hz, double temperature_c, double duty,
             double attenuation_db)
{
  SpFeed feed = { chain, analyzer, power_w, fundamental_hz, temperature_c, duty, attenuation_db, { { NAN } } };
  SpOrder drawn = { .n = chain->n, .reversed = -1 };
  g_return_val_if_fail (power_w > 0 && duty > 0 && duty <= 1, NULL);
  for (guint i = 0; i < chain->n; i++) {
    feed.loss[i] = sp_stage_loss (chain, i, fundamental_hz, temperature_c, 0);
    drawn.stage[i] = i;
  }

  SpHeadroom *headroom = g_new0 (SpHeadroom, 1);
  headroom->safe = TRUE;
  headroom->reasons = sp_reasons_new ();
  headroom->notch_return_loss_db = NAN;
  headroom->n_nodes = chain->n + 1;
  headroom->nodes = sp_feed_nodes (&feed, &drawn);
  SpThrownBack back = sp_feed_thrown_back (&feed, &drawn);
  headroom->faults = sp_feed_faults (&feed, &back, &headroom->n_faults);
  headroom->mixer_dbm = headroom->nodes[chain->n].level_dbm - attenuation_db;
  headroom->mixer_over_db = headroom->mixer_dbm - analyzer->best_mixer_dbm;
  judge_ratings (headroom);
  judge_reflection (headroom, &back);
  warn_of_dc (headroom, chain, analyzer);
  warn_of_rating (headroom, chain);
  warn_of_reflection (headroom, chain);
  warn_of_reversal (headroom, chain);
  return headroom;
}

static void
free_nodes (SpNode *nodes, guint n)
{
  for (guint k = 0; k < n; k++)
    g_free (nodes[k].name);
  g_free (nodes);
}

void
sp_headroom_free (SpHeadroom *headroom)
{
  if (!headroom)
    return;
  free_nodes (headroom->nodes, headroom->n_nodes);
  for (guint i = 0; i < headroom->n_faults; i++) {
    free_nodes (headroom->faults[i].nodes, headroom->faults[i].n_nodes);
    g_free (headroom->faults[i].worst_node);
  }
  g_free (headroom->faults);
  g_ptr_array_unref (headroom->reasons);
  g_free (headroom);
}
