/* large.c - allocates arrays of millions of numbers */
#include "core/quantity/large.h"

#ifdef __GLIBC__
#include <malloc.h>
#endif
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#define LARGE ((int) 2 << 20) /* bounds memory: page size of large arrays */

/* Large arrays are mapped each for itself and given back whole. Left alone, the C library would take them from its heap after the first was freed,
 * and does not find space again for one that is aligned: the heap would grow with each trace. */
static void
keep_apart (void)
{
#ifdef __GLIBC__
  static gsize done;
  if (g_once_init_enter (&done)) {
    mallopt (M_MMAP_THRESHOLD, SP_LARGE_BYTES);
    mallopt (M_TRIM_THRESHOLD, 4 * LARGE);
    g_once_init_leave (&done, 1);
  }
#endif
}

/* One that becomes large begins where a large page does, and all end where one does: else its first and last parts get small ones, which cost
 * eight times as much. One that is large already is moved by its pages, without a copy. */
gpointer
sp_large_resize (gpointer array, gsize used, gsize length)
{
  const gsize page = (gsize) sysconf (_SC_PAGESIZE);
  gpointer place = NULL;

  if (length < SP_LARGE_BYTES || length > G_MAXSIZE - LARGE)
    return g_try_realloc (array, length);
  keep_apart ();
  length = (length + LARGE - 1) / LARGE * LARGE;
  gboolean moves = used >= SP_LARGE_BYTES;
  if (moves)
    place = g_try_realloc (array, length);
  else if (posix_memalign (&place, LARGE, length) != 0)
    place = NULL;
  if (!place)
    return NULL;
  gsize skip = (page - (gsize) place % page) % page;
  madvise ((char *) place + skip, (length - skip) / page * page, MADV_HUGEPAGE); /* a wish: what it returns does not matter */
  /* Not before: what is written first gets a small page. */
  if (!moves && array) {
    memcpy (place, array, used);
    g_free (array);
  }
  return place;
}

gpointer
sp_large_alloc (gsize n, gsize size)
{
  gpointer array = size > 0 && n <= G_MAXSIZE / size ? sp_large_resize (NULL, 0, n * size) : NULL;
  if (!array && n > 0)
    g_error ("no memory for %" G_GSIZE_FORMAT " values of %" G_GSIZE_FORMAT " bytes", n, size);
  return array;
}

gpointer
sp_made (gpointer made)
{
  if (!made)
    g_error ("no memory for a library");
  return made;
}
