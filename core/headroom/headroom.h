/* headroom.h - safety: the power into each stage and into the analyzer, as drawn and with any single fault
 *
 * A rating is a greatest *input* power. The analyzer is checked for peak power, the stages for average power (with the duty cycle),
 * which heats them.
 * A folder of its own below judge and plan, because an unsafe chain is the first line of every output.
 */
#pragma once

#include "core/analyzer/analyzer.h"
#include "core/chain/chain.h"

#define SP_RETURN_LOSS_LEAST_DB 14.0 /* least return loss that a radio should see (common practice, no source) */

typedef struct {
  char *name;       /* the stage's name; "analyzer" for the last */
  int stage;        /* index into the chain; -1 for the analyzer */
  double level_dbm; /* input level */
  /* The same in W: average for a stage, including power reflected by a notch behind it; peak for the analyzer */
  double power_w;
  /* Derated; for a coupler the lesser of its rating and its load's / (1 - 10^(-loss/10)); NaN: not stated */
  double rating_w;
  double headroom_db; /* rating - level; negative: exceeded; NaN: not stated */
  double loss_db;     /* the stage's loss; NaN for the analyzer */
  double u_db;        /* of that loss */
} SpNode;

typedef enum { SP_FAULT_LEFT_OUT, SP_FAULT_SWAPPED, SP_FAULT_REVERSED } SpFaultKind;

typedef struct {
  SpFaultKind kind;
  int stages[2]; /* indices into the chain; second -1 */
  /* The node with the least headroom; a reversed stage itself if no stated rating is exceeded */
  char *worst_node;
  double power_w, rating_w, headroom_db; /* NaN for a reversed stage: its rating is only valid the other way */
  /* Seen by the radio, as notch_return_loss_db; NaN: nothing reflects the carrier */
  double return_loss_db;
  int reflector;     /* the stage that reflects most of it; -1 */
  gboolean reflects; /* unsafe by reflection, and the chain as drawn is not, or less so */
  guint n_nodes;
  SpNode *nodes; /* the chain with the fault, drawn as a ghost in the figure */
} SpFault;

typedef struct {
  /* The chain as drawn exceeds no stated rating, and no notch reflects the carrier dangerously */
  gboolean safe;
  guint n_nodes;
  SpNode *nodes; /* stages in order, then the analyzer */
  guint n_faults;
  /* Every single fault, the worst first: exceeded ratings; then reflected carriers (least return loss first); then those without a
   * number; then the rest */
  SpFault *faults;
  /* Seen by the radio at f0 if the chain has a notch or a filter that stops the carrier (|S11|^2, else total reflection, less twice
   * the loss before it). Unsafe under 14 dB, or with a notch first. NaN: neither */
  double notch_return_loss_db;
  double mixer_dbm;     /* at the mixer; NaN: the attenuation is not known */
  double mixer_over_db; /* of that over the analyzer's best level; NaN: not known */
  /* SpReason*: UNSAFE for each exceeded node. The worst fault of each kind of harm: FAULT exceeds a rating, FAULT_REFLECTS reflects
   * the carrier, FAULT_REVERSED has a directional stage reversed (the one with most power). RATING_MISSING. DC_PATH if every stage
   * passes DC to an analyzer that states a limit */
  GPtrArray *reasons;
} SpHeadroom;

/* power_w (> 0) of the radio at fundamental_hz; duty (0, 1]; attenuation_db of the analyzer, NaN: not known. (transfer full) */
SpHeadroom *sp_headroom (const SpChain *chain, const SpAnalyzer *analyzer, double power_w, double fundamental_hz, double temperature_c,
                         double duty, double attenuation_db);
void sp_headroom_free (SpHeadroom *headroom);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpHeadroom, sp_headroom_free)

const char *sp_fault_kind_name (SpFaultKind kind); /* "left-out" "swapped" "reversed" */
