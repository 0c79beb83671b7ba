/* book.c - the history of benches, and its way into the file */
#include "core/book/book-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define LABEL_CHARACTERS 1000

void
sp_state_free (SpState *state)
{
  g_clear_pointer (&state->bench, sp_bench_unref);
  g_free (state->label);
  g_free (state);
}

static SpState *
state_new (SpBench *bench, const char *label, gint64 ordinal)
{
  SpState *state = g_new0 (SpState, 1);
  state->bench = bench ? sp_bench_ref (bench) : NULL;
  state->label = g_strdup (label ? label : "");
  state->ordinal = ordinal;
  return state;
}

static SpState *
state_at (const SpBook *book, guint index)
{
  return book->states->pdata[index];
}

static SpBook *
book_new (void)
{
  SpBook *book = g_new0 (SpBook, 1);
  book->states = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_state_free);
  book->dropped = g_array_new (FALSE, FALSE, sizeof (gint64));
  return book;
}

SpBook *
sp_book_new (SpBench *bench)
{
  SpBook *book = book_new ();
  g_ptr_array_add (book->states, state_new (bench, NULL, 0));
  return book;
}

void
sp_book_close (SpBook *book)
{
  if (!book)
    return;
  sqlite3_close (book->db);
  g_ptr_array_unref (book->states);
  g_array_unref (book->dropped);
  g_free (book->path);
  g_free (book);
}

/* ---- opening ---- */

static gboolean
read_states (SpBook *book)
{
  sqlite3_stmt *statement = sp_book_prepare (book->db, "SELECT ordinal, substr (label, 1, ?) FROM state ORDER BY ordinal");
  int step = SQLITE_ERROR;
  if (statement && sqlite3_bind_int (statement, 1, LABEL_CHARACTERS) == SQLITE_OK)
    while ((step = sqlite3_step (statement)) == SQLITE_ROW && book->states->len <= SP_BOOK_STATES_MAX) {
      const char *text = (const char *) sqlite3_column_text (statement, 1);
      g_autofree char *label = g_utf8_make_valid (text ? text : "", -1);
      g_ptr_array_add (book->states, state_new (NULL, label, sqlite3_column_int64 (statement, 0)));
    }
  sqlite3_finalize (statement);
  return step == SQLITE_DONE && book->states->len > 0 && state_at (book, 0)->ordinal > 0;
}

static gboolean
find_present (SpBook *book)
{
  sqlite3_stmt *statement = sp_book_prepare (book->db, "SELECT present FROM book");
  gboolean found = FALSE;
  if (statement && sqlite3_step (statement) == SQLITE_ROW)
    book->saved = sqlite3_column_int64 (statement, 0);
  sqlite3_finalize (statement);
  for (guint i = 0; i < book->states->len; i++)
    if (state_at (book, i)->ordinal == book->saved) {
      book->present = i;
      found = TRUE;
    }
  book->last = state_at (book, book->states->len - 1)->ordinal;
  return found;
}

SpBook *
sp_book_open (const char *path, GError **error)
{
  g_autoptr (SpBook) book = book_new ();
  book->path = g_canonicalize_filename (path, NULL);
  if (!sp_book_check_head (book->path, error) || !(book->db = sp_book_file_open (book->path, error)))
    return NULL;
  if (!read_states (book) || !find_present (book)) {
    sp_book_fail (error, SP_BOOK_ERROR_DAMAGED, book->path, _("this bench book is damaged (its history); it was left as it is. Open a copy of it"));
    return NULL;
  }
  SpState *present = state_at (book, book->present);
  present->bench = sp_book_get_bench (book->db, book->path, present->ordinal, NULL, error);
  return present->bench ? g_steal_pointer (&book) : NULL;
}

const char *
sp_book_path (const SpBook *book)
{
  return book->path;
}

SpBench *
sp_book_bench (const SpBook *book)
{
  return state_at (book, book->present)->bench;
}

/* ---- the history ---- */

/* `index` leaves the history; its row, if it has one, goes with the next save. */
static void
drop_state (SpBook *book, guint index)
{
  gint64 ordinal = state_at (book, index)->ordinal;
  if (ordinal > 0)
    g_array_append_val (book->dropped, ordinal);
  g_ptr_array_remove_index (book->states, index);
}

