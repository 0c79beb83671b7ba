#include "core/quantity/large.h"

#include <stdlib.h>
#include <sys/mman.h>
#include <unistd.h>

/* A new one begins where a large page does: else its first and last parts get small ones. */
gpointer
sp_large_resize (gpointer array, gsize length)
{
  const gsize large = (gsize) 2 << 20, page = (gsize) sysconf (_SC_PAGESIZE);
  gpointer place = NULL;

  if (array || length < 2 * large)
    place = g_try_realloc (array, length);
  else if (posix_memalign (&place, large, length) != 0)
    place = NULL;
  if (place && length >= 2 * large) {
    gsize skip = (page - (gsize) place % page) % page;
    madvise ((char *) place + skip, (length - skip) / page * page, MADV_HUGEPAGE); /* a wish: what it returns does not matter */
  }
  return place;
}

gpointer
sp_large_alloc (gsize n, gsize size)
{
  gpointer array = size > 0 && n <= G_MAXSIZE / size ? sp_large_resize (NULL, n * size) : NULL;
  if (!array && n > 0)
    g_error ("no memory for %" G_GSIZE_FORMAT " values of %" G_GSIZE_FORMAT " bytes", n, size);
  return array;
}
