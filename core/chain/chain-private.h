/* chain-private.h - what the files of this room share */
#pragma once

#include "core/chain/chain.h"

SpStage *sp_stage_new (const char *name);
void sp_stage_free (SpStage *stage);

#define SP_STAGE_LOSS_LOW_DB (-0.5) /* a good adapter may measure a hair under 0; more is a sign the wrong way round */
#define SP_STAGE_LOSS_HIGH_DB 300.0

/* Readers for the tables of keys: curve, points, touchstone and run, with the SpTwoPorts as context (NULL: files); all stages. */
gboolean sp_stage_read_loss (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
gboolean sp_chain_read_stages (const SpKeySpec *spec, SpKeyFile *file, SpGroup *header, gpointer object, gpointer context, GError **error);
/* Warnings go to the chain's list when all is read. */
void sp_stage_warn (const SpStage *stage, GPtrArray *warnings);

/* Total minus sum of stages in the exact cascades, dB; 0 where there is none. */
double sp_chain_interaction_db (const SpChain *chain, double frequency_hz);
/* TRUE where stages i and i + 1 are cascaded exactly. */
gboolean sp_chain_is_joined (const SpChain *chain, guint i);
/* The factor that temperature puts on a stage's loss, and T - T_cal (0 where either is not known). */
double sp_stage_temperature_factor (const SpChain *chain, const SpStage *stage, double temperature_c, double *dt_k);
