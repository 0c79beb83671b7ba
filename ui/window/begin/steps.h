/* steps.h - the job's eight steps as a list: each ticks itself off as the bench comes to hold what it asks for, and leads to where that is done
 *
 * A row activates "win.step" with the step's number (SpJobStep).
 */
#pragma once

#include <gtk/gtk.h>

#include "core/findings/job.h"
#include "ui/window/session/session.h"

GtkWidget *sp_steps_new (SpSession *session);
/* How far the session's bench has come. */
SpJob sp_steps_job (SpSession *session);
