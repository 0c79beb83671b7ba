/* mind.h - what is to be minded of the chosen condition and of the bench: the warnings, those that can change a verdict first */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Follows the session. `low`: only the heads stand on the page, and the sentences behind them. */
GtkWidget *sp_mind_new (SpSession *session);
void sp_mind_set_low (GtkWidget *mind, gboolean low);
