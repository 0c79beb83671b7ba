/* book-lock.c - the file of an open book: locked against other programs, verified before each save, copied for readers */
#include "core/book/book-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* Uses Linux's open file description locks (fcntl(2), F_OFD_SETLK): on our first byte and SQLite's bytes while the book is open, and
 * on our second byte while the file changes. Closing another descriptor of the file, anywhere in this program, drops POSIX locks but
 * never these. So SQLite itself locks nothing (book-vfs.c). */

/* All but the last are places in SQLite's file format, whose lock bytes start here (its os.h, PENDING_BYTE): locked so that no other SQLite
 * program opens the book. */
#define SQLITE_BYTE 0x40000000
#define SQLITE_BYTES 512
#define OWNER_BYTE 0x40001000
#define CHANGE_BYTE 0x40001001
#define TRIES 100 /* 10 ms each, bounds time: a lock is held briefly */

struct SpBookLock {
  int fd;
  char *path, *real; /* as named, and without links as SQLite names it */
  struct stat file;  /* identity when it was locked */
  struct stat left;  /* length, time and head when this program last wrote it */
  guint8 head[SP_BOOK_HEAD_BYTES];
  gboolean head_unread; /* it could not be read behind a save */
  struct stat journal;  /* of the last save; 0: none yet */
  GMutex change;        /* held in this program while the bytes change or are copied */
};

static GMutex all_lock; /* protects the list, and any open descriptor of a book not in it */
static GSList *all;     /* SpBookLock of every book open in this program */

static gboolean
is_file (const struct stat *a, const struct stat *b)
{
  return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/* Needs all_lock. */
static SpBookLock *
find_lock (const struct stat *file)
{
  for (GSList *at = all; at; at = at->next)
    if (is_file (&((SpBookLock *) at->data)->file, file))
      return at->data;
  return NULL;
}

static gboolean
set_lock (int fd, short type, off_t from, off_t length)
{
  struct flock lock = { .l_type = type, .l_whence = SEEK_SET, .l_start = from, .l_len = length };
  return fcntl (fd, F_OFD_SETLK, &lock) == 0;
}

static gboolean
wait_for_lock (int fd, short type, off_t byte)
{
  gboolean got = set_lock (fd, type, byte, 1);
  for (guint i = 0; !got && i < TRIES && (errno == EAGAIN || errno == EACCES); i++) {
    g_usleep (10000);
    got = set_lock (fd, type, byte, 1);
  }
  return got;
}

/* ---- the owner of a lock ---- */

static gboolean
has_open (const char *process, const struct stat *file)
{
  g_autofree char *folder = g_build_filename ("/proc", process, "fd", NULL);
  g_autoptr (GDir) descriptors = g_dir_open (folder, 0, NULL);
  gboolean found = FALSE;
  for (const char *number; !found && descriptors && (number = g_dir_read_name (descriptors));) {
    g_autofree char *link = g_build_filename (folder, number, NULL);
    struct stat its;
    found = stat (link, &its) == 0 && is_file (&its, file);
  }
  return found;
}

/* "4711 (its name)"; NULL: no visible owner. (transfer full) */
static char *
process_with (const struct stat *file)
{
  g_autoptr (GDir) processes = g_dir_open ("/proc", 0, NULL);
  for (const char *process; processes && (process = g_dir_read_name (processes));) {
    g_autofree char *said = g_build_filename ("/proc", process, "comm", NULL), *name = NULL;
    if (g_ascii_isdigit (*process) && g_ascii_strtoull (process, NULL, 10) != (guint64) getpid () && has_open (process, file)
        && g_file_get_contents (said, &name, NULL, NULL))
      return g_strdup_printf ("%s (%s)", process, g_strchomp (name));
  }
  return NULL;
}

static gboolean
fail_locked (const struct stat *file, const char *path, GError **error)
{
  g_autofree char *process = process_with (file);
  return process ? sp_book_fail (error, SP_BOOK_ERROR_LOCKED, path,
                                 _ ("another program has this bench book open: process %s; close it there, or look at a copy"), process)
                 : sp_book_fail (error, SP_BOOK_ERROR_LOCKED, path,
                                 _ ("another program has this bench book open, another user's or on another computer; close it "
                                    "there, or look at a copy"));
}

/* ---- its bytes ---- */

static gboolean
fail_errno (const char *path, GError **error)
{
  return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("cannot be read: %s"), g_strerror (errno));
}

