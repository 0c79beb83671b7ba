/* check-form.h - an analyzer held against a known level, as a form that computes as somebody types */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Of the chosen condition's analyzer, or the bench's. What was typed and not taken over is there again when the form is opened the next time, as with
 * a run (drafts.h). No analyzer: nothing happens. */
void sp_check_form_present (GtkWindow *parent, SpSession *session);
