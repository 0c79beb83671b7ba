/* range-page.h - the page that plans a sweep; binds to the session alone */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Noise, the product and the floor of the chosen condition against the level at the mixer; a point that is moved; how to sweep. Edits nothing. */
GtkWidget *sp_range_page_new (SpSession *session);