/* A regular file's descriptor, or -1 and an error; never waits for the other end of a pipe. */
static int
open_regular (const char *path, int how, struct stat *file, GError **error)
{
  int fd = open (path, how | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
  if (fd < 0 && errno == EISDIR)
    sp_book_fail (error, SP_BOOK_ERROR_FOREIGN, path, _ ("this is a folder; expected a bench book"));
  else if (fd < 0 || fstat (fd, file) < 0)
    sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("cannot be opened: %s"), g_strerror (errno));
  else if (!S_ISREG (file->st_mode))
    sp_book_fail (error, SP_BOOK_ERROR_FOREIGN, path,
                  S_ISDIR (file->st_mode) ? _ ("this is a folder; expected a bench book")
                                          : _ ("this is no regular file; expected a bench book"));
  else
    return fd;
  if (fd >= 0)
    close (fd);
  return -1;
}

/* Number of bytes read; -1: an error. */
static gssize
read_at (int fd, guint8 *into, gsize length, off_t from)
{
  gsize got = 0;
  while (got < length) {
    gssize n = pread (fd, into + got, length - got, from + (off_t) got);
    if (n < 0 && errno != EINTR)
      return -1;
    if (n == 0)
      break;
    got += (gsize) MAX (n, 0);
  }
  return (gssize) got;
}

/* Its length is that of now, for it may have been saved while the lock was waited for. */
static gboolean
use_locked (int fd, gboolean (*use) (int fd, const struct stat *file, const char *path, gpointer data, GError **error), const char *path,
            gpointer data, GError **error)
{
  struct stat file;
  return fstat (fd, &file) == 0 ? use (fd, &file, path, data, error) : fail_errno (path, error);
}

/* Calls `use` with a descriptor of the file at `path` while nobody changes it: that of the book open here, or a new one. */
static gboolean
with_file (const char *path, gboolean (*use) (int fd, const struct stat *file, const char *path, gpointer data, GError **error),
           gpointer data, GError **error)
{
  struct stat file;
  gboolean good = FALSE;
  g_mutex_lock (&all_lock);
  SpBookLock *lock = stat (path, &file) == 0 ? find_lock (&file) : NULL;
  int fd = lock ? lock->fd : open_regular (path, O_RDONLY, &file, error);
  if (lock) {
    g_mutex_lock (&lock->change);
    good = use_locked (fd, use, path, data, error);
    g_mutex_unlock (&lock->change);
  } else if (fd >= 0) {
    good = wait_for_lock (fd, F_RDLCK, CHANGE_BYTE) || (errno != EAGAIN && errno != EACCES) /* a file system without locks */
               ? use_locked (fd, use, path, data, error)
               : fail_locked (&file, path, error);
    close (fd);
  }
  g_mutex_unlock (&all_lock);
  return good;
}

static gboolean
use_head (int fd, const struct stat *file, const char *path, gpointer data, GError **error)
{
  guint8 head[SP_BOOK_HEAD_BYTES];
  (void) file, (void) data;
  gssize length = read_at (fd, head, sizeof head, 0);
  return length < 0 ? fail_errno (path, error) : sp_book_check_bytes (head, length, path, error);
}

gboolean
sp_book_check_head (const char *path, GError **error)
{
  return with_file (path, use_head, NULL, error);
}

static gboolean
use_copy (int fd, const struct stat *file, const char *path, gpointer data, GError **error)
{
  SpBookBytes *copy = data;
  if (!use_head (fd, file, path, NULL, error) || !sp_book_check_beside (path, &copy->hot, error))
    return FALSE;
  if (file->st_size > SP_BOOK_COPY_MAX)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("this bench book is larger than the 4 GB that are looked at"));
  copy->bytes = sqlite3_malloc64 ((guint64) file->st_size);
  copy->length = copy->bytes ? read_at (fd, copy->bytes, (gsize) file->st_size, 0) : 0;
  if (!copy->bytes)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("there is not enough memory to look at this bench book"));
  if (copy->length < 0)
    return fail_errno (path, error);
  if (copy->length < file->st_size)
    return sp_book_fail (error, SP_BOOK_ERROR_IO, path, _ ("became shorter while it was read; try again when it is whole"));
  return !copy->hot || sp_book_read_journal (path, copy, error);
}

