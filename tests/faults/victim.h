/* victim.h - a process that kills itself at an event of its own choosing, so that no kill depends on the clock
 *
 * An event is a call that may change what stands below a folder: a file opened to be written, written to, cut, synced, renamed, removed. Linked into
 * a program, victim.c stands before the C library's functions, also for SQLite's and GLib's calls. Nothing is counted until it is armed.
 */
#pragma once

#include <glib.h>

/* SIGKILL instead of the event `at` (from 1) below `folder`; 0: events are only counted. `torn`: a write gets half of its bytes out first. */
void victim_arm (const char *folder, guint at, gboolean torn);
/* Events since then. */
guint victim_events (void);
