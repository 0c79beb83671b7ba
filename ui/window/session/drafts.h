/* drafts.h - what was typed into runs' forms and not taken yet, kept beside the book over quit, crash and kill
 *
 * A key file for each book in the user's data folder, drafts/HASH.draft, named after the book's path, which it follows; for a book that is in memory only,
 * after the bench it was begun with. It is no part of the book: neither its history nor its hash knows of it. Written 0.3 s after the last keystroke, off the
 * main thread, whole or not at all; gone with its last draft. What stands in the folder may be anybody's: a file that is too long or is no draft of that
 * book is put aside as HASH.draft~ and told, and changes nothing.
 */
#pragma once

#include "ui/window/session/draft-text.h"

typedef struct SpDrafts SpDrafts;
struct _SpSession; /* session.h, which has them */

/* Begins to read them, off the main thread. `path` NULL: of the book in memory that was begun with the bench of that hash. What goes wrong is told
 * through the session's "trouble"; it outlives them. (transfer full) */
SpDrafts *sp_drafts_open (struct _SpSession *session, const char *path, const char *sha256);
/* Writes what is not written yet; says nothing any more. */
void sp_drafts_close (SpDrafts *drafts);
void sp_drafts_write_now (SpDrafts *drafts);
/* The book is another file from now on, and its drafts are in place of what that one had. */
void sp_drafts_move (SpDrafts *drafts, const char *path);
/* Forgets all of them: the book was not to be kept. */
void sp_drafts_drop (SpDrafts *drafts);

/* Texts by name, of a stage of a chain: both by their own names. NULL: none. (transfer none) until the next call. */
GHashTable *sp_drafts_get (SpDrafts *drafts, const char *chain, const char *stage);
/* Keeps them (transfer full), made by sp_draft_new(); NULL: forgets them. */
void sp_drafts_set (SpDrafts *drafts, const char *chain, const char *stage, GHashTable *texts);
/* The stage, or, `stage` NULL, the chain with all its stages, is called so from now on. */
void sp_drafts_rename (SpDrafts *drafts, const char *chain, const char *stage, const char *name);
