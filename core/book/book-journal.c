/* book-journal.c - checks a journal beside a book before SQLite plays it back into the book */
#include "core/book/book-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/quantity/file.h"

/* A rollback journal begins with eight magic bytes. If it also ends with them, the name of a super-journal is before them (SQLite's
 * file format, section 3, and the comment before readSuperJournal() in its pager.c), and SQLite would delete that file. This program
 * opens one database at a time and so never writes such a name.
 * A journal to be played back is tried in a copy first, since one of another book would destroy this one. */

#define AT_PAGES 16     /* pages of the book before the save; the file format, 3 */
#define AT_PAGE_SIZE 24 /* likewise of the format */

static const guint8 magic[8] = { 0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7 };

char *
sp_book_journal (const char *path)
{
  char real[PATH_MAX]; /* like SQLite: the journal beside the file that a link points at */
  return g_strconcat (realpath (path, real) ? real : path, "-journal", NULL);
}

/* Where the book is or will be, without links. (transfer full) */
static char *
real_path (const char *path)
{
  char real[PATH_MAX];
  g_autofree char *folder = g_path_get_dirname (path), *name = g_path_get_basename (path);
  return realpath (path, real) ? g_strdup (real) : realpath (folder, real) ? g_build_filename (real, name, NULL) : g_strdup (path);
}

/* The longest name of a file in a folder. */
static gsize
longest_name (const char *folder)
{
  long longest = pathconf (folder, _PC_NAME_MAX);
  return longest > 0 ? (gsize) longest : NAME_MAX;
}

gboolean
sp_book_check_name (const char *path, GError **error)
{
  g_autofree char *real = real_path (path), *folder = g_path_get_dirname (real), *name = g_path_get_basename (real);
  const char *vfs = sp_book_vfs ();
  if (!vfs)
    return sp_book_fail_sql (NULL, path, error); /* SQLite had no memory to begin with */
  gsize more = strlen ("-journal"), most = longest_name (folder) - more, most_whole = (gsize) sqlite3_vfs_find (vfs)->mxPathname - more;
  if (strlen (name) > most)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path,
                         _ ("the name is too long: %" G_GSIZE_FORMAT " bytes; expected at most %" G_GSIZE_FORMAT
                            ", for a journal stands beside it while it is saved. Save it under a shorter one"),
                         strlen (name), most);
  if (strlen (real) > most_whole)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path,
                         _ ("the name with its folders is too long: %" G_GSIZE_FORMAT " bytes; expected at most %" G_GSIZE_FORMAT
                            ", for a journal stands beside it while it is saved. Save it nearer to the top folder"),
                         strlen (real), most_whole);
  return TRUE;
}

gboolean
sp_book_fail_journal (const char *path, GError **error)
{
  g_autofree char *journal = sp_book_journal (path), *name = g_filename_display_name (journal);
  return sp_book_fail (error, SP_BOOK_ERROR_DAMAGED, path,
                       _ ("beside this bench book stands %s, which does not belong to it; nothing was touched. Move it away, and open "
                          "the book again"),
                       name);
}

/* The magic bytes may be written partly or not at all: SQLite writes them last and clears them first. */
static gboolean
is_begun (const guint8 *first)
{
  gsize n = 0;
  while (n < sizeof magic && first[n] == magic[n])
    n++;
  while (n < sizeof magic && first[n] == 0)
    n++;
  return n == sizeof magic;
}

/* The journal may be the book's, and the only cure of a save that was cut off: nobody is to take it away. */
static gboolean
fail_unreadable (const char *path, int cause, GError **error)
{
  g_autofree char *journal = sp_book_journal (path), *name = g_filename_display_name (journal);
  return sp_book_fail (
      error, SP_BOOK_ERROR_IO, path,
      _ ("the journal of a save stands beside it, %s, and cannot be read: %s. Leave it there: the book may need it. Open the "
         "book again once it can be read, as the user who made it"),
      name, g_strerror (cause));
}

/* A journal as this program leaves one behind: with nothing in force in it, or to be played back (*hot). */
static gboolean
is_ours (const guint8 *first, const guint8 *last, gboolean *hot)
{
  *hot = memcmp (first, magic, sizeof magic) == 0;
  return is_begun (first) && !(*hot && memcmp (last, magic, sizeof magic) == 0);
}

static gboolean
check_open (const char *path, int fd, gboolean *hot, GError **error)
{
  guint8 first[sizeof magic] = { 0 }, last[sizeof magic] = { 0 };
  struct stat file;
  if (fstat (fd, &file) != 0)
    return fail_unreadable (path, errno, error);
  off_t end = file.st_size - (off_t) sizeof last;
  if (!S_ISREG (file.st_mode))
    return sp_book_fail_journal (path, error);
  if (pread (fd, first, sizeof first, 0) < 0 || (end > 0 && pread (fd, last, sizeof last, end) < 0))
    return fail_unreadable (path, errno, error);
  return is_ours (first, last, hot) || sp_book_fail_journal (path, error);
}

