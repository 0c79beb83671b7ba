/* dialect.h - how a table is written: where its rows begin, what separates fields, what marks decimals and thousands
 *
 * Nothing is known by name. Every way of reading is tried on the same rows; those that make a number of every field stay. Where two
 * that stay give different numbers, the whole file is asked (one frequency column that ascends or descends, a header with as many names,
 * levels that can be levels); if two still stay, that is an error which names both.
 */
#pragma once

#include "core/trace/limits.h"
#include "core/trace/text/encoding.h"
#include "core/trace/text/fields.h"
#include "core/trace/trace.h"

/* no level is above 1000 dB of anything, nor 1000 W or V: a larger number is no level (common practice, no source) */
#define SP_GREATEST_LEVEL 1000

/* Bare frequencies of which one is at least this are taken for Hz (and warned about): in MHz it would be 100 GHz, in kHz 100 MHz. */
#define SP_BARE_HZ 1e5 /* common practice, no source */

#define SP_DELIMITERS 5                         /* room for those in sp_delimiters */
extern const char sp_delimiters[SP_DELIMITERS]; /* those that are tried; 0: one field a line */

typedef enum { SP_FIELD_EMPTY, SP_FIELD_NUMBER, SP_FIELD_TEXT } SpFieldKind;

/* What the rows looked at have in one column. */
typedef struct {
  SpFieldKind kind;
  gboolean ascends, descends; /* strictly */
  gboolean counts;            /* 0, 1, 2 ... or 1, 2, 3 ... */
  double first, low, high;
} SpColumnContent;

/* The first field that is no number, for a message. */
typedef struct {
  guint64 line;        /* 0: there is none */
  guint column, field; /* its place in the line, characters; its field, from 0 */
  char text[32];       /* its beginning */
} SpFirstText;

typedef struct {
  char delimiter;     /* , ; tab, ' ' for runs of blanks, 0: one field a line */
  char mark, group;   /* decimal mark; mark of thousands or 0 */
  gboolean mark_open; /* no number looked at has a mark: it may still turn out the other one */
  gboolean settled;   /* more than one reading was possible; consistency picked this one */
  guint n;            /* fields in a row */
  SpFirstText first_text;
  SpColumnContent content[SP_LIMIT_COLUMNS];
} SpDialect;

/* Where the rows of numbers begin: the first of at least three lines that look alike and hold numbers, else of two, else a single one.
 * *rows is set to read that line next. FALSE with an error where there is none. */
gboolean sp_dialect_start (const SpText *text, const char *file, SpTextLines *rows, GError **error);

/* Reads `rows` (the first `sample`; 0: as many as a trace may have) in every way that `options` leave open. `sweep`: start and stop are known, so a table of levels
 * alone is possible. */
gboolean sp_dialect_choose (const SpText *text, const char *file, const SpTextLines *rows, guint sample, const SpTraceOptions *options,
                            gboolean sweep, SpDialect *dialect, GError **error);

/* "comma", "point", "semicolon", "tab", "blank", "none": the options' words. */
const char *sp_dialect_word (char mark);

/* Looks like a row at first sight: its first field begins with a digit, or with a sign or decimal mark and a digit. */
gboolean sp_line_looks_like_row (const SpTextLine *line);
