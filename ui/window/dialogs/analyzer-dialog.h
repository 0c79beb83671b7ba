/* analyzer-dialog.h - the form of an analyzer's profile; binds to the session alone */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* The analyzer's profile, key by key. */
void sp_analyzer_dialog_present (GtkWindow *parent, SpSession *session);
