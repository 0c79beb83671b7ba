/* refused.c - files that are no bench book, a newer one, a damaged one, one that is open elsewhere: told apart, and never written */
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "tests/book/files.h"

static char *path; /* of a sound book with two states, made anew for each test */

static void
set_up (void)
{
  make_folder ();
  path = shelf_path ("a.benchbook");
  g_autoptr (SpBench) bench = shelf_bench ();
  g_autoptr (SpBench) next = good_bench (sp_bench_set (bench, "title", "Other", &error));
  g_autoptr (SpBook) book = sp_book_new (bench);
  good (sp_book_save_as (book, path, &error));
  sp_book_edit (book, next, "Title");
  good (sp_book_save (book, &error));
}

static void
tear_down (void)
{
  g_clear_pointer (&path, g_free);
  remove_folder ();
}

/* Refused with this code and these words, and every byte in the folder as it was. */
static void
check_refused (const char *what, const char *file, SpBookError code, const char *part)
{
  g_autofree char *before = snapshot ();
  g_autoptr (SpBook) book = sp_book_open (file, &error);
  ck_assert_msg (!book, "%s: opened", what);
  ck_assert_msg (g_error_matches (error, SP_BOOK_ERROR, code), "%s: %s", what, error->message);
  ck_assert_msg (strstr (error->message, part) && strstr (error->message, file), "%s: “%s” lacks “%s” or its name", what, error->message,
                 part);
  g_clear_error (&error);
  g_autofree char *after = snapshot ();
  ck_assert_msg (strcmp (before, after) == 0, "%s: something was written\n%s\n%s", what, before, after);
}

static void
set_bytes (const char *file, gsize at, const void *bytes, gsize length)
{
  FILE *stream = fopen (file, "r+b");
  ck_assert (stream && fseek (stream, (long) at, SEEK_SET) == 0 && fwrite (bytes, 1, length, stream) == length && fclose (stream) == 0);
}

START_TEST (not_a_book)
{
  g_autofree char *text = shelf_path ("k1.csv"), *none = shelf_path ("none.benchbook"), *empty = shelf_path ("empty.benchbook");
  g_autofree char *database = shelf_path ("other.db"), *pipe = shelf_path ("pipe"), *half = shelf_path ("half.benchbook");
  put ("empty.benchbook", "");
  put ("half.benchbook", "SQLite format 3");
  alter (database, "CREATE TABLE book (present INTEGER); PRAGMA user_version = 1");
  put ("other.db-journal", "\xd9\xd5\x05\xf9\x20\xa1\x63\xd7 a stranger's journal, which must not be played back");
  check_refused ("text", text, SP_BOOK_ERROR_FOREIGN, "not a bench book");
  check_refused ("missing", none, SP_BOOK_ERROR_IO, "cannot be opened");
  check_refused ("empty", empty, SP_BOOK_ERROR_FOREIGN, "is empty");
  check_refused ("half a head", half, SP_BOOK_ERROR_FOREIGN, "not a bench book");
  check_refused ("folder", folder, SP_BOOK_ERROR_FOREIGN, "is a folder");
  check_refused ("database", database, SP_BOOK_ERROR_FOREIGN, "not a bench book");
  ck_assert_int_eq (mkfifo (pipe, 0600), 0);
  ck_assert (!sp_book_open (pipe, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_FOREIGN));
  g_clear_error (&error);
  g_unlink (pipe);
  ck_assert (sp_book_is_one (path) && !sp_book_is_one (text) && !sp_book_is_one (none) && !sp_book_is_one (folder)
             && !sp_book_is_one (database));
}
END_TEST

START_TEST (versions)
{
  check_answer (path, "PRAGMA user_version", G_STRINGIFY (SP_BOOK_SCHEMA));
  check_answer (path, "PRAGMA application_id", "1399878255"); /* "Spro" */
  alter (path, "PRAGMA user_version = 2");
  check_refused ("newer", path, SP_BOOK_ERROR_NEWER, "version 2");
  ck_assert (sp_book_is_one (path));
  alter (path, "PRAGMA user_version = 0");
  check_refused ("none", path, SP_BOOK_ERROR_DAMAGED, "damaged");
  alter (path, "PRAGMA user_version = -5");
  check_refused ("negative", path, SP_BOOK_ERROR_DAMAGED, "damaged");
  alter (path, "PRAGMA user_version = 1");
  g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
}
END_TEST

