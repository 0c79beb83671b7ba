/* reads.c - the n-th read of a book fails, for every n: what is told is the system's reason, never that the book or its journal is at fault */
#include <errno.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include "tests/book/saved.h"

/* ---- the fault: these take the C library's place, for SQLite too ---- */

static struct {
  gboolean armed, stays;
  guint until, failed;
} fault;

static ssize_t
read_at (int descriptor, void *into, size_t length, gint64 from)
{
  if (fault.armed && fault.until > 0)
    fault.until--;
  else if (fault.armed && (fault.stays || fault.failed == 0)) {
    fault.failed++;
    errno = EIO;
    return -1;
  }
  return syscall (SYS_pread64, descriptor, into, length, from);
}

#undef pread
ssize_t pread64 (int descriptor, void *into, size_t length, gint64 from);
ssize_t
pread64 (int descriptor, void *into, size_t length, gint64 from)
{
  return read_at (descriptor, into, length, from);
}

static void
arm (guint n, gboolean stays)
{
  fault = (typeof (fault)){ .armed = TRUE, .stays = stays, .until = n };
}

/* FALSE where no read failed any more: all have been tried. */
static gboolean
disarm (void)
{
  fault.armed = FALSE;
  return fault.failed > 0;
}

static void
check_told (const char *what, guint n)
{
  ck_assert_msg (strstr (error->message, g_strerror (EIO)) != NULL, "%s, read %u: %s", what, n, error->message);
  ck_assert_msg (!strstr (error->message, "belong") && !strstr (error->message, "another program"), "%s, read %u: %s", what, n,
                 error->message);
  ck_assert_msg (!strstr (error->message, g_get_tmp_dir ()) || strstr (error->message, folder), "%s, read %u: %s", what, n, error->message);
  g_clear_error (&error);
}

/* ---- ways in ---- */

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
  ck_assert (waitpid (child, &status, 0) == child && status == 0);
}

static guint
open_with_faults (gboolean look, gboolean hot, gboolean stays)
{
  guint told = 0;
  for (guint n = 0;; n++) {
    if (hot && !g_file_test (journal, G_FILE_TEST_EXISTS))
      leave_hot ();
    arm (n, stays);
    SpBook *book = look ? sp_book_look (path, &error) : sp_book_open (path, &error);
    gboolean came = disarm ();
    if (!book) {
      check_told (look ? "looked at" : "opened", n);
      told++;
    } else
      sp_book_close (book);
    if (!came)
      return told;
  }
}

START_TEST (opening)
{
  for (guint way = 0; way < 8; way++)
    ck_assert_uint_gt (open_with_faults ((way & 1) != 0, (way & 2) != 0, (way & 4) != 0), 0);
}
END_TEST

/* A save that could not read is told so, and the next one goes well: nobody else wrote. */
START_TEST (saving)
{
  for (gboolean stays = FALSE; stays <= TRUE; stays++) {
    gboolean came = TRUE;
    g_autoptr (SpBook) book = good_book (sp_book_open (path, &error));
    for (guint n = 0; came; n++) {
      g_autofree char *title = g_strdup_printf ("%u %d", n, stays);
      edit (book, title);
      arm (n, stays);
      gboolean saved = sp_book_save (book, &error);
      came = disarm ();
      if (!saved)
        check_told ("saved", n);
      edit (book, "Once more");
      good (sp_book_save (book, &error));
    }
  }
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("reads");
  TCase *tc = tcase_create ("reads");
  tcase_set_timeout (tc, 240);
  tcase_add_checked_fixture (tc, set_up, tear_down);
  tcase_add_test (tc, opening);
  tcase_add_test (tc, saving);
  suite_add_tcase (s, tc);
  return s;
}

SP_MAIN (suite)
