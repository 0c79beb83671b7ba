/* startup.h - what a start does while the display is opened: the book is read and judged, the type is loaded
 *
 * Neither needs the display, and each takes as long as a bare window's first frame. On the main thread but where said otherwise.
 */
#pragma once

#include "core/book/book.h"
#include "core/findings/findings.h"

/* Before GTK starts, once. `path`: a file to be read, and judged after that. */
void sp_early_begin (const char *path);

/* Waits for the type; the main thread's widgets and figures use it from then on. Before the first widget. Gives the family that the user has
 * chosen for the desktop's interface, NULL where that is the desktop's own default. (transfer none) */
const char *sp_early_type (void);

/* FILE.sheet as a book in memory, else a bench book, read now; on any thread. Where somebody has that book open it is a copy in memory, and `held`
 * (transfer full) says who; else that is NULL. (transfer full) */
SpBook *sp_early_read (const char *path, char **held, GError **error);
/* The same: what was begun, or read now. (transfer full) */
SpBook *sp_early_book (const char *path, char **held, GError **error);

/* Is this the bench that was begun, its findings not taken yet? On any thread, like the next. */
gboolean sp_early_has (const SpBench *bench);
/* The bench's findings, waiting so long for them (negative: until they are ready). NULL: not ready yet, or it has no such bench. (transfer full) */
SpFindings *sp_early_findings (const SpBench *bench, int wait_ms);
