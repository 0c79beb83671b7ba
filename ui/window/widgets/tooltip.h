/* tooltip.h - a tooltip that costs nothing until somebody asks for it
 *
 * gtk_widget_set_tooltip_text() asks the display where the pointer is, each time: a table of cells waits for a hundred answers.
 */
#pragma once

#include <gtk/gtk.h>

/* `text` is copied, and is the description for a screen reader; NULL: none. */
void sp_tip_set (GtkWidget *widget, const char *text);
