/* book-save.c - writes the history to the file: one transaction, or a whole new file */
#include "core/book/book-private.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>

#include "core/quantity/file.h"

/* A save ends at the first statement that fails: on a full disk SQLite rolls back by itself, and later statements would be written
 * alone. After a failed save the connection is closed; the next save opens a new one, which plays the journal back. Rows of a save
 * that failed but was written are replaced.
 * Before each save device, inode, length, change time and first bytes are compared (SP_BOOK_ERROR_GONE); if only the time differs,
 * every hash in the file is verified. A book under a new name is made in memory and written as bytes, so no journal of a temporary
 * file remains. */

gboolean
sp_book_unsaved (const SpBook *book)
{
  if (!book->path || book->dropped->len > 0 || sp_state_at (book, book->present)->ordinal != book->saved)
    return TRUE;
  return sp_state_at (book, book->states->len - 1)->ordinal == 0; /* new states are last */
}

/* A state's present or future row: new states are numbered on from the last. */
static gint64
ordinal_of (const SpBook *book, guint index)
{
  guint n_old = 0;
  while (n_old < book->states->len && sp_state_at (book, n_old)->ordinal > 0)
    n_old++;
  return index < n_old ? sp_state_at (book, index)->ordinal : book->last + 1 + (index - n_old);
}

/* Rows of dropped states, and rows of a failed save that were written after all. */
static gboolean
forget_states (const SpBook *book, sqlite3 *db)
{
  gboolean good = sp_book_do (db, "DELETE FROM state WHERE ordinal > ?", "i", book->last)
                  && sp_book_do (db, "DELETE FROM used WHERE state > ?", "i", book->last);
  for (guint i = 0; good && i < book->dropped->len; i++) {
    gint64 ordinal = g_array_index (book->dropped, gint64, i);
    good = sp_book_do (db, "DELETE FROM state WHERE ordinal = ?", "i", ordinal)
           && sp_book_do (db, "DELETE FROM used WHERE state = ?", "i", ordinal);
  }
  return good;
}

static gboolean
forget_bytes (const SpBook *book, sqlite3 *db)
{
  return book->keep_all
         || sp_book_run (db, "DELETE FROM raw WHERE sha256 NOT IN (SELECT sha256 FROM used);"
                             "DELETE FROM part WHERE sha256 NOT IN (SELECT sha256 FROM used)");
}

static gboolean
write_changes (const SpBook *book, sqlite3 *db, const char *path, GError **error)
{
  int before = sqlite3_total_changes (db);
  if (!forget_states (book, db))
    return sp_book_fail_sql (db, path, error);
  gboolean forgot = sqlite3_total_changes (db) > before;
  for (guint i = 0; i < book->states->len; i++)
    if (sp_state_at (book, i)->ordinal == 0 && !sp_book_put_state (db, path, sp_state_at (book, i), ordinal_of (book, i), error))
      return FALSE;
  return ((!forgot || forget_bytes (book, db)) /* after the new states, which may use old bytes */
          && sp_book_do (db, "UPDATE book SET present = ?", "i", ordinal_of (book, book->present)))
         || sp_book_fail_sql (db, path, error);
}

/* One transaction: a kill leaves the old or the new state. */
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

/* The states that save_to() wrote are now in the file. */
static void
note_saved (SpBook *book)
{
  gint64 saved = ordinal_of (book, book->present), last = ordinal_of (book, book->states->len - 1);
  for (guint i = book->states->len;
       i-- > 0 && sp_state_at (book, i)->ordinal == 0;) /* from the end: ordinal_of() counts the numbered ones */
    sp_state_at (book, i)->ordinal = ordinal_of (book, i);
  g_array_set_size (book->dropped, 0);
  book->saved = saved;
  book->last = MAX (book->last, last);
}

gboolean
sp_book_save (SpBook *book, GError **error)
{
  if (!book->path)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, NULL, _ ("this bench has no file yet; expected it to be saved under a name"));
  if (!sp_book_unsaved (book))
    return !book->lock || sp_book_lock_check (book->lock, error); /* "saved" is true only while the file exists */
  if (!book->lock)
    return sp_book_check_name (book->path, error)
           && sp_book_fail (error, SP_BOOK_ERROR_IO, book->path, _ ("this bench book may not be written to; save it elsewhere"));
  gboolean hot;
  if (!sp_book_lock_check (book->lock, error) || !sp_book_check_beside (book->path, &hot, error) || !sp_book_reconnect (book, error)
      || !sp_book_lock_begin (book->lock, error))
    return FALSE;
  gboolean good = save_to (book, book->db, book->path, error);
  if (good)
    note_saved (book);
  else
    g_clear_pointer (&book->db, sqlite3_close); /* a new connection can play back the journal */
  sp_book_lock_end (book->lock);
  return good;
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

