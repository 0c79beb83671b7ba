/* chain-private.h - declarations shared by the files of this folder */
#pragma once

#include "core/chain/chain.h"

SpStage *sp_stage_new (const char *name);
void sp_stage_free (SpStage *stage);

#define SP_STAGE_LOSS_LOW_DB (-0.5) /* a good adapter may measure slightly under 0; more means reversed sign (common practice, no source) */
#define SP_STAGE_LOSS_HIGH_DB 300.0 /* bounds what can be meant */

/* Readers for the key tables: curve, points, touchstone and run, with the SpTwoPorts as context (NULL: files); all stages. */
gboolean sp_stage_read_loss (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error);
gboolean sp_chain_read_stages (const SpKeySpec *spec, SpKeyFile *file, SpGroup *header, gpointer object, gpointer context, GError **error);
/* Adds warnings to the chain's list after reading. */
void sp_stage_warn (const SpStage *stage, GPtrArray *warnings);

/* Total of the exact cascades minus the sum of their stages, dB; 0: no cascade. */
double sp_chain_interaction_db (const SpChain *chain, double frequency_hz);
/* TRUE where stages i and i + 1 are cascaded exactly. */
gboolean sp_chain_is_joined (const SpChain *chain, guint i);
/* Temperature factor of a stage's loss, and T - T_cal; 0 if either temperature is not known. */
double sp_stage_temperature_factor (const SpChain *chain, const SpStage *stage, double temperature_c, double *dt_k);
