/* book-vfs.c - limits SQLite to the files of a book: the book and its journal (sqlite.org/vfs.html) */
#include "core/book/book-private.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

/* Wraps the operating system's VFS without locks; book-lock.c locks. It hides write-ahead logs, opens no super-journal (so none is
 * deleted) and no journal that is a pipe, device or link. A book whose file was replaced by another does not delete the other's
 * journal. */

#define NAME "spurproof-book"

static sqlite3_vfs narrow;

static sqlite3_vfs *
system_vfs (void)
{
  return narrow.pAppData;
}

static gboolean
is_no_plain_file (const char *path)
{
  GStatBuf file;
  return g_lstat (path, &file) == 0 && !S_ISREG (file.st_mode);
}

static char *
book_of (const char *journal)
{
  return g_strndup (journal, strlen (journal) - strlen ("-journal"));
}

/* ---- why a file could not be read or written ---- */

/* SQLite does not always pass on that a read failed: its check takes a page that it did not get for a damaged one. */
static _Thread_local int cause_noted;

int
sp_book_take_cause (void)
{
  int cause = cause_noted;
  cause_noted = 0;
  return cause;
}

static sqlite3_io_methods noting;   /* the system's, but for the next four */
static sqlite3_io_methods of_files; /* those of all books' files: of one VFS, which knows no locks */

static int
note (int code)
{
  if ((code & 0xff) == SQLITE_IOERR && code != SQLITE_IOERR_SHORT_READ)
    cause_noted = errno;
  return code;
}

/* by hand: one call of the system a row */
/* clang-format off */
static int read_file (sqlite3_file *f, void *into, int n, sqlite3_int64 at) { return note (of_files.xRead (f, into, n, at)); }
static int write_file (sqlite3_file *f, const void *from, int n, sqlite3_int64 at) { return note (of_files.xWrite (f, from, n, at)); }
static int truncate_file (sqlite3_file *f, sqlite3_int64 n) { return note (of_files.xTruncate (f, n)); }
static int sync_file (sqlite3_file *f, int how) { return note (of_files.xSync (f, how)); }
/* clang-format on */

static void
note_causes (sqlite3_file *file)
{
  static gsize done;
  if (g_once_init_enter (&done)) {
    noting = of_files = *file->pMethods;
    noting.xRead = read_file;
    noting.xWrite = write_file;
    noting.xTruncate = truncate_file;
    noting.xSync = sync_file;
    g_once_init_leave (&done, 1);
  }
  if (file->pMethods->xRead == of_files.xRead)
    file->pMethods = &noting;
}

static int
open_file (G_GNUC_UNUSED sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *out)
{
  file->pMethods = NULL;
  if (flags & (SQLITE_OPEN_SUPER_JOURNAL | SQLITE_OPEN_WAL) || (flags & SQLITE_OPEN_MAIN_JOURNAL && is_no_plain_file (name)))
    return (errno = 0), SQLITE_CANTOPEN; /* no reason of the system's */
  int code = system_vfs ()->xOpen (system_vfs (), name, file, flags, out);
  if (code == SQLITE_OK)
    note_causes (file);
  if (code == SQLITE_OK && flags & SQLITE_OPEN_MAIN_JOURNAL) {
    g_autofree char *book = book_of (name);
    sp_book_lock_note_journal (book);
  }
  return code;
}

static int
delete_file (G_GNUC_UNUSED sqlite3_vfs *vfs, const char *name, int sync)
{
  if (!g_str_has_suffix (name, "-journal"))
    return SQLITE_PERM;
  g_autofree char *book = book_of (name);
  return sp_book_lock_is_anothers_journal (book) ? SQLITE_OK : system_vfs ()->xDelete (system_vfs (), name, sync);
}

static int
look_for_file (G_GNUC_UNUSED sqlite3_vfs *vfs, const char *name, int how, int *found)
{
  *found = 0;
  return g_str_has_suffix (name, "-wal") ? SQLITE_OK : system_vfs ()->xAccess (system_vfs (), name, how, found);
}

static int
whole_name (G_GNUC_UNUSED sqlite3_vfs *vfs, const char *name, int length, char *whole)
{
  return system_vfs ()->xFullPathname (system_vfs (), name, length, whole);
}

const char *
sp_book_vfs (void)
{
  static GMutex lock;
  static gboolean made;
  g_mutex_lock (&lock);
  sqlite3_vfs *of_system = made ? NULL : sqlite3_vfs_find ("unix-none"); /* which begins SQLite: without memory, there is none */
  if (of_system) {
    narrow = *of_system; /* time, randomness and the rest do not need to know which VFS asks */
    narrow.pNext = NULL;
    narrow.zName = NAME;
    narrow.pAppData = of_system;
    narrow.xOpen = open_file;
    narrow.xDelete = delete_file;
    narrow.xAccess = look_for_file;
    narrow.xFullPathname = whole_name;
    made = sqlite3_vfs_register (&narrow, 0) == SQLITE_OK;
  }
  const char *name = made ? NAME : NULL;
  g_mutex_unlock (&lock);
  return name;
}
