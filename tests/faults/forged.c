/* forged.c - forged books are refused in words that name them, or read as what they were; looking changes no byte, and nothing takes long */
#include <sys/resource.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#include "tests/book/files.h"
#include "tests/faults/forge.h"

#define MOST_S 10 /* of processor time for one book, under a sanitizer too */
#define MOST_GROWTH_KB 400000
#define MOST_READ 50000000 /* a journal can make a book as long as it likes, with nothing in it */

static char *path;
static GPtrArray *sound;
static GHashTable *hashes; /* of every bench that a sound book holds */
static guint read_rightly, refused;
static double longest_s;

static gboolean
is_long (void)
{
  return g_getenv ("SP_LONG") != NULL;
}

static void
add_hash (SpBook *book)
{
  g_hash_table_add (hashes, g_strdup (sp_book_bench (book)->sha256));
}

/* Three states, and a fourth that was undone. */
static void
set_up (void)
{
  if (g_access ("/dev/shm", W_OK) == 0)
    g_setenv ("TMPDIR", "/dev/shm", TRUE);
  make_folder ();
  path = shelf_path ("forged.benchbook");
  hashes = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (SpBench) bench = shelf_bench ();
  g_autoptr (SpBook) book = sp_book_new (bench);
  add_hash (book);
  for (guint i = 0; i < 3; i++) {
    g_autofree char *degrees = g_strdup_printf ("%u", i);
    g_autoptr (SpBench) next = good_bench (sp_bench_set (sp_book_bench (book), "temperature_c", degrees, &error));
    sp_book_edit (book, next, "Edit");
    add_hash (book);
  }
  ck_assert (sp_book_undo (book));
  good (sp_book_save_as (book, path, &error));
  sp_book_close (g_steal_pointer (&book));
  sound = forge_sound (path);
  read_rightly = refused = 0;
  longest_s = 0;
}

static void
tear_down (void)
{
  printf ("forged books: %u refused, %u read as what they were; %.2f s the longest\n", refused, read_rightly, longest_s);
  g_clear_pointer (&sound, g_ptr_array_unref);
  g_clear_pointer (&hashes, g_hash_table_unref);
  g_clear_pointer (&path, g_free);
  remove_folder ();
}

/* Kinds, sizes and, of the small files, bytes of what stands in the folder; fifos are not opened. (transfer full) */
static char *
look_around (void)
{
  GString *all = g_string_new (NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  for (const char *name; (name = g_dir_read_name (dir));)
    g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, by_name);
  for (guint i = 0; i < names->len; i++) {
    g_autofree char *file = shelf_path (names->pdata[i]), *bytes = NULL;
    struct stat status;
    gsize length = 0;
    ck_assert_int_eq (lstat (file, &status), 0);
    if (S_ISREG (status.st_mode) && status.st_size < MOST_READ)
      ck_assert (g_file_get_contents (file, &bytes, &length, NULL));
    g_string_append_printf (all, "%s %o %" G_GINT64_FORMAT " ", (char *) names->pdata[i], status.st_mode, (gint64) status.st_size);
    g_autofree char *hash = bytes ? g_compute_checksum_for_data (G_CHECKSUM_MD5, (guchar *) bytes, length) : NULL;
    g_string_append_printf (all, "%s\n", hash ? hash : "");
  }
  return g_string_free (all, FALSE);
}

/* A book, and then a bench that was put in; or words that name the file. */
static void
check_answer_of (SpBook *book, const char *what)
{
  ck_assert_msg ((book != NULL) == (error == NULL), "%s: neither a book nor an error", what);
  if (!book) {
    ck_assert_msg (strstr (error->message, "forged.benchbook") != NULL, "%s: “%s” names no file", what, error->message);
    g_clear_error (&error);
    return;
  }
  ck_assert_msg (g_hash_table_contains (hashes, sp_book_bench (book)->sha256), "%s: a bench that nobody put in", what);
  while (sp_book_undo (book))
    ck_assert_msg (g_hash_table_contains (hashes, sp_book_bench (book)->sha256), "%s: an older bench that nobody put in", what);
  while (sp_book_redo (book))
    ck_assert_msg (g_hash_table_contains (hashes, sp_book_bench (book)->sha256), "%s: a later bench that nobody put in", what);
}

/* What was opened can be gone on with: it is saved, and then it is a sound one, or nothing changed. */
static void
go_on (SpBook *book, const char *what)
{
  g_autoptr (GError) why = NULL;
  g_autoptr (SpBench) next = good_bench (sp_bench_set (sp_book_bench (book), "note", "gone on with", &error));
  g_autofree char *old = g_strdup (sp_book_bench (book)->sha256), *new = g_strdup (next->sha256);
  sp_book_edit (book, next, "Go on");
  gboolean saved = sp_book_save (book, &why);
  ck_assert_msg (saved || strstr (why->message, "forged.benchbook"), "%s: “%s” names no file", what, saved ? "" : why->message);
  sp_book_close (book);
  book = sp_book_open (path, &error);
  ck_assert_msg (book || !saved, "%s: saved, and cannot be opened: %s", what, error ? error->message : "");
  if (book)
    ck_assert_msg (strcmp (sp_book_bench (book)->sha256, saved ? new : old) == 0 || !saved, "%s: saved, and holds something else", what);
  g_clear_error (&error);
  sp_book_close (book);
}

