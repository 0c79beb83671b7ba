/* headroom-private.h - the power's path through a chain that may be assembled wrongly */
#pragma once

#include "core/headroom/headroom.h"

/* Data common to the chain as drawn and its faults. */
typedef struct {
  const SpChain *chain;
  const SpAnalyzer *analyzer;
  double power_w, fundamental_hz, temperature_c, duty, attenuation_db;
  SpStageLoss loss[SP_CHAIN_MAX_STAGES]; /* at the fundamental */
} SpFeed;

/* An arrangement: indices into the chain, in order of assembly. */
typedef struct {
  guint n;
  guint stage[SP_CHAIN_MAX_STAGES];
  int reversed; /* the reversed stage; -1 */
} SpOrder;

/* The carrier reflected to the radio by an arrangement. */
typedef struct {
  double return_loss_db; /* seen by the radio, at least 0; NaN: no stage reflects the carrier */
  int stage;             /* the stage that reflects most of it; -1 */
  gboolean unsafe;       /* under SP_RETURN_LOSS_LEAST_DB, or a notch first */
} SpThrownBack;

/* The sum of the powers reflected by the stages, each less twice the loss before it. */
SpThrownBack sp_feed_thrown_back (const SpFeed *feed, const SpOrder *order);
/* order->n + 1 nodes, the analyzer last. (transfer full) */
SpNode *sp_feed_nodes (const SpFeed *feed, const SpOrder *order);
/* Every single fault, the worst first; `drawn` is the reflection of the chain without a fault. (transfer full) */
SpFault *sp_feed_faults (const SpFeed *feed, const SpThrownBack *drawn, guint *n_faults);
