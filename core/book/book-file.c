/* book-file.c - the SQLite file of a book: recognises, checks and creates it */
#include "core/book/book-private.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/hash.h"

/* A file from outside may be hostile. Its first bytes and the files beside it are checked before SQLite sees it. Then come SQLite's
 * recommended settings for such files, a word-for-word comparison of the schema with ours (so no foreign view, trigger or index ever
 * runs), and quick_check. */

#define MAGIC "SQLite format 3"
/* All: positions (SQLite file format, 1.3); of the two versions, to write and to read, 1 is the rollback journal */
#define AT_FORMATS 18
#define AT_USER_VERSION 60
#define AT_APPLICATION_ID 68

/* by hand: the formatter takes the name for a subtraction, and the name is kept as it is written */
/* clang-format off */
G_DEFINE_QUARK (sp-book-error-quark, sp_book_error)
/* clang-format on */

gboolean
sp_book_fail (GError **error, SpBookError code, const char *path, const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  g_autofree char *text = g_strdup_vprintf (format, arguments), *display = path ? g_filename_display_name (path) : NULL;
  va_end (arguments);
  g_set_error (error, SP_BOOK_ERROR, code, "%s%s%s", display ? display : "", display ? ": " : "", text);
  return FALSE;
}

gboolean
sp_book_fail_damaged (GError **error, const char *path, const char *what)
{
  int cause = sp_book_take_cause ();
  if (cause) /* what was not read is not damaged */
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("cannot be read: %s"), g_strerror (cause));
  return sp_book_fail (error, SP_BOOK_ERROR_DAMAGED, path,
                       _ ("this bench book is damaged (%s); it was left as it is. If it was copied or moved, bring along the file "
                          "with “-journal” behind its name, if there is one; else go back to an earlier copy of it"),
                       what);
}

static gboolean
is_of_rights (int cause)
{
  return cause == 0 || cause == EACCES || cause == EPERM || cause == EROFS;
}

/* The system's where there is one: SQLite's own is "disk I/O error". */
static const char *
reason_of (sqlite3 *db)
{
  int cause = sp_book_take_cause ();
  return cause ? g_strerror (cause) : sqlite3_errmsg (db);
}

gboolean
sp_book_fail_sql (sqlite3 *db, const char *path, GError **error)
{
  switch (sqlite3_errcode (db) & 0xff) {
  case SQLITE_BUSY:
  case SQLITE_LOCKED:
    return sp_book_fail (error, SP_BOOK_ERROR_LOCKED, path,
                         _ ("another program has this bench book open; close it there, or look at a copy"));
  case SQLITE_CORRUPT:
  case SQLITE_NOTADB:
  case SQLITE_ERROR: /* a missing table, for example */ return sp_book_fail_damaged (error, path, sqlite3_errmsg (db));
  case SQLITE_TOOBIG:
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path,
                         _ ("an export is larger than the 1,000,000,000 bytes that a bench book holds of one file"));
  case SQLITE_FULL:
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path,
                         _ ("the disk is full; what was saved last still stands. Make room, or save it elsewhere"));
  case SQLITE_CANTOPEN:
    if (!is_of_rights (sqlite3_system_errno (db)))
      return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("cannot be opened: %s; what was saved last still stands. Try again"),
                           g_strerror (sqlite3_system_errno (db)));
    G_GNUC_FALLTHROUGH;
  case SQLITE_READONLY:
  case SQLITE_PERM:
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path,
                         _ ("its folder or the file may not be written to (%s); what was saved last still stands. Save it elsewhere"),
                         sqlite3_errmsg (db));
  default:
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("%s; what was saved last still stands. Try again, or save it elsewhere"),
                         reason_of (db));
  }
}

/* ---- statements ---- */

gboolean
sp_book_run (sqlite3 *db, const char *sql)
{
  return sqlite3_exec (db, sql, NULL, NULL, NULL) == SQLITE_OK;
}

sqlite3_stmt *
sp_book_prepare (sqlite3 *db, const char *sql)
{
  sqlite3_stmt *statement = NULL;
  sqlite3_prepare_v2 (db, sql, -1, &statement, NULL);
  return statement;
}

