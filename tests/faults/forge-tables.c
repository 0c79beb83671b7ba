/* forge-tables.c - a stranger at work with SQLite on a book's tables */
#include "tests/faults/forge.h"

static const char *const tables[] = { "book", "state", "part", "raw", "used" };
static const char *const columns[][5] = {
  { "present" }, { "ordinal", "label", "sheet", "sha256" }, { "sha256", "kind", "text" }, { "sha256", "bytes" }, { "state", "sha256" },
};

/* %1$s: a table; %2$s: a column of it. In a schema that is edited word for word, rowids stand for nothing: the words are found. */
static const char *const of_table[] = {
  "DROP TABLE %1$s",
  "ALTER TABLE %1$s RENAME TO moved",
  "DELETE FROM %1$s",
  "DELETE FROM %1$s LIMIT 1",
  "INSERT INTO %1$s SELECT * FROM %1$s",
  "CREATE TABLE moved AS SELECT * FROM %1$s; DROP TABLE %1$s; ALTER TABLE moved RENAME TO %1$s",
  "CREATE TABLE moved AS SELECT * FROM %1$s; DROP TABLE %1$s; CREATE VIEW %1$s AS SELECT * FROM moved",
  "CREATE TABLE moved AS SELECT * FROM %1$s; DROP TABLE %1$s; CREATE VIRTUAL TABLE %1$s USING fts5 (sha256, text)",
  "DROP TABLE %1$s; CREATE VIEW %1$s AS WITH RECURSIVE n (v) AS (SELECT 1 UNION ALL SELECT v + 1 FROM n) SELECT v FROM n",
  "CREATE TRIGGER more AFTER INSERT ON %1$s BEGIN DELETE FROM raw; END",
  "CREATE TRIGGER more BEFORE UPDATE ON %1$s BEGIN DELETE FROM state; END",
  "CREATE TRIGGER more AFTER DELETE ON %1$s BEGIN SELECT load_extension ('x'); END",
  "CREATE TABLE more AS SELECT * FROM %1$s",
  "CREATE VIEW more AS SELECT * FROM %1$s",
  "CREATE VIRTUAL TABLE more USING fts5 (a)",
  "CREATE TABLE more (a REFERENCES %1$s)",
  "ALTER TABLE %1$s ADD COLUMN more",
  "ALTER TABLE %1$s ADD COLUMN more AS (1) VIRTUAL",
  "ALTER TABLE %1$s ADD COLUMN more CHECK (more IS NULL)",
  "UPDATE sqlite_schema SET sql = upper (sql) WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = sql || ' ' WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = sql || ' STRICT' WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = sql || ' WITHOUT ROWID' WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = replace (sql, ' WITHOUT ROWID', '') WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = NULL WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = zeroblob (100000) WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = 'CREATE TABLE %1$s (' WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET rootpage = 0 WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET rootpage = 1 WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET rootpage = rootpage + 1 WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET rootpage = 4294967295 WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET rootpage = -1 WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET rootpage = (SELECT min (rootpage) FROM sqlite_schema) WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET type = 'view' WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET name = name || char (0) || 'x' WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET tbl_name = 'other' WHERE name = '%1$s'",
  "INSERT INTO sqlite_schema SELECT * FROM sqlite_schema WHERE name = '%1$s'",
  "INSERT INTO sqlite_schema SELECT 'trigger', 'more', '%1$s', 0, 'CREATE TRIGGER more AFTER INSERT ON %1$s BEGIN SELECT 1; END'",
};
static const char *const of_column[] = {
  "ALTER TABLE %1$s DROP COLUMN %2$s",
  "ALTER TABLE %1$s RENAME COLUMN %2$s TO more",
  "ALTER TABLE %1$s ADD COLUMN more AS (%2$s) VIRTUAL",
  "CREATE INDEX more ON %1$s (%2$s)",
  "CREATE UNIQUE INDEX more ON %1$s (%2$s)",
  "CREATE INDEX more ON %1$s (%2$s) WHERE %2$s > 1",
  "CREATE INDEX more ON %1$s (abs (%2$s))",
  "UPDATE %1$s SET %2$s = NULL",
  "UPDATE %1$s SET %2$s = ''",
  "UPDATE %1$s SET %2$s = -1",
  "UPDATE %1$s SET %2$s = 0",
  "UPDATE %1$s SET %2$s = 9223372036854775807",
  "UPDATE %1$s SET %2$s = -9223372036854775808",
  "UPDATE %1$s SET %2$s = 1e308 * 10",
  "UPDATE %1$s SET %2$s = 0.5",
  "UPDATE %1$s SET %2$s = zeroblob (3000000)",
  "UPDATE %1$s SET %2$s = CAST (%2$s AS BLOB)",
  "UPDATE %1$s SET %2$s = CAST (%2$s AS TEXT)",
  "UPDATE %1$s SET %2$s = %2$s || char (0)",
  "UPDATE %1$s SET %2$s = %2$s || x'ff80fe'",
  "UPDATE %1$s SET %2$s = upper (%2$s)",
  "UPDATE %1$s SET %2$s = printf ('%%.*c', 3000000, 'x')",
  "UPDATE %1$s SET %2$s = '../../../etc/passwd'",
  "UPDATE %1$s SET %2$s = substr (%2$s, 2)",
  "UPDATE sqlite_schema SET sql = replace (sql, '%2$s ', '%2$s BLOB ') WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = replace (sql, '%2$s ', 'more, %2$s ') WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = replace (sql, '%2$s ', '%2$s COLLATE NOCASE ') WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = replace (sql, '%2$s ', '%2$s CHECK (%2$s <> 1) ') WHERE name = '%1$s'",
  "UPDATE sqlite_schema SET sql = replace (sql, '%2$s ', '%2$s DEFAULT (1) ') WHERE name = '%1$s'",
};
static const char *const of_file[] = {
  "PRAGMA user_version = 0",
  "PRAGMA user_version = -1",
  "PRAGMA user_version = 2147483647",
  "PRAGMA application_id = 0",
  "PRAGMA application_id = -1",
  "PRAGMA journal_mode = WAL",
  "PRAGMA journal_mode = WAL; UPDATE book SET present = 1",
  "ANALYZE",
  "ANALYZE; DELETE FROM sqlite_stat1",
  "CREATE TABLE more (a INTEGER PRIMARY KEY AUTOINCREMENT); DROP TABLE more",
  "CREATE TABLE more (a)",
  "PRAGMA default_cache_size = 2147483647",
  "PRAGMA schema_version = 0",
  "PRAGMA page_size = 512; VACUUM",
  "PRAGMA page_size = 65536; VACUUM",
  "PRAGMA auto_vacuum = NONE; VACUUM",
  "PRAGMA auto_vacuum = INCREMENTAL; VACUUM",
  "DELETE FROM sqlite_schema",
  "UPDATE book SET present = (SELECT max (ordinal) + 1 FROM state)",
  "UPDATE book SET present = (SELECT min (ordinal) FROM state)",
  "INSERT INTO book VALUES (1)",
  "UPDATE used SET state = state + 1",
  "WITH RECURSIVE n (v) AS (SELECT 100 UNION ALL SELECT v + 1 FROM n LIMIT 2000) INSERT INTO state SELECT v, 'x', 'y', 'z' FROM n",
  "WITH RECURSIVE n (v) AS (SELECT 100 UNION ALL SELECT v + 1 FROM n LIMIT 20000) INSERT INTO used SELECT v, v FROM n",
  "WITH RECURSIVE n (v) AS (SELECT 1 UNION ALL SELECT v + 1 FROM n LIMIT 500) INSERT INTO sqlite_schema SELECT 'table', 'more' || v, "
  "'more' || v, 2, 'CREATE TABLE more'"
  " || v || ' (a)' FROM n",
};

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
static void
add (GPtrArray *all, const char *format, const char *table, const char *column)
{
  g_ptr_array_add (all, g_strdup_printf (format, table, column));
}
#pragma GCC diagnostic pop