void
sp_book_edit (SpBook *book, SpBench *bench, const char *label)
{
  g_return_if_fail (bench);
  while (book->states->len > book->present + 1)
    drop_state (book, book->states->len - 1);
  g_ptr_array_add (book->states, state_new (bench, label, 0));
  while (book->states->len > SP_BOOK_STATES_MAX)
    drop_state (book, 0);
  book->present = book->states->len - 1;
}

const char *
sp_book_undo_label (const SpBook *book)
{
  return book->present > 0 ? state_at (book, book->present)->label : NULL;
}

const char *
sp_book_redo_label (const SpBook *book)
{
  return book->present + 1 < book->states->len ? state_at (book, book->present + 1)->label : NULL;
}

static gboolean
go_to (SpBook *book, guint index)
{
  SpState *state = state_at (book, index);
  if (!state->bench)
    state->bench = sp_book_get_bench (book->db, book->path, state->ordinal, sp_book_bench (book), NULL);
  if (!state->bench)
    return FALSE;
  book->present = index;
  return TRUE;
}

gboolean
sp_book_undo (SpBook *book)
{
  return book->present > 0 && go_to (book, book->present - 1);
}

gboolean
sp_book_redo (SpBook *book)
{
  return book->present + 1 < book->states->len && go_to (book, book->present + 1);
}

/* ---- saving ---- */

gboolean
sp_book_unsaved (const SpBook *book)
{
  if (!book->db || book->dropped->len > 0 || state_at (book, book->present)->ordinal != book->saved)
    return TRUE;
  return state_at (book, book->states->len - 1)->ordinal == 0; /* new ones are the last */
}

/* The row that a state has, or will have: new ones are numbered on from the last. */
static gint64
ordinal_of (const SpBook *book, guint index)
{
  guint n_old = 0;
  while (n_old < book->states->len && state_at (book, n_old)->ordinal > 0)
    n_old++;
  return index < n_old ? state_at (book, index)->ordinal : book->last + 1 + (index - n_old);
}

static gboolean
write_changes (const SpBook *book, sqlite3 *db, const char *path, GError **error)
{
  gboolean good = TRUE;
  for (guint i = 0; good && i < book->dropped->len; i++) {
    gint64 ordinal = g_array_index (book->dropped, gint64, i);
    good = sp_book_do (db, "DELETE FROM state WHERE ordinal = ?", "i", ordinal) && sp_book_do (db, "DELETE FROM used WHERE state = ?", "i", ordinal);
  }
  for (guint i = 0; good && i < book->states->len; i++)
    if (state_at (book, i)->ordinal == 0 && !sp_book_put_state (db, path, state_at (book, i), ordinal_of (book, i), error))
      return FALSE;
  if (good && book->dropped->len > 0) /* after the new ones, which may use what old ones did */
    good = sp_book_run (db, "DELETE FROM raw WHERE sha256 NOT IN (SELECT sha256 FROM used);"
                            "DELETE FROM part WHERE sha256 NOT IN (SELECT sha256 FROM used)");
  good = good && sp_book_do (db, "UPDATE book SET present = ?", "i", ordinal_of (book, book->present));
  return good || sp_book_fail_sql (db, path, error);
}

/* All in one transaction: a kill leaves the old or the new. */
static gboolean
save_to (const SpBook *book, sqlite3 *db, const char *path, GError **error)
{
  if (!sp_book_run (db, "BEGIN IMMEDIATE"))
    return sp_book_fail_sql (db, path, error);
  if (write_changes (book, db, path, error)) {
    if (sp_book_run (db, "COMMIT"))
      return TRUE;
    sp_book_fail_sql (db, path, error);
  }
  if (!sqlite3_get_autocommit (db))
    sp_book_run (db, "ROLLBACK");
  return FALSE;
}

