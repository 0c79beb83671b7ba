/* budget.h - the uncertainty budget behind a level, as a tree in a window of its own */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Opens for the emission that the session has chosen, else for its condition's P, and follows the choice until it is closed; asked again, the same
 * window comes to the front. No findings yet: nothing opens. */
void sp_budget_present (GtkWindow *parent, SpSession *session);
