/* run-form.h - a substitution run as a form that computes as somebody types
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session.h"

/* For a stage of the chosen condition's chain: its run, or an empty one at its points' frequencies. What was typed and not taken into the stage is there
 * again when the form is opened the next time. */
void sp_run_form_present (GtkWindow *parent, SpSession *session, guint stage);
