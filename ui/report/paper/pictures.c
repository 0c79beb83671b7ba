/* pictures.c - the letterhead, and photographs two abreast with what is said of them */
#include "ui/report/paper/compose.h"

#include "core/quantity/clean.h"

#include <glib/gi18n-lib.h>

#define LETTERHEAD 40  /* points: of a page's 65 rows three and a third */
#define PHOTOGRAPH 250 /* points: an upright one leaves room for two rows and their words */

static SpPaperBlock *
add_picture (GPtrArray *blocks, const SpPicture *picture, double best, char *alt)
{
  g_autofree char *said = alt;
  SpPaperBlock *block = paper_add (blocks, SP_BLOCK_PICTURE);
  block->picture = picture;
  block->best = best;
  block->text = sp_clean (said);
  return block;
}

void
paper_letterhead (GPtrArray *blocks, const SpBench *bench)
{
  const SpPicture *letterhead = sp_bench_letterhead (bench);
  if (letterhead)
    add_picture (blocks, letterhead, LETTERHEAD, g_strdup (_ ("The letterhead")));
}

void
paper_pictures (GPtrArray *blocks, const GArray *pictures, const char *what)
{
  SpPaperBlock *columns = NULL;
  for (guint i = 0; pictures && i < pictures->len; i++) {
    const SpCaptioned *one = &g_array_index (pictures, SpCaptioned, i);
    columns = i % 2 == 0 ? paper_add (blocks, SP_BLOCK_COLUMNS) : columns;
    char *alt = one->caption ? g_strdup (one->caption) : g_strdup_printf (_ ("A picture of %s"), what);
    SpPaperBlock *block = add_picture (paper_column (columns), one->picture, PHOTOGRAPH, alt);
    if (one->caption)
      paper_run (block, one->caption, FALSE);
  }
  if (columns && columns->columns->len == 1)
    paper_column (columns); /* alone it is no wider than beside another */
}

static void
open_page (GPtrArray *blocks, gboolean *open)
{
  if (!*open)
    paper_page (blocks, _ ("Pictures"), "pictures");
  *open = TRUE;
}

/* Parts of the chains that are used. */
static void
add_stages (GPtrArray *blocks, const SpFindings *findings, gboolean *open)
{
  g_autoptr (GPtrArray) chains = sp_bench_chains (findings->bench, -1);
  for (guint i = 0; i < chains->len; i++) {
    const SpChain *chain = g_ptr_array_index (chains, i);
    for (guint k = 0; k < chain->n; k++) {
      if (!chain->stages[k]->pictures)
        continue;
      open_page (blocks, open);
      paper_heading (blocks, chain->stages[k]->name, chain->name);
      paper_pictures (blocks, chain->stages[k]->pictures, chain->stages[k]->name);
    }
  }
}

/* A page of those of one radio, or of the bench, of its chains and of all its radios. */
void
paper_pictures_page (GPtrArray *blocks, const SpFindings *findings, int radio)
{
  const SpBench *bench = findings->bench;
  gboolean open = FALSE;
  if (radio < 0 && bench->pictures) {
    open_page (blocks, &open);
    paper_heading (blocks, _ ("Of the bench"), NULL);
    paper_pictures (blocks, bench->pictures, _ ("the bench"));
  }
  if (radio < 0)
    add_stages (blocks, findings, &open);
  for (guint i = 0; i < bench->n_radios; i++) {
    if (!bench->radios[i].pictures || (radio >= 0 && i != (guint) radio))
      continue;
    open_page (blocks, &open);
    paper_heading (blocks, bench->radios[i].name, NULL);
    paper_pictures (blocks, bench->radios[i].pictures, bench->radios[i].name);
  }
}
