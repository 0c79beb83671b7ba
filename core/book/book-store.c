/* book-store.c - stores benches in a book's file */
#include "core/book/book-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/bench/sheet/sheet.h"
#include "core/quantity/error.h"
#include "core/quantity/hash.h"
#include "core/quantity/text.h"
#include "core/trace/read/read.h"

/* A state is a sheet with names of the form SHA256/NAME: the hash of a trace's, picture's, Touchstone file's or run's bytes, or of the text of a
 * chain, analyzer or mask with its kind before it. So every resource is stored once and verified when read. NAME is for the user. */

#define SHA_LENGTH 64  /* room for SHA-256 in hexadecimal */
#define NAME_BYTES 200 /* bounds what a file may be called */

static const char *const kind_names[] = { "chain", "analyzer", "mask", "trace", "report", "picture" };
static const char built_in_mask[] = "built-in mask";

/* ---- names ---- */

char *
sp_book_base_name (const char *file)
{
  const char *start = file ? file : "";
  for (const char *p = start; *p; p++)
    if (*p == '/' || *p == '\\')
      start = p + 1;
  g_autofree char *name = g_utf8_make_valid (start, -1);
  if (strlen (name) > NAME_BYTES)
    *g_utf8_find_prev_char (name, name + NAME_BYTES) = '\0';
  return *name ? g_steal_pointer (&name) : g_strdup ("-");
}

static const char *
kind_of (SpResourceKind kind, gconstpointer resource)
{
  return kind == SP_RESOURCE_MASK && !((const SpMask *) resource)->file ? built_in_mask : kind_names[kind];
}

/* (transfer full) */
static char *
hash_of (const char *kind, const char *text)
{
  g_autofree char *both = g_strconcat (kind, "\n", text, NULL);
  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, both, -1);
}

char *
sp_book_chain_text (const SpChain *chain, SpPortName name, gpointer data)
{
  char *text = g_strdup (chain->text);
  for (guint i = 0; i < chain->n; i++) {
    g_autofree char *heading = sp_stage_heading (chain->stages[i]->name);
    g_autoptr (GArray) files = sp_stage_files (chain->stages[i]);
    for (guint k = 0; k < files->len; k++) {
      const SpStageFile *file = &g_array_index (files, SpStageFile, k);
      g_autofree char *old = text, *port = name (data, file), *value = sp_stage_file_value (file, g_strdelimit (port, "\"#", '_'));
      text = sp_key_text_set (old, heading, file->key, value, NULL);
      if (!text)
        text = g_steal_pointer (&old);
    }
  }
  return text;
}

char *
sp_book_document_text (const SpDocument *document, SpPortName name, gpointer data)
{
  const SpPicture *head = document->letterhead;
  if (!head)
    return g_strdup (document->text);
  SpStageFile file = { .name = document->letterhead_name, .sha256 = head->sha256, .bytes = head->bytes };
  g_autofree char *port = name (data, &file), *value = sp_escape (port);
  return sp_key_text_set (document->text, "report", "letterhead", value, NULL);
}

static char *
port_reference (G_GNUC_UNUSED gpointer data, const SpStageFile *file)
{
  g_autofree char *name = sp_book_base_name (file->name);
  return g_strconcat (file->sha256, "/", name, NULL);
}

/* The text that a resource is stored as; NULL for a trace and a picture, which are stored as their bytes. */
static char *
text_of (SpResourceKind kind, gconstpointer resource)
{
  switch (kind) {
  case SP_RESOURCE_CHAIN: return sp_book_chain_text (resource, port_reference, NULL);
  case SP_RESOURCE_ANALYZER: return g_strdup (((const SpAnalyzer *) resource)->text);
  case SP_RESOURCE_MASK: return g_strdup (((const SpMask *) resource)->text);
  case SP_RESOURCE_DOCUMENT: return sp_book_document_text (resource, port_reference, NULL);
  default: return NULL;
  }
}

