/* bytes.h - a file's bytes, whole, within the limit */
#pragma once

#include <glib.h>

/* Read with read(): mapping is slower, for the page faults, and a file that shrinks under a map kills the reader. SP_ERROR_IO or
 * SP_ERROR_LIMIT. (transfer full) */
GBytes *sp_bytes_read (const char *path, GError **error);

/* Asks for large pages under a large array that is about to be filled: of the time that reading a long file takes, a third is the kernel's, giving
 * out one page of 4 KiB after the other. Does nothing where there are none to be had. */
void sp_bytes_prefer_large_pages (gpointer start, gsize length);
