/* card-page.h - the card over the whole window: the chosen radio for whoever stands at the table's other side, driven by keys alone
 *
 * "card.keyed" (Space): what is to be done now is done, or the cautions are read, or the next radio is shown; "card.again" (R): the next
 * export is a re-take; "card.next", "card.previous" (Right, Left): another radio. Escape goes back ("win.card"). What is expected stands in
 * the session (SpExpects).
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/figure/card.h"
#include "ui/window/session/session.h"

#define SP_TYPE_CARD_PAGE (sp_card_page_get_type ())
G_DECLARE_FINAL_TYPE (SpCardPage, sp_card_page, SP, CARD_PAGE, GtkWidget)

GtkWidget *sp_card_page_new (SpSession *session);
/* What came last and what became of it, a line below all. */
void sp_card_page_set_came (SpCardPage *page, const char *came);
SpCardState sp_card_page_state (const SpCardPage *page);
/* All of it, as a screen reader says it. (transfer none) */
const char *sp_card_page_says (const SpCardPage *page);
