/* faults.c - the n-th write, sync, truncation, opening or deletion of a save fails, for every n: the book is whole, as before or as after, and goes on
 *
 * A VFS under SQLite's own (sqlite.org/vfs.html), which takes the place of the one that books are opened by. The failing stays or passes: a disk that is full, or
 * a fault of a moment. With SP_LONG every n of a save that is larger than SQLite's cache too, where it writes into the book before the end.
 */
#include <sys/stat.h>

#include "core/trace/read/read.h"
#include "tests/book/files.h"

/* ---- the faults ---- */

typedef enum { WRITE, SYNC, TRUNCATE, OPEN, DELETE, N_KINDS } Kind;

static struct {
  guint until; /* so many more go well; 0: this one fails */
  gboolean armed, stays;
  int code;        /* of a write */
  guint n, failed; /* seen and failed since armed */
} fault;

static sqlite3_vfs faulty, *of_system;

typedef struct {
  sqlite3_file base;
  sqlite3_file *real;
} File;

static gboolean
fails (void)
{
  if (!fault.armed)
    return FALSE;
  fault.n++;
  if (fault.until > 0) {
    fault.until--;
    return FALSE;
  }
  if (fault.failed > 0 && !fault.stays)
    return FALSE;
  fault.failed++;
  return TRUE;
}

/* by hand: one forwarded call a row */
/* clang-format off */
static sqlite3_file *real_of (sqlite3_file *file) { return ((File *) file)->real; }
/* clang-format on */

static int
close_file (sqlite3_file *file)
{
  sqlite3_file *real = real_of (file);
  int code = real->pMethods->xClose (real);
  g_free (real);
  return code;
}

/* by hand: one forwarded call a row */
/* clang-format off */
static int read_file (sqlite3_file *f, void *into, int n, sqlite3_int64 at) { return real_of (f)->pMethods->xRead (real_of (f), into, n, at); }
/* clang-format on */

static int
write_file (sqlite3_file *f, const void *from, int n, sqlite3_int64 at)
{
  if (!fails ())
    return real_of (f)->pMethods->xWrite (real_of (f), from, n, at);
  real_of (f)->pMethods->xWrite (real_of (f), from, n / 2, at); /* half of it came to be written */
  return fault.code;
}

/* by hand: one forwarded call a row */
/* clang-format off */
static int truncate_file (sqlite3_file *f, sqlite3_int64 n) { return fails () ? SQLITE_IOERR_TRUNCATE : real_of (f)->pMethods->xTruncate (real_of (f), n); }
static int sync_file (sqlite3_file *f, int how) { return fails () ? SQLITE_IOERR_FSYNC : real_of (f)->pMethods->xSync (real_of (f), how); }
static int size_file (sqlite3_file *f, sqlite3_int64 *n) { return real_of (f)->pMethods->xFileSize (real_of (f), n); }
static int lock_file (sqlite3_file *f, int how) { return real_of (f)->pMethods->xLock (real_of (f), how); }
static int unlock_file (sqlite3_file *f, int how) { return real_of (f)->pMethods->xUnlock (real_of (f), how); }
static int reserved_file (sqlite3_file *f, int *is) { return real_of (f)->pMethods->xCheckReservedLock (real_of (f), is); }
static int control_file (sqlite3_file *f, int what, void *data) { return real_of (f)->pMethods->xFileControl (real_of (f), what, data); }
static int sector_file (sqlite3_file *f) { return real_of (f)->pMethods->xSectorSize (real_of (f)); }
static int traits_file (sqlite3_file *f) { return real_of (f)->pMethods->xDeviceCharacteristics (real_of (f)); }
/* clang-format on */

static const sqlite3_io_methods methods = { 1,         close_file,  read_file,     write_file,   truncate_file, sync_file,  size_file,
                                            lock_file, unlock_file, reserved_file, control_file, sector_file,   traits_file };

static int
open_file (G_GNUC_UNUSED sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *out)
{
  file->pMethods = NULL;
  if (fails ())
    return SQLITE_CANTOPEN;
  File *ours = (File *) file;
  ours->real = g_malloc0 ((gsize) of_system->szOsFile);
  int code = of_system->xOpen (of_system, name, ours->real, flags, out);
  if (ours->real->pMethods)
    file->pMethods = &methods;
  else
    g_clear_pointer (&ours->real, g_free);
  return code;
}

/* by hand: one forwarded call a row */
/* clang-format off */
static int delete_file (G_GNUC_UNUSED sqlite3_vfs *v, const char *name, int s) { return fails () ? SQLITE_IOERR_DELETE : of_system->xDelete (of_system, name, s); }
static int find_file (G_GNUC_UNUSED sqlite3_vfs *v, const char *name, int how, int *is) { return of_system->xAccess (of_system, name, how, is); }
static int whole_name (G_GNUC_UNUSED sqlite3_vfs *v, const char *name, int n, char *out) { return of_system->xFullPathname (of_system, name, n, out); }
/* clang-format on */

