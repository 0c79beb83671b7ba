/* statement.c - the chosen condition in one sentence, with its verdict's glyph, above its spectrum */
#include "ui/figure/panels.h"
#include "ui/figure/pen/glyph.h"
#include "ui/figure/pen/names.h"

#include "ui/words/words.h"

#include <string.h>

#define GLYPH 14
#define TEXT_FROM 22

void
sp_statement_draw (SpPen *pen, const SpFindings *findings, const SpView *view, const SpRect *rect)
{
  if (view->condition >= findings->n)
    return;
  const SpConditionFindings *found = &findings->conditions[view->condition];
  g_autofree char *said = sp_words_statement (found, SP_HAND_SCREEN), *whole = NULL;
  double height = sp_pen_line_height (SP_TEXT_BOLD), first = rect->y + height, width = rect->width - TEXT_FROM;
  /* the list of radios may hold others: the sentence names its own */
  g_autofree char *name = sp_name_short (findings, view->condition);
  whole = g_strdup_printf ("%s. %s", name, said);
  sp_glyph_verdict (pen, rect->x + GLYPH / 2, first - 4, GLYPH, found->verdict);
  sp_pen_text_wrap (pen, rect->x + TEXT_FROM, first, SP_TEXT_BOLD, &pen->palette->ink, width, (guint) MAX (1, rect->height / height),
                    whole);
}
