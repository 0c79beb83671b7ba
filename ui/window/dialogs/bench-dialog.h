/* bench-dialog.h - the form of the bench; binds to the session alone */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Title, date, operator, place, mask, rule, temperature, bandwidth, reflections. */
void sp_bench_dialog_present (GtkWindow *parent, SpSession *session);
