/* build.h - inside the room: how readers put a trace together */
#pragma once

#include "core/trace/trace.h"

/* A trace of `n` points whose arrays are GBytes of doubles (referenced: level columns of one file share their frequencies).
 * Takes nothing else; the caller fills in the rest before it gives the trace away. The points' rules are the caller's. */
SpTrace *sp_trace_build (const char *file, GBytes *frequencies, GBytes *levels);

/* What sp_trace_sha256 will answer, worked out elsewhere. */
void sp_trace_know_sha256 (SpTrace *trace, const char *sha256);

/* TRUE where the n points keep the rules of trace.h; else FALSE, the index of the first that does not in *bad. */
gboolean sp_points_ordered (guint64 n, const double *frequency_hz, const double *level_dbm, guint64 *bad);