/* What save_to() wrote is now the file's. */
static void
note_saved (SpBook *book)
{
  gint64 saved = ordinal_of (book, book->present), last = ordinal_of (book, book->states->len - 1);
  for (guint i = book->states->len; i-- > 0 && state_at (book, i)->ordinal == 0;) /* from the end: ordinal_of() counts the numbered ones */
    state_at (book, i)->ordinal = ordinal_of (book, i);
  g_array_set_size (book->dropped, 0);
  book->saved = saved;
  book->last = MAX (book->last, last);
}

gboolean
sp_book_save (SpBook *book, GError **error)
{
  if (!book->db)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, NULL, _("this bench has no file yet; expected it to be saved under a name"));
  if (!sp_book_unsaved (book))
    return TRUE;
  if (!save_to (book, book->db, book->path, error))
    return FALSE;
  note_saved (book);
  return TRUE;
}

/* ---- under another name ---- */

static gboolean
copy_database (sqlite3 *from, sqlite3 *to)
{
  sqlite3_backup *backup = sqlite3_backup_init (to, "main", from, "main");
  if (!backup)
    return FALSE;
  sqlite3_backup_step (backup, -1);
  return sqlite3_backup_finish (backup) == SQLITE_OK;
}

/* The whole book in the empty file `temporary`. */
static gboolean
write_whole (const SpBook *book, const char *temporary, const char *path, GError **error)
{
  sqlite3 *db = book->db ? sp_book_connect (temporary, error) : sp_book_file_create (temporary, error);
  if (!db)
    return FALSE;
  gboolean good = !book->db || copy_database (book->db, db) || sp_book_fail_sql (db, path, error);
  good = good && save_to (book, db, path, error);
  sqlite3_close (db);
  return good;
}

static gboolean
is_same_file (const char *a, const char *b)
{
  struct stat one, other;
  return stat (a, &one) == 0 && stat (b, &other) == 0 && one.st_dev == other.st_dev && one.st_ino == other.st_ino;
}

/* Where something stands already: only a bench book that nobody has open may be replaced. It stays locked until *held is closed. */
static gboolean
hold_old_file (const char *path, sqlite3 **held, GError **error)
{
  if (!g_file_test (path, G_FILE_TEST_EXISTS) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
    return TRUE;
  if (!sp_book_check_head (path, error) || !(*held = sp_book_connect (path, error)))
    return FALSE;
  return sp_book_run (*held, "BEGIN EXCLUSIVE") || sp_book_fail_sql (*held, path, error);
}

static void
sync_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (fd >= 0) {
    fsync (fd);
    close (fd);
  }
}

static gboolean
rename_into_place (const char *temporary, const char *path, GError **error)
{
  g_autofree char *journal = g_strconcat (path, "-journal", NULL);
  g_unlink (journal); /* of a book that is no more: it would be played back into the new one */
  if (g_rename (temporary, path) < 0)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _("cannot be written: %s"), g_strerror (errno));
  sync_folder (path);
  return TRUE;
}

static gboolean
write_beside (const SpBook *book, const char *path, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path), *base = g_path_get_basename (path);
  g_autofree char *name = g_strdup_printf (".%s.XXXXXX", base), *temporary = g_build_filename (folder, name, NULL);
  int fd = g_mkstemp_full (temporary, O_RDWR | O_CLOEXEC, 0666);
  if (fd < 0)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _("cannot be written: %s"), g_strerror (errno));
  close (fd);
  if (write_whole (book, temporary, path, error) && rename_into_place (temporary, path, error))
    return TRUE;
  g_unlink (temporary);
  return FALSE;
}

gboolean
sp_book_save_as (SpBook *book, const char *given, GError **error)
{
  g_autofree char *path = g_canonicalize_filename (given, NULL);
  sqlite3 *held = NULL;
  if (book->db && is_same_file (book->path, path))
    return sp_book_save (book, error);
  gboolean good = hold_old_file (path, &held, error) && write_beside (book, path, error);
  sqlite3_close (held);
  sqlite3 *db = good ? sp_book_file_open (path, error) : NULL;
  if (!db)
    return FALSE;
  sqlite3_close (book->db);
  book->db = db;
  g_free (book->path);
  book->path = g_steal_pointer (&path);
  note_saved (book);
  return TRUE;
}
