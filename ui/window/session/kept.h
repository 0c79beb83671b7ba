/* kept.h - bench books without a name: on disk from their first edit, in a folder of the program's own
 *
 * DATA/spurproof/books, which only the user may enter, each under a name that nobody can guess. They are bench books like any other: core's lock tells
 * who has one open, so that no two programs share one. The session (session.h) keeps a new book, a sheet, a sample or a copy here with its first edit;
 * one that was never edited leaves nothing. Closing its window leaves it here and asks nothing; the next start offers those that nobody has open
 * (kept-dialog.h). "Save as" moves it: it goes from here once it is safely there. Nothing is thrown away: what is put away is called
 * NAME.benchbook~ and not offered any more.
 */
#pragma once

#include <glib.h>

typedef struct {
  char *path, *title; /* title: may be empty */
  guint n_radios;
  gint64 changed_us; /* when it was last saved, microseconds since 1970 */
  char *wrong;       /* why it cannot be opened; NULL: it can */
} SpKept;

/* A place for one more. (transfer full) */
char *sp_kept_new_path (void);
gboolean sp_kept_make_folder (GError **error);
/* Is that book one of them? */
gboolean sp_kept_is (const char *path);
/* The kept books that nobody has open, the last saved first: SpKept. Opens each; any thread. (transfer full) */
GPtrArray *sp_kept_read (void);
/* The book has found another place. */
void sp_kept_remove (const char *path);
gboolean sp_kept_put_away (const char *path, GError **error);
gboolean sp_kept_put_back (const char *path, GError **error);