gboolean
sp_book_do_list (sqlite3 *db, const char *sql, const char *types, va_list values)
{
  sqlite3_stmt *statement = sp_book_prepare (db, sql);
  gboolean good = statement != NULL;
  for (int i = 1; good && types[i - 1]; i++)
    if (types[i - 1] == 'i')
      good = sqlite3_bind_int64 (statement, i, va_arg (values, gint64)) == SQLITE_OK;
    else if (types[i - 1] == 't')
      good = sqlite3_bind_text (statement, i, va_arg (values, const char *), -1, SQLITE_STATIC) == SQLITE_OK;
    else {
      gsize size;
      const void *data = g_bytes_get_data (va_arg (values, GBytes *), &size);
      good = sqlite3_bind_blob64 (statement, i, data ? data : "", size, SQLITE_STATIC) == SQLITE_OK;
    }
  while (good && sqlite3_step (statement) == SQLITE_ROW)
    ;
  return sqlite3_finalize (statement) == SQLITE_OK && good;
}

gboolean
sp_book_do (sqlite3 *db, const char *sql, const char *types, ...)
{
  va_list values;
  va_start (values, types);
  gboolean good = sp_book_do_list (db, sql, types, values);
  va_end (values);
  return good;
}

/* One number; -1: none. */
static gint64
number_of (sqlite3 *db, const char *sql)
{
  sqlite3_stmt *statement = sp_book_prepare (db, sql);
  gint64 number = statement && sqlite3_step (statement) == SQLITE_ROW ? sqlite3_column_int64 (statement, 0) : -1;
  sqlite3_finalize (statement);
  return number;
}

/* ---- the first bytes ---- */

guint32
sp_book_number (const guint8 *at)
{
  return (guint32) at[0] << 24 | (guint32) at[1] << 16 | (guint32) at[2] << 8 | at[3];
}

gboolean
sp_book_check_bytes (const guint8 *head, gssize length, const char *path, GError **error)
{
  if (length == 0)
    return sp_book_fail (error, SP_BOOK_ERROR_FOREIGN, path, _ ("this file is empty; expected a bench book"));
  if (length < SP_BOOK_HEAD_BYTES || memcmp (head, MAGIC, sizeof MAGIC) != 0)
    return sp_book_fail (error, SP_BOOK_ERROR_FOREIGN, path, _ ("this is not a bench book; expected a file that this program saved"));
  if (sp_book_number (head + AT_APPLICATION_ID) != SP_BOOK_APPLICATION_ID)
    return sp_book_fail (error, SP_BOOK_ERROR_FOREIGN, path,
                         _ ("this is a database, but not a bench book; expected a file that this program saved"));
  guint32 version = sp_book_number (head + AT_USER_VERSION);
  if (version > SP_BOOK_SCHEMA && version <= G_MAXINT32)
    return sp_book_fail (error, SP_BOOK_ERROR_NEWER, path,
                         _ ("a newer program wrote this bench book (version %u; this one reads up to %d); get the newer one"), version,
                         SP_BOOK_SCHEMA);
  if (version < 1 || version > SP_BOOK_SCHEMA || head[AT_FORMATS] != 1 || head[AT_FORMATS + 1] != 1)
    return sp_book_fail_damaged (error, path, _ ("its first bytes"));
  return TRUE;
}

gboolean
sp_book_is_one (const char *path)
{
  g_autoptr (GError) error = NULL;
  return sp_book_check_head (path, &error) || error->code == SP_BOOK_ERROR_NEWER || error->code == SP_BOOK_ERROR_DAMAGED;
}

/* ---- the schema, by numbered steps: step n turns version n into n + 1 ---- */

static const char *const steps[] = {
  "CREATE TABLE book (present INTEGER NOT NULL);"
  "CREATE TABLE state (ordinal INTEGER PRIMARY KEY, label TEXT NOT NULL, sheet TEXT NOT NULL, sha256 TEXT NOT NULL);"
  "CREATE TABLE part (sha256 TEXT PRIMARY KEY, kind TEXT NOT NULL, text TEXT NOT NULL);"
  "CREATE TABLE raw (sha256 TEXT PRIMARY KEY, bytes BLOB NOT NULL);"
  "CREATE TABLE used (state INTEGER NOT NULL, sha256 TEXT NOT NULL, PRIMARY KEY (state, sha256)) WITHOUT ROWID;"
  "INSERT INTO book VALUES (0);",
};
G_STATIC_ASSERT (G_N_ELEMENTS (steps) == SP_BOOK_SCHEMA);

