/* bytes.h - a file's bytes, whole, within the limit */
#pragma once

#include <glib.h>

/* Read with read(): mapping is slower, for the page faults, and a file that shrinks under a map kills the reader. SP_ERROR_IO or
 * SP_ERROR_LIMIT. (transfer full) */
GBytes *sp_bytes_read (const char *path, GError **error);

/* realloc for a large array that is about to be filled, on large pages where they can be had: of the time that reading a long file takes,
 * a third is the kernel's, giving out one page of 4 KiB after the other. NULL where there is no memory, as `array` for a new one. For
 * g_free. */
gpointer sp_bytes_large_array (gpointer array, gsize length);
