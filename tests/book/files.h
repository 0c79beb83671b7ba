/* files.h - what the tests of the book's file share: paths, a folder's bytes before and after, SQLite beside the book */
#pragma once

#include <sqlite3.h>

#include "core/book/book.h"
#include "tests/book/shelf.h"

static GError *error; /* of the call at hand */

G_GNUC_UNUSED static SpBench *
good_bench (SpBench *result)
{
  sp_no_error (error);
  ck_assert_ptr_nonnull (result);
  return result;
}

static void
good (gboolean done)
{
  sp_no_error (error);
  ck_assert (done);
}

G_GNUC_UNUSED static SpBook *
good_book (SpBook *book)
{
  sp_no_error (error);
  ck_assert_ptr_nonnull (book);
  return book;
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

/* Names and bytes of all that is in the shelf's folder, folders below too. (transfer full) */
static void
add_to_snapshot (GString *all, const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  for (const char *name; dir && (name = g_dir_read_name (dir));)
    g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, by_name);
  for (guint i = 0; i < names->len; i++) {
    g_autofree char *below = g_build_filename (path, names->pdata[i], NULL), *bytes = NULL;
    gsize length = 0;
    g_autofree char *target = g_file_read_link (below, NULL);
    if (target) {
      g_string_append_printf (all, "%s -> %s\n", below, target);
      continue;
    }
    if (g_file_test (below, G_FILE_TEST_IS_DIR)) {
      add_to_snapshot (all, below);
      continue;
    }
    ck_assert (g_file_get_contents (below, &bytes, &length, NULL));
    g_autofree char *hash = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) bytes, length);
    g_string_append_printf (all, "%s %s\n", below, hash);
  }
}

G_GNUC_UNUSED static char *
snapshot (void)
{
  GString *all = g_string_new (NULL);
  add_to_snapshot (all, folder);
  return g_string_free (all, FALSE);
}

/* sha256 (TEXT), as a stranger has it too. */
static void
sql_sha256 (sqlite3_context *context, G_GNUC_UNUSED int n, sqlite3_value **values)
{
  const char *text = (const char *) sqlite3_value_text (values[0]);
  g_autofree char *hash = g_compute_checksum_for_string (G_CHECKSUM_SHA256, text ? text : "", -1);
  sqlite3_result_text (context, hash, -1, SQLITE_TRANSIENT);
}

/* Statements run on a book's file from outside. */
G_GNUC_UNUSED static void
alter (const char *path, const char *sql)
{
  sqlite3 *db;
  char *why = NULL;
  ck_assert_int_eq (sqlite3_open (path, &db), SQLITE_OK);
  sqlite3_create_function (db, "sha256", 1, SQLITE_UTF8, NULL, sql_sha256, NULL, NULL);
  ck_assert_msg (sqlite3_exec (db, sql, NULL, NULL, &why) == SQLITE_OK, "%s: %s", sql, why);
  sqlite3_close (db);
}

/* The first column of the first row, as text, whoever has the book open between two saves. (transfer full) */
static char *
ask (const char *path, const char *sql)
{
  sqlite3 *db;
  sqlite3_stmt *statement;
  g_autofree char *uri = g_strconcat ("file:", path, "?immutable=1", NULL);
  ck_assert_int_eq (sqlite3_open_v2 (uri, &db, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, NULL), SQLITE_OK);
  ck_assert_int_eq (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL), SQLITE_OK);
  ck_assert_int_eq (sqlite3_step (statement), SQLITE_ROW);
  char *text = g_strdup ((const char *) sqlite3_column_text (statement, 0));
  sqlite3_finalize (statement);
  sqlite3_close (db);
  return text;
}

G_GNUC_UNUSED static void
check_answer (const char *path, const char *sql, const char *want)
{
  g_autofree char *got = ask (path, sql);
  ck_assert_msg (g_strcmp0 (got, want) == 0, "%s: got %s, expected %s", sql, got, want);
}
