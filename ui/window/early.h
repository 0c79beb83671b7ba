/* early.h - what a start does while the display is opened: the book is read and judged, the type is loaded
 *
 * Neither needs the display, and each takes as long as a bare window's first frame. On the main thread but where said otherwise.
 */
#pragma once

#include "core/book/book.h"
#include "core/judge/findings.h"

/* Before GTK starts, once. `path`: a file to be read, and judged after that. */
void sp_early_begin (const char *path);

/* Waits for the type; the main thread's widgets and figures use it from then on. Before the first widget. Gives the family that the user has
 * chosen for the desktop's interface, NULL where that is the desktop's own default. (transfer none) */
const char *sp_early_type (void);

/* FILE.sheet as a book in memory, else a bench book: what was begun, or read now. (transfer full) */
SpBook *sp_early_book (const char *path, GError **error);

/* The findings of the bench that was begun; `wait`: when they are ready (from another thread only). NULL: that bench was not begun, or it is not
 * judged yet, or they were taken already. (transfer full) */
SpFindings *sp_early_findings (const SpBench *bench, gboolean wait);