/* Renumbers the states in memory; others are forgotten. */
static void
keep_loaded (SpBook *book)
{
  for (guint i = book->states->len; i-- > 0;) {
    SpState *state = sp_state_at (book, i);
    state->ordinal = 0;
    if (state->bench)
      continue;
    g_ptr_array_remove_index (book->states, i);
    book->present -= i < book->present;
  }
  g_array_set_size (book->dropped, 0);
  book->last = book->saved = 0;
}

/* The database for the new file: the old one's whole history if it is readable. */
static sqlite3 *
begin_whole (SpBook *book, const char *path, GError **error)
{
  sqlite3 *db = sp_book_memory_new (path, error);
  gboolean good = db && (!book->lock || sp_book_lock_is_ours (book->lock)) && sp_book_reconnect (book, NULL)
                  && copy_database (book->db, db);
  if (!db || good)
    return db;
  sqlite3_close (db); /* perhaps half a copy */
  keep_loaded (book);
  return sp_book_memory_new (path, error);
}

/* The whole book as the bytes of a new file. */
static guint8 *
write_whole (SpBook *book, const char *path, gint64 *length, GError **error)
{
  sqlite3_int64 size = 0;
  sqlite3 *db = begin_whole (book, path, error);
  guint8 *bytes = db && save_to (book, db, path, error) ? sqlite3_serialize (db, "main", &size, 0) : NULL;
  if (db && !bytes && error && !*error)
    sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("there is not enough memory to write it"));
  sqlite3_close (db);
  *length = size;
  return bytes;
}

static gboolean
write_beside (const guint8 *bytes, gint64 length, const char *path, GError **error)
{
  g_autofree char *journal = sp_book_journal (path);
  g_autoptr (GError) cause = NULL;
  gboolean hot;
  if (!sp_book_check_beside (path, &hot, error)) /* a foreign journal is neither deleted nor played back into the new book */
    return FALSE;
  if (hot && !g_file_test (path, G_FILE_TEST_EXISTS)) /* a book that was moved away may need it */
    return sp_book_fail_journal (path, error);
  g_unlink (journal);
  if (sp_file_write (path, bytes, (gsize) length, &cause))
    return TRUE;
  g_set_error (error, SP_BOOK_ERROR, SP_BOOK_ERROR_IO, _ ("%s. Save it elsewhere"), cause->message);
  return FALSE;
}

/* Only an existing bench book that nobody has open may be replaced. It stays locked until *held is freed. */
static gboolean
hold_old_file (const char *path, SpBookLock **held, GError **error)
{
  GStatBuf file;
  return g_lstat (path, &file) < 0 || (*held = sp_book_lock_take (path, error)) != NULL;
}

static gboolean
is_own_file (const SpBook *book, const char *path)
{
  GStatBuf one, other;
  return book->lock && g_stat (book->path, &one) == 0 && g_stat (path, &other) == 0 && one.st_dev == other.st_dev
         && one.st_ino == other.st_ino;
}

/* Switches the book to the written file. */
static gboolean
move_to (SpBook *book, const char *path, GError **error)
{
  g_autoptr (SpBook) moved = sp_book_empty ();
  moved->path = g_strdup (path);
  g_autoptr (GError) cause = NULL;
  if (!sp_book_take_file (moved, &cause))
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("is written, but cannot be opened again: %s"), cause->message);
  sqlite3_close (book->db);
  sp_book_lock_free (book->lock);
  g_free (book->path);
  book->db = g_steal_pointer (&moved->db);
  book->lock = g_steal_pointer (&moved->lock);
  book->path = g_steal_pointer (&moved->path);
  note_saved (book);
  return TRUE;
}

gboolean
sp_book_save_as (SpBook *book, const char *given, GError **error)
{
  g_autofree char *path = g_canonicalize_filename (given, NULL);
  g_autoptr (GError) cause = NULL;
  SpBookLock *held = NULL;
  gint64 length;
  gboolean saved = is_own_file (book, path) && sp_book_save (book, &cause);
  if (saved)
    return TRUE;
  if (cause && !g_error_matches (cause, SP_BOOK_ERROR, SP_BOOK_ERROR_GONE)) {
    g_propagate_error (error, g_steal_pointer (&cause));
    return FALSE;
  }
  g_clear_error (&cause); /* its file is gone: the new one takes its name */
  if (!sp_book_check_name (path, error) || !hold_old_file (path, &held, error))
    return FALSE;
  guint8 *bytes = write_whole (book, path, &length, &cause);
  gboolean good = bytes && write_beside (bytes, length, path, &cause);
  sqlite3_free (bytes);
  sp_book_lock_free (held);
  if (cause)
    g_propagate_error (error, g_steal_pointer (&cause));
  return good && move_to (book, path, error);
}
