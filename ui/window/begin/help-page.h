/* help-page.h - the help inside the window: topics at the left, what they say at the right, words to be looked for
 *
 * Escape goes back ("help.stop").
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

GtkWidget *sp_help_page_new (SpSession *session);
/* Shows a topic by its id (ui/words/help.h). NULL: the one on show, and the focus to where a word is looked for. */
void sp_help_page_show (GtkWidget *page, const char *topic);
