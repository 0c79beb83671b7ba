/* fast-row.h - inside the folder: a plain row, plain fields and plain numbers, read as it stands; what it does not like goes the slow way
 * (points-slow.c)
 *
 * The text behind must hold a line end, and SP_SAME_FORMAT_READ_AHEAD bytes after that.
 */
#pragma once

#include "core/trace/limits.h"
#include "core/trace/read/same-format.h"

typedef struct {
  guint field;      /* from 0 */
  int shift;        /* power of ten of its unit */
  double low, high; /* what may stand there, in that unit; for a frequency in Hz */
} SpWanted;

/* Which fields of a row are read, and where their values go. */
typedef struct {
  char delimiter, mark;
  guint n; /* fields in a row */
  guint n_wanted;
  SpWanted wanted[SP_LIMIT_COLUMNS]; /* ascending fields */
  guint place[SP_LIMIT_COLUMNS];     /* index into the values */
  SpSameFormat alike[SP_LIMIT_COLUMNS];
} SpRowPlan;

static inline gboolean
sp_fast_is_gap (char c, char delimiter)
{
  return c == ' ' || (c == '\t' && delimiter == ' ');
}

static inline gboolean
sp_fast_is_line_end (char c)
{
  return c == '\n' || c == '\r';
}

/* Behind the delimiter that ends the field at p; NULL at the line's end or at a quote. */
static inline const char *
sp_fast_skip_field (const char *p, char delimiter)
{
  while (*p != delimiter && !sp_fast_is_line_end (*p) && *p != '"' && !sp_fast_is_gap (*p, delimiter))
    p++;
  while (sp_fast_is_gap (*p, delimiter))
    p++;
  if (delimiter == ' ')
    return sp_fast_is_line_end (*p) || *p == '"' ? NULL : p;
  return *p == delimiter ? p + 1 : NULL;
}

/* From the end of a number over its delimiter. */
static inline const char *
sp_fast_next_field (const char *p, char delimiter)
{
  const char *first = p;

  while (sp_fast_is_gap (*p, delimiter))
    p++;
  if (delimiter == ' ')
    return p > first && !sp_fast_is_line_end (*p) ? p : NULL;
  return *p == delimiter ? p + 1 : NULL;
}

/* Reads the row at p, which a line end must follow. Returns the line end's place, NULL where the row is not plain. */
static inline const char *
sp_fast_row (const char *p, SpRowPlan *plan, double *values)
{
  const char delimiter = plan->delimiter;
  guint field = 0;

  while (sp_fast_is_gap (*p, delimiter))
    p++;
  /* A row begins with a number, also where that is not wanted: what a line is does not depend on which columns are read. */
  if (plan->wanted[0].field > 0 && !g_ascii_isdigit (p[*p == '-']))
    return NULL;
  for (guint w = 0; w < plan->n_wanted; w++) {
    const SpWanted *wanted = &plan->wanted[w];
    for (; field < wanted->field; field++)
      if (!(p = sp_fast_skip_field (p, delimiter)))
        return NULL;
    while (sp_fast_is_gap (*p, delimiter))
      p++;
    if (!(p = sp_same_format_read (&plan->alike[w], p, plan->mark, wanted->shift, &values[plan->place[w]])))
      return NULL;
    if (w + 1 < plan->n_wanted) {
      if (!(p = sp_fast_next_field (p, delimiter)))
        return NULL;
      field++;
    }
  }
  for (; field + 1 < plan->n; field++) {
    p = sp_fast_next_field (p, delimiter);
    if (!p)
      return NULL;
    while (!sp_fast_is_line_end (*p) && *p != '"' && (delimiter == ' ' ? !sp_fast_is_gap (*p, ' ') : *p != delimiter))
      p++;
  }
  while (sp_fast_is_gap (*p, delimiter))
    p++;
  return sp_fast_is_line_end (*p) ? p : NULL;
}

/* The next line, from a line's end; NULL where a CR stands alone among LFs. */
static inline const char *
sp_fast_line_end (const char *p, char mark)
{
  while (mark == '\n' && *p == '\r')
    p++;
  return *p == mark ? p + 1 : NULL;
}
