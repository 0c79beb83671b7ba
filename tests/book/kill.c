/* kill.c - a process that edits and saves is killed at any moment: the book opens, is whole, and holds the old state or the new one */
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "tests/book/files.h"

#define KILLS 200

/* The hash of a bench about to be saved, or of one that is: one line each. */
static void
tell (int log, char what, const char *sha256)
{
  g_autofree char *line = g_strdup_printf ("%c%s\n", what, sha256);
  if (write (log, line, strlen (line)) < 0)
    _exit (3);
}

/* One edit after another until the end: titles, sweeps of some size in and out, undo. */
static void
edit_on (const char *path, int log, guint32 seed)
{
  GRand *rand = g_rand_new_with_seed (seed);
  SpBook *book = sp_book_open (path, NULL);
  if (!book)
    _exit (2);
  for (guint i = 0;; i++) {
    SpBench *now = sp_book_bench (book), *next = NULL;
    int what = g_rand_int_range (rand, 0, 4);
    if (what == 0 && now->conditions[0].n_sweeps > 2)
      next = sp_bench_remove_sweep (now, 0, 2, NULL);
    else if (what == 1) {
      GString *rows = g_string_new ("Frequency (Hz),Level (dBm)\n");
      for (guint k = 0; k < 3000; k++)
        g_string_append_printf (rows, "%u,-%u.%u\n", 1000 + k, 50 + k % 40, g_rand_int (rand) % 1000);
      GBytes *bytes = g_string_free_to_bytes (rows);
      SpTrace *trace = sp_trace_read_bytes (bytes, "random.csv", NULL, NULL);
      next = sp_bench_add_sweep (now, 0, SP_PURPOSE_KEYED, trace, NAN, NULL);
      sp_trace_unref (trace);
      g_bytes_unref (bytes);
    } else if (what == 2 && sp_book_undo (book))
      next = NULL;
    else {
      char degrees[32];
      g_snprintf (degrees, sizeof degrees, "%d", g_rand_int_range (rand, -50, 100));
      next = sp_bench_set (now, "temperature_c", degrees, NULL);
    }
    if (next)
      sp_book_edit (book, next, "Edit");
    g_clear_pointer (&next, sp_bench_unref);
    tell (log, '?', sp_book_bench (book)->sha256);
    if (!sp_book_save (book, NULL))
      _exit (4);
    tell (log, '=', sp_book_bench (book)->sha256);
  }
}

/* TRUE where the hash is that of the last save told as done, or of one begun after it. */
static gboolean
was_saved (const char *log, const char *sha256)
{
  g_auto (GStrv) lines = g_strsplit (log, "\n", -1);
  guint n = g_strv_length (lines), done = 0;
  for (guint i = 0; i < n; i++)
    if (lines[i][0] == '=')
      done = i;
  for (guint i = done; i < n; i++)
    if (lines[i][0] && strcmp (lines[i] + 1, sha256) == 0)
      return TRUE;
  return FALSE;
}

START_TEST (killed)
{
  make_folder ();
  g_autofree char *path = shelf_path ("a.benchbook"), *log_path = shelf_path ("log");
  g_autoptr (SpBench) bench = shelf_bench ();
  g_autoptr (SpBook) first = sp_book_new (bench);
  good (sp_book_save_as (first, path, &error));
  sp_book_close (g_steal_pointer (&first));
  g_autofree char *last = g_strdup (bench->sha256);
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  guint in_save = 0, moved = 0;
  for (guint i = 0; i < KILLS; i++) {
    int log = open (log_path, O_CREAT | O_TRUNC | O_RDWR | O_APPEND | O_CLOEXEC, 0600);
    tell (log, '=', last);
    pid_t child = fork ();
    ck_assert_int_ge (child, 0);
    if (child == 0)
      edit_on (path, log, i);
    g_usleep (g_rand_int_range (rand, 1000, 90000));
    kill (child, SIGKILL);
    int status;
    ck_assert_int_eq (waitpid (child, &status, 0), child);
    ck_assert_msg (WIFSIGNALED (status), "the child ended by itself with %d", WEXITSTATUS (status));
    close (log);
    g_autofree char *told = NULL;
    ck_assert (g_file_get_contents (log_path, &told, NULL, NULL));
    gsize length = strlen (told);
    const char *end = length > 66 ? told + length - 66 : told;
    in_save += *end == '?';

    g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
    ck_assert_msg (was_saved (told, sp_book_bench (book)->sha256), "kill %u: %s is none of\n%s", i, sp_book_bench (book)->sha256, told);
    moved += strcmp (last, sp_book_bench (book)->sha256) != 0;
    g_free (last);
    last = g_strdup (sp_book_bench (book)->sha256);
    sp_book_close (g_steal_pointer (&book));
    check_answer (path, "PRAGMA integrity_check", "ok");
  }
  /* Many kills struck during a save, and most children came to save something: else this shows nothing. */
  printf ("kills: %u, during a save: %u, after which the bench had moved: %u\n", KILLS, in_save, moved);
  ck_assert_uint_ge (in_save, KILLS / 20);
  ck_assert_uint_ge (moved, KILLS / 4);
  remove_folder ();
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("kill");
  TCase *c = tcase_create ("kill");
  tcase_set_timeout (c, 240);
  tcase_add_test (c, killed);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
