/* book-open.c - opens a book's file for editing, or a copy of it for reading */
#include "core/book/book-private.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <unistd.h>

#define LABEL_CHARACTERS 1000 /* bounds memory */

/* ---- the history in the file ---- */

static gboolean
read_states (SpBook *book)
{
  sqlite3_stmt *statement = sp_book_prepare (book->db, "SELECT ordinal, substr (label, 1, ?) FROM state ORDER BY ordinal");
  int step = SQLITE_ERROR;
  if (statement && sqlite3_bind_int (statement, 1, LABEL_CHARACTERS) == SQLITE_OK)
    while ((step = sqlite3_step (statement)) == SQLITE_ROW && book->states->len <= SP_BOOK_STATES_MAX) {
      const char *text = (const char *) sqlite3_column_text (statement, 1);
      g_autofree char *label = g_utf8_make_valid (text ? text : "", -1);
      g_ptr_array_add (book->states, sp_state_new (NULL, label, sqlite3_column_int64 (statement, 0)));
    }
  sqlite3_finalize (statement);
  return step == SQLITE_DONE && book->states->len > 0 && sp_state_at (book, 0)->ordinal > 0;
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
    if (sp_state_at (book, i)->ordinal == book->saved) {
      book->present = i;
      found = TRUE;
    }
  book->last = sp_state_at (book, book->states->len - 1)->ordinal;
  return found;
}

static gboolean
read_history (SpBook *book, const char *path, GError **error)
{
  if (!read_states (book) || !find_present (book))
    return sp_book_fail_damaged (error, path, _ ("its history"));
  SpState *present = sp_state_at (book, book->present);
  present->bench = sp_book_get_bench (book->db, path, present->ordinal, NULL, error);
  return present->bench != NULL;
}

/* ---- a copy ---- */

static sqlite3 *
connect_bytes (SpBookBytes *copy, const char *path, GError **error)
{
  sqlite3 *db = sp_book_connect (":memory:", path, error);
  guint8 *bytes = g_steal_pointer (&copy->bytes);
  if (!db) {
    sqlite3_free (bytes);
    return NULL;
  }
  if (sqlite3_deserialize (db, "main", bytes, copy->length, copy->length, SQLITE_DESERIALIZE_FREEONCLOSE | SQLITE_DESERIALIZE_RESIZEABLE)
      == SQLITE_OK)
    return db; /* SQLite frees those bytes in any case */
  sp_book_fail_sql (db, path, error);
  sqlite3_close (db);
  return NULL;
}

sqlite3 *
sp_book_connect_copy (const char *path, gboolean *whole, GError **error)
{
  SpBookBytes copy;
  g_autoptr (GError) cause = NULL;
  gboolean good = sp_book_copy (path, &copy, &cause), hot = copy.hot;
  good = good && (!hot || sp_book_bytes_play_back (&copy, path, &cause));
  gint64 length = copy.length;
  sqlite3 *db = good ? connect_bytes (&copy, path, &cause) : NULL;
  sp_book_bytes_clear (&copy);
  if (db && sp_book_check_file (db, length, hot, path, whole, &cause))
    return db;
  sqlite3_close (db);
  if (hot && g_error_matches (cause, SP_BOOK_ERROR, SP_BOOK_ERROR_DAMAGED)) /* without its journal the copy may be sound */
    sp_book_fail_journal (path, error);
  else
    g_propagate_error (error, g_steal_pointer (&cause));
  return NULL;
}

/* ---- for editing ---- */

/* An exclusive connection with the whole file checked. Call between sp_book_lock_begin() and sp_book_lock_end(). */
static sqlite3 *
connect_checked (SpBook *book, GError **error)
{
  gboolean hot, whole;
  GStatBuf file;
  g_autofree char *journal = sp_book_journal (book->path);
  if (!sp_book_check_beside (book->path, &hot, error))
    return NULL;
  if (!hot)
    g_unlink (journal); /* removal may have failed on disk */
  sqlite3 *db = sp_book_connect (book->path, book->path, error);
  if (!db)
    return NULL;
  /* A first read plays a journal back. Beginning a write would correct a wrong page count in a book that may yet be refused. */
  gboolean good = sp_book_run (db, "PRAGMA schema_version");
  if (!good)
    sp_book_fail_sql (db, book->path, error);
  good = good
         && (g_stat (book->path, &file) == 0
             || sp_book_fail (error, SP_BOOK_ERROR_IO, book->path, _ ("cannot be read: %s"), g_strerror (errno)));
  if (good && sp_book_check_file (db, file.st_size, FALSE, book->path, &whole, error)) {
    book->keep_all = !whole;
    return db;
  }
  sqlite3_close (db);
  return NULL;
}

/* SQLite plays back any journal, so the result is checked in a copy first. */
static gboolean
journal_fits (const char *path, GError **error)
{
  gboolean hot, whole;
  if (!sp_book_check_beside (path, &hot, error))
    return FALSE;
  sqlite3 *copy = hot ? sp_book_connect_copy (path, &whole, error) : NULL;
  sqlite3_close (copy);
  return !hot || copy;
}

gboolean
sp_book_reconnect (SpBook *book, GError **error)
{
  if (book->db || !book->lock || !journal_fits (book->path, error) || !sp_book_lock_begin (book->lock, error))
    return book->db != NULL;
  book->db = connect_checked (book, error);
  sp_book_lock_end (book->lock);
  return book->db != NULL;
}

gboolean
sp_book_take_file (SpBook *book, GError **error)
{
  book->lock = sp_book_lock_take (book->path, error);
  return book->lock && sp_book_reconnect (book, error);
}

/* ---- for reading ---- */

static gboolean
look_at (SpBook *book, const char *path, GError **error)
{
  gboolean whole;
  book->db = sp_book_connect_copy (path, &whole, error);
  if (!book->db)
    return FALSE;
  book->keep_all = !whole;
  return read_history (book, path, error);
}

SpBook *
sp_book_look (const char *given, GError **error)
{
  g_autofree char *path = g_canonicalize_filename (given, NULL);
  g_autoptr (SpBook) book = sp_book_empty ();
  return look_at (book, path, error) ? g_steal_pointer (&book) : NULL;
}

SpBook *
sp_book_open (const char *given, GError **error)
{
  g_autoptr (SpBook) book = sp_book_empty ();
  book->path = g_canonicalize_filename (given, NULL);
  if ((g_access (book->path, W_OK) < 0 && (errno == EACCES || errno == EROFS)) /* a disc, or a shared folder */
      || !sp_book_check_name (book->path, NULL))
    return look_at (book, book->path, error) ? g_steal_pointer (&book) : NULL;
  return sp_book_take_file (book, error) && read_history (book, book->path, error) ? g_steal_pointer (&book) : NULL;
}
