/* chain-edit.h - the chains of a bench, and where each is used: what the chain's page, the staircase, the run's form and the shelf show and edit */
#pragma once

#include <gtk/gtk.h>

#include "core/bench/edit/edit.h"
#include "ui/window/session/session.h"

/* Where a chain is used. It names a place, not a chain: after an undo another one may be there, or none. */
typedef struct {
  int condition;     /* -1: the bench's own */
  SpPurpose purpose; /* of a condition: KEYED its chain, be it its own or the bench's; STEP, NOTCHED that of those sweeps */
} SpChainPlace;

/* The chosen condition's; with no condition the bench's. */
SpChainPlace sp_chain_place_in_use (SpSession *session);
/* NULL: none is there. (transfer none) */
SpChain *sp_chain_at (SpSession *session, SpChainPlace place);
/* sp_chain_at() the place in use. */
SpChain *sp_chain_in_use (SpSession *session);
/* A place for each chain on the bench, those that are used in several places once: the bench's, then by condition. (transfer full), of SpChainPlace */
GArray *sp_chain_places (SpSession *session);
/* "of the bench", "of Askerby", "of Askerby, notched", "of Askerby, and 2 more" where it is used elsewhere too. (transfer full) */
char *sp_chain_place_says (SpSession *session, SpChainPlace place);

/* Index of the stage of that name; -1: none. `chain` may be NULL. */
int sp_chain_stage_named (const SpChain *chain, const char *name);
/* One undoable edit of it, in the bench, a condition or a sweep, wherever it is used. `edited` (transfer full) may be NULL with `error` (transfer full):
 * then that is told through the session's "trouble". */
gboolean sp_chain_edit_at (SpSession *session, SpChainPlace place, SpChain *edited, const char *label, GError *error);
/* "Move brick". A move to where nothing is, or to where it stands, is none: FALSE. */
gboolean sp_chain_move_at (SpSession *session, SpChainPlace place, guint from, guint to);
/* A file that was chosen or dropped for a stage: a run, a two-port, a table of losses; or a picture of it, by its ending. Read off the main thread; the edit, or what is wrong with the
 * file (the session's "trouble"), comes later. TRUE: it is being read. */
gboolean sp_chain_take_file_at (SpSession *session, SpChainPlace place, guint stage, GFile *file);
/* The first of what was dropped; only local files can be read. */
gboolean sp_chain_take_files_at (SpSession *session, SpChainPlace place, guint stage, const GValue *file_list);
