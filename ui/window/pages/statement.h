/* statement.h - the chosen condition in one sentence, with its glyph, and in a few where it is asked for */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Follows the session's findings and chosen condition; hidden where there is none. */
GtkWidget *sp_statement_new (SpSession *session);