gboolean
sp_book_check_beside (const char *path, gboolean *hot, GError **error)
{
  g_autofree char *journal = sp_book_journal (path);
  *hot = FALSE;
  int fd = open (journal, O_RDONLY | O_CLOEXEC | O_NOCTTY | O_NONBLOCK | O_NOFOLLOW);
  if (fd < 0 && (errno == ELOOP || errno == ENXIO)) /* a link, a socket */
    return sp_book_fail_journal (path, error);
  if (fd < 0) /* by a name that cannot exist SQLite never began one */
    return errno == ENOENT || errno == ENAMETOOLONG || fail_unreadable (path, errno, error);
  gboolean good = check_open (path, fd, hot, error);
  close (fd);
  return good;
}

gboolean
sp_book_read_journal (const char *path, SpBookBytes *copy, GError **error)
{
  g_autofree char *journal = sp_book_journal (path);
  g_autoptr (GError) cause = NULL;
  gsize length;
  char *bytes = sp_file_read (journal, SP_BOOK_COPY_MAX, &length, &cause);
  if (!bytes)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("cannot be looked at: %s"), cause->message);
  copy->journal = g_bytes_new_take (bytes, length);
  return TRUE;
}

/* ---- a copy taken in the middle of a killed program's save ---- */

static gboolean
put (const char *path, const void *bytes, gsize length)
{
  return g_file_set_contents (path, bytes, (gssize) length, NULL);
}

/* The played-back copy is no book, for its journal is another's; or it cannot be read, which says nothing of the journal. The copy's own name means
 * nothing to anybody. */
static gboolean
fail_copy (const char *copy, const GError *cause, const char *meant, GError **error)
{
  g_autofree char *display = g_filename_display_name (copy), *head = g_strconcat (display, ": ", NULL);
  if (!g_error_matches (cause, SP_BOOK_ERROR, SP_BOOK_ERROR_IO))
    return sp_book_fail_journal (meant, error);
  return sp_book_fail (error, SP_BOOK_ERROR_IO, meant, _ ("it was left in the middle of a save, and the copy to be mended %s"),
                       cause->message + (g_str_has_prefix (cause->message, head) ? strlen (head) : 0));
}

/* SQLite plays the journal back into private files. */
static gboolean
play_back (const char *path, SpBookBytes *copy, const char *meant, GError **error)
{
  sqlite3 *db = sp_book_connect (path, meant, error);
  gboolean good = db && ((sp_book_run (db, "BEGIN EXCLUSIVE") && sp_book_run (db, "COMMIT")) || sp_book_fail_sql (db, meant, error));
  sqlite3_close (db);
  if (!good)
    return FALSE;
  sp_book_bytes_clear (copy);
  g_autoptr (GError) cause = NULL;
  return sp_book_copy (path, copy, &cause) || fail_copy (path, cause, meant, error);
}

/* A save's journal holds the pages that the save cuts off: a book was never longer than both together. */
static gboolean
length_fits (const SpBookBytes *copy)
{
  gsize length;
  const guint8 *journal = g_bytes_get_data (copy->journal, &length);
  return length < AT_PAGE_SIZE + 4
         || (guint64) sp_book_number (journal + AT_PAGES) * sp_book_number (journal + AT_PAGE_SIZE) <= (guint64) copy->length + length;
}

gboolean
sp_book_bytes_play_back (SpBookBytes *copy, const char *path, GError **error)
{
  if (!length_fits (copy))
    return sp_book_fail_journal (path, error);
  g_autoptr (GError) cause = NULL;
  g_autofree char *folder = g_dir_make_tmp ("spurproof-XXXXXX", &cause);
  if (!folder)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("it was left in the middle of a save and cannot be copied: %s"), cause->message);
  g_autofree char *book = g_build_filename (folder, "book", NULL), *journal = sp_book_journal (book);
  gsize length;
  const void *bytes = g_bytes_get_data (copy->journal, &length);
  gboolean good = (put (book, copy->bytes, (gsize) copy->length) && put (journal, bytes, length))
                      ? play_back (book, copy, path, error)
                      : sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("it was left in the middle of a save and cannot be copied to %s"),
                                      folder);
  g_unlink (journal);
  g_unlink (book);
  g_rmdir (folder);
  return good;
}

void
sp_book_bytes_clear (SpBookBytes *copy)
{
  g_clear_pointer (&copy->bytes, sqlite3_free);
  g_clear_pointer (&copy->journal, g_bytes_unref);
}
