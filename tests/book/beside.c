/* beside.c - what stands beside a book and who has it open: journals of strangers, locks */
#include <fcntl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "core/book/book-private.h"
#include "tests/book/saved.h"

/* ---- journals ---- */

static void
append32 (GByteArray *bytes, guint32 number)
{
  number = GUINT32_TO_BE (number);
  g_byte_array_append (bytes, (guint8 *) &number, 4);
}

static const guint8 magic[] = { 0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7 };

/* A journal of no pages that names a super-journal, after SQLite's file format, section 3, and the comment before writeSuperJournal() in its pager.c. */
static void
lay_super_journal (const char *name)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  guint32 sum = 0;
  g_byte_array_append (bytes, magic, sizeof magic);
  append32 (bytes, 0);    /* records */
  append32 (bytes, 1);    /* nonce */
  append32 (bytes, 1);    /* pages of the book before */
  append32 (bytes, 512);  /* sector */
  append32 (bytes, 4096); /* page */
  while (bytes->len < 512)
    g_byte_array_append (bytes, (const guint8 *) "", 1);
  append32 (bytes, 0x40000000 / 4096 + 1); /* the page that is never used */
  g_byte_array_append (bytes, (const guint8 *) name, (guint) strlen (name));
  for (const char *c = name; *c; c++)
    sum += (guint32) *c;
  append32 (bytes, (guint32) strlen (name));
  append32 (bytes, sum);
  g_byte_array_append (bytes, magic, sizeof magic);
  ck_assert (g_file_set_contents (journal, (const char *) bytes->data, bytes->len, NULL));
}

/* By every way in: nothing is written, nothing deleted, and the message names the journal. */
static void
check_untouched (const char *what)
{
  g_autofree char *before = snapshot (), *out = shelf_path ("out");
  for (guint way = 0; way < 4; way++) {
    SpBook *book = way == 0 ? sp_book_open (path, &error) : way == 1 ? sp_book_look (path, &error) : NULL;
    SpBench *bench = way == 2 ? sp_bench_at (path, &error) : NULL;
    gboolean unpacked = way == 3 && sp_book_unpack (path, out, &error);
    ck_assert_msg (!book && !bench && !unpacked, "%s: way %u went through", what, way);
    ck_assert_msg (strstr (error->message, "a.benchbook-journal"), "%s: %s", what, error->message);
    g_clear_error (&error);
  }
  g_autofree char *after = snapshot ();
  ck_assert_msg (strcmp (before, after) == 0, "%s: was\n%s\nis\n%s", what, before, after);
}

/* What a kill leaves in the middle of a save. */
static void
leave_hot (void)
{
  pid_t child = fork ();
  if (child == 0) {
    sqlite3 *db;
    sqlite3_open (path, &db);
    sqlite3_exec (db,
                  "PRAGMA cache_size = 1; BEGIN; UPDATE state SET sheet = 'torn', label = zeroblob (400000); UPDATE part SET text = 'torn'",
                  NULL, NULL, NULL);
    sqlite3_db_cacheflush (db);
    _exit (0);
  }
  int status;
  struct stat file;
  ck_assert (waitpid (child, &status, 0) == child && status == 0);
  ck_assert (stat (journal, &file) == 0 && file.st_size > 0);
}

START_TEST (forged_journals)
{
  lay_super_journal (victim);
  check_untouched ("a super-journal's name");
  g_autofree char *other = shelf_path ("victim-journal");
  lay_super_journal (other);
  check_untouched ("one that ends like a journal");
  put ("a.benchbook-journal", "notes of mine");
  check_untouched ("no journal");
  g_unlink (journal);
  ck_assert_int_eq (symlink (victim, journal), 0);
  check_untouched ("a link");
  g_unlink (journal);
  ck_assert_int_eq (symlink ("nowhere", journal), 0);
  check_untouched ("a link to nowhere");
  g_unlink (journal);
  ck_assert_int_eq (mkdir (journal, 0700), 0);
  check_untouched ("a folder");
  g_rmdir (journal);
}
END_TEST

/* Through a link the book is the one it points at, and its journal stands beside that one. */
START_TEST (through_a_link)
{
  g_autofree char *below = shelf_path ("below"), *link = shelf_path ("below/link.benchbook");
  ck_assert (mkdir (below, 0700) == 0 && symlink (path, link) == 0);
  lay_super_journal (victim);
  ck_assert (!sp_book_open (link, &error) && strstr (error->message, "a.benchbook-journal"));
  g_clear_error (&error);
  ck_assert (!sp_book_look (link, &error) && g_file_test (victim, G_FILE_TEST_EXISTS));
  g_clear_error (&error);
  g_unlink (journal);
  g_autoptr (SpBook) book = good_book (sp_book_open (link, &error));
  ck_assert (!sp_book_open (path, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_LOCKED));
  g_clear_error (&error);
  edit (book, "Linked");
  good (sp_book_save (book, &error));
  g_unlink (path);
  put ("a.benchbook-journal", "of whoever is there now");
  edit (book, "Gone");
  ck_assert (!sp_book_save (book, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_GONE));
  g_clear_error (&error);
  sp_book_close (g_steal_pointer (&book));
  ck_assert (g_file_test (journal, G_FILE_TEST_EXISTS));
}
END_TEST

