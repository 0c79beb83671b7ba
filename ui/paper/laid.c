/* laid.c - blocks laid once and kept: a page's figures are fitted, its breaks sought and all pages laid again, with the same text as before */
#include "ui/paper/layout.h"

/* What the piece was laid by: it serves again where the layouter has the same. */
typedef struct {
  Piece piece;
  guint tight;
  gboolean by_stretch, by_places, unplaced;
  double stretch;
  const GHashTable *places;
} Laid;

static void
free_laid (void *data)
{
  Laid *laid = data;
  piece_clear (&laid->piece);
  g_free (laid);
}

static void
free_list (void *list)
{
  g_ptr_array_unref (list);
}

void
laid_begin (Layouter *layouter)
{
  layouter->laid = g_hash_table_new_full (NULL, NULL, NULL, free_list);
}

void
laid_end (Layouter *layouter)
{
  g_clear_pointer (&layouter->laid, g_hash_table_unref);
}

static gboolean
serves (const Laid *laid, const Layouter *layouter)
{
  return laid->tight == layouter->tight && (!laid->by_stretch || laid->stretch == layouter->stretch)
         && (!laid->by_places || (laid->places == layouter->places && laid->unplaced == layouter->unplaced));
}

const Piece *
laid_block (Layouter *layouter, const SpPaperBlock *block)
{
  GPtrArray *list = g_hash_table_lookup (layouter->laid, block);
  if (!list)
    g_hash_table_insert (layouter->laid, (gpointer) block, list = g_ptr_array_new_with_free_func (free_laid));
  for (guint i = 0; i < list->len; i++)
    if (serves (g_ptr_array_index (list, i), layouter))
      return &((const Laid *) g_ptr_array_index (list, i))->piece;
  Laid *laid = g_new0 (Laid, 1);
  g_ptr_array_add (list, laid);
  piece_init (&laid->piece);
  layouter->by_stretch = layouter->by_places = FALSE;
  lay_block (layouter, block, layouter->width, &laid->piece);
  laid->tight = layouter->tight;
  laid->by_stretch = layouter->by_stretch;
  laid->by_places = layouter->by_places;
  laid->stretch = layouter->stretch;
  laid->places = layouter->places;
  laid->unplaced = layouter->unplaced;
  return &laid->piece;
}
