/* large.h - arrays of a value for each point of a long trace
 *
 * On large pages where they can be had: of the time that reading and judging a million points take, a third would be the kernel's, giving out
 * one page of 4 KiB after the other. Below a few MiB it is memory as any other. All of it is for g_free.
 */
#pragma once

#include <glib.h>

#define SP_LARGE_BYTES ((gsize) 4 << 20) /* from here on an array is mapped for itself; bounds memory */

/* realloc for an array that is about to be filled, of which the first `used` bytes are kept, no more than `length`. NULL where there is no memory,
 * as `array` for a new one. */
gpointer sp_large_resize (gpointer array, gsize used, gsize length);

/* As g_new: ends the program where there is no memory. */
#define sp_large_new(type, n) ((type *) sp_large_alloc ((n), sizeof (type)))
gpointer sp_large_alloc (gsize n, gsize size);

/* What another library has made, as it is; where it had no memory for it, the program ends as by g_new. */
gpointer sp_made (gpointer made);
