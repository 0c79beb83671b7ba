/* recent.h - the bench books that were open last, with how they stood: kept with the preferences
 *
 * A book is written down when it is opened, saved or judged, and only one that the user gave a name. Its worst verdict is that of its findings at the time;
 * where the file was changed since by somebody else it is not told.
 */
#pragma once

#include "core/findings/findings.h"

typedef struct {
  char *path, *title;
  guint n_conditions;
  gint64 changed_us;      /* of the file, microseconds since 1970 */
  gboolean verdict_known; /* FALSE: not judged yet, or the file was changed since */
  SpVerdict verdict;
} SpRecent;

#define SP_RECENT_MOST 8

/* findings NULL, or not of this bench: its verdict is not known. */
void sp_recent_add (const char *path, const SpBench *bench, const SpFindings *findings);
/* Those that still are there, the last first. (transfer full) */
GPtrArray *sp_recent_read (void);
