/* kill.c - a process that edits, saves, packs and unpacks is killed at every one of its events: each file holds what it held or what was to come */
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "core/bench/sheet/sheet.h"
#include "core/trace/read/read.h"
#include "tests/book/files.h"
#include "tests/faults/victim.h"

static char *shelf_copy; /* what each round begins with */
static int told;         /* the child's log: one line for each save begun and each one done */

/* ---- the child ---- */

/* "?FILE HASH": about to be written; "=FILE HASH": told as saved. */
static void
tell (char what, const char *path, const char *sha256)
{
  g_autofree char *name = g_path_get_basename (path), *line = g_strdup_printf ("%c%s %s\n", what, name, sha256);
  if (write (told, line, strlen (line)) < 0)
    _exit (3);
}

static void
must (gboolean done)
{
  if (!done)
    _exit (4);
}

static void
save (SpBook *book)
{
  tell ('?', sp_book_path (book), sp_book_bench (book)->sha256);
  must (sp_book_save (book, NULL));
  tell ('=', sp_book_path (book), sp_book_bench (book)->sha256);
}

static void
save_as (SpBook *book, const char *path)
{
  tell ('?', path, sp_book_bench (book)->sha256);
  must (sp_book_save_as (book, path, NULL));
  tell ('=', path, sp_book_bench (book)->sha256);
}

static void
set (SpBook *book, const char *key, const char *value)
{
  g_autoptr (SpBench) next = sp_bench_set (sp_book_bench (book), key, value, NULL);
  must (next != NULL);
  sp_book_edit (book, next, "Edit");
}

/* An export of some pages. */
static void
import (SpBook *book, guint seed)
{
  GString *rows = g_string_new ("Frequency (Hz),Level (dBm)\n");
  for (guint i = 0; i < 3000; i++)
    g_string_append_printf (rows, "%u,-%u.%u\n", 1000 + i, 50 + i % 40, (i * 7919 + seed) % 1000);
  g_autoptr (GBytes) bytes = g_string_free_to_bytes (rows);
  g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, "made.csv", NULL, NULL);
  g_autoptr (SpBench) next = sp_bench_add_sweep (sp_book_bench (book), 0, SP_PURPOSE_KEYED, trace, NAN, NULL);
  must (next != NULL);
  sp_book_edit (book, next, "Import");
}

/* Every way in which a book is written. */
static void
work (void)
{
  g_autofree char *a = shelf_path ("a.benchbook"), *b = shelf_path ("b.benchbook"), *c = shelf_path ("c.benchbook"),
                  *p = shelf_path ("p.benchbook");
  g_autofree char *sheet = shelf_path ("night.sheet"), *out = shelf_path ("out");
  SpBook *book = sp_book_open (a, NULL);
  must (book != NULL);
  import (book, 1);
  save (book);
  set (book, "temperature_c", "3");
  set (book, "temperature_c", "4");
  save (book);
  must (sp_book_undo (book));
  must (sp_book_undo (book));
  save (book);
  import (book, 2); /* what was undone is forgotten, its bytes with it */
  save (book);
  save_as (book, b);
  set (book, "place", "Elsewhere");
  save (book);
  save_as (book, c); /* over another book */
  set (book, "place", "Nowhere");
  save (book);
  sp_book_close (book);
  g_autoptr (SpBench) bench = sp_bench_read (sheet, &error);
  if (!bench)
    g_error ("%s", error->message);
  tell ('?', p, bench->sha256);
  must (sp_book_pack (sheet, p, NULL));
  tell ('=', p, bench->sha256);
  must (sp_book_unpack (p, out, NULL));
}

/* A program of its own: threads of the parent's are not in a fork. */
static int
be_victim (char **arguments)
{
  folder = g_strdup (arguments[1]);
  told = atoi (arguments[4]);
  victim_arm (folder, (guint) atoi (arguments[2]), atoi (arguments[3]));
  work ();
  g_autofree char *line = g_strdup_printf ("#%u", victim_events ());
  must (write (told, line, strlen (line)) > 0);
  return 0;
}

