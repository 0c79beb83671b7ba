/* condition-dialog.h - the form of a condition and its radio; binds to the session alone */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Name, owner, serial, frequency, power, meter, mode, mask ... of a condition and its radio, and its sweeps (purpose, settings as read, options, remove). */
void sp_condition_dialog_present (GtkWindow *parent, SpSession *session, guint condition);
/* The same for a radio that was just added: Escape before anything was changed takes it back, and chooses `before` again. */
void sp_condition_dialog_present_added (GtkWindow *parent, SpSession *session, guint condition, guint before);
