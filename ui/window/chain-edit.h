/* chain-edit.h - the chain of the chosen condition: what its page, the staircase, the run's form and the shelf show and edit
 */
#pragma once

#include <gtk/gtk.h>

#include "core/bench/edit.h"
#include "ui/window/session.h"

SpChain *sp_chain_in_use (SpSession *session); /* (transfer none); NULL: none on this bench */
/* Index of the stage of that name; -1: none. `chain` may be NULL. */
int sp_chain_stage_named (const SpChain *chain, const char *name);
/* One undoable edit of it, in the bench, a condition or a sweep, wherever it is used. `edited` (transfer full) may be NULL with `error` (transfer full):
 * then that is told through the session's "trouble". */
gboolean sp_chain_edit_in_use (SpSession *session, SpChain *edited, const char *label, GError *error);
/* "Move brick". A move to where nothing is, or to where it stands, is none: FALSE. */
gboolean sp_chain_move_in_use (SpSession *session, guint from, guint to);
/* A file that was dropped on a stage: a run, a two-port, a table of losses. Read off the main thread; the edit, or what is wrong with the file
 * (the session's "trouble"), comes later. TRUE: it is being read. */
gboolean sp_chain_take_file_in_use (SpSession *session, guint stage, GFile *file);
/* The first of what was dropped; only local files can be read. */
gboolean sp_chain_take_files_in_use (SpSession *session, guint stage, const GValue *file_list);