/* ---- the parent ---- */

/* TRUE where the file may hold it: the last that was told as saved, or one begun after it. NULL: may there be no file? */
static gboolean
may_hold (char **lines, const char *name, const char *sha256)
{
  g_autofree char *done = g_strdup_printf ("=%s ", name), *begun = g_strdup_printf ("?%s ", name);
  gboolean may = sha256 == NULL;
  for (; *lines; lines++) {
    if (g_str_has_prefix (*lines, done))
      may = g_strcmp0 (*lines + strlen (done), sha256) == 0;
    else if (g_str_has_prefix (*lines, begun))
      may |= g_strcmp0 (*lines + strlen (begun), sha256) == 0;
  }
  return may;
}

/* Every row is of a state that is there, and names what is there. */
static const char orphans[] = "SELECT (SELECT count(*) FROM used WHERE state NOT IN (SELECT ordinal FROM state)"
                              " OR (sha256 NOT IN (SELECT sha256 FROM raw) AND sha256 NOT IN (SELECT sha256 FROM part)))"
                              " + (SELECT count(*) FROM raw WHERE sha256 NOT IN (SELECT sha256 FROM used))"
                              " + (SELECT count(*) FROM part WHERE sha256 NOT IN (SELECT sha256 FROM used))";

static void
check_book (const char *name, char **lines, const char *when)
{
  g_autofree char *path = shelf_path (name), *journal = g_strconcat (path, "-journal", NULL);
  if (!g_file_test (path, G_FILE_TEST_EXISTS)) {
    ck_assert_msg (may_hold (lines, name, NULL), "%s: %s is gone", when, name);
    return;
  }
  SpBook *book = sp_book_open (path, &error);
  ck_assert_msg (book != NULL, "%s: %s", when, error ? error->message : "");
  ck_assert_msg (may_hold (lines, name, sp_book_bench (book)->sha256), "%s: %s holds %s", when, name, sp_book_bench (book)->sha256);
  while (sp_book_undo (book))
    ;
  ck_assert_msg (!sp_book_undo_label (book), "%s: %s: an older state cannot be read", when, name);
  sp_book_close (book);
  ck_assert_msg (!g_file_test (journal, G_FILE_TEST_EXISTS), "%s: %s is left", when, journal);
  check_answer (path, "PRAGMA integrity_check", "ok");
  check_answer (path, orphans, "0");
}

/* What may stand there after the books were opened again: as before, the new ones, and one of each file written beside. */
static void
check_leftovers (const char *when)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint beside = 0;
  for (const char *name; (name = g_dir_read_name (dir));) {
    g_autofree char *before = g_build_filename (shelf_copy, name, NULL);
    if (g_str_has_prefix (name, ".spurproof-"))
      beside++;
    else
      ck_assert_msg (g_file_test (before, G_FILE_TEST_EXISTS) || strcmp (name, "b.benchbook") == 0 || strcmp (name, "out") == 0,
                     "%s: %s is left", when, name);
  }
  ck_assert_msg (beside <= 1, "%s: %u files are left that were written beside", when, beside);
}

static void
copy_files (const char *from, const char *to)
{
  g_autoptr (GDir) dir = g_dir_open (from, 0, NULL);
  for (const char *name; (name = g_dir_read_name (dir));) {
    g_autofree char *source = g_build_filename (from, name, NULL), *target = g_build_filename (to, name, NULL), *bytes = NULL;
    gsize length;
    ck_assert (g_file_get_contents (source, &bytes, &length, NULL));
    FILE *stream = fopen (target, "wb");
    ck_assert (stream && fwrite (bytes, 1, length, stream) == length && fclose (stream) == 0);
  }
}

