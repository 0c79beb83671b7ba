/* handed.h - which benches a report was handed out of: kept with the preferences, by hash, the latest of them */
#pragma once

#include <glib.h>

/* A report of this very bench (SpBench.sha256) was written. */
void sp_handed_add (const char *sha256);
gboolean sp_handed_has (const char *sha256);