gboolean
sp_book_copy (const char *path, SpBookBytes *copy, GError **error)
{
  *copy = (SpBookBytes){ NULL, 0, FALSE, NULL };
  return with_file (path, use_copy, copy, error);
}

/* ---- held ---- */

static gboolean
take_locked (SpBookLock *lock, GError **error)
{
  struct stat file;
  if (stat (lock->path, &file) == 0 && find_lock (&file))
    return sp_book_fail (error, SP_BOOK_ERROR_LOCKED, lock->path,
                         _ ("this program has this bench book open already; go on in its window, or close it there"));
  lock->fd = open_regular (lock->path, O_RDWR, &lock->file, error);
  if (lock->fd < 0)
    return FALSE;
  if (!set_lock (lock->fd, F_WRLCK, OWNER_BYTE, 1) || !set_lock (lock->fd, F_WRLCK, SQLITE_BYTE, SQLITE_BYTES))
    return errno == EAGAIN || errno == EACCES
               ? fail_locked (&lock->file, lock->path, error)
               : sp_book_fail (error, SP_BOOK_ERROR_IO, lock->path,
                               _ ("cannot be locked: %s. Copy it to another folder, and open that copy"), g_strerror (errno));
  lock->left = lock->file;
  gssize length = read_at (lock->fd, lock->head, sizeof lock->head, 0);
  return length < 0 ? fail_errno (lock->path, error) : sp_book_check_bytes (lock->head, length, lock->path, error);
}

SpBookLock *
sp_book_lock_take (const char *path, GError **error)
{
  SpBookLock *lock = g_new0 (SpBookLock, 1);
  lock->path = g_strdup (path);
  lock->real = realpath (path, NULL);
  lock->fd = -1;
  g_mutex_init (&lock->change);
  g_mutex_lock (&all_lock);
  gboolean good = take_locked (lock, error);
  if (good)
    all = g_slist_prepend (all, lock);
  g_mutex_unlock (&all_lock);
  if (!good)
    g_clear_pointer (&lock, sp_book_lock_free);
  return lock;
}

void
sp_book_lock_free (SpBookLock *lock)
{
  if (!lock)
    return;
  g_mutex_lock (&all_lock);
  all = g_slist_remove (all, lock);
  if (lock->fd >= 0)
    close (lock->fd);
  g_mutex_unlock (&all_lock);
  g_mutex_clear (&lock->change);
  g_free (lock->path);
  free (lock->real);
  g_free (lock);
}

static gboolean
is_there (const SpBookLock *lock)
{
  struct stat file;
  return stat (lock->path, &file) == 0 && is_file (&file, &lock->file);
}

/* Quick check by the first bytes. An error only where they cannot be read, which is no other program's doing. */
static gboolean
seems_ours (const SpBookLock *lock, struct stat *file, GError **error)
{
  guint8 head[SP_BOOK_HEAD_BYTES];
  gssize got = fstat (lock->fd, file) == 0 ? read_at (lock->fd, head, sizeof head, 0) : -1;
  if (got < 0)
    return fail_errno (lock->path, error);
  return file->st_size == lock->left.st_size && got == sizeof head && memcmp (head, lock->head, sizeof head) == 0;
}

/* What could not be read behind a save is read now, if nobody wrote since. */
static gboolean
read_head_again (SpBookLock *lock, GError **error)
{
  struct stat file;
  guint8 head[SP_BOOK_HEAD_BYTES];
  if (!lock->head_unread)
    return TRUE;
  if (fstat (lock->fd, &file) < 0 || read_at (lock->fd, head, sizeof head, 0) < 0)
    return fail_errno (lock->path, error);
  if (file.st_size == lock->left.st_size && file.st_mtim.tv_sec == lock->left.st_mtim.tv_sec
      && file.st_mtim.tv_nsec == lock->left.st_mtim.tv_nsec)
    memcpy (lock->head, head, sizeof head);
  lock->head_unread = FALSE;
  return TRUE;
}

