/* pyramid.c - least and greatest of a trace in steps of two, for any zoom */
#include "ui/figure/plot/pyramid.h"

#include "ui/figure/plot/reduce.h"

struct SpPyramids {
  GHashTable *of; /* const double* -> SpPyramid* */
};

static void
pyramid_free (void *data)
{
  SpPyramid *pyramid = data;
  g_free (pyramid->blocks);
  g_free (pyramid);
}

SpPyramids *
sp_pyramids_new (void)
{
  SpPyramids *pyramids = g_new (SpPyramids, 1);
  pyramids->of = g_hash_table_new_full (NULL, NULL, NULL, pyramid_free);
  return pyramids;
}

void
sp_pyramids_free (SpPyramids *pyramids)
{
  if (!pyramids)
    return;
  g_hash_table_unref (pyramids->of);
  g_free (pyramids);
}

const SpPyramid *
sp_pyramids_of (SpPyramids *pyramids, guint64 n, const double *y)
{
  if (!pyramids)
    return NULL;
  SpPyramid *pyramid = g_hash_table_lookup (pyramids->of, y);
  if (pyramid)
    return pyramid;
  pyramid = g_new (SpPyramid, 1);
  pyramid->n = n / SP_BLOCK;
  pyramid->blocks = g_new (SpBlock, pyramid->n);
  for (guint64 i = 0; i < pyramid->n; i++)
    sp_scan (y + i * SP_BLOCK, SP_BLOCK, &pyramid->blocks[i]);
  g_hash_table_insert (pyramids->of, (void *) y, pyramid);
  return pyramid;
}
