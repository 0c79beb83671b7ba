/* read.h - exports to traces: bytes -> text -> lines -> fields -> columns -> units -> points
 *
 * The first four stand in core/trace/text. From any thread.
 */
#pragma once

#include "core/trace/trace.h"

/* Reads a file: the only level column it has, or the one that options->column names, of its only table, or the one that options->table
 * names; with several and none named it is an error that lists them. Limits: core/trace/limits.h. Errors name file, line, column, what was
 * expected and what to do. `options` NULL: none. (transfer full) */
SpTrace *sp_trace_read_file (const char *path, const SpTraceOptions *options, GError **error);
/* The same for who takes a trace stretch by stretch: tables that follow each other in frequency, as behind a second preamble, are no error but its
 * stretches, each with its own settings; the trace itself is then the first of them. (transfer full) */
SpTrace *sp_trace_read_joined (const char *path, const SpTraceOptions *options, GError **error);
/* The same for who will ask for its hash: of a long file it is worked out meanwhile, in a thread of its own. (transfer full) */
SpTrace *sp_trace_read_hashed (const char *path, const SpTraceOptions *options, GError **error);
/* The same from bytes that are already there; `name` stands in messages. (transfer full) */
SpTrace *sp_trace_read_bytes (GBytes *bytes, const char *name, const SpTraceOptions *options, GError **error);
/* All the level columns of a file, each a trace, when options->column is NULL; else the one; of all its tables, when options->table is 0.
 * Where there are several, the options of each name its column and table ("column=3&table=2"), so that they read it alone again, and the
 * columns of the second table are called "Level (2)". (transfer full), of SpTrace* */
GPtrArray *sp_trace_read_all (const char *path, const SpTraceOptions *options, GError **error);
GPtrArray *sp_trace_read_all_bytes (GBytes *bytes, const char *name, const SpTraceOptions *options, GError **error);