gboolean
sp_book_lock_is_ours (const SpBookLock *lock)
{
  struct stat file;
  return seems_ours (lock, &file, NULL) && file.st_mtim.tv_sec == lock->left.st_mtim.tv_sec
         && file.st_mtim.tv_nsec == lock->left.st_mtim.tv_nsec;
}

/* The file was touched: verifies every hash, and accepts it if all match. */
static gboolean
is_unharmed (SpBookLock *lock, GError **error)
{
  gboolean whole;
  struct stat file;
  sqlite3 *db = seems_ours (lock, &file, error) ? sp_book_connect_copy (lock->path, &whole, error) : NULL;
  gboolean good = db && sp_book_check_hashes (db);
  sqlite3_close (db);
  if (good)
    lock->left = file;
  return good;
}

gboolean
sp_book_lock_check (SpBookLock *lock, GError **error)
{
  if (!is_there (lock))
    return sp_book_fail (error, SP_BOOK_ERROR_GONE, lock->path,
                         _ ("this bench book is gone, or another file stands in its place; nothing was written. Save it under "
                            "another name"));
  g_autoptr (GError) cause = NULL;
  if (!read_head_again (lock, error))
    return FALSE;
  if (sp_book_lock_is_ours (lock) || is_unharmed (lock, &cause))
    return TRUE;
  if (g_error_matches (cause, SP_BOOK_ERROR, SP_BOOK_ERROR_IO)) {
    g_propagate_error (error, g_steal_pointer (&cause));
    return FALSE;
  }
  return sp_book_fail (error, SP_BOOK_ERROR_GONE, lock->path,
                       _ ("another program wrote into this bench book; nothing was written. Save it under another name"));
}

gboolean
sp_book_lock_begin (SpBookLock *lock, GError **error)
{
  if (!sp_book_lock_check (lock, error))
    return FALSE;
  g_mutex_lock (&lock->change);
  if (wait_for_lock (lock->fd, F_WRLCK, CHANGE_BYTE))
    return TRUE;
  g_mutex_unlock (&lock->change);
  return sp_book_fail (error, SP_BOOK_ERROR_LOCKED, lock->path,
                       _ ("another program is reading this bench book just now; save it once more"));
}

void
sp_book_lock_end (SpBookLock *lock)
{
  gboolean known = fstat (lock->fd, &lock->left) == 0;
  lock->head_unread = read_at (lock->fd, lock->head, sizeof lock->head, 0) < 0 && known;
  if (!known) /* then it is never recognised again */
    memset (lock->head, 0, sizeof lock->head);
  set_lock (lock->fd, F_UNLCK, CHANGE_BYTE, 1);
  g_mutex_unlock (&lock->change);
}

/* ---- its journal ---- */

void
sp_book_lock_note_journal (const char *path)
{
  g_autofree char *journal = sp_book_journal (path);
  g_mutex_lock (&all_lock);
  for (GSList *at = all; at; at = at->next) {
    SpBookLock *lock = at->data;
    if (g_strcmp0 (lock->real, path) == 0 && is_there (lock) && lstat (journal, &lock->journal) < 0)
      lock->journal = (struct stat){ 0 };
  }
  g_mutex_unlock (&all_lock);
}

gboolean
sp_book_lock_is_anothers_journal (const char *path)
{
  g_autofree char *journal = sp_book_journal (path);
  struct stat file, now;
  gboolean anothers = FALSE;
  g_mutex_lock (&all_lock);
  for (GSList *at = all; at; at = at->next) {
    SpBookLock *lock = at->data;
    if (g_strcmp0 (lock->real, path) == 0 && !(is_there (lock) && seems_ours (lock, &now, NULL)))
      anothers = lstat (journal, &file) == 0 && !is_file (&file, &lock->journal);
  }
  g_mutex_unlock (&all_lock);
  return anothers;
}