static char *
name_of (SpResourceKind kind, gconstpointer resource)
{
  const SpChain *chain = resource;
  const SpAnalyzer *analyzer = resource;
  const SpMask *mask = resource;
  switch (kind) {
  case SP_RESOURCE_CHAIN: return sp_book_base_name (chain->file ? chain->file : chain->name);
  case SP_RESOURCE_ANALYZER: return sp_book_base_name (analyzer->file ? analyzer->file : analyzer->name);
  case SP_RESOURCE_MASK: return sp_book_base_name (mask->file ? mask->file : mask->name);
  case SP_RESOURCE_DOCUMENT: return sp_book_base_name (((const SpDocument *) resource)->file);
  case SP_RESOURCE_PICTURE: return sp_book_base_name (((const SpPicture *) resource)->file);
  default: return sp_book_base_name (((const SpTrace *) resource)->file);
  }
}

/* Of what is stored as its bytes. */
static const char *
bytes_hash (SpResourceKind kind, gconstpointer resource)
{
  return kind == SP_RESOURCE_PICTURE ? ((const SpPicture *) resource)->sha256 : sp_trace_sha256 (resource);
}

char *
sp_book_reference (SpResourceKind kind, gconstpointer resource)
{
  g_autofree char *text = text_of (kind, resource), *name = name_of (kind, resource);
  g_autofree char *hash = text ? hash_of (kind_of (kind, resource), text) : g_strdup (bytes_hash (kind, resource));
  return g_strconcat (hash, "/", name, NULL);
}

/* ---- writing ---- */

typedef struct {
  sqlite3 *db;
  const char *path;
  gint64 ordinal;
  GHashTable *done; /* resource -> reference */
  GError *error;    /* the first */
} Writer;

static gboolean
has_row (sqlite3 *db, const char *sql, const char *sha256)
{
  sqlite3_stmt *statement = sp_book_prepare (db, sql);
  gboolean there = statement && sqlite3_bind_text (statement, 1, sha256, -1, SQLITE_STATIC) == SQLITE_OK
                   && sqlite3_step (statement) == SQLITE_ROW;
  sqlite3_finalize (statement);
  return there;
}

/* Nothing is written after the first failure: SQLite may have rolled back, and the rest would be written alone. */
static void
put_row (Writer *writer, const char *sql, const char *types, ...)
{
  va_list values;
  va_start (values, types);
  if (!writer->error && !sp_book_do_list (writer->db, sql, types, values))
    sp_book_fail_sql (writer->db, writer->path, &writer->error);
  va_end (values);
}

static void
note_use (Writer *writer, const char *sha256)
{
  put_row (writer, "INSERT OR IGNORE INTO used VALUES (?, ?)", "it", writer->ordinal, sha256);
}

static void
put_raw (Writer *writer, const char *name, GBytes *bytes, const char *sha256)
{
  if (!bytes) {
    if (!writer->error)
      sp_book_fail (&writer->error, SP_BOOK_ERROR_IO, name, _ ("this sweep has no file behind it that could be kept"));
    return;
  }
  if (!has_row (writer->db, "SELECT 1 FROM raw WHERE sha256 = ?", sha256))
    put_row (writer, "INSERT INTO raw VALUES (?, ?)", "tb", sha256, bytes);
  note_use (writer, sha256);
}

static void
put_picture (Writer *writer, const SpPicture *picture)
{
  put_raw (writer, picture->file, picture->bytes, picture->sha256);
}

/* Refuses to write a text that could not be read again. */
static gboolean
check_text (Writer *writer, const char *text)
{
  g_autoptr (GError) cause = NULL;
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), "", &cause);
  if (!file && !writer->error)
    sp_book_fail (&writer->error, SP_BOOK_ERROR_IO, writer->path, _ ("this cannot be kept: %s"), cause->message);
  return file != NULL;
}