static gboolean
upgrade (sqlite3 *db, gint64 from, const char *path, GError **error)
{
  gboolean good = sp_book_run (db, "BEGIN IMMEDIATE");
  for (gint64 version = from; good && version < SP_BOOK_SCHEMA; version++) {
    g_autofree char *mark = g_strdup_printf ("PRAGMA user_version=%d", (int) version + 1);
    good = sp_book_run (db, steps[version]) && sp_book_run (db, mark);
  }
  if (good && sp_book_run (db, "COMMIT"))
    return TRUE;
  sp_book_fail_sql (db, path, error); /* reported before the next statement, which has its own code */
  if (!sqlite3_get_autocommit (db))
    sp_book_run (db, "ROLLBACK");
  return FALSE;
}

/* The whole schema of a database as one text. */
static char *
schema_of (sqlite3 *db)
{
  sqlite3_stmt *statement = sp_book_prepare (db, "SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name");
  GString *text = g_string_new (NULL);
  int done = SQLITE_ERROR;
  while (statement && (done = sqlite3_step (statement)) == SQLITE_ROW && text->len < 65536)
    for (int i = 0; i < 4; i++)
      g_string_append_printf (text, "%s\n", sqlite3_column_text (statement, i) ? (const char *) sqlite3_column_text (statement, i) : "");
  sqlite3_finalize (statement);
  return g_string_free (text, done != SQLITE_DONE);
}

/* TRUE if the schema is word for word that of `version`, which is created in memory for the comparison. */
static gboolean
schema_is_ours (sqlite3 *db, gint64 version)
{
  sqlite3 *model = NULL;
  gboolean good = sqlite3_open_v2 (":memory:", &model, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL) == SQLITE_OK;
  for (gint64 i = 0; good && i < version; i++)
    good = sp_book_run (model, steps[i]);
  g_autofree char *want = good ? schema_of (model) : NULL, *got = schema_of (db);
  sqlite3_close (model);
  return want && g_strcmp0 (want, got) == 0;
}

/* ---- opening ---- */

sqlite3 *
sp_book_connect (const char *path, const char *meant, GError **error)
{
  static const struct {
    int option, value;
  } settings[] = {
    { SQLITE_DBCONFIG_DEFENSIVE, 1 },
    { SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0 },
    { SQLITE_DBCONFIG_ENABLE_TRIGGER, 0 },
    { SQLITE_DBCONFIG_ENABLE_VIEW, 0 },
    { SQLITE_DBCONFIG_DQS_DDL, 0 },
    { SQLITE_DBCONFIG_DQS_DML, 0 },
    { SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0 },
  };
  static const struct {
    int limit, value;
  } limits[] = {
    { SQLITE_LIMIT_LENGTH, SP_BOOK_RAW_MAX }, { SQLITE_LIMIT_SQL_LENGTH, 65536 },  { SQLITE_LIMIT_COLUMN, 32 },
    { SQLITE_LIMIT_EXPR_DEPTH, 20 },          { SQLITE_LIMIT_COMPOUND_SELECT, 3 }, { SQLITE_LIMIT_ATTACHED, 1 },
    { SQLITE_LIMIT_TRIGGER_DEPTH, 1 },        { SQLITE_LIMIT_FUNCTION_ARG, 8 },
  };
  sqlite3 *db = NULL;
  const char *vfs = sp_book_vfs ();
  sp_book_take_cause (); /* one of another file */
  int opened = vfs ? sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, vfs) : SQLITE_NOMEM;
  for (guint i = 0; opened == SQLITE_OK && i < G_N_ELEMENTS (settings); i++)
    sqlite3_db_config (db, settings[i].option, settings[i].value, NULL);
  for (guint i = 0; opened == SQLITE_OK && i < G_N_ELEMENTS (limits); i++)
    sqlite3_limit (db, limits[i].limit, limits[i].value);
  if (opened != SQLITE_OK
      || !sp_book_run (db, "PRAGMA cell_size_check=ON; PRAGMA mmap_size=0; PRAGMA foreign_keys=OFF; PRAGMA temp_store=MEMORY;"
                           "PRAGMA locking_mode=EXCLUSIVE; PRAGMA journal_mode=DELETE; PRAGMA journal_size_limit=0;"
                           "PRAGMA synchronous=FULL")) {
    sp_book_fail_sql (db, meant, error);
    sqlite3_close (db);
    return NULL;
  }
  return db;
}