/* One child; its log, and TRUE where it came to the end. */
static gboolean
run_child (guint at, gboolean torn, char **log)
{
  g_autofree char *log_path = g_strconcat (shelf_copy, ".log", NULL);
  told = open (log_path, O_CREAT | O_TRUNC | O_RDWR | O_APPEND, 0600);
  for (guint i = 0; i < 3; i++) {
    g_autofree char *name = g_strdup_printf ("%c.benchbook", "acp"[i]), *path = shelf_path (name), *sha256 = NULL;
    g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
    tell ('=', path, sp_book_bench (book)->sha256);
  }
  pid_t child = fork ();
  ck_assert_int_ge (child, 0);
  if (child == 0) {
    g_autofree char *number = g_strdup_printf ("%u", at), *log_fd = g_strdup_printf ("%d", told);
    execl ("/proc/self/exe", "kill", folder, number, torn ? "1" : "0", log_fd, NULL);
    _exit (5);
  }
  int status;
  ck_assert_int_eq (waitpid (child, &status, 0), child);
  close (told);
  ck_assert (g_file_get_contents (log_path, log, NULL, NULL));
  ck_assert_msg (WIFSIGNALED (status) ? WTERMSIG (status) == SIGKILL : WEXITSTATUS (status) == 0, "event %u: the child ended with %d", at,
                 status);
  return !WIFSIGNALED (status);
}

/* TRUE where the child was killed. */
static gboolean
kill_at (guint at, gboolean torn)
{
  g_autofree char *when = g_strdup_printf ("killed at event %u%s", at, torn ? ", torn" : ""), *log = NULL;
  empty_folder (folder);
  g_mkdir (folder, 0700);
  copy_files (shelf_copy, folder);
  gboolean ended = run_child (at, torn, &log);
  g_auto (GStrv) lines = g_strsplit (log, "\n", -1);
  check_book ("a.benchbook", lines, when);
  check_book ("b.benchbook", lines, when);
  check_book ("c.benchbook", lines, when);
  check_book ("p.benchbook", lines, when);
  check_leftovers (when);
  if (ended)
    printf ("events: %s%s\n", strrchr (log, '#') + 1, torn ? ", writes torn" : "");
  return !ended;
}

static void
make_shelf (void)
{
  if (g_access ("/dev/shm", W_OK) == 0) /* a kill loses nothing of what was written: a disk would only be waited for */
    g_setenv ("TMPDIR", "/dev/shm", TRUE);
  make_folder ();
  g_autoptr (SpBench) bench = shelf_bench ();
  for (guint i = 0; i < 3; i++) {
    g_autofree char *name = g_strdup_printf ("%c.benchbook", "acp"[i]), *path = shelf_path (name);
    g_autoptr (SpBook) book = sp_book_new (bench);
    set (book, "title", name);
    good (sp_book_save_as (book, path, &error));
    set (book, "operator", "Somebody");
    good (sp_book_save (book, &error));
  }
  shelf_copy = g_dir_make_tmp ("shelf-copy-XXXXXX", NULL);
  copy_files (folder, shelf_copy);
}

static void
at_events (gboolean torn, guint step)
{
  make_shelf ();
  guint at = 1;
  while (kill_at (at, torn))
    at += step;
  ck_assert_uint_gt (at, 100); /* else nothing was counted */
  g_autofree char *log_path = g_strconcat (shelf_copy, ".log", NULL);
  g_remove (log_path);
  empty_folder (shelf_copy);
  remove_folder ();
}

START_TEST (killed)
{
  at_events (FALSE, 1);
}
END_TEST

START_TEST (killed_in_half_a_write)
{
  at_events (TRUE, g_getenv ("SP_LONG") ? 1 : 5);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("kill");
  TCase *c = tcase_create ("kill");
  tcase_set_timeout (c, 280);
  tcase_add_test (c, killed);
  tcase_add_test (c, killed_in_half_a_write);
  suite_add_tcase (s, c);
  return s;
}

int
main (int n, char **arguments)
{
  if (n == 5)
    return be_victim (arguments);
  SRunner *runner = srunner_create (suite ());
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}