static void
put_text (Writer *writer, const char *kind, const char *text, const char *sha256)
{
  if (!has_row (writer->db, "SELECT 1 FROM part WHERE sha256 = ?", sha256) && check_text (writer, text))
    put_row (writer, "INSERT INTO part VALUES (?, ?, ?)", "ttt", sha256, kind, text);
  note_use (writer, sha256);
}

static char *
put_resource (gpointer data, SpResourceKind kind, gconstpointer resource)
{
  Writer *writer = data;
  const char *done = g_hash_table_lookup (writer->done, resource);
  if (done)
    return g_strdup (done);
  char *reference = sp_book_reference (kind, resource);
  g_autofree char *sha256 = g_strndup (reference, SHA_LENGTH), *text = text_of (kind, resource);
  g_hash_table_insert (writer->done, (gpointer) resource, g_strdup (reference));
  if (text)
    put_text (writer, kind_of (kind, resource), text, sha256);
  else if (kind == SP_RESOURCE_PICTURE)
    put_picture (writer, resource);
  else
    put_raw (writer, ((const SpTrace *) resource)->file, ((const SpTrace *) resource)->raw, sha256);
  if (kind == SP_RESOURCE_DOCUMENT && ((const SpDocument *) resource)->letterhead)
    put_picture (writer, ((const SpDocument *) resource)->letterhead);
  const SpChain *chain = kind == SP_RESOURCE_CHAIN ? resource : NULL;
  for (guint i = 0; chain && i < chain->n; i++) {
    g_autoptr (GArray) files = sp_stage_files (chain->stages[i]);
    for (guint k = 0; k < files->len; k++) {
      const SpStageFile *file = &g_array_index (files, SpStageFile, k);
      put_raw (writer, file->name, file->bytes, file->sha256);
    }
  }
  return reference;
}

gboolean
sp_book_put_state (sqlite3 *db, const char *path, const SpState *state, gint64 ordinal, GError **error)
{
  g_autoptr (GHashTable) done = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  Writer writer = { db, path, ordinal, done, NULL };
  g_autofree char *sheet = sp_bench_sheet_text (state->bench, put_resource, &writer);
  g_autofree char *sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, sheet, -1);
  if (check_text (&writer, sheet))
    put_row (&writer, "INSERT INTO state VALUES (?, ?, ?, ?)", "ittt", ordinal, state->label, sheet, sha256);
  if (writer.error)
    g_propagate_error (error, writer.error);
  return !writer.error;
}

/* ---- reading ---- */

typedef struct {
  sqlite3 *db;
  const char *path;
  GHashTable *resources; /* kind, reference and options -> resource (not owned) */
  GHashTable *raw;       /* SHA-256 -> GBytes */
} Reader;

static char *
resource_id (SpResourceKind kind, const char *reference, const char *options)
{
  return g_strdup_printf ("%d:%s?%s", kind, reference, options ? options : "");
}

/* Maps every resource of an existing bench by its reference. */
static char *
note_resource (gpointer data, SpResourceKind kind, gconstpointer resource)
{
  Reader *reader = data;
  const SpTrace *trace = kind == SP_RESOURCE_TRACE ? resource : NULL;
  char *reference = sp_book_reference (kind, resource);
  g_hash_table_insert (reader->resources, resource_id (kind, reference, trace ? trace->options : NULL), (gpointer) resource);
  if (trace && trace->raw)
    g_hash_table_insert (reader->raw, g_strdup (sp_trace_sha256 (trace)), g_bytes_ref (trace->raw));
  return reference;
}