/* quick_check returns "ok" or a description of the damage. */
static gboolean
check_quickly (sqlite3 *db, const char *path, GError **error)
{
  sqlite3_stmt *statement = sp_book_prepare (db, "PRAGMA quick_check(1)");
  if (!statement || sqlite3_step (statement) != SQLITE_ROW) {
    sp_book_fail_sql (db, path, error);
    sqlite3_finalize (statement);
    return FALSE;
  }
  g_autofree char *said = g_strdup ((const char *) sqlite3_column_text (statement, 0));
  sqlite3_finalize (statement);
  return g_strcmp0 (said, "ok") == 0 || sp_book_fail_damaged (error, path, said ? said : "");
}

/* Every referenced resource exists and every resource is referenced (no orphans); otherwise pruning old states would delete live data. */
static gboolean
uses_are_whole (sqlite3 *db)
{
  return number_of (db, "SELECT (SELECT count(*) FROM used WHERE state NOT IN (SELECT ordinal FROM state)"
                        " OR (sha256 NOT IN (SELECT sha256 FROM raw) AND sha256 NOT IN (SELECT sha256 FROM part)))"
                        " + (SELECT count(*) FROM raw WHERE sha256 NOT IN (SELECT sha256 FROM used))"
                        " + (SELECT count(*) FROM part WHERE sha256 NOT IN (SELECT sha256 FROM used))")
         == 0;
}

/* SQLite reads the missing part of the last page as zeros. */
static gboolean
has_its_end (sqlite3 *db, gint64 length, gboolean exact)
{
  gint64 pages = number_of (db, "PRAGMA page_count"), bytes = number_of (db, "PRAGMA page_size");
  return pages > 0 && bytes > 0 && length >= pages * bytes && !(exact && length > pages * bytes);
}

gboolean
sp_book_check_file (sqlite3 *db, gint64 length, gboolean exact, const char *path, gboolean *whole, GError **error)
{
  gint64 version = number_of (db, "PRAGMA user_version");
  if (version < 0)
    return sp_book_fail_sql (db, path, error);
  if (version < 1 || version > SP_BOOK_SCHEMA || number_of (db, "PRAGMA application_id") != SP_BOOK_APPLICATION_ID
      || !schema_is_ours (db, version))
    return sp_book_fail_damaged (error, path, _ ("its tables are not what this program makes"));
  if (!has_its_end (db, length, exact))
    return sp_book_fail_damaged (error, path, _ ("its end is missing"));
  if (!check_quickly (db, path, error) || (version < SP_BOOK_SCHEMA && !upgrade (db, version, path, error)))
    return FALSE;
  *whole = uses_are_whole (db);
  return TRUE;
}

/* Verifies every text and every raw file against its hash. */
gboolean
sp_book_check_hashes (sqlite3 *db)
{
  static const char *const queries[] = { "SELECT sha256, bytes FROM raw", "SELECT sha256, kind || char (10) || text FROM part",
                                         "SELECT sha256, sheet FROM state" };
  gboolean good = TRUE;
  for (guint i = 0; good && i < G_N_ELEMENTS (queries); i++) {
    sqlite3_stmt *statement = sp_book_prepare (db, queries[i]);
    int step = SQLITE_ERROR;
    while (good && statement && (step = sqlite3_step (statement)) == SQLITE_ROW) {
      const void *data = sqlite3_column_blob (statement, 1);
      g_autoptr (GBytes) bytes = g_bytes_new_static (data ? data : "", (gsize) sqlite3_column_bytes (statement, 1));
      g_autofree char *hash = sp_sha256 (bytes);
      good = g_strcmp0 (hash, (const char *) sqlite3_column_text (statement, 0)) == 0;
    }
    sqlite3_finalize (statement);
    good = good && step == SQLITE_DONE;
  }
  return good;
}

sqlite3 *
sp_book_memory_new (const char *meant, GError **error)
{
  g_autofree char *mark = g_strdup_printf ("PRAGMA auto_vacuum=FULL; PRAGMA application_id=%d", SP_BOOK_APPLICATION_ID);
  sqlite3 *db = sp_book_connect (":memory:", meant, error);
  if (!db)
    return NULL;
  if (sp_book_run (db, mark) ? upgrade (db, 0, meant, error) : sp_book_fail_sql (db, meant, error))
    return db;
  sqlite3_close (db);
  return NULL;
}
