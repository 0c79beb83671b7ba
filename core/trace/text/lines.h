/* lines.h - text -> lines: LF, CRLF or CR, counted from 1 */
#pragma once

#include <glib.h>

typedef struct {
  const char *start, *end; /* without the line end */
  guint64 number;          /* of its first line */
} SpTextLine;

typedef struct {
  const char *next, *end;
  guint64 number; /* of the line that comes next */
  char mark;      /* '\n', or '\r' in a text that has no LF */

  /* Seen already: who is within quotes where a line begins, from open_from on, still is where open_to's begins. */
  const char *open_from, *open_to;
  guint64 open_number; /* of the line at open_to */
} SpTextLines;

void sp_lines_init (SpTextLines *lines, const char *start, gsize length);
/* FALSE at the end of the text. A last line without a line end counts, an empty one behind the last line end does not. */
gboolean sp_lines_next (SpTextLines *lines, SpTextLine *line);
/* The same, where a quoted field may run over several lines: a quote at a field's start (line start, or behind , ; or tab) that
 * its line does not close takes in the lines up to the closing one, SP_LIMIT_QUOTED_LINES at most; if none closes it, it is
 * an ordinary character. */
gboolean sp_lines_next_record (SpTextLines *lines, SpTextLine *record);

gboolean sp_line_is_blank (const SpTextLine *line);
/* Begins with # ! % // or ' behind blanks; *behind (may be NULL) is the text after the mark. */
gboolean sp_line_is_comment (const SpTextLine *line, const char **behind);
/* Place of `at` in its line, in characters from 1. */
guint sp_line_column (const SpTextLine *line, const char *at);
