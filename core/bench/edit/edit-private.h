/* edit-private.h - what the files with the edits share */
#pragma once

#include "core/bench/edit/edit.h"
#include "core/bench/edit/settle.h"

gboolean sp_bench_check_step (SpPurpose purpose, double step_db, GError **error);
gboolean sp_bench_check_sweep (const SpBench *bench, guint condition, guint sweep, GError **error);
/* "FILE:3:5: [bench] rule: ..." becomes "[bench] rule: ...". */
void sp_error_drop_place (GError *error, const char *file);

/* A radio's remark goes with its name, where no other is there; *document may be NULL. */
void sp_document_follow_name (SpDocument **document, const char *from, const char *to);

/* What a stage names and what is being put in with it. */
typedef struct {
  const char *name;
  const SpRun *run;
  const SpTwoPort *two_port;
  const GArray *pictures; /* of SpCaptioned, with names (sp_chain_name_pictures); NULL */
} SpLossSource;
/* The pictures under names that tell them from those of the chain's other stages; `but` -1: all are others. (transfer full) */
GArray *sp_chain_name_pictures (const SpChain *chain, int but, const GArray *pictures);
/* `text` (taken) with the keys of these pictures in a stage's group, in place of the `old` first of it. NULL and an error. (transfer full) */
char *sp_chain_text_set_pictures (char *text, const char *heading, guint old, const GArray *pictures, GError **error);
/* `text` of a changed chain, read: what it names is `source`, or the chain's own, or a file. (transfer full) */
SpChain *sp_chain_read_edited (const SpChain *chain, const char *text, const SpLossSource *source, GError **error);
/* A group that is appended to the text, and its stage put into the list. (transfer full) */
SpChain *sp_chain_insert_group (const SpChain *chain, guint at, const char *name, const char *group, const SpLossSource *source,
                                GError **error);
/* FALSE and an error: no name, or the chain has a stage of that name. */
gboolean sp_chain_check_stage_name (const SpChain *chain, const char *name, GError **error);