char **
forge_statements (void)
{
  GPtrArray *all = g_ptr_array_new ();
  for (guint t = 0; t < G_N_ELEMENTS (tables); t++) {
    for (guint i = 0; i < G_N_ELEMENTS (of_table); i++)
      add (all, of_table[i], tables[t], "");
    for (guint c = 0; c < 5 && columns[t][c]; c++)
      for (guint i = 0; i < G_N_ELEMENTS (of_column); i++)
        add (all, of_column[i], tables[t], columns[t][c]);
  }
  for (guint i = 0; i < G_N_ELEMENTS (of_file); i++)
    g_ptr_array_add (all, g_strdup (of_file[i]));
  g_ptr_array_add (all, NULL);
  return (char **) g_ptr_array_free (all, FALSE);
}

/* A forged view may have rows without end: a statement ends after so many steps, or pages. */
#define MOST_STEPS 50000000
#define MOST_PAGES "20000"

static int
ends (G_GNUC_UNUSED void *data)
{
  return 1;
}

void
forge_sql (const char *path, const char *sql)
{
  sqlite3 *db;
  ck_assert_int_eq (sqlite3_open (path, &db), SQLITE_OK);
  sqlite3_db_config (db, SQLITE_DBCONFIG_DEFENSIVE, 0, NULL);
  sqlite3_exec (db, "PRAGMA writable_schema = ON; PRAGMA synchronous = OFF; PRAGMA max_page_count = " MOST_PAGES, NULL, NULL, NULL);
  sqlite3_progress_handler (db, MOST_STEPS, ends, NULL);
  sqlite3_exec (db, sql, NULL, NULL, NULL);
  sqlite3_close (db);
}

/* ---- sound ones ---- */

static void
add_sound (GPtrArray *all, const char *path, const char *name, const char *sql)
{
  Sound *sound = g_new0 (Sound, 1);
  g_autofree char *other = g_strconcat (path, ".sound", NULL), *copy = NULL;
  gsize length;
  ck_assert (g_file_get_contents (path, &copy, &length, NULL) && g_file_set_contents (other, copy, (gssize) length, NULL));
  if (sql)
    forge_sql (other, sql);
  sound->name = g_strdup (name);
  ck_assert (g_file_get_contents (other, &sound->bytes, &sound->length, NULL));
  g_unlink (other);
  g_ptr_array_add (all, sound);
}

static void
sound_free (Sound *sound)
{
  g_free (sound->name);
  g_free (sound->bytes);
  g_free (sound);
}

GPtrArray *
forge_sound (const char *path)
{
  GPtrArray *all = g_ptr_array_new_with_free_func ((GDestroyNotify) sound_free);
  add_sound (all, path, "as saved", NULL);
  add_sound (all, path, "pages of 512 bytes", "PRAGMA page_size = 512; VACUUM");
  add_sound (
      all, path, "a freelist",
      "PRAGMA page_size = 1024; PRAGMA auto_vacuum = NONE; VACUUM; CREATE TABLE more (a); INSERT INTO more VALUES (zeroblob (300000));"
      "DROP TABLE more");
  add_sound (
      all, path, "vacuumed in steps",
      "PRAGMA auto_vacuum = INCREMENTAL; VACUUM; CREATE TABLE more (a); INSERT INTO more VALUES (zeroblob (30000)); DROP TABLE more");
  add_sound (all, path, "pages of 65536 bytes", "PRAGMA page_size = 65536; VACUUM");
  return all;
}
