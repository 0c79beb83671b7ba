/* wants.c - what a condition still wants, a line each */
#include "ui/window/pages/wants.h"

#include "ui/words/words.h"

#define WANTS_MOST 3
#define WANTS_OF_GAPS 2 /* of these at most */

static guint
add_want (GString *text, guint n, const SpReason *want)
{
  g_autofree char *sentence = sp_words_reason (want, SP_HAND_SCREEN);
  g_string_append_printf (text, "%s· %s", n ? "\n" : "", sentence);
  return n + 1;
}

/* What would close the first gaps. */
static guint
add_wants_of_gaps (GString *text, const SpConditionFindings *found)
{
  const SpReason *before = NULL; /* both sides of the carrier share one */
  guint n = 0;
  for (guint i = 0; i < found->n_gaps && n < WANTS_OF_GAPS; i++) {
    const SpReason *close = found->gaps[i].would_close;
    if (close && close != before)
      n = add_want (text, n, close);
    before = close ? close : before;
  }
  return n;
}

/* Adds to `n` what would prove the open harmonics: one sentence of a kind, the deciding emission's first. */
static guint
add_wants_of_emissions (GString *text, guint n, const SpConditionFindings *found)
{
  gboolean said[SP_N_REASONS] = { FALSE };
  for (int pass = 0; pass < 2; pass++)
    for (guint i = 0; i < found->n_emissions && n < WANTS_MOST; i++) {
      const SpEmission *e = &found->emissions[i];
      if (!e->would_prove || e == sp_findings_unsettled (found) || (pass == 0) != ((int) i == found->worst_emission))
        continue;
      if (said[e->would_prove->code])
        continue;
      said[e->would_prove->code] = TRUE;
      n = add_want (text, n, e->would_prove);
    }
  return n;
}

char *
sp_wants_text (const SpConditionFindings *found)
{
  GString *text = g_string_new (NULL);
  add_wants_of_emissions (text, add_wants_of_gaps (text, found), found);
  return g_string_free (text, FALSE);
}
