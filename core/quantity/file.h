/* file.h - reading a whole file that may come from a stranger */
#pragma once

#include <glib.h>

/* The bytes of `path`, at most `limit` of them, with a NUL behind that does not count. NULL and SP_ERROR_IO where it cannot be read
 * or is no file, SP_ERROR_LIMIT where it is larger (a device without end is not read to its end). (transfer full) */
char *sp_file_read (const char *path, gsize limit, gsize *length, GError **error);