/* `beside`: a journal that is played back may change the file when it is opened to be edited. */
static void
check_forged (const char *what, gboolean beside)
{
  struct timespec begun, ended;
  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &begun);
  g_autofree char *before = look_around ();
  SpBook *looked = sp_book_look (path, &error);
  check_answer_of (looked, what);
  sp_book_close (looked);
  g_autofree char *after = look_around ();
  ck_assert_msg (strcmp (before, after) == 0, "%s: looking changed something:\n%s\n%s", what, before, after);
  SpBook *book = sp_book_open (path, &error);
  check_answer_of (book, what);
  g_autofree char *opened = look_around ();
  ck_assert_msg (book || beside || strcmp (before, opened) == 0, "%s: it was refused, and changed:\n%s\n%s", what, before, opened);
  refused += !book;
  read_rightly += book != NULL;
  if (book)
    go_on (book, what);
  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &ended);
  double took_s = (double) (ended.tv_sec - begun.tv_sec) + 1e-9 * (double) (ended.tv_nsec - begun.tv_nsec);
  longest_s = MAX (longest_s, took_s);
  ck_assert_msg (took_s < MOST_S, "%s: took %.1f s", what, took_s);
}

static void
remove_beside (void)
{
  static const char *const endings[] = { "-journal", "-wal", "-shm" };
  for (guint i = 0; i < G_N_ELEMENTS (endings); i++) {
    g_autofree char *beside = g_strconcat (path, endings[i], NULL);
    g_remove (beside);
  }
}

static void
lay (const char *bytes, gsize length)
{
  remove_beside ();
  FILE *stream = fopen (path, "wb");
  ck_assert (stream && fwrite (bytes, 1, length, stream) == length && fclose (stream) == 0);
}

static glong
most_memory_kb (void)
{
  struct rusage usage;
  getrusage (RUSAGE_SELF, &usage);
  return usage.ru_maxrss;
}

START_TEST (sound_ones_are_read)
{
  for (guint i = 0; i < sound->len; i++) {
    const Sound *one = sound->pdata[i];
    lay (one->bytes, one->length);
    check_forged (one->name, FALSE);
  }
  ck_assert_uint_eq (read_rightly, sound->len);
}
END_TEST

START_TEST (by_table_and_column)
{
  g_auto (GStrv) statements = forge_statements ();
  glong memory_kb = most_memory_kb ();
  for (guint i = 0; i < (is_long () ? sound->len : 1); i++)
    for (guint k = 0; statements[k]; k++) {
      const Sound *one = sound->pdata[i];
      g_autofree char *what = g_strdup_printf ("%s: %s", one->name, statements[k]);
      lay (one->bytes, one->length);
      forge_sql (path, statements[k]);
      check_forged (what, FALSE);
    }
  ck_assert_int_lt (most_memory_kb () - memory_kb, MOST_GROWTH_KB);
}
END_TEST

START_TEST (by_several_statements)
{
  g_auto (GStrv) statements = forge_statements ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  gint32 n = (gint32) g_strv_length (statements);
  for (guint i = 0; i < (is_long () ? 4000 : 60); i++) {
    const Sound *one = sound->pdata[g_rand_int_range (rand, 0, (gint32) sound->len)];
    g_autoptr (GString) what = g_string_new (one->name);
    lay (one->bytes, one->length);
    for (gint32 k = g_rand_int_range (rand, 2, 4); k > 0; k--) {
      const char *sql = statements[g_rand_int_range (rand, 0, n)];
      g_string_append_printf (what, "; %s", sql);
      forge_sql (path, sql);
    }
    check_forged (what->str, FALSE);
  }
}
END_TEST

START_TEST (by_page)
{
  glong memory_kb = most_memory_kb ();
  for (guint i = 0; i < (is_long () ? 40000 : 500); i++) {
    g_autoptr (GRand) rand = g_rand_new_with_seed (i);
    const Sound *one = sound->pdata[i % sound->len];
    gsize length;
    g_autofree char *what = g_strdup_printf ("%s, pages by seed %u", one->name, i), *bytes = forge_pages (one, rand, &length);
    lay (bytes, length);
    check_forged (what, FALSE);
  }
  ck_assert_int_lt (most_memory_kb () - memory_kb, MOST_GROWTH_KB);
}
END_TEST

START_TEST (by_what_stands_beside)
{
  g_autofree char *other = shelf_path ("k1.csv");
  for (guint i = 0; i < (is_long () ? 5000 : 200); i++) {
    g_autoptr (GRand) rand = g_rand_new_with_seed (i);
    const Sound *one = sound->pdata[i % sound->len];
    g_autofree char *what = g_strdup_printf ("%s, beside it by seed %u", one->name, i);
    lay (one->bytes, one->length);
    forge_beside (path, other, rand);
    check_forged (what, TRUE);
    ck_assert_msg (g_file_test (other, G_FILE_TEST_EXISTS), "%s: another file is gone", what);
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("forged");
  TCase *c = tcase_create ("forged");
  tcase_set_timeout (c, 3000);
  tcase_add_checked_fixture (c, set_up, tear_down);
  tcase_add_test (c, sound_ones_are_read);
  tcase_add_test (c, by_table_and_column);
  tcase_add_test (c, by_several_statements);
  tcase_add_test (c, by_page);
  tcase_add_test (c, by_what_stands_beside);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