/* The row of a hash as "value, kind", with the value verified. NULL and an error. (transfer full) */
static GBytes *
get_row (Reader *reader, const char *sql, const char *sha256, char **kind, GError **error)
{
  sqlite3_stmt *statement = sp_book_prepare (reader->db, sql);
  GBytes *value = NULL;
  if (statement && sqlite3_bind_text (statement, 1, sha256, -1, SQLITE_STATIC) == SQLITE_OK && sqlite3_step (statement) == SQLITE_ROW) {
    const void *data = sqlite3_column_blob (statement, 0);
    value = g_bytes_new (data, (gsize) sqlite3_column_bytes (statement, 0));
    if (kind)
      *kind = g_strdup ((const char *) sqlite3_column_text (statement, 1));
  }
  sqlite3_finalize (statement);
  if (!value)
    sp_fail (error, SP_ERROR_INPUT, _ ("what is called %.8s... is not in the book"), sha256);
  return value;
}

static gboolean
check_hash (char *got, const char *want, GError **error)
{
  g_autofree char *hash = got;
  return strcmp (hash, want) == 0 || sp_fail (error, SP_ERROR_INPUT, _ ("what is called %.8s... is not what was put in"), want);
}

static GBytes *
get_raw (Reader *reader, const char *sha256, GError **error)
{
  GBytes *bytes = g_hash_table_lookup (reader->raw, sha256);
  if (bytes)
    return bytes;
  bytes = get_row (reader, "SELECT bytes FROM raw WHERE sha256 = ?", sha256, NULL, error);
  if (!bytes)
    return NULL;
  g_hash_table_insert (reader->raw, g_strdup (sha256), bytes);
  return check_hash (sp_sha256 (bytes), sha256, error) ? bytes : NULL;
}

/* (transfer full) */
static char *
get_text (Reader *reader, const char *sha256, char **kind, GError **error)
{
  g_autoptr (GBytes) bytes = get_row (reader, "SELECT text, kind FROM part WHERE sha256 = ?", sha256, kind, error);
  if (!bytes)
    return NULL;
  g_autofree char *text = g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  return check_hash (hash_of (*kind ? *kind : "", text), sha256, error) ? g_steal_pointer (&text) : NULL;
}

/* Splits "SHA256/NAME". */
static gboolean
split (const char *reference, char **sha256, const char **name, GError **error)
{
  gsize length = strspn (reference, "0123456789abcdef");
  if (length != SHA_LENGTH || reference[length] != '/' || !reference[length + 1])
    return sp_fail (error, SP_ERROR_INPUT, _ ("“%.80s” is no name that a bench book gives"), reference);
  *sha256 = g_strndup (reference, SHA_LENGTH);
  *name = reference + SHA_LENGTH + 1;
  return TRUE;
}

static SpTwoPort *
find_two_port (gpointer data, const char *reference, GError **error)
{
  g_autofree char *sha256 = NULL;
  const char *name = NULL;
  GBytes *bytes = split (reference, &sha256, &name, error) ? get_raw (data, sha256, error) : NULL;
  return bytes ? sp_two_port_parse (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), name, error) : NULL;
}

static SpRun *
find_run (gpointer data, const char *reference, GError **error)
{
  g_autofree char *sha256 = NULL;
  const char *name = NULL;
  GBytes *bytes = split (reference, &sha256, &name, error) ? get_raw (data, sha256, error) : NULL;
  return bytes ? sp_run_parse_bytes (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), name, FALSE, error) : NULL;
}

static SpPicture *
find_picture (gpointer data, const char *reference, GError **error)
{
  g_autofree char *sha256 = NULL;
  const char *name = NULL;
  GBytes *bytes = split (reference, &sha256, &name, error) ? get_raw (data, sha256, error) : NULL;
  return bytes ? sp_picture_parse (bytes, name, error) : NULL;
}