/* Journals with nothing against them but that they are not of this book: SQLite would cut the book to 20 pages, or lengthen it to 100,000. */
START_TEST (of_another_length)
{
  for (guint32 pages = 20; pages <= 100000; pages += 99980) {
    g_autoptr (GByteArray) bytes = g_byte_array_new ();
    g_byte_array_append (bytes, magic, sizeof magic);
    append32 (bytes, 0);
    append32 (bytes, 1);
    append32 (bytes, pages == 20 ? 2 : pages);
    append32 (bytes, 512);
    append32 (bytes, 4096);
    while (bytes->len < 512)
      g_byte_array_append (bytes, (const guint8 *) "", 1);
    ck_assert (g_file_set_contents (journal, (const char *) bytes->data, bytes->len, NULL));
    check_untouched ("another length");
  }
}
END_TEST

/* After a kill in the middle of a save somebody puts an earlier copy, or another book, in the place: the journal is not of that one. */
START_TEST (of_another_book)
{
  g_autofree char *earlier = NULL;
  gsize length;
  SpBook *book = good_book (sp_book_open (path, &error));
  edit (book, "Earlier");
  good (sp_book_save (book, &error));
  ck_assert (g_file_get_contents (path, &earlier, &length, NULL));
  for (guint i = 0; i < 30; i++) {
    g_autofree char *title = g_strdup_printf ("%u", i);
    edit (book, title);
  }
  good (sp_book_save (book, &error));
  sp_book_close (book);
  leave_hot ();
  ck_assert (g_file_set_contents (path, earlier, (gssize) length, NULL));
  check_untouched ("of another time");
  g_unlink (journal); /* as the message says */
  book = good_book (sp_book_open (path, &error));
  ck_assert_str_eq (sp_book_bench (book)->title, "Earlier");
  sp_book_close (book);
}
END_TEST

/* By itself: a snapshot would wait for the pipe's other end. */
START_TEST (pipe_beside)
{
  ck_assert_int_eq (mkfifo (journal, 0600), 0);
  ck_assert (!sp_book_open (path, &error) && strstr (error->message, "-journal"));
  g_clear_error (&error);
  ck_assert (!sp_book_look (path, &error) && strstr (error->message, "-journal"));
  g_clear_error (&error);
  g_unlink (journal);
}
END_TEST

/* Files called as SQLite would call a write-ahead log are not looked at, not played back, not deleted. */
START_TEST (logs_beside)
{
  put ("a.benchbook-wal", "something");
  put ("a.benchbook-shm", "something else");
  g_autofree char *wal = shelf_path ("a.benchbook-wal"), *before = snapshot ();
  g_autoptr (SpBook) look = good_book (sp_book_look (path, &error));
  g_autofree char *after = snapshot ();
  ck_assert_str_eq (after, before);
  g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
  edit (book, "With a log beside");
  good (sp_book_save (book, &error));
  sp_book_close (g_steal_pointer (&book));
  g_autofree char *text = NULL;
  ck_assert (g_file_get_contents (wal, &text, NULL, NULL));
  ck_assert_str_eq (text, "something");
  book = good_book (sp_book_open (path, &error));
  ck_assert_str_eq (sp_book_bench (book)->title, "With a log beside");
}
END_TEST

START_TEST (looked_at_in_the_middle)
{
  g_autoptr (SpBench) bench = shelf_bench ();
  leave_hot ();
  g_autofree char *before = snapshot ();
  g_autoptr (SpBook) look = good_book (sp_book_look (path, &error));
  ck_assert_str_eq (sp_book_bench (look)->sha256, bench->sha256);
  g_autofree char *after = snapshot ();
  ck_assert_str_eq (after, before);
  g_autoptr (SpBook) book = good_book (sp_book_open (path, &error)); /* which repairs it */
  ck_assert_str_eq (sp_book_bench (book)->sha256, bench->sha256);
}
END_TEST

/* ---- locks ---- */

