/* read-job.h - inside the folder: from bytes to traces */
#pragma once

#include "core/trace/trace.h"
#include "core/trace/unit-words.h"

typedef struct {
  GBytes *raw;
  const char *file;
  const SpTraceOptions *options;
  gboolean all;      /* tables and level columns, not only one */
  gboolean joins;    /* else: tables too, where each goes on in frequency where the last one ended: one sweep in several stretches */
  guint last_table;  /* that is wanted; 0: all are */
  GPtrArray *traces; /* what came of it */
  guint64 values;    /* levels of them all */
} SpReadJob;

/* All tables of a text, layer by layer: text -> lines -> fields -> columns -> units -> points. */
gboolean sp_read_tables (SpReadJob *job, GError **error);

/* Into *place, where it is given. */
void sp_read_override (double *place, double given);

/* n frequencies from start to stop. NULL and an error where the sweep goes beyond all frequencies. */
double *sp_read_spread (double start_hz, double stop_hz, guint64 n, const char *file, GError **error);

/* Levels from a column's unit to dBm, in place; FALSE with the index of the first that has no level in dBm. */
gboolean sp_read_convert (double *levels, guint64 n, const SpUnitWord *unit, guint64 *bad);

/* The first n values as bytes; *values is NULL then. (transfer full) */
GBytes *sp_read_take_array (double **values, guint64 n);

/* A trace of the job's file, with the options' settings before those read; into the job's traces. */
SpTrace *sp_read_make_trace (SpReadJob *job, GBytes *frequencies, GBytes *levels, const SpUnitWord *unit, const char *column,
                             const SpSettings *settings);