static gpointer
read_text_resource (Reader *reader, SpResourceKind kind, const char *sha256, const char *name, GError **error)
{
  g_autofree char *stored = NULL, *text = get_text (reader, sha256, &stored, error);
  if (!text)
    return NULL;
  gboolean built_in = strcmp (stored, built_in_mask) == 0;
  if (strcmp (stored, kind_names[kind]) != 0 && !(built_in && kind == SP_RESOURCE_MASK)) {
    sp_fail (error, SP_ERROR_INPUT, _ ("found a %s called %s; expected a %s"), stored, name, kind_names[kind]);
    return NULL;
  }
  if (kind == SP_RESOURCE_MASK)
    return sp_mask_restore (text, name, built_in, error);
  SpPictureSource pictures = { find_picture, reader };
  if (kind == SP_RESOURCE_DOCUMENT)
    return sp_document_parse (text, strlen (text), name, &pictures, error);
  g_autoptr (SpKeyFile) file = sp_key_file_parse (text, strlen (text), name, error);
  SpTwoPorts ports = { find_two_port, reader, find_run, FALSE, find_picture };
  if (!file)
    return NULL;
  return kind == SP_RESOURCE_CHAIN ? (gpointer) sp_chain_parse_with (file, &ports, error) : (gpointer) sp_analyzer_parse (file, error);
}

static gpointer
find_resource (gpointer data, SpResourceKind kind, const char *reference, const SpTraceOptions *options, GError **error)
{
  Reader *reader = data;
  g_autofree char *text = options ? sp_trace_options_text (options) : NULL, *id = resource_id (kind, reference, text), *sha256 = NULL;
  const char *name = NULL;
  gpointer resource = g_hash_table_lookup (reader->resources, id);
  if (resource)
    return sp_resource_ref (kind, resource);
  if (!split (reference, &sha256, &name, error))
    return NULL;
  if (kind != SP_RESOURCE_TRACE && kind != SP_RESOURCE_PICTURE)
    return read_text_resource (reader, kind, sha256, name, error);
  GBytes *bytes = get_raw (reader, sha256, error);
  if (!bytes)
    return NULL;
  return kind == SP_RESOURCE_PICTURE ? (gpointer) sp_picture_parse (bytes, name, error)
                                     : (gpointer) sp_trace_read_bytes (bytes, name, options, error);
}

/* NULL: missing or changed. (transfer full) */
static char *
get_sheet (sqlite3 *db, gint64 ordinal)
{
  sqlite3_stmt *statement = sp_book_prepare (db, "SELECT sheet, sha256 FROM state WHERE ordinal = ?");
  g_autofree char *sheet = NULL, *want = NULL, *got = NULL;
  if (statement && sqlite3_bind_int64 (statement, 1, ordinal) == SQLITE_OK && sqlite3_step (statement) == SQLITE_ROW
      && sqlite3_column_bytes (statement, 0) <= SP_BOOK_SHEET_MAX) {
    sheet = g_strdup ((const char *) sqlite3_column_text (statement, 0));
    want = g_strdup ((const char *) sqlite3_column_text (statement, 1));
  }
  sqlite3_finalize (statement);
  if (sheet)
    got = g_compute_checksum_for_string (G_CHECKSUM_SHA256, sheet, -1);
  return got && g_strcmp0 (got, want) == 0 ? g_steal_pointer (&sheet) : NULL;
}

SpBench *
sp_book_get_bench (sqlite3 *db, const char *path, gint64 ordinal, const SpBench *like, GError **error)
{
  g_autoptr (GHashTable) resources = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GHashTable) raw = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_bytes_unref);
  Reader reader = { db, path, resources, raw };
  SpResources source = { find_resource, &reader };
  g_autoptr (GError) cause = NULL;
  g_autofree char *sheet = get_sheet (db, ordinal), *unused = like ? sp_bench_sheet_text (like, note_resource, &reader) : NULL;
  g_autoptr (SpKeyFile) file = sheet ? sp_key_file_parse (sheet, strlen (sheet), path, &cause) : NULL;
  SpBench *bench = file ? sp_bench_parse (file, &source, &cause) : NULL;
  if (!bench)
    sp_book_fail_damaged (error, path, cause ? cause->message : _ ("a bench is not what was put in"));
  return bench;
}