/* In another program: is it refused, saying who has it? And may it be looked at? */
static int
other_program (const char *title)
{
  g_autofree char *parent = g_strdup_printf ("process %d", (int) getppid ());
  g_autoptr (GError) why = NULL;
  if (sp_book_open (path, &why) || !g_error_matches (why, SP_BOOK_ERROR, SP_BOOK_ERROR_LOCKED) || !strstr (why->message, parent))
    return 1;
  SpBook *look = sp_book_look (path, NULL);
  return !look ? 2 : strcmp (sp_book_bench (look)->title, title) != 0 ? 3 : 0;
}

static void
check_locked (const char *title)
{
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL), *out = NULL, *problems = NULL;
  char *argv[] = { self, (char *) "other-program", path, (char *) title, NULL };
  int status;
  ck_assert (g_spawn_sync (NULL, argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &out, &problems, &status, NULL));
  ck_assert_msg (g_spawn_check_wait_status (status, NULL), "the other program ended with %d", WEXITSTATUS (status));
}

/* Everything that opens and closes the book's own file in this program leaves the lock where it is. */
START_TEST (lock_stays)
{
  g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
  g_autofree char *title = g_strdup (sp_book_bench (book)->title);
  check_locked (title);
  ck_assert (sp_book_is_one (path));
  check_locked (title);
  ck_assert (!sp_book_open (path, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_LOCKED));
  g_clear_error (&error);
  g_autoptr (SpBench) looked = good_bench (sp_bench_at (path, &error));
  check_locked (title);
  close (open (path, O_RDONLY));
  g_autofree char *bytes = NULL;
  ck_assert (g_file_get_contents (path, &bytes, NULL, NULL)); /* as an import would */
  check_locked (title);
  sqlite3 *stranger;
  ck_assert_int_eq (sqlite3_open (path, &stranger), SQLITE_OK);
  ck_assert_int_eq (sqlite3_exec (stranger, "UPDATE state SET label = 'mine'", NULL, NULL, NULL), SQLITE_BUSY);
  ck_assert_int_eq (sqlite3_exec (stranger, "SELECT * FROM state", NULL, NULL, NULL), SQLITE_BUSY);
  sqlite3_close (stranger);
  check_locked (title);
  g_autoptr (SpBook) other = sp_book_new (looked);
  ck_assert (!sp_book_save_as (other, path, &error) && g_error_matches (error, SP_BOOK_ERROR, SP_BOOK_ERROR_LOCKED));
  g_clear_error (&error);
  check_locked (title);
  edit (book, "Saved");
  good (sp_book_save (book, &error));
  check_locked ("Saved");
}
END_TEST

static gpointer
look_at_it (G_GNUC_UNUSED gpointer data)
{
  return sp_book_look (path, NULL);
}

/* As another program's save does while the lock is waited for: the file is longer then than when it was opened. */
START_TEST (it_grows_while_the_lock_is_waited_for)
{
  g_autofree char *longer = shelf_path ("longer.benchbook"), *bytes = NULL;
  gsize length;
  struct stat before;
  struct flock lock = { .l_type = F_WRLCK, .l_whence = SEEK_SET, .l_start = 0x40001001, .l_len = 1 }; /* while the file changes */
  SpBook *book = good_book (sp_book_open (path, &error));
  good (sp_book_save_as (book, longer, &error));
  for (guint i = 0; i < 40; i++) {
    g_autofree char *title = g_strnfill (2000, (char) ('a' + i % 26));
    edit (book, title);
  }
  edit (book, "Longer");
  good (sp_book_save (book, &error));
  sp_book_close (book);
  ck_assert (g_file_get_contents (longer, &bytes, &length, NULL) && stat (path, &before) == 0 && (goffset) length > before.st_size);
  int fd = open (path, O_RDWR);
  ck_assert (fd >= 0 && fcntl (fd, F_OFD_SETLK, &lock) == 0);
  GThread *reader = g_thread_new ("reader", look_at_it, NULL);
  g_usleep (150000); /* it waits by now; if it does not yet, it is right all the same */
  ck_assert_int_eq (pwrite (fd, bytes, length, 0), (gssize) length);
  close (fd);
  g_autoptr (SpBook) look = g_thread_join (reader);
  ck_assert_ptr_nonnull (look);
  ck_assert_str_eq (sp_book_bench (look)->title, "Longer");
}
END_TEST

/* A hot journal may be the only cure: whoever cannot read it is not told to take it away. */
START_TEST (journal_that_cannot_be_read)
{
  leave_hot ();
  struct rlimit before, none;
  gboolean hot;
  int next = open ("/dev/null", O_RDONLY | O_CLOEXEC);
  ck_assert (next >= 0 && close (next) == 0 && getrlimit (RLIMIT_NOFILE, &before) == 0);
  none = before;
  none.rlim_cur = (rlim_t) next;
  ck_assert (setrlimit (RLIMIT_NOFILE, &none) == 0);
  gboolean good = sp_book_check_beside (path, &hot, &error);
  ck_assert (setrlimit (RLIMIT_NOFILE, &before) == 0);
  ck_assert (!good && !hot);
  ck_assert_msg (strstr (error->message, "Leave it there") && strstr (error->message, "a.benchbook-journal"), "%s", error->message);
  g_clear_error (&error);
  ck_assert (sp_book_check_beside (path, &hot, &error) && hot);
}
END_TEST

