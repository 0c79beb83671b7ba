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

/* What an arrangement throws back at the radio. */
typedef struct {
  double return_loss_db; /* that the radio sees, at least 0; NaN: no stage throws the carrier back */
  int stage;             /* the one that throws back most of it; -1 */
  gboolean unsafe;       /* under SP_RETURN_LOSS_LEAST_DB, or a notch first */
} SpThrownBack;

/* The powers that stages throw back, added, each less twice the loss before it. */
SpThrownBack sp_feed_thrown_back (const SpFeed *feed, const SpOrder *order);
/* order->n + 1 nodes, the analyzer last. (transfer full) */
SpNode *sp_feed_nodes (const SpFeed *feed, const SpOrder *order);
/* Every single fault, the worst first; `drawn` is what the chain throws back without one. (transfer full) */
SpFault *sp_feed_faults (const SpFeed *feed, const SpThrownBack *drawn, guint *n_faults);
