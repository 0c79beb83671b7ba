/* window.h - one bench book in one window */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

#define SP_TYPE_WINDOW (sp_window_get_type ())
G_DECLARE_FINAL_TYPE (SpWindow, sp_window, SP, WINDOW, GtkApplicationWindow)

/* Takes the book over. `held`: it is a copy of one that somebody has open, and that says who (startup.h); the bar tells. NULL: it is not. */
SpWindow *sp_window_new (GtkApplication *application, SpBook *book, const char *held);
SpSession *sp_window_session (SpWindow *window);
/* The three-step hint above the invented sample. */
void sp_window_show_hint (SpWindow *window);
/* Offers the books that were kept without a name (kept.h), in a bar, once they are looked through; says nothing where there are none. */
void sp_window_offer_kept (SpWindow *window);
/* Opens a bench book, or reads a sheet into a book in memory, in place of the present book, which is saved first; one that has no name yet, or cannot be
 * saved, keeps its window, and the other gets a new one. Read off the main thread, one at a time; what is wrong is said in the bar, and nothing has
 * changed then. */
void sp_window_open (SpWindow *window, GFile *file);

/* A book from a file: as sp_early_book(). (transfer full) */
SpBook *sp_window_book_from (GFile *file, char **held, GError **error);
