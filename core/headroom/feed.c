/* feed.c - the power into each stage of an arrangement */
#include "core/headroom/headroom-private.h"

#include <math.h>

#include "core/quantity/units.h"

#define FILTER_STOPS_DB 3.0 /* a filter with this much loss at the carrier reflects it (common practice, no source) */

static double
fraction (double loss_db)
{
  return pow (10, -loss_db / 10);
}

/* Fraction of the power that a stage reflects at the fundamental: 0 except for a notch, and a filter that stops the carrier. */
static double
reflected (const SpFeed *feed, const SpOrder *order, guint index)
{
  const SpStage *stage = feed->chain->stages[index];
  if (stage->kind != SP_STAGE_NOTCH && !(stage->kind == SP_STAGE_FILTER && feed->loss[index].loss_db >= FILTER_STOPS_DB))
    return 0;
  if (!stage->two_port)
    return 1;
  double g = sp_stage_reflection (stage, feed->fundamental_hz, order->reversed == (int) index);
  return fmin (1, g * g);
}

SpThrownBack
sp_feed_thrown_back (const SpFeed *feed, const SpOrder *order)
{
  SpThrownBack back = { NAN, -1, FALSE };
  double seen = 0, greatest = 0, before_db = 0;
  for (guint k = 0; k < order->n; k++) {
    double share = reflected (feed, order, order->stage[k]) * fraction (2 * before_db);
    seen += share;
    if (share > greatest) {
      greatest = share;
      back.stage = (int) order->stage[k];
    }
    before_db += feed->loss[order->stage[k]].loss_db;
  }
  gboolean first = order->n > 0 && feed->chain->stages[order->stage[0]]->kind == SP_STAGE_NOTCH;
  if (back.stage < 0 && first)
    back.stage = (int) order->stage[0];
  if (back.stage < 0)
    return back;
  back.return_loss_db = fmax (0, -sp_db_from_ratio (seen));
  back.unsafe = first || back.return_loss_db < SP_RETURN_LOSS_LEAST_DB;
  return back;
}

/* A stage's greatest input power. A coupler's load absorbs the power that does not go on, and may be the weaker part. */
static double
rating_w (const SpFeed *feed, const SpOrder *order, guint index)
{
  const SpStage *stage = feed->chain->stages[index];
  if (order->reversed == (int) index)
    return NAN;
  double into_load = 1 - fraction (feed->loss[index].loss_db);
  double by_load_w = into_load > 0 ? stage->load_rating_w / into_load : NAN;
  return fmin (sp_stage_rating_w (stage, feed->temperature_c), by_load_w);
}

static void
fill_stage (const SpFeed *feed, const SpOrder *order, guint index, double power_w, SpNode *node)
{
  node->name = g_strdup (feed->chain->stages[index]->name);
  node->stage = (int) index;
  node->power_w = power_w;
  node->rating_w = rating_w (feed, order, index);
  node->loss_db = feed->loss[index].loss_db;
  node->u_db = feed->loss[index].u_db;
}

static void
fill_analyzer (const SpFeed *feed, double peak_w, SpNode *node)
{
  node->name = g_strdup ("analyzer");
  node->stage = -1;
  node->power_w = peak_w;
  node->rating_w = sp_watt_from_dbm (sp_analyzer_damage_dbm (feed->analyzer, feed->attenuation_db));
  node->loss_db = node->u_db = NAN;
}

SpNode *
sp_feed_nodes (const SpFeed *feed, const SpOrder *order)
{
  SpNode *nodes = g_new0 (SpNode, order->n + 1);
  double mean_w = feed->power_w * feed->duty, gain = 1;
  for (guint k = 0; k < order->n; k++) {
    fill_stage (feed, order, order->stage[k], mean_w * gain, &nodes[k]);
    /* The reflected power passes the earlier stages again and heats them. */
    double back_w = mean_w * gain * reflected (feed, order, order->stage[k]);
    for (guint b = k; b-- > 0 && back_w > 0;) {
      nodes[b].power_w += back_w;
      back_w *= fraction (nodes[b].loss_db);
    }
    gain *= fraction (nodes[k].loss_db);
  }
  fill_analyzer (feed, feed->power_w * gain, &nodes[order->n]);
  for (guint k = 0; k <= order->n; k++) {
    nodes[k].level_dbm = sp_dbm_from_watt (nodes[k].power_w);
    nodes[k].headroom_db = sp_db_from_ratio (nodes[k].rating_w / nodes[k].power_w);
  }
  return nodes;
}
