/* Preloaded by faults.py: the n-th call that writes to a disk fails, or writes half. What is only read, and the standard streams, go as ever.
 *
 * SP_FAULT_AT=N      which call, from 1, of those below
 * SP_FAULT_AS=ENOSPC|EIO|short, SP_FAULT_ON=1: all behind it fail too, as on a disk that stays full
 * SP_FAULT_MARK=FILE is made where the call came about
 */
#undef _FILE_OFFSET_BITS /* both names of a call are to be had here */
#undef _TIME_BITS
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

typedef enum { GOES, FAILS, HALF } Fate;

#define REAL(name) (__extension__(__typeof__ (&name)) dlsym (RTLD_NEXT, #name))

static Fate
fate (int can_be_half)
{
  static long at = -1, seen;
  static int on, is_short, cause;
  if (at < 0) {
    const char *as = getenv ("SP_FAULT_AS"), *number = getenv ("SP_FAULT_AT");
    at = number ? atol (number) : 0;
    on = getenv ("SP_FAULT_ON") != NULL;
    is_short = as && strcmp (as, "short") == 0;
    cause = as && strcmp (as, "EIO") == 0 ? EIO : ENOSPC;
  }
  if (at == 0 || (is_short && !can_be_half))
    return GOES;
  long call = __sync_add_and_fetch (&seen, 1);
  if (call < at || (call > at && !on))
    return GOES;
  const char *mark = getenv ("SP_FAULT_MARK");
  int made = mark ? (int) syscall (SYS_openat, AT_FDCWD, mark, O_WRONLY | O_CREAT, 0600) : -1;
  if (made >= 0)
    syscall (SYS_close, made);
  errno = cause;
  return is_short && call == at ? HALF : is_short ? GOES : FAILS;
}

/* A file in memory (memfd_create) is on no disk: it can only fail where the whole program does. */
static int
is_in_memory (int descriptor)
{
  char path[64], target[16] = "";
  snprintf (path, sizeof path, "/proc/self/fd/%d", descriptor);
  return readlink (path, target, sizeof target - 1) > 0 && strncmp (target, "/memfd:", 7) == 0;
}

/* Of a descriptor: a regular file, or a folder to be synced. */
static int
counts (int descriptor)
{
  struct stat status;
  if (descriptor > 2 && is_in_memory (descriptor))
    return 0;
  return descriptor > 2 && fstat (descriptor, &status) == 0 && (S_ISREG (status.st_mode) || S_ISDIR (status.st_mode));
}

#define OPENS(name)                                                                                                                        \
  int name (const char *path, int flags, ...)                                                                                              \
  {                                                                                                                                        \
    va_list more;                                                                                                                          \
    va_start (more, flags);                                                                                                                \
    mode_t mode = flags & (O_CREAT | O_TMPFILE) ? va_arg (more, mode_t) : 0;                                                               \
    va_end (more);                                                                                                                         \
    if ((flags & O_ACCMODE) != O_RDONLY && strncmp (path, "/dev/", 5) != 0 && fate (0) == FAILS)                                           \
      return -1;                                                                                                                           \
    return REAL (name) (path, flags, mode);                                                                                                \
  }
OPENS (open)
OPENS (open64)

ssize_t
write (int descriptor, const void *bytes, size_t length)
{
  Fate my = counts (descriptor) ? fate (1) : GOES;
  return my == FAILS ? -1 : REAL (write) (descriptor, bytes, my == HALF && length > 1 ? length / 2 : length);
}

#define WRITES_AT(name, offset_type)                                                                                                       \
  ssize_t name (int descriptor, const void *bytes, size_t length, offset_type offset)                                                      \
  {                                                                                                                                        \
    Fate my = counts (descriptor) ? fate (1) : GOES;                                                                                       \
    return my == FAILS ? -1 : REAL (name) (descriptor, bytes, my == HALF && length > 1 ? length / 2 : length, offset);                     \
  }
WRITES_AT (pwrite, off_t)
WRITES_AT (pwrite64, off64_t)

#define FAILS_OR(type, name, declared, passed, counted)                                                                                    \
  type name declared                                                                                                                       \
  {                                                                                                                                        \
    return (counted) && fate (0) == FAILS ? (type) -1 : REAL (name) passed;                                                                \
  }
FAILS_OR (int, fsync, (int descriptor), (descriptor), counts (descriptor))
FAILS_OR (int, fdatasync, (int descriptor), (descriptor), counts (descriptor))
FAILS_OR (int, ftruncate, (int descriptor, off_t length), (descriptor, length), counts (descriptor))
FAILS_OR (int, ftruncate64, (int descriptor, off64_t length), (descriptor, length), counts (descriptor))
FAILS_OR (int, rename, (const char *from, const char *to), (from, to), 1)
FAILS_OR (int, linkat, (int a, const char *from, int b, const char *to, int flags), (a, from, b, to, flags), 1)
FAILS_OR (int, fchmod, (int descriptor, mode_t mode), (descriptor, mode), counts (descriptor))
FAILS_OR (int, mkdir, (const char *path, mode_t mode), (path, mode), 1)

/* What the C library writes for itself does not come by the above: it fails as a whole, and the stream knows it (_IO_ERR_SEEN). */
static int
stream_fails (FILE *stream)
{
  if (!counts (fileno (stream)) || fate (0) != FAILS)
    return 0;
  stream->_flags |= 0x20;
  return 1;
}

size_t
fwrite (const void *bytes, size_t size, size_t n, FILE *stream)
{
  return stream_fails (stream) ? 0 : REAL (fwrite) (bytes, size, n, stream);
}

int
fflush (FILE *stream)
{
  return stream && stream_fails (stream) ? EOF : REAL (fflush) (stream);
}

int
fclose (FILE *stream)
{
  int failed = counts (fileno (stream)) && (fcntl (fileno (stream), F_GETFL) & O_ACCMODE) != O_RDONLY && fate (0) == FAILS, cause = errno;
  int done = REAL (fclose) (stream);
  if (failed)
    errno = cause;
  return failed ? EOF : done;
}

#define OPENS_STREAM(name)                                                                                                                 \
  FILE *name (const char *path, const char *mode)                                                                                          \
  {                                                                                                                                        \
    return mode[strspn (mode, "rbe")] && strncmp (path, "/dev/", 5) != 0 && fate (0) == FAILS ? NULL : REAL (name) (path, mode);           \
  }
OPENS_STREAM (fopen)
OPENS_STREAM (fopen64)

FILE *
tmpfile (void)
{
  return fate (0) == FAILS ? NULL : REAL (tmpfile) ();
}