/* Statements that a stranger could have run on a sound book. */
START_TEST (altered)
{
  static const char *const statements[] = {
    "CREATE TABLE more (a)",
    "CREATE VIEW more AS SELECT 1",
    "CREATE INDEX more ON state (label)",
    "CREATE TRIGGER more AFTER UPDATE ON book BEGIN DELETE FROM raw; END",
    "ALTER TABLE state ADD COLUMN more",
    "DROP TABLE used",
    "DROP TABLE state; CREATE VIEW state AS SELECT 1 AS ordinal, '' AS label, '' AS sheet",
    "DELETE FROM state",
    "DELETE FROM book",
    "UPDATE book SET present = 99",
    "UPDATE state SET ordinal = ordinal - 10",
    "UPDATE state SET sheet = 'nonsense'",
    "UPDATE state SET sheet = ''",
    "UPDATE state SET sheet = x'00ff'",
    "UPDATE state SET sheet = replace (sheet, '[bench]', '[bank]')",
    "UPDATE state SET sheet = replace (sheet, 'rule=simple', 'rule=lax')",
    "UPDATE state SET sheet = replace (sheet, '/a.chain', '')",
    "UPDATE state SET sheet = '[bench]' || char(10) || 'chain=/etc/passwd' || char(10)",
    "DELETE FROM raw",
    "DELETE FROM part",
    "UPDATE part SET text = replace (text, '30.5', '10.5')",
    "UPDATE part SET kind = 'mask'",
    "UPDATE part SET kind = 'analyzer' WHERE kind = 'chain'",
    "UPDATE raw SET bytes = replace (bytes, '-80', '-90')",
    "UPDATE raw SET bytes = x''",
    "UPDATE raw SET bytes = NULL WHERE 0; UPDATE raw SET sha256 = upper (sha256)",
    "UPDATE state SET sha256 = ''",
    "INSERT INTO state SELECT value, 'x', 'y', 'z' FROM (WITH RECURSIVE n (value) AS (SELECT 100 UNION ALL SELECT value + 1 FROM n LIMIT "
    "1000) SELECT value FROM n)",
    "PRAGMA journal_mode = WAL",
  };
  g_autofree char *sound = NULL;
  gsize length;
  ck_assert (g_file_get_contents (path, &sound, &length, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (statements); i++) {
    ck_assert (g_file_set_contents (path, sound, (gssize) length, NULL));
    alter (path, statements[i]);
    check_refused (statements[i], path, SP_BOOK_ERROR_DAMAGED, "damaged");
    if (!strstr (statements[i], "SET sheet"))
      continue;
    alter (path, "UPDATE state SET sha256 = sha256 (sheet)"); /* a stranger who knows how: the sheet's reader stands behind */
    check_refused (statements[i], path, SP_BOOK_ERROR_DAMAGED, "damaged");
  }
  ck_assert (g_file_set_contents (path, sound, (gssize) length, NULL));
  g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
}
END_TEST

START_TEST (cut_and_scribbled)
{
  g_autofree char *sound = NULL;
  gsize length;
  ck_assert (g_file_get_contents (path, &sound, &length, NULL));
  for (gsize keep = 0; keep < length; keep += length / 40) {
    ck_assert (g_file_set_contents (path, sound, (gssize) keep, NULL));
    check_refused ("cut", path, keep < 100 ? SP_BOOK_ERROR_FOREIGN : SP_BOOK_ERROR_DAMAGED, keep < 100 ? "bench book" : "damaged");
  }
  ck_assert (g_file_set_contents (path, sound, (gssize) length, NULL));
  set_bytes (path, 4096, "scribble", 8);
  check_refused ("scribbled", path, SP_BOOK_ERROR_DAMAGED, "damaged");
}
END_TEST

/* Any bytes changed: opened or refused, walked through and saved or not; never a crash. What is refused is not written. */
START_TEST (random_bytes)
{
  g_autofree char *sound = NULL;
  gsize length;
  guint opened = 0, refused = 0;
  g_autoptr (GRand) rand = g_rand_new_with_seed (21);
  ck_assert (g_file_get_contents (path, &sound, &length, NULL));
  for (guint i = 0; i < 400; i++) {
    g_autofree char *bytes = g_memdup2 (sound, length), *after = NULL;
    gsize length_after;
    for (int k = g_rand_int_range (rand, 1, 6); k > 0; k--)
      bytes[g_rand_int_range (rand, i % 2 ? 100 : 0, i % 4 ? 8192 : (int) length)] = (char) g_rand_int_range (rand, 0, 256);
    ck_assert (g_file_set_contents (path, bytes, (gssize) length, NULL));
    g_autoptr (SpBook) book = sp_book_open (path, &error);
    ck_assert ((book != NULL) == (error == NULL));
    if (book) {
      opened++;
      while (sp_book_undo (book))
        ;
      while (sp_book_redo (book))
        ;
      g_autoptr (SpBench) next = sp_bench_set (sp_book_bench (book), "title", "Still", NULL);
      if (next)
        sp_book_edit (book, next, "Still");
      sp_book_save (book, NULL);
      continue;
    }
    ck_assert_msg (error->domain == SP_BOOK_ERROR, "%s", error->message);
    g_clear_error (&error);
    refused++;
    ck_assert (g_file_get_contents (path, &after, &length_after, NULL));
    ck_assert (length_after == length && memcmp (after, bytes, length) == 0);
  }
  printf ("random bytes: %u opened, %u refused\n", opened, refused);
  ck_assert_uint_gt (opened, 20);
  ck_assert_uint_gt (refused, 20);
}
END_TEST

/* A state further back that cannot be read: there is no going there, and nothing else is lost. */
START_TEST (old_state_damaged)
{
  alter (path, "UPDATE state SET sheet = 'nonsense', sha256 = sha256 ('nonsense') WHERE ordinal = 1");
  g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
  ck_assert (sp_book_undo_label (book) && !sp_book_undo (book));
  ck_assert_str_eq (sp_book_bench (book)->title, "Other");
  ck_assert (!sp_book_unsaved (book));
}
END_TEST

START_TEST (locked)
{
  g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
  check_refused ("twice in one program", path, SP_BOOK_ERROR_LOCKED, "this program has");
  pid_t child = fork ();
  if (child == 0) {
    g_autoptr (GError) why = NULL;
    SpBook *second = sp_book_open (path, &why);
    _exit (!second && g_error_matches (why, SP_BOOK_ERROR, SP_BOOK_ERROR_LOCKED) ? 0 : 1); /* a fork knows its parent's list */
  }
  int status;
  ck_assert (waitpid (child, &status, 0) == child && WIFEXITED (status) && WEXITSTATUS (status) == 0);
  g_autoptr (SpBench) next = good_bench (sp_bench_set (sp_book_bench (book), "title", "Mine", &error));
  sp_book_edit (book, next, "Mine");
  good (sp_book_save (book, &error));
  check_refused ("after a save", path, SP_BOOK_ERROR_LOCKED, "this program has");
  sp_book_close (g_steal_pointer (&book));
  book = good_book (sp_book_open (path, &error));
  g_autofree char *journal = g_strconcat (path, "-journal", NULL);
  ck_assert (!g_file_test (journal, G_FILE_TEST_EXISTS));
}
END_TEST

/* In a process that may not write: the book is read, and saving says why it cannot. */
static int
read_without_right (void)
{
  g_autoptr (GError) why = NULL;
  if (geteuid () == 0 && (setgid (65534) != 0 || setuid (65534) != 0))
    return 1;
  SpBook *book = sp_book_open (path, &why);
  if (!book || strcmp (sp_book_bench (book)->title, "Other") != 0 || !sp_book_undo (book)) {
    g_printerr ("%s\n", why ? why->message : "another bench");
    return 2;
  }
  SpBench *next = sp_bench_set (sp_book_bench (book), "title", "Mine", NULL);
  sp_book_edit (book, next, "Mine");
  if (sp_book_save (book, &why) || !g_error_matches (why, SP_BOOK_ERROR, SP_BOOK_ERROR_IO) || !sp_book_unsaved (book))
    return 3;
  return 0;
}

START_TEST (read_only)
{
  ck_assert (g_chmod (folder, 0555) == 0 && g_chmod (path, 0444) == 0);
  g_autofree char *before = snapshot ();
  pid_t child = fork ();
  if (child == 0)
    _exit (read_without_right ());
  int status;
  ck_assert (waitpid (child, &status, 0) == child);
  ck_assert_msg (WIFEXITED (status) && WEXITSTATUS (status) == 0, "the child ended with %d", status);
  g_autofree char *after = snapshot ();
  ck_assert_str_eq (after, before);
  g_chmod (folder, 0755);
}
END_TEST

/* A book that an earlier program left with rows of states that never came to be: nothing is lost in it, so it opens; and forgetting forgets no bytes. */
START_TEST (uses_not_whole)
{
  static const char *const statements[] = { "UPDATE used SET state = state + 5", "UPDATE used SET sha256 = upper (sha256)",
                                            "INSERT INTO used VALUES (99, 'none')", "DELETE FROM used WHERE state = 2" };
  for (guint i = 0; i < G_N_ELEMENTS (statements); i++) {
    alter (path, statements[i]);
    g_autofree char *n = ask (path, "SELECT count(*) FROM raw");
    SpBook *book = good_book (sp_book_open (path, &error));
    for (guint k = 0; k < 3; k++) {
      g_autofree char *title = g_strdup_printf ("%u.%u", i, k);
      g_autoptr (SpBench) next = good_bench (sp_bench_set (sp_book_bench (book), "title", title, &error));
      sp_book_edit (book, next, title);
      good (sp_book_save (book, &error));
      ck_assert (sp_book_undo (book)); /* the next edit drops one, which the file forgets */
    }
    sp_book_close (book);
    check_answer (path, "SELECT count(*) FROM raw", n);
    book = good_book (sp_book_open (path, &error));
    while (sp_book_undo (book))
      ;
    ck_assert_ptr_null (sp_book_undo_label (book));
    sp_book_close (book);
    g_autoptr (SpBench) bench = shelf_bench ();
    g_unlink (path);
    g_autoptr (SpBook) anew = sp_book_new (bench);
    good (sp_book_save_as (anew, path, &error));
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("refused");
  TCase *c = tcase_create ("refused");
  tcase_set_timeout (c, 120);
  tcase_add_checked_fixture (c, set_up, tear_down);
  tcase_add_test (c, not_a_book);
  tcase_add_test (c, versions);
  tcase_add_test (c, altered);
  tcase_add_test (c, cut_and_scribbled);
  tcase_add_test (c, random_bytes);
  tcase_add_test (c, old_state_damaged);
  tcase_add_test (c, uses_not_whole);
  tcase_add_test (c, locked);
  tcase_add_test (c, read_only);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
