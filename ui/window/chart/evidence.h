/* evidence.h - whose the chosen emission is, and what shows it: a small plot in a popover */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Opens above `relative` for the emission that the session has chosen; says what is missing where nothing shows it. Nothing is chosen: nothing opens. */
void sp_evidence_popup (GtkWidget *relative, SpSession *session);