static void
lay_faults (void)
{
  if (of_system)
    return;
  of_system = sqlite3_vfs_find ("unix-none");
  faulty = *of_system;
  faulty.szOsFile = sizeof (File);
  faulty.zName = "unix-none"; /* found before the one that it stands on */
  faulty.xOpen = open_file;
  faulty.xDelete = delete_file;
  faulty.xAccess = find_file;
  faulty.xFullPathname = whole_name;
  ck_assert_int_eq (sqlite3_vfs_register (&faulty, 0), SQLITE_OK);
}

static void
arm (guint until, gboolean stays, int code)
{
  fault.until = until;
  fault.stays = stays;
  fault.code = code;
  fault.n = fault.failed = 0;
  fault.armed = TRUE;
}

/* TRUE where one failed. */
static gboolean
disarm (void)
{
  fault.armed = FALSE;
  return fault.failed > 0;
}

/* ---- the saves ---- */

static char *path;
static char *sound; /* the bytes of a book of three states */
static gsize sound_length;
static SpBench *before, *large;

/* Nothing but the book stands there, it is sound, and nothing is in it twice or without a use. */
static void
check_whole (const char *what)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  for (const char *name; (name = g_dir_read_name (dir));)
    ck_assert_msg (!strstr (name, "benchbook") || strcmp (name, "a.benchbook") == 0, "%s: %s is left behind", what, name);
  check_answer (path, "PRAGMA integrity_check", "ok");
  g_autofree char *orphans = ask (path, "SELECT (SELECT count(*) FROM used WHERE state NOT IN (SELECT ordinal FROM state)"
                                        " OR (sha256 NOT IN (SELECT sha256 FROM raw) AND sha256 NOT IN (SELECT sha256 FROM part)))"
                                        " + (SELECT count(*) FROM raw WHERE sha256 NOT IN (SELECT sha256 FROM used))"
                                        " + (SELECT count(*) FROM part WHERE sha256 NOT IN (SELECT sha256 FROM used))");
  ck_assert_msg (strcmp (orphans, "0") == 0, "%s: %s rows of no use", what, orphans);
}

static void
set_up (void)
{
  lay_faults ();
  make_folder ();
  path = shelf_path ("a.benchbook");
  before = shelf_bench ();
  SpBook *book = sp_book_new (before);
  good (sp_book_save_as (book, path, &error));
  check_whole ("anew");
  for (guint i = 0; i < 2; i++) {
    g_autofree char *title = g_strdup_printf ("State %u", i);
    g_autoptr (SpBench) next = good_bench (sp_bench_set (before, "title", title, &error));
    sp_book_edit (book, next, title);
    good (sp_book_save (book, &error));
  }
  sp_bench_unref (before);
  before = sp_bench_ref (sp_book_bench (book));
  sp_book_close (book);
  ck_assert (g_file_get_contents (path, &sound, &sound_length, NULL));
  GString *rows = g_string_new ("Frequency (Hz),Level (dBm)\n");
  for (guint i = 0; i < 200000; i++)
    g_string_append_printf (rows, "%u,-%u.25\n", 1000 + i, 50 + i % 40);
  g_autoptr (GBytes) bytes = g_string_free_to_bytes (rows);
  g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, "large.csv", NULL, &error);
  large = good_bench (sp_bench_add_sweep (before, 0, SP_PURPOSE_KEYED, trace, NAN, &error));
}

static void
tear_down (void)
{
  g_clear_pointer (&path, g_free);
  g_clear_pointer (&sound, g_free);
  g_clear_pointer (&before, sp_bench_unref);
  g_clear_pointer (&large, sp_bench_unref);
  remove_folder ();
}

/* What is saved: a small edit, one that forgets states, one that only goes back, one larger than SQLite's cache. */
typedef enum { SMALL, FORGETFUL, BACK, LARGE, N_EDITS } Edit;

static void
make_edit (SpBook *book, Edit edit)
{
  g_autoptr (SpBench) next = NULL;
  if (edit == FORGETFUL || edit == BACK)
    ck_assert (sp_book_undo (book));
  if (edit == BACK)
    return;
  next = edit == LARGE ? sp_bench_ref (large) : good_bench (sp_bench_set (sp_book_bench (book), "operator", "somebody else", &error));
  sp_book_edit (book, next, "Edit");
}

