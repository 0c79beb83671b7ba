/* bytes.h - a file's bytes, whole, within the limit */
#pragma once

#include <glib.h>

/* Read with read(): mapping is slower, for the page faults, and a file that shrinks under a map kills the reader. What is read, and what
 * `pipe` allows: core/quantity/file.h. SP_ERROR_IO or SP_ERROR_LIMIT. (transfer full) */
GBytes *sp_bytes_read (const char *path, gboolean pipe, GError **error);
