/* card.h - the card for the table's other side: one radio, to be read from two metres in a dim room
 *
 * Drawn for a sheet of 1440 x 900 and scaled to what there is; a taller one has more room for what is wanted. Its words are ui/words/card.h's.
 */
#pragma once

#include "ui/figure/pen/pen.h"
#include "ui/words/card.h"

typedef struct {
  const SpFindings *findings;
  const SpCard *card; /* of these findings */
  SpCardState state;
  gboolean stale;   /* the bench is another by now, and is being judged */
  const char *came; /* what came last and what became of it; NULL */
} SpCardView;

/* Fills `rect`, sheet and all. The pen's palette is a dark one. */
void sp_card_draw (SpPen *pen, const SpCardView *view, const SpRect *rect);
