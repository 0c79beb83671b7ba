#include "core/trace/bytes.h"

#include "core/quantity/error.h"
#include "core/quantity/large.h"
#include "core/trace/limits.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <sys/stat.h>
#include <unistd.h>

static gboolean
fail_io (const char *path, GError **error)
{
  return sp_fail (error, SP_ERROR_IO, _ ("%s: cannot be read: %s"), path, g_strerror (errno));
}

static gboolean
too_large (const char *path, GError **error)
{
  return sp_fail (error, SP_ERROR_LIMIT, _ ("%s: more than %" G_GSIZE_FORMAT " bytes, the limit; export a narrower span"), path,
                  SP_LIMIT_FILE_BYTES);
}

/* Until the end, however the size was stated: it may be a pipe, or grow. */
static GBytes *
read_all (int fd, gsize expected, const char *path, GError **error)
{
  gsize capacity = MIN (expected, SP_LIMIT_FILE_BYTES) + 1, length = 0;
  g_autofree char *data = sp_large_resize (NULL, capacity);

  while (data) {
    ssize_t got = read (fd, data + length, capacity - length);
    if (got < 0 && errno == EINTR)
      continue;
    if (got < 0) {
      fail_io (path, error);
      return NULL;
    }
    if (got == 0)
      return g_bytes_new_take (g_steal_pointer (&data), length);
    length += (gsize) got;
    if (length > SP_LIMIT_FILE_BYTES) {
      too_large (path, error);
      return NULL;
    }
    if (length == capacity) {
      capacity = MIN (2 * capacity, SP_LIMIT_FILE_BYTES + 1) + 4096;
      char *larger = sp_large_resize (data, capacity);
      if (!larger)
        g_free (data);
      data = larger;
    }
  }
  sp_fail (error, SP_ERROR_LIMIT, _ ("%s: not enough memory for the file"), path);
  return NULL;
}

GBytes *
sp_bytes_read (const char *path, GError **error)
{
  GBytes *bytes = NULL;
  struct stat status;
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NOCTTY);

  if (fd < 0 || fstat (fd, &status) < 0)
    fail_io (path, error);
  else if (S_ISREG (status.st_mode) && status.st_size > (off_t) SP_LIMIT_FILE_BYTES)
    too_large (path, error);
  else
    bytes = read_all (fd, S_ISREG (status.st_mode) ? (gsize) status.st_size : 65536, path, error);
  if (fd >= 0)
    close (fd);
  return bytes;
}
