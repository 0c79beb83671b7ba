/* reading.h - files that somebody chose or dropped, read off the main thread: a file may be long, and a disk on a net slow */
#pragma once

#include <gio/gio.h>

typedef struct {
  /* In a thread, which touches nothing but `asked`. NULL and an error. (transfer full) */
  gpointer (*read) (const char *path, gpointer asked, GError **error);
  GDestroyNotify free_value;
  /* On the main thread: what was read, or NULL and what is wrong with the file; both (transfer full). Where the owner is a widget whose window was closed
   * meanwhile it is not called, and nothing comes of the reading. */
  void (*done) (gpointer owner, gpointer asked, gpointer value, GError *error);
  GDestroyNotify free_asked; /* NULL: there is nothing to free */
} SpFileReading;

/* `owner`: a widget or another object, kept meanwhile. Takes `asked`; `reading` outlives it. A file that is not on this computer is an error. `file`
 * NULL: what is read is in `asked`. */
void sp_reading_begin (gpointer owner, GFile *file, const SpFileReading *reading, gpointer asked);
/* For tests: how many were begun and are not done. */
guint sp_readings_under_way (void);