/* One save with a fault at `n`; FALSE where it never came to it. */
static gboolean
save_with_fault (Edit edit, guint n, gboolean stays, int code, gboolean again)
{
  g_autofree char *what = g_strdup_printf ("edit %u, operation %u%s, code %d%s", edit, n, stays ? " and all after" : "", code,
                                           again ? ", again" : "");
  ck_assert (g_file_set_contents (path, sound, (gssize) sound_length, NULL));
  SpBook *book = good_book (sp_book_open (path, &error));
  make_edit (book, edit);
  g_autofree char *wanted = g_strdup (sp_book_bench (book)->sha256);
  arm (n, stays, code);
  gboolean saved = sp_book_save (book, &error), came = disarm ();
  ck_assert_msg (saved == !error && saved == !sp_book_unsaved (book), "%s", what);
  ck_assert_msg (saved || (error->domain == SP_BOOK_ERROR && error->code != SP_BOOK_ERROR_DAMAGED && error->code != SP_BOOK_ERROR_GONE),
                 "%s: %s", what, saved ? "" : error->message);
  ck_assert_msg (saved || code != SQLITE_FULL || !strstr (error->message, "not an error"), "%s: %s", what, saved ? "" : error->message);
  g_clear_error (&error);
  ck_assert_str_eq (sp_book_bench (book)->sha256, wanted);
  if (again) {
    good (sp_book_save (book, &error)); /* the fault has passed */
    saved = TRUE;
  }
  sp_book_close (book); /* a journal may be left, by which the next opening repairs the book */
  book = good_book (sp_book_open (path, &error));
  const char *got = sp_book_bench (book)->sha256;
  ck_assert_msg (strcmp (got, wanted) == 0 || (!saved && strcmp (got, before->sha256) == 0), "%s: %s", what,
                 saved ? "told as saved" : "neither");
  while (sp_book_undo (book))
    ;
  ck_assert_ptr_null (sp_book_undo_label (book));
  sp_book_close (book);
  check_whole (what);
  return came;
}

static gboolean
is_long (void)
{
  return g_getenv ("SP_LONG") != NULL;
}

START_TEST (each_fails)
{
  guint tried = 0;
  for (guint edit = 0; edit < N_EDITS; edit++)
    for (guint stays = 0; stays < 2; stays++)
      for (guint again = 0; again < 2; again++)
        for (guint code = 0; code < 2; code++) {
          guint step = edit == LARGE && !is_long () ? 251 : 1, n = 0;
          while (save_with_fault ((Edit) edit, n, stays, code ? SQLITE_FULL : SQLITE_IOERR_WRITE, again))
            n += n < 12 ? 1 : step; /* the first ones are the journal's beginning */
          ck_assert_uint_gt (n, 5);
          tried += n;
        }
  printf ("faults in saves: up to operation %u tried one by one%s\n", tried, is_long () ? "" : ", the long save's in steps");
}
END_TEST

/* Opening, and taking an old book's place. */
START_TEST (opening_fails)
{
  guint n_open = 0, n_other = 0;
  g_autofree char *other = shelf_path ("other.benchbook");
  for (gboolean came = TRUE; came; n_open++) {
    ck_assert (g_file_set_contents (path, sound, (gssize) sound_length, NULL));
    arm (n_open, TRUE, SQLITE_IOERR_WRITE);
    SpBook *book = sp_book_open (path, &error);
    came = disarm ();
    ck_assert (!book == !!error);
    g_clear_error (&error);
    sp_book_close (book);
    check_whole ("opening");
    g_autofree char *bytes = NULL;
    gsize length;
    ck_assert (g_file_get_contents (path, &bytes, &length, NULL) && length == sound_length && memcmp (bytes, sound, length) == 0);
  }
  for (gboolean came = TRUE; came; n_other++) {
    SpBook *book = good_book (sp_book_open (path, &error));
    make_edit (book, SMALL);
    arm (n_other, TRUE, SQLITE_IOERR_WRITE);
    gboolean saved = sp_book_save_as (book, other, &error);
    came = disarm ();
    ck_assert (saved == !error && strcmp (sp_book_path (book), saved ? other : path) == 0);
    g_clear_error (&error);
    good (sp_book_save (book, &error));
    sp_book_close (book);
    g_unlink (other);
    ck_assert (g_file_set_contents (path, sound, (gssize) sound_length, NULL));
  }
  printf ("faults in opening: %u, in saving as: %u\n", n_open, n_other);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("faults");
  TCase *c = tcase_create ("faults");
  tcase_set_timeout (c, is_long () ? 3000 : 240);
  tcase_add_checked_fixture (c, set_up, tear_down);
  tcase_add_test (c, each_fails);
  tcase_add_test (c, opening_fails);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
