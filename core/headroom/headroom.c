/* headroom.c - is the chain as drawn safe, and what would its worst fault do */
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
unsafe (SpHeadroom *headroom, const SpNode *node, double rating_w, double headroom_db, const char *why, double return_loss_db)
{
  headroom->safe = FALSE;
  sp_reasons_add (headroom->reasons, sp_reason_new (SP_REASON_UNSAFE, node->name, why, NULL, 5, node->power_w, rating_w, node->level_dbm,
                                                    headroom_db, return_loss_db));
}

static void
judge_ratings (SpHeadroom *headroom)
{
  for (guint k = 0; k < headroom->n_nodes; k++) {
    const SpNode *node = &headroom->nodes[k];
    if (isnan (node->rating_w))
      sp_reasons_add (headroom->reasons, sp_reason_new (SP_REASON_RATING_MISSING, node->name, NULL, NULL, 0));
    else if (node->headroom_db < 0)
      unsafe (headroom, node, node->rating_w, node->headroom_db, NULL, NAN);
  }
}

/* What the radio sees where stages throw the carrier back: their powers added, each less twice the loss before it. */
static void
judge_reflection (SpHeadroom *headroom, const SpFeed *feed)
{
  double seen = 0, greatest = 0, before_db = 0;
  int worst = -1;
  gboolean first = FALSE;
  for (guint i = 0; i < feed->chain->n; i++) {
    double share = sp_feed_reflected (feed, i) * pow (10, -2 * before_db / 10);
    seen += share;
    if (share > greatest) {
      greatest = share;
      worst = (int) i;
    }
    first = first || (i == 0 && feed->chain->stages[0]->kind == SP_STAGE_NOTCH);
    before_db += feed->loss[i].loss_db;
  }
  if (worst < 0 && !first)
    return;
  double return_loss_db = headroom->notch_return_loss_db = fmax (0, -sp_db_from_ratio (seen));
  if (first || return_loss_db < SP_RETURN_LOSS_LEAST_DB)
    unsafe (headroom, &headroom->nodes[MAX (worst, 0)], NAN, return_loss_db - SP_RETURN_LOSS_LEAST_DB, "return-loss", return_loss_db);
}

static void
warn_of_faults (SpHeadroom *headroom, const SpChain *chain)
{
  if (headroom->n_faults == 0 || !(headroom->faults[0].headroom_db < 0))
    return;
  const SpFault *worst = &headroom->faults[0];
  const char *first = chain->stages[worst->stages[0]]->name;
  g_autofree char *stages = worst->stages[1] < 0 ? g_strdup (first)
                                                         : g_strdup_printf ("%s, %s", first, chain->stages[worst->stages[1]]->name);
  sp_reasons_add (headroom->reasons, sp_reason_new (SP_REASON_FAULT, sp_fault_kind_name (worst->kind), stages, worst->worst_node, 3,
                                                    worst->headroom_db, worst->power_w, worst->rating_w));
}

/* Nobody knows what DC a radio puts on its socket; that a way is open to an input that has a limit is said. */
static void
warn_of_dc (SpHeadroom *headroom, const SpChain *chain, const SpAnalyzer *analyzer)
{
  for (guint i = 0; i < chain->n; i++)
    if (!chain->stages[i]->passes_dc)
      return;
  if (!isnan (analyzer->max_dc_v))
    sp_reasons_add (headroom->reasons, sp_reason_new (SP_REASON_DC_PATH, analyzer->name, NULL, NULL, 1, analyzer->max_dc_v));
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
  headroom->faults = sp_feed_faults (&feed, &headroom->n_faults);
  headroom->mixer_dbm = headroom->nodes[chain->n].level_dbm - attenuation_db;
  judge_ratings (headroom);
  judge_reflection (headroom, &feed);
  warn_of_dc (headroom, chain, analyzer);
  warn_of_faults (headroom, chain);
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
