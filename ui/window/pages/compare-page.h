/* compare-page.h - the page of conditions side by side; binds to the session alone */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Conditions side by side. */
GtkWidget *sp_compare_page_new (SpSession *session);
