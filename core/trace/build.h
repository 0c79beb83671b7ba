/* build.h - how a trace is put together: for this folder and its readers */
#pragma once

#include "core/trace/trace.h"

/* A trace of `n` points whose arrays are GBytes of doubles (referenced: level columns of one file share their frequencies).
 * Takes nothing else; the caller fills in the rest before it gives the trace away. The points' rules are the caller's. */
SpTrace *sp_trace_build (const char *file, GBytes *frequencies, GBytes *levels);

/* n points of a trace from index `first` on, n >= 2: its arrays are the whole's own, its options name them with from= and to= if `named`.
 * (transfer full) */
SpTrace *sp_trace_cut (const SpTrace *whole, guint64 first, guint64 n, gboolean named);
/* sp_trace_stretches() without its memory; NULL: one stretch. (transfer full) */
GPtrArray *sp_trace_find_stretches (const SpTrace *trace);
/* Several traces of a file as one, whose stretches they and theirs are. (transfer full) */
SpTrace *sp_trace_join (const GPtrArray *traces);
/* What sp_trace_stretches() will answer of a trace that nobody else has seen; nothing where it has been asked. `parts` is taken over. */
void sp_trace_know_stretches (SpTrace *trace, GPtrArray *parts);
/* One RBW for several spacings: SPACING_JUMPS into its warnings. */
void sp_trace_warn_of_stretches (SpTrace *trace);

/* What sp_trace_sha256 will answer, worked out elsewhere. */
void sp_trace_know_sha256 (SpTrace *trace, const char *sha256);

/* TRUE where the n points keep the rules of trace.h; else FALSE, the index of the first that does not in *bad. */
gboolean sp_points_ordered (guint64 n, const double *frequency_hz, const double *level_dbm, guint64 *bad);
