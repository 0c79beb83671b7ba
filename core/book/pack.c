/* pack.c - packs a sheet with all files it names into a book, and unpacks it */
#include "core/bench/sheet/sheet.h"
#include "core/book/book-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

/* Names come from outside: files are written only as DIR/bench.sheet or DIR/raw/NN-name, name without folders, and never over a file. */

gboolean
sp_book_pack (const char *sheet, const char *book_path, GError **error)
{
  if (sp_book_is_one (sheet))
    return sp_book_fail (error, SP_BOOK_ERROR_FOREIGN, sheet, _ ("this is a bench book already; expected a sheet"));
  g_autoptr (SpBench) bench = sp_bench_read (sheet, error);
  g_autoptr (SpBook) book = bench ? sp_book_new (bench) : NULL;
  return book && sp_book_save_as (book, book_path, error);
}

typedef struct {
  const char *folder;
  GHashTable *names; /* reference -> "NN-name" */
  GPtrArray *files;  /* written files, to be removed on failure */
  GError *error;     /* the first */
} Unpacker;

static void
write_file (Unpacker *unpacker, const char *relative, const void *bytes, gsize length)
{
  char *path = g_build_filename (unpacker->folder, relative, NULL);
  int fd = unpacker->error ? -1 : open (path, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
  const char *from = bytes;
  if (fd >= 0)
    g_ptr_array_add (unpacker->files, g_strdup (path));
  for (gssize put = 0; fd >= 0 && length > 0; from += put, length -= (gsize) put) {
    put = write (fd, from, length);
    if (put < 0 && errno != EINTR)
      break;
    put = MAX (put, 0);
  }
  if ((fd < 0 || length > 0 || fsync (fd) < 0) && !unpacker->error)
    sp_book_fail (&unpacker->error, SP_BOOK_ERROR_IO, path, _ ("cannot be written: %s"), g_strerror (errno));
  if (fd >= 0 && close (fd) < 0 && !unpacker->error)
    sp_book_fail (&unpacker->error, SP_BOOK_ERROR_IO, path, _ ("cannot be written: %s"), g_strerror (errno));
  g_free (path);
}

/* A plain file name, valid on every system. */
static char *
safe_name (const char *name)
{
  GString *out = g_string_new (NULL);
  g_autofree char *base = sp_book_base_name (name);
  for (const char *p = base; *p; p = g_utf8_next_char (p)) {
    gunichar c = g_utf8_get_char (p);
    g_string_append_unichar (out, g_unichar_isgraph (c) && !(c < 0x80 && strchr ("/\\:*?\"<>|#%;&[]", (int) c)) ? c : '_');
  }
  return g_string_free (out, FALSE);
}

/* "NN-name" of a reference; *is_new: nothing is written under it yet. (transfer none) */
static const char *
number (Unpacker *unpacker, const char *reference, gboolean *is_new)
{
  const char *known = g_hash_table_lookup (unpacker->names, reference);
  *is_new = !known;
  if (known)
    return known;
  g_autofree char *safe = safe_name (reference), *first = g_strdup_printf ("%02u-", g_hash_table_size (unpacker->names) + 1);
  /* A name from an earlier unpacking is kept. */
  char *name = g_str_has_prefix (safe, first) ? g_strdup (safe) : g_strconcat (first, safe, NULL);
  g_hash_table_insert (unpacker->names, g_strdup (reference), name);
  return name;
}

static char *
put_bytes (Unpacker *unpacker, const char *reference, GBytes *bytes)
{
  gboolean is_new;
  const char *name = number (unpacker, reference, &is_new);
  g_autofree char *relative = g_build_filename ("raw", name, NULL);
  if (!bytes && !unpacker->error)
    sp_book_fail (&unpacker->error, SP_BOOK_ERROR_IO, name, _ ("this sweep has no file behind it"));
  else if (is_new && bytes)
    write_file (unpacker, relative, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  return g_strdup (name);
}

/* A chain's file is beside the files that it names. */
static char *
put_stage_file (gpointer data, const SpStageFile *file)
{
  g_autofree char *base = sp_book_base_name (file->name);
  g_autofree char *reference = g_strconcat (file->sha256, "/", base, NULL);
  return put_bytes (data, reference, file->bytes);
}

/* An unchanged built-in mask is named, not written. */
static gboolean
is_known_mask (const SpMask *mask)
{
  if (mask->file || !g_strv_contains (sp_mask_names (), mask->name))
    return FALSE;
  g_autoptr (SpMask) now = sp_mask_load (mask->name, NULL);
  return now && strcmp (now->sha256, mask->sha256) == 0;
}

static char *
text_of (Unpacker *unpacker, SpResourceKind kind, gconstpointer resource)
{
  switch (kind) {
  case SP_RESOURCE_CHAIN: return sp_book_chain_text (resource, put_stage_file, unpacker);
  case SP_RESOURCE_ANALYZER: return g_strdup (((const SpAnalyzer *) resource)->text);
  case SP_RESOURCE_DOCUMENT: return sp_book_document_text (resource, put_stage_file, unpacker);
  default: return g_strdup (((const SpMask *) resource)->text);
  }
}

static char *
put_resource (gpointer data, SpResourceKind kind, gconstpointer resource)
{
  Unpacker *unpacker = data;
  g_autofree char *reference = sp_book_reference (kind, resource);
  gboolean is_new;
  if (kind == SP_RESOURCE_MASK && is_known_mask (resource))
    return g_strdup (((const SpMask *) resource)->name);
  if (kind == SP_RESOURCE_TRACE || kind == SP_RESOURCE_PICTURE) {
    GBytes *bytes = kind == SP_RESOURCE_TRACE ? ((const SpTrace *) resource)->raw : ((const SpPicture *) resource)->bytes;
    g_autofree char *file = put_bytes (unpacker, reference, bytes);
    return g_build_filename ("raw", file, NULL);
  }
  const char *name = number (unpacker, reference, &is_new);
  char *relative = g_build_filename ("raw", name, NULL);
  if (is_new) {
    g_autofree char *text = text_of (unpacker, kind, resource);
    write_file (unpacker, relative, text, strlen (text));
  }
  return relative;
}

/* A new or empty folder; *made: it is new. */
static gboolean
take_folder (const char *directory, gboolean *made, GError **error)
{
  g_autoptr (GDir) dir = NULL;
  *made = g_mkdir (directory, 0777) == 0;
  if (*made)
    return TRUE;
  if (errno != EEXIST)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, directory, _ ("cannot be made: %s"), g_strerror (errno));
  dir = g_dir_open (directory, 0, NULL);
  if (!dir)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, directory,
                         _ ("this is no folder that can be read; expected a new name or an empty folder"));
  return !g_dir_read_name (dir)
         || sp_book_fail (error, SP_BOOK_ERROR_IO, directory,
                          _ ("this folder is not empty; nothing in it was touched. Expected a new name or an empty folder"));
}