/* Through its own name, and through a short link to it. */
static void
check_too_long (const char *name, const char *what)
{
  g_autofree char *link = shelf_path ("link.benchbook");
  ck_assert (rename (path, name) == 0 && symlink (name, link) == 0);
  g_autofree char *before = snapshot ();
  const char *const names[] = { name, link };
  for (guint i = 0; i < G_N_ELEMENTS (names); i++) {
    g_autoptr (SpBook) look = good_book (sp_book_look (names[i], &error));
    g_autoptr (SpBook) book = good_book (sp_book_open (names[i], &error));
    g_autoptr (SpBook) other = sp_book_new (sp_book_bench (look));
    edit (book, "Too long");
    gboolean done = i == 0 ? sp_book_save (book, &error) : sp_book_save_as (other, names[i], &error);
    ck_assert_msg (!done && strstr (error->message, what), "%s", error ? error->message : "saved");
    g_clear_error (&error);
  }
  g_autofree char *after = snapshot ();
  ck_assert_str_eq (after, before);
  ck_assert (g_unlink (link) == 0 && rename (name, path) == 0);
  g_autoptr (SpBench) bench = shelf_bench ();
  g_autoptr (SpBook) book = sp_book_new (bench);
  ck_assert (!sp_book_save_as (book, name, &error) && strstr (error->message, what) && !g_file_test (name, G_FILE_TEST_EXISTS));
  g_clear_error (&error);
}

/* With "-journal" behind it the name of the longest book that can be saved is as long as a name can be. */
START_TEST (names_too_long)
{
  for (guint length = 247; length <= 256; length++) {
    g_autofree char *stem = g_strnfill (length - strlen (".benchbook"), 'b'), *name = g_strconcat (stem, ".benchbook", NULL),
                    *there = shelf_path (name);
    g_autoptr (SpBench) bench = shelf_bench ();
    g_autoptr (SpBook) book = sp_book_new (bench);
    if (length == 247) {
      good (sp_book_save_as (book, there, &error));
      edit (book, "Long");
      good (sp_book_save (book, &error));
    } else if (length < 256)
      check_too_long (there, "the name is too long");
    else
      ck_assert (!sp_book_save_as (book, there, &error) && strstr (error->message, "256 bytes; expected at most 247"));
    g_clear_error (&error);
  }
}
END_TEST

/* SQLite's names are shorter than the system's. */
START_TEST (paths_too_long)
{
  g_autofree char *part = g_strnfill (150, 'd'), *top = shelf_path (part), *deep = g_build_filename (top, part, part, NULL);
  ck_assert_int_eq (g_mkdir_with_parents (deep, 0700), 0);
  for (guint length = 504; length <= 505; length++) {
    g_autofree char *name = g_strnfill (length - strlen (deep) - 1, 'b'), *there = g_build_filename (deep, name, NULL);
    g_autoptr (SpBench) bench = shelf_bench ();
    g_autoptr (SpBook) book = sp_book_new (bench);
    if (length > 504) {
      check_too_long (there, "505 bytes; expected at most 504");
      continue;
    }
    good (sp_book_save_as (book, there, &error));
    edit (book, "Deep");
    good (sp_book_save (book, &error));
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("beside");
  TCase *c = tcase_create ("beside");
  tcase_set_timeout (c, 120);
  tcase_add_checked_fixture (c, set_up, tear_down);
  tcase_add_test (c, forged_journals);
  tcase_add_test (c, of_another_length);
  tcase_add_test (c, of_another_book);
  tcase_add_test (c, through_a_link);
  tcase_add_test (c, pipe_beside);
  tcase_add_test (c, logs_beside);
  tcase_add_test (c, looked_at_in_the_middle);
  tcase_add_test (c, journal_that_cannot_be_read);
  tcase_add_test (c, lock_stays);
  tcase_add_test (c, it_grows_while_the_lock_is_waited_for);
  tcase_add_test (c, names_too_long);
  tcase_add_test (c, paths_too_long);
  suite_add_tcase (s, c);
  return s;
}

int
main (int argc, char **argv)
{
  if (argc == 4 && strcmp (argv[1], "other-program") == 0) {
    path = argv[2];
    return other_program (argv[3]);
  }
  return sp_run_suite (suite ());
}
