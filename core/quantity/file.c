#include "core/quantity/file.h"

#include "core/quantity/error.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <sys/stat.h>

#define BLOCK 65536

static FILE *
open_file (const char *path, GError **error)
{
  g_autofree char *display = g_filename_display_name (path);
  FILE *stream = fopen (path, "rb");
  struct stat status;

  if (!stream) {
    sp_fail (error, SP_ERROR_IO, _("%s: cannot be opened: %s"), display, g_strerror (errno));
    return NULL;
  }
  if (fstat (fileno (stream), &status) == 0 && S_ISDIR (status.st_mode)) {
    sp_fail (error, SP_ERROR_IO, _("%s: is a folder; expected a file"), display);
    fclose (stream);
    return NULL;
  }
  return stream;
}

char *
sp_file_read (const char *path, gsize limit, gsize *length, GError **error)
{
  FILE *stream = open_file (path, error);
  g_autofree char *display = g_filename_display_name (path);
  g_autoptr (GByteArray) bytes = g_byte_array_new ();

  if (!stream)
    return NULL;
  for (gsize got = BLOCK; got == BLOCK && bytes->len <= limit;) {
    gsize before = bytes->len;
    g_byte_array_set_size (bytes, before + BLOCK);
    got = fread (bytes->data + before, 1, BLOCK, stream);
    g_byte_array_set_size (bytes, before + got);
  }
  gboolean failed = ferror (stream) != 0;
  int cause = errno;
  fclose (stream);
  if (failed) {
    sp_fail (error, SP_ERROR_IO, _("%s: cannot be read: %s"), display, g_strerror (cause));
    return NULL;
  }
  if (bytes->len > limit) {
    sp_fail (error, SP_ERROR_LIMIT, _("%s: is larger than the %" G_GSIZE_FORMAT " bytes that are read of such a file"), display, limit);
    return NULL;
  }
  *length = bytes->len;
  g_byte_array_append (bytes, (const guint8 *) "", 1);
  return (char *) g_byte_array_free (g_steal_pointer (&bytes), FALSE);
}