static void
unpack_bench (Unpacker *unpacker, const SpBench *bench)
{
  g_autofree char *raw = g_build_filename (unpacker->folder, "raw", NULL);
  if (g_mkdir (raw, 0777) < 0)
    sp_book_fail (&unpacker->error, SP_BOOK_ERROR_IO, raw, _ ("cannot be made: %s"), g_strerror (errno));
  g_autofree char *sheet = sp_bench_sheet_text (bench, put_resource, unpacker);
  write_file (unpacker, "bench.sheet", sheet, strlen (sheet));
  for (guint i = 0; unpacker->error && i < unpacker->files->len; i++)
    g_unlink (unpacker->files->pdata[i]);
  if (unpacker->error)
    g_rmdir (raw);
}

gboolean
sp_book_unpack (const char *book_path, const char *directory, GError **error)
{
  gboolean made;
  g_autoptr (SpBook) book = sp_book_look (book_path, error);
  if (!book || !take_folder (directory, &made, error))
    return FALSE;
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr (GPtrArray) files = g_ptr_array_new_with_free_func (g_free);
  Unpacker unpacker = { directory, names, files, NULL };
  unpack_bench (&unpacker, sp_book_bench (book));
  if (!unpacker.error)
    return TRUE;
  if (made)
    g_rmdir (directory);
  g_propagate_error (error, unpacker.error);
  return FALSE;
}
