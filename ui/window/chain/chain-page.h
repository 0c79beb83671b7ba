/* chain-page.h - the page of stages, points and node levels; binds to the session alone */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Stages with their values and points, loss curves, node levels; every change one undoable edit. */
GtkWidget *sp_chain_page_new (SpSession *session);
/* Chooses a stage there and gives it the focus. */
void sp_chain_page_show_stage (GtkWidget *page, guint stage);
