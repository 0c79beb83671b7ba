/* draft-text.h - runs' forms that were begun and not taken, as the text that is kept of them; GLib only. What it reads may be anybody's. */
#pragma once

#include <glib.h>

#define SP_DRAFTS_BYTES_MOST (1 << 20)
#define SP_DRAFTS_MOST 100 /* forms that were begun and not taken, of one book */

/* A form's texts by name: char* -> char*, its own. */
GHashTable *sp_draft_new (void);
/* Taken over: it is wanted again only if that is undone, and is in no file. */
void sp_draft_mark_taken (GHashTable *draft);
gboolean sp_draft_is_taken (GHashTable *draft); /* FALSE of NULL */
/* Forms by chain and stage, both by their own names. */
GHashTable *sp_drafts_new (void);
guint sp_drafts_untaken (GHashTable *drafts); /* how many of them a file is to keep */
char *sp_drafts_key (const char *chain, const char *stage);

/* Reads what belongs to `book`: its path, or what stands for one in memory. At most SP_DRAFTS_MOST forms, texts that no entry takes are left out. NULL and
 * an error without a file's name. (transfer full) */
GHashTable *sp_drafts_parse (const char *text, gsize length, const char *book, GError **error);
/* (transfer full) */
char *sp_drafts_text (GHashTable *drafts, const char *book, gsize *length);
