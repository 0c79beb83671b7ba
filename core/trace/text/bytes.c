/* bytes.c - the bytes of an export: read, checked against limits, decoded */
#include "core/trace/text/bytes.h"

#include "core/quantity/error.h"
#include "core/quantity/file.h"
#include "core/quantity/large.h"
#include "core/trace/limits.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <unistd.h>

#define PIPE_BYTES ((gsize) 65536) /* space for a beginning, where nothing says how much comes */

typedef struct {
  char *data;
  gsize length, capacity;
} Bytes;

/* Room behind what is there; FALSE where there is no memory. */
static gboolean
make_space (Bytes *bytes)
{
  if (bytes->data && bytes->length < bytes->capacity)
    return TRUE;
  bytes->capacity = bytes->data ? MIN (2 * bytes->capacity, SP_LIMIT_FILE_BYTES + 1) : bytes->capacity;
  char *larger = sp_large_resize (bytes->data, bytes->length, bytes->capacity);
  bytes->data = larger ? larger : bytes->data;
  return larger != NULL;
}

/* To its end, and no more than `most`. FALSE and errno. */
static gboolean
read_up_to (int descriptor, gsize most, Bytes *bytes)
{
  while (bytes->length < most) {
    if (!make_space (bytes)) {
      errno = ENOMEM;
      return FALSE;
    }
    gssize got = read (descriptor, bytes->data + bytes->length, MIN (bytes->capacity, most) - bytes->length);
    if (got < 0 && errno != EINTR)
      return FALSE;
    if (got == 0)
      return TRUE;
    bytes->length += (gsize) MAX (got, 0);
  }
  return TRUE;
}

static GBytes *
read_open (int descriptor, gsize length, const char *path, GError **error)
{
  gboolean is_pipe = length == G_MAXSIZE;
  Bytes bytes = { NULL, 0, is_pipe ? PIPE_BYTES : MAX (length, 1) };
  gboolean good = read_up_to (descriptor, is_pipe ? SP_LIMIT_FILE_BYTES + 1 : length, &bytes);

  g_autofree char *data = bytes.data;
  if (!good)
    sp_fail (error, errno == ENOMEM ? SP_ERROR_LIMIT : SP_ERROR_IO, _ ("%s: cannot be read: %s"), path, g_strerror (errno));
  else if (bytes.length > SP_LIMIT_FILE_BYTES)
    good = sp_fail (error, SP_ERROR_LIMIT, _ ("%s: more than %" G_GSIZE_FORMAT " bytes, the limit; export a narrower span"), path,
                    SP_LIMIT_FILE_BYTES);
  else
    good = is_pipe || sp_file_is_still (descriptor, path, length, error);
  return good ? g_bytes_new_take (g_steal_pointer (&data), bytes.length) : NULL;
}

GBytes *
sp_bytes_read (const char *path, gboolean pipe, GError **error)
{
  gsize length;
  int descriptor = sp_file_open (path, pipe, SP_LIMIT_FILE_BYTES, &length, error);

  if (descriptor < 0)
    return NULL;
  GBytes *bytes = read_open (descriptor, length, path, error);
  close (descriptor);
  return bytes;
}
