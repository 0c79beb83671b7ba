/* understood.h - a first look at an export: how it is written and what each of its first lines is, for a person to check the reading by
 *
 * It tells what the layers of the reader found, also where the reading as a whole was refused. Only the file's first 64 KiB are looked at.
 */
#pragma once

#include "core/trace/trace.h"

/* Both bound what is shown. */
#define SP_UNDERSTOOD_LINES 16       /* lines */
#define SP_UNDERSTOOD_CHARACTERS 240 /* of a line */

typedef enum {
  SP_LINE_NOT_READ, /* blank, a comment, or nothing was understood */
  SP_LINE_SETTING,  /* before the table: a key and a value, or text */
  SP_LINE_HEADER,   /* names the columns, or their units */
  SP_LINE_DATA,     /* a row of the table */
  SP_LINE_SKIPPED   /* a row that was left out as asked */
} SpLineRole;

typedef struct {
  guint64 number; /* from 1; a gap to the one before: lines between them are not shown */
  char *text;     /* UTF-8, one line, cut to SP_UNDERSTOOD_CHARACTERS */
  SpLineRole role;
} SpUnderstoodLine;

typedef struct {
  guint n;
  SpUnderstoodLine *lines;      /* the file's first ones; where the table begins below them, the first four of its rows too */
  const char *encoding;         /* "UTF-8" ...; NULL: no text */
  const char *delimiter, *mark; /* the words of the options: "comma", "blank" ..., "none"; NULL where no table was found */
  char *frequency;              /* the frequency column's name and unit as written, or its number; NULL: levels alone, or not found */
  char *shape;                  /* equal for files written alike: names of their columns and keys of their preamble, without any value */
  char *columns;                /* the names of the columns, for people: "Frequency (MHz), Level (dBm)"; "" where they have none */
} SpUnderstood;

/* `options` NULL: none. `trace`: what was read with them, NULL where it was refused. (transfer full) */
SpUnderstood *sp_trace_understood (GBytes *bytes, const SpTraceOptions *options, const SpTrace *trace);
/* The same of a trace that has been read, with its own options; NULL where it keeps no bytes. (transfer full) */
SpUnderstood *sp_trace_understood_at (const SpTrace *trace);
void sp_trace_understood_free (SpUnderstood *look); /* NULL: nothing */
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpUnderstood, sp_trace_understood_free)
