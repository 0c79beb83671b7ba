/* why-view.h - one verdict explained: the chosen emission from the reading to the word, in eight cells
 *
 * In place of the spectrum. Left and Right go to another emission, Escape goes back ("win.page").
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

GtkWidget *sp_why_view_new (SpSession *session);
