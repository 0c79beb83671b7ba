/* book.c - a bench book with some of its bytes changed, opened, stepped through and unpacked. The input is a list of changes: where (four bytes,
 * lowest first), how many bytes (one), those bytes. So most of it stays a database whose schema is ours, which plain bytes would never be; an input that
 * begins as a database does is the whole file. What is refused, and what is unpacked, is not written. */
#include "core/book/book.h"
#include "tests/fuzz/fuzz.h"

#include <glib/gstdio.h>
#include <string.h>

#define MAGIC "SQLite format 3" /* and the nought behind it */

static char *folder, *sound, *damaged;
static gsize sound_length;

static char *
place (const char *name)
{
  return g_build_filename (folder, name, NULL);
}

static void
put (const char *name, const char *text)
{
  g_autofree char *path = place (name);
  FUZZ_MUST (g_file_set_contents (path, text, -1, NULL));
}

/* Without following links: what is in a book may not make any. */
static void
remove_all (const char *path)
{
  g_autoptr (GDir) dir = g_file_test (path, G_FILE_TEST_IS_SYMLINK) ? NULL : g_dir_open (path, 0, NULL);

  for (const char *name; dir && (name = g_dir_read_name (dir));) {
    g_autofree char *below = g_build_filename (path, name, NULL);
    remove_all (below);
  }
  g_remove (path);
}

static void
clean_up (void)
{
  remove_all (folder);
}

/* A book of two states. */
static void
make_book (void)
{
  g_autoptr (GError) error = NULL;

  folder = g_dir_make_tmp ("fuzz-book-XXXXXX", &error);
  FUZZ_MUST (folder);
  atexit (clean_up);
  put ("a.chain", "[chain]\nname=Pad\nstages=pad\n\n[stage pad]\nkind=pad\nlabel_db=30\nrating_w=25\nspan=0 3GHz\n");
  put ("a.analyzer", "[analyzer]\nname=Small\ndamage_dbm=20\ndanl_dbm_hz=10MHz -150; 3GHz -140\n");
  put ("a.csv", "RBW,10 kHz\nFrequency (Hz),Level (dBm)\n100000000,-80\n146000000,0\n292000000,-70\n");
  put ("a.sheet", "[bench]\ntitle=Small\nchain=a.chain\nanalyzer=a.analyzer\nmask=us-amateur\n\n[radio Tolvane]\nrated_w=5\nkeyed=a.csv\n");
  g_autofree char *sheet = place ("a.sheet"), *path = place ("sound.benchbook");
  gboolean packed = sp_book_pack (sheet, path, &error);
  if (!packed)
    g_error ("%s", error->message);
  FUZZ_MUST (g_file_get_contents (path, &sound, &sound_length, NULL));
  damaged = place ("damaged.benchbook");
}

static char *
hash_of_damaged (void)
{
  g_autofree char *bytes = NULL;
  gsize length;

  FUZZ_MUST (g_file_get_contents (damaged, &bytes, &length, NULL));
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) bytes, length);
}

static gboolean
write_damaged (const uint8_t *data, size_t size)
{
  if (size >= sizeof MAGIC && memcmp (data, MAGIC, sizeof MAGIC) == 0)
    return g_file_set_contents (damaged, (const char *) data, (gssize) size, NULL);
  g_autofree char *bytes = g_memdup2 (sound, sound_length);

  while (size >= 6) {
    gsize at = ((gsize) data[0] | (gsize) data[1] << 8 | (gsize) data[2] << 16 | (gsize) data[3] << 24) % sound_length;
    gsize length = MIN (MIN ((gsize) data[4], size - 5), sound_length - at);
    memcpy (bytes + at, data + 5, length);
    data += 5 + length;
    size -= 5 + length;
  }
  return g_file_set_contents (damaged, bytes, (gssize) sound_length, NULL);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL, unpack_error = NULL;

  if (!folder)
    make_book ();
  FUZZ_MUST (write_damaged (data, size));
  g_autofree char *before = hash_of_damaged ();
  SpBook *book = sp_book_open (damaged, &error);
  FUZZ_MUST_ANSWER (book, error);
  FUZZ_MUST (!error || strstr (error->message, damaged));
  FUZZ_MUST (book || size >= 6);
  if (book) {
    FUZZ_MUST (sp_book_bench (book));
    while (sp_book_undo (book))
      ;
    sp_book_close (book);
  }
  g_autofree char *between = hash_of_damaged ();
  FUZZ_MUST (book || strcmp (before, between) == 0); /* one that opens is taken for writing: SQLite may put its header right */
  g_autofree char *out = place ("out");
  gboolean unpacked = sp_book_unpack (damaged, out, &unpack_error);
  FUZZ_MUST (unpacked == !unpack_error && (!unpack_error || *unpack_error->message));
  remove_all (out);
  g_autofree char *after = hash_of_damaged ();
  FUZZ_MUST (strcmp (between, after) == 0);
  return 0;
}
