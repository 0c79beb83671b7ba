/* chain-private.h - what the files of this room share */
#pragma once

#include "core/chain/chain.h"

SpStage *sp_stage_new (const char *name);
void sp_stage_free (SpStage *stage);

/* The keys a stage's group gives; two_ports NULL: files. Errors with their place. Warnings go to the chain's list when all is read (sp_stage_warn). */
gboolean sp_stage_parse (SpStage *stage, SpKeyFile *file, SpGroup *group, const SpTwoPorts *two_ports, GError **error);
void sp_stage_warn (const SpStage *stage, GPtrArray *warnings);

/* Fills chain->text and chain->sha256; groups[i] is stage i's in `file`. */
void sp_chain_write_text (SpChain *chain, SpKeyFile *file, SpGroup *header, SpGroup *const *groups);

/* Total minus sum of stages in the exact cascades, dB; 0 where there is none. */
double sp_chain_interaction_db (const SpChain *chain, double frequency_hz);
/* TRUE where stages i and i + 1 are cascaded exactly. */
gboolean sp_chain_is_joined (const SpChain *chain, guint i);
/* The factor that temperature puts on a stage's loss, and T - T_cal (0 where either is not known). */
double sp_stage_temperature_factor (const SpChain *chain, const SpStage *stage, double temperature_c, double *dt_k);
