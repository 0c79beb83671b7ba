/* headroom-private.h - the power's way through a chain that may be put together wrongly */
#pragma once

#include "core/headroom/headroom.h"

/* What does not change between the chain as drawn and its faults. */
typedef struct {
  const SpChain *chain;
  const SpAnalyzer *analyzer;
  double power_w, fundamental_hz, temperature_c, duty, attenuation_db;
  SpStageLoss loss[SP_CHAIN_MAX_STAGES]; /* at the fundamental */
} SpFeed;

/* An arrangement: indices into the chain, in the order in which they are put together. */
typedef struct {
  guint n;
  guint stage[SP_CHAIN_MAX_STAGES];
  int reversed; /* the stage that stands the wrong way round; -1 */
} SpOrder;

/* Fraction of the power that a stage throws back at the fundamental: 0 but for a notch, and a filter that stops the carrier. */
double sp_feed_reflected (const SpFeed *feed, guint stage);
/* order->n + 1 nodes, the analyzer last. (transfer full) */
SpNode *sp_feed_nodes (const SpFeed *feed, const SpOrder *order);
/* Every single fault, the worst first. (transfer full) */
SpFault *sp_feed_faults (const SpFeed *feed, guint *n_faults);
