/* header.h - the line of names above the rows, and the line of units below it, where there are such */
#pragma once

#include "core/trace/read/dialect.h"
#include "core/trace/read/vocabulary.h"
#include "core/trace/unit-words.h"

typedef struct {
  char *name;      /* as written, without its unit; "" if none */
  char *unit_text; /* as written; "" if none */
  SpUnitWord unit;
  SpWord word;  /* what the name says: SP_WORD_FREQUENCY, _LEVEL, _INDEX, _TIME or _NONE */
  guint column; /* place of the name in its line, characters */
} SpHeaderName;

typedef struct {
  GArray *names;     /* of SpHeaderName, as many as fields in a row; NULL: no header */
  guint64 line;      /* of the names */
  const char *start; /* where header or rows begin: all before is preamble */
  SpTextLines rows;  /* the first line behind the header; it may be a bad row that the start of the rows went past */
} SpHeader;

#define SP_LINES_ABOVE 6 /* a header stands at most so many lines above the first whole row (common practice, no source) */

typedef struct {
  SpTextLine line;    /* without a comment's mark */
  SpTextLines before; /* set to read it next */
  const char *start;  /* with the mark */
} SpLineAbove;

/* The last lines above the rows that are not blank, nearest first. */
typedef struct {
  SpLineAbove line[SP_LINES_ABOVE];
  guint n;
} SpLinesAbove;

/* Looked up once, for every way of reading: it takes a walk through all that stands above. */
void sp_lines_above (const SpText *text, const SpTextLines *rows, SpLinesAbove *above);

/* Looks upward from the first row. Without a header `rows` is the first row as given, or a line right above it that begins with a number
 * and has as many fields: a bad first row is not a preamble. */
void sp_header_find (const SpLinesAbove *above, const SpTextLines *rows, const SpDialect *dialect, SpHeader *header);
void sp_header_clear (SpHeader *header);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SpHeader, sp_header_clear)

/* 1: a header with as many names as the rows have fields; -1: one that names a frequency or a level but has another number; 0: none. */
int sp_header_fits (const SpLinesAbove *above, const SpDialect *dialect);
