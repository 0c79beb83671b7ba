/* step-mark.h - which of the job's steps is the next, as a word in the window's head on every page
 *
 * A click is "win.next-step", which leads to where it is done. Nothing is shown where no step is open.
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

GtkWidget *sp_step_mark_new (SpSession *session);
