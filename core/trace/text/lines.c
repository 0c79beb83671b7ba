/* lines.c - divides text into lines and records */
#include "core/trace/text/lines.h"

#include "core/trace/limits.h"

#include <string.h>

void
sp_lines_init (SpTextLines *lines, const char *start, gsize length)
{
  *lines = (SpTextLines){ .next = start, .end = start + length, .number = 1, .mark = '\n' };
  /* The first line end tells: a CR with no LF behind it in the whole text is a line end of its own. */
  if (length > 0 && !memchr (start, '\n', length) && memchr (start, '\r', length))
    lines->mark = '\r';
}

gboolean
sp_lines_next (SpTextLines *lines, SpTextLine *line)
{
  if (lines->next >= lines->end)
    return FALSE;
  const char *end = memchr (lines->next, lines->mark, (gsize) (lines->end - lines->next));
  *line = (SpTextLine){ .start = lines->next, .end = end ? end : lines->end, .number = lines->number++ };
  lines->next = end ? end + 1 : lines->end;
  while (line->end > line->start && line->end[-1] == '\r')
    line->end--;
  return TRUE;
}

/* Does [start, end) end inside a quoted field? `inside` says how it begins. */
static gboolean
ends_quoted (const char *start, const char *end, gboolean inside)
{
  const char *p = inside ? start : memchr (start, '"', (gsize) (end - start));
  gboolean field_start = FALSE;

  for (; p && p < end; p = memchr (p, '"', (gsize) (end - p))) {
    if (!inside) {
      const char *before = p;
      while (before > start && before[-1] == ' ')
        before--;
      field_start = before == start || strchr (",;\t", before[-1]);
      inside = field_start;
      p++;
      continue;
    }
    if (*p != '"')
      continue;
    if (p + 1 < end && p[1] == '"')
      p++;
    else
      inside = FALSE;
    p++;
  }
  return inside;
}

/* Looks ahead for the line that closes a quote. What was seen of lines that close none is not looked at again: else each line of a text that
 * only opens quotes would have all that follow looked through. */
static gboolean
find_closing_line (SpTextLines *lines, SpTextLine *line)
{
  const guint64 last = lines->number + SP_LIMIT_QUOTED_LINES;
  SpTextLines ahead = *lines;
  gboolean open = TRUE;

  if (lines->open_from && lines->next >= lines->open_from && lines->next < lines->open_to) {
    ahead.next = lines->open_to;
    ahead.number = lines->open_number;
  } else
    lines->open_from = lines->next;
  while (open && ahead.number < last && sp_lines_next (&ahead, line))
    open = ends_quoted (line->start, line->end, TRUE);
  if (open) {
    lines->open_to = ahead.next;
    lines->open_number = ahead.number;
  } else
    *lines = ahead;
  return !open;
}

gboolean
sp_lines_next_record (SpTextLines *lines, SpTextLine *record)
{
  SpTextLine line;

  if (!sp_lines_next (lines, record))
    return FALSE;
  if (ends_quoted (record->start, record->end, FALSE) && find_closing_line (lines, &line))
    record->end = line.end;
  return TRUE;
}

static const char *
skip_blanks (const SpTextLine *line)
{
  const char *p = line->start;
  while (p < line->end && (g_ascii_isspace (*p) || *p == '\v')) /* a vertical tab is no space to GLib, and no field to us */
    p++;
  return p;
}

gboolean
sp_line_is_blank (const SpTextLine *line)
{
  return skip_blanks (line) == line->end;
}

gboolean
sp_line_is_comment (const SpTextLine *line, const char **behind)
{
  const char *p = skip_blanks (line);

  if (p < line->end && strchr ("#!%'", *p) && *p)
    p++;
  else if (line->end - p >= 2 && p[0] == '/' && p[1] == '/')
    p += 2;
  else
    return FALSE;
  if (behind)
    *behind = p;
  return TRUE;
}

guint
sp_line_column (const SpTextLine *line, const char *at)
{
  return (guint) MIN (g_utf8_pointer_to_offset (line->start, at) + 1, G_MAXINT);
}
