/* run-form.h - a substitution run as a form that computes as somebody types */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/chain-edit.h"

/* For a stage of the chain at `place`: its run, or an empty one at its points' frequencies. What was typed and not taken into the stage is there again
 * when the form is opened the next time, after a quit, a crash or a kill too (drafts.h). */
void sp_run_form_present (GtkWindow *parent, SpSession *session, SpChainPlace place, guint stage);
