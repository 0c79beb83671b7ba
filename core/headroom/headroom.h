/* headroom.h - will anything burn: the power into each stage and into the analyzer, as drawn and with any single fault
 *
 * A rating is a greatest *input* power. Peak power for the analyzer, average (with the duty cycle) for heat in the stages.
 * Stands below judge, because an unsafe chain is the first line of every output (so it is a room of its own, not part of plan/).
 */
#pragma once

#include "core/analyzer/analyzer.h"
#include "core/chain/chain.h"

#define SP_RETURN_LOSS_LEAST_DB 14.0 /* what a radio should see at least (common practice, no source) */

typedef struct {
  char *name;         /* the stage's; "analyzer" for the last */
  int stage;          /* index into the chain; -1 for the analyzer */
  double level_dbm;   /* into it */
  double power_w;     /* the same (average for a stage, with what a notch behind it throws back; peak for the analyzer) */
  double rating_w;    /* derated; for a coupler the lesser of its own and its load's / (1 - 10^(-loss/10)); NaN: not stated */
  double headroom_db; /* rating - level; negative is trouble; NaN: not stated */
  double loss_db;     /* of it; NaN for the analyzer */
  double u_db;        /* of that loss */
} SpNode;

typedef enum { SP_FAULT_LEFT_OUT, SP_FAULT_SWAPPED, SP_FAULT_REVERSED } SpFaultKind;

typedef struct {
  SpFaultKind kind;
  int stages[2];    /* indices into the chain; second -1 */
  char *worst_node; /* the node with the least headroom then; a reversed stage itself where no stated rating is exceeded */
  double power_w, rating_w, headroom_db; /* NaN for a reversed stage: its rating holds the other way only */
  double return_loss_db;                 /* what the radio would see then, as notch_return_loss_db; NaN: nothing throws the carrier back */
  int reflector;                         /* the stage that throws back most of it; -1 */
  gboolean reflects;                     /* so much that it is unsafe then, and the chain as drawn is not, or less so */
  guint n_nodes;
  SpNode *nodes; /* the chain as it would be, for the ghost in the figure */
} SpFault;

typedef struct {
  gboolean safe; /* the chain as drawn: no stated rating is exceeded, and no notch reflects the carrier dangerously */
  guint n_nodes;
  SpNode *nodes; /* stages in order, then the analyzer */
  guint n_faults;
  SpFault *faults; /* every single fault, the worst first: exceeded ratings, then those that throw the carrier back (least return loss
                          first), then those without a number, then the rest */
  double notch_return_loss_db; /* what the radio sees at f0 where the chain has a notch or a filter that stops the carrier
                                  (|S11|^2, else all of it, less twice the loss before); under 14 dB, or a notch first: unsafe; NaN */
  double mixer_dbm;            /* level at the mixer; NaN where the attenuation is not known */
  GPtrArray *reasons; /* SpReason*: UNSAFE for each place; of the faults the worst of each kind of harm: FAULT where it exceeds a rating,
                          FAULT_REFLECTS where it throws the carrier back, FAULT_REVERSED where a directional stage stands the wrong way
                          round (the one that gets most); RATING_MISSING;
                          DC_PATH where every stage passes DC to an analyzer that states a greatest one */
} SpHeadroom;

/* power_w (> 0) out of the radio at fundamental_hz; duty (0, 1]; attenuation_db of the analyzer, NaN: not known. (transfer full) */
SpHeadroom *sp_headroom (const SpChain *chain, const SpAnalyzer *analyzer, double power_w, double fundamental_hz, double temperature_c,
                         double duty, double attenuation_db);
void sp_headroom_free (SpHeadroom *headroom);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpHeadroom, sp_headroom_free)

const char *sp_fault_kind_name (SpFaultKind kind); /* "left-out" "swapped" "reversed" */
