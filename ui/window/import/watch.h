/* watch.h - a folder that exports come into: each is taken into the bench within a second of being written, and nobody touches a dialog
 *
 * The folder is listed every half a second, off the main thread: that needs no events, which a stick or a share may not give, and a file has to be
 * looked at twice anyway to know that it has stopped growing. What is in it at the beginning is left alone. A file that is new, or is another by size or
 * time, is read once two lists in a row have it alike; bytes that the bench has are not taken again. It goes to the radio that its name says, where the
 * bench has that one, else to the chosen condition; more attenuation than the keyed sweep makes it a step. What it does not say itself is as it was
 * said at an earlier import of files of its shape. One that cannot be read, or of which nobody has said RBW or attenuation, waits to be looked at and
 * holds up none behind it. A folder that goes away is waited for.
 *
 * Signal "changed": what it says, or what waits.
 */
#pragma once

#include "ui/window/session/session.h"

#define SP_TYPE_WATCH (sp_watch_get_type ())
G_DECLARE_FINAL_TYPE (SpWatch, sp_watch, SP, WATCH, GObject)

/* Begins at once. (transfer full) */
SpWatch *sp_watch_new (SpSession *session, const char *folder);
/* Nothing is taken from here on. */
void sp_watch_stop (SpWatch *watch);
const char *sp_watch_folder (const SpWatch *watch);
/* What came last and what became of it, one sentence. */
const char *sp_watch_says (const SpWatch *watch);
/* The first file that waits to be looked at; NULL: none. */
const char *sp_watch_waiting (const SpWatch *watch);
/* Whoever asks looks at it now. (transfer full); NULL */
char *sp_watch_take_waiting (SpWatch *watch);
/* The file that was taken last, as long as nothing was edited since; NULL. */
const char *sp_watch_last (const SpWatch *watch);
/* TRUE: the next one is a re-take, once: it takes the place of the earlier sweep. */
void sp_watch_set_again (SpWatch *watch, gboolean again);
gboolean sp_watch_again (const SpWatch *watch);
