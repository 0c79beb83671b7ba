/* victim.c - the C library's functions that change files, counted, and the process killed at one of them */
#undef _FILE_OFFSET_BITS /* both names of each function are given, so neither may stand for the other */
#undef _FORTIFY_SOURCE
#include "tests/faults/victim.h"

#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

static struct {
  char folder[PATH_MAX];
  gsize length; /* 0: not armed */
  guint at;
  gboolean torn;
  guint events; /* atomic */
} victim;

void
victim_arm (const char *folder, guint at, gboolean torn)
{
  char whole[PATH_MAX];
  g_strlcpy (victim.folder, realpath (folder, whole) ? whole : folder, sizeof victim.folder);
  victim.at = at;
  victim.torn = torn;
  g_atomic_int_set (&victim.events, 0);
  victim.length = strlen (victim.folder);
}

guint
victim_events (void)
{
  return g_atomic_int_get (&victim.events);
}

/* The programs under test name files by whole paths. */
static gboolean
is_watched (const char *path)
{
  return victim.length > 0 && path && strncmp (path, victim.folder, victim.length) == 0;
}

static gboolean
is_watched_fd (int fd)
{
  char link[32], path[PATH_MAX];
  if (victim.length == 0)
    return FALSE;
  snprintf (link, sizeof link, "/proc/self/fd/%d", fd);
  ssize_t length = syscall (SYS_readlink, link, path, sizeof path - 1);
  path[MAX (length, 0)] = '\0';
  return is_watched (path);
}

static void
die (void)
{
  kill (getpid (), SIGKILL);
  for (;;)
    pause ();
}

/* TRUE where it is the one to die at. */
static gboolean
is_last (void)
{
  return (guint) g_atomic_int_add (&victim.events, 1) + 1 == victim.at;
}

static void
event (const char *path)
{
  if (is_watched (path) && is_last ())
    die ();
}

static void
event_fd (int fd)
{
  if (is_watched_fd (fd) && is_last ())
    die ();
}

/* ---- opening to write ---- */

static int
open_as (int folder, const char *path, int flags, mode_t mode)
{
  if ((flags & O_ACCMODE) != O_RDONLY)
    event (path);
  return (int) syscall (SYS_openat, folder, path, flags, mode);
}

#define OPEN(name, before, folder)                                                                                                         \
  int name (before const char *path, int flags, ...);                                                                                      \
  int name (before const char *path, int flags, ...)                                                                                       \
  {                                                                                                                                        \
    va_list more;                                                                                                                          \
    va_start (more, flags);                                                                                                                \
    mode_t mode = flags & (O_CREAT | __O_TMPFILE) ? va_arg (more, mode_t) : 0;                                                             \
    va_end (more);                                                                                                                         \
    return open_as (folder, path, flags, mode);                                                                                            \
  }
#define IN_FOLDER int folder,
OPEN (open, , AT_FDCWD)
OPEN (open64, , AT_FDCWD)
OPEN (openat, IN_FOLDER, folder)
OPEN (openat64, IN_FOLDER, folder)

/* ---- writing ---- */

ssize_t
write (int fd, const void *bytes, size_t length)
{
  if (is_watched_fd (fd) && is_last ()) {
    if (victim.torn)
      syscall (SYS_write, fd, bytes, length / 2);
    die ();
  }
  return syscall (SYS_write, fd, bytes, length);
}

static ssize_t
write_at (int fd, const void *bytes, size_t length, off_t at)
{
  if (is_watched_fd (fd) && is_last ()) {
    if (victim.torn)
      syscall (SYS_pwrite64, fd, bytes, length / 2, at);
    die ();
  }
  return syscall (SYS_pwrite64, fd, bytes, length, at);
}

ssize_t
pwrite (int fd, const void *bytes, size_t length, off_t at)
{
  return write_at (fd, bytes, length, at);
}

ssize_t
pwrite64 (int fd, const void *bytes, size_t length, off_t at)
{
  return write_at (fd, bytes, length, at);
}

/* ---- one call, one event ---- */

#define ONE(result, name, arguments, tell, ...)                                                                                            \
  result name arguments                                                                                                                    \
  {                                                                                                                                        \
    tell;                                                                                                                                  \
    return (result) syscall (__VA_ARGS__);                                                                                                 \
  }
ONE (int, fsync, (int fd), event_fd (fd), SYS_fsync, fd)
ONE (int, fdatasync, (int fd), event_fd (fd), SYS_fdatasync, fd)
ONE (int, ftruncate, (int fd, off_t length), event_fd (fd), SYS_ftruncate, fd, length)
ONE (int, ftruncate64, (int fd, off_t length), event_fd (fd), SYS_ftruncate, fd, length)
ONE (int, unlink, (const char *path), event (path), SYS_unlink, path)
ONE (int, rmdir, (const char *path), event (path), SYS_rmdir, path)
ONE (int, mkdir, (const char *path, mode_t mode), event (path), SYS_mkdir, path, mode)
ONE (int, link, (const char *from, const char *to), event (to), SYS_link, from, to)
ONE (int, linkat, (int old, const char *from, int new, const char *to, int flags), event (to), SYS_linkat, old, from, new, to, flags)
ONE (int, symlink, (const char *from, const char *to), event (to), SYS_symlink, from, to)
ONE (int, rename, (const char *from, const char *to), event (to), SYS_rename, from, to)
