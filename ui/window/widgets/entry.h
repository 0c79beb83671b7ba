/* entry.h - text that the program sets into an entry, and whose Ctrl+Z is then: the entry's while something is typed in it, else the book's
 *
 * What the program sets is nobody's typing: an entry's own undo reaches back to it and no further. So every entry is filled through here
 * (tests/house sees to it), and every window that edits the book gets its undo keys here.
 * GTK 4.8 swallows Ctrl+Z where an entry has nothing to undo, so the keys are taken before the entry sees them; a redo never reaches the
 * book while something is typed. What is typed when a window closes counts; what was refused is told once before it goes.
 * tests/pages/entries.c walks all entries of all windows that an action opens.
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Of anything with a text that is edited, of one line or of several. */
void sp_entry_fill (GtkWidget *entry, const char *text);
/* What stands in it. (transfer full) */
char *sp_entry_text (GtkWidget *entry);
/* A text of several lines, in which Tab goes on to the next; `name` for a screen reader. (transfer floating) */
GtkWidget *sp_entry_lines_new (const char *name);
/* The first one in sight within `widget` whose text is not what the program has set: typed and not taken. (transfer none); NULL: there is none. */
GtkWidget *sp_entry_standing (GtkWidget *widget);
/* Before `window` closes: what is still being typed is entered. What stands there then, refused or never entered, is not dropped without a word: it gets
 * the focus, and the sentence that says so is given (transfer full), once for each text. NULL: nothing is in the way. */
char *sp_entry_not_taken (GtkWindow *window);
/* Whole numbers, with `name` for a screen reader. (transfer floating) */
GtkWidget *sp_entry_spin_new (const char *name, double least, double most, double step, double value);
/* Ctrl+Z and Ctrl+Shift+Z: what was typed into the entry with the focus is taken back, or brought again; where there is nothing of it, an edit.
 * `session` lives as long as the window is shown. */
void sp_entry_add_undo_keys (GtkWidget *window, SpSession *session);
