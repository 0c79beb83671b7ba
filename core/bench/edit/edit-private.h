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
} SpLossSource;
/* `text` of a changed chain, read: what it names is `source`, or the chain's own, or a file. (transfer full) */
SpChain *sp_chain_read_edited (const SpChain *chain, const char *text, const SpLossSource *source, GError **error);
/* A group that is appended to the text, and its stage put into the list. (transfer full) */
SpChain *sp_chain_insert_group (const SpChain *chain, guint at, const char *name, const char *group, const SpLossSource *source,
                                GError **error);
/* FALSE and an error: no name, or the chain has a stage of that name. */
gboolean sp_chain_check_stage_name (const SpChain *chain, const char *name, GError **error);
