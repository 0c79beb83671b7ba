/* workbook-temporary.c - the spreadsheet library's temporary files, whether they took everything, and whether it ran out of memory */
#include "ui/report/workbook/workbook-private.h"

#include <errno.h>
#include <fcntl.h>
#include <unistd.h>

/* The library writes each part of a workbook into one and never looks whether it was taken: on a full disk the workbook would lack rows and nobody
 * be told. So its function that makes them is ours: a program's own comes before a library's of that name. They have no name anywhere.
 * tests/batch/faults.py fails where that no longer holds. */

static __thread int trouble; /* the first errno; a workbook is made by one thread */

void
workbook_temporary_begin (void)
{
  errno = trouble = 0;
}

/* Without memory the library leaves things out (a relationship, a style, a print range) and returns no error. But a failed allocation stays in
 * errno: nothing that succeeds takes it away. */
static void
note_want_of_memory (void)
{
  if (errno == ENOMEM && !trouble)
    trouble = ENOMEM;
}

gboolean
workbook_temporary_good (void)
{
  note_want_of_memory ();
  errno = trouble;
  return !trouble;
}

void
workbook_note (lxw_error status)
{
  note_want_of_memory ();
  if (status == LXW_ERROR_MEMORY_MALLOC_FAILED && !trouble)
    trouble = ENOMEM;
}

static gboolean
note (gboolean good)
{
  if (!good && !trouble)
    trouble = errno;
  return good;
}

static ssize_t
take (void *cookie, const char *bytes, size_t length)
{
  gsize done = 0;
  note_want_of_memory ();
  while (done < length && GPOINTER_TO_INT (cookie) >= 0) {
    gssize put = write (GPOINTER_TO_INT (cookie), bytes + done, length - done);
    if (!note (put >= 0 || errno == EINTR))
      return 0; /* a stream of ours must not say -1 */
    done += (gsize) MAX (put, 0);
  }
  return (ssize_t) length;
}

static ssize_t
give (void *cookie, char *bytes, size_t length)
{
  gssize got = 0;
  note_want_of_memory ();
  do
    got = GPOINTER_TO_INT (cookie) < 0 ? 0 : read (GPOINTER_TO_INT (cookie), bytes, length);
  while (got < 0 && errno == EINTR);
  note (got >= 0);
  return got;
}

static int
go_to (void *cookie, off64_t *offset, int whence)
{
  note_want_of_memory ();
  off64_t now = GPOINTER_TO_INT (cookie) < 0 ? 0 : lseek (GPOINTER_TO_INT (cookie), *offset, whence);
  *offset = now;
  return note (now >= 0) ? 0 : -1;
}

static int
end (void *cookie)
{
  return GPOINTER_TO_INT (cookie) < 0 ? 0 : close (GPOINTER_TO_INT (cookie));
}

static int
open_nameless (const char *folder)
{
  int descriptor = open (folder, O_TMPFILE | O_EXCL | O_RDWR | O_CLOEXEC, 0600);
  if (descriptor >= 0 || !(errno == EOPNOTSUPP || errno == EISDIR || errno == EINVAL))
    return descriptor;
  g_autofree char *path = g_build_filename (folder, "spurproof-XXXXXX", NULL);
  descriptor = g_mkstemp_full (path, O_RDWR | O_CLOEXEC, 0600);
  if (descriptor >= 0)
    unlink (path);
  return descriptor;
}

/* Where there can be none, one that is empty and takes nothing: the library would write to standard error. */
FILE *
lxw_tmpfile (char *folder)
{
  note_want_of_memory ();
  int descriptor = open_nameless (folder);
  note (descriptor >= 0);
  FILE *stream = fopencookie (GINT_TO_POINTER (descriptor), "w+", (cookie_io_functions_t){ give, take, go_to, end });
  if (!note (stream != NULL) && descriptor >= 0)
    close (descriptor);
  return stream;
}
