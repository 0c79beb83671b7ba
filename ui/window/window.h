/* window.h - one bench book in one window
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session.h"

#define SP_TYPE_WINDOW (sp_window_get_type ())
G_DECLARE_FINAL_TYPE (SpWindow, sp_window, SP, WINDOW, GtkApplicationWindow)

/* Takes the book over. */
SpWindow *sp_window_new (GtkApplication *application, SpBook *book);
SpSession *sp_window_session (SpWindow *window);
/* The three-step hint above the invented sample. */
void sp_window_show_hint (SpWindow *window);
/* Opens a bench book, or reads a sheet into a book in memory, in place of the present book, which is saved first; one with edits that lives in memory
 * only keeps its window, and the other gets a new one. Read off the main thread, one at a time; what is wrong is said in the bar, and nothing has
 * changed then. */
void sp_window_open (SpWindow *window, GFile *file);

/* A book from a file: a bench book is opened, a sheet read into one in memory. (transfer full) */
SpBook *sp_window_book_from (GFile *file, GError **error);
