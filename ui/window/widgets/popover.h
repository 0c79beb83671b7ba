/* popover.h - what is shown above a place for as long as it is looked at */
#pragma once

#include <gtk/gtk.h>

/* Opens `content` (transfer floating) above the middle of `relative`, `y` below its upper edge; `name` is for a screen reader. It goes when it is closed,
 * or `relative` is. `kept` (transfer full; NULL: nothing) lives as long. `relative` is no GtkStack: one that is destroyed would look for the popover
 * among its pages for ever. */
void sp_popover_show (GtkWidget *relative, GtkWidget *content, const char *name, int y, GObject *kept);
