/* watch-bar.h - the bar of a watched folder: what came last and what became of it, with what can be done about it
 *
 * Its buttons are actions of the window: win.watch-look, win.watch-again, win.watch (stops). The watching ends with the bar.
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/import/watch.h"

#define SP_TYPE_WATCH_BAR (sp_watch_bar_get_type ())
G_DECLARE_FINAL_TYPE (SpWatchBar, sp_watch_bar, SP, WATCH_BAR, GtkBox)

GtkWidget *sp_watch_bar_new (SpSession *session, const char *folder);
SpWatch *sp_watch_bar_watch (SpWatchBar *bar);
