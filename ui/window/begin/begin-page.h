/* begin-page.h - what an empty book shows in place of the spectrum: what to do first, with the buttons to do it
 *
 * Shown until the first sweep is in the bench.
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

GtkWidget *sp_begin_page_new (SpSession *session);
