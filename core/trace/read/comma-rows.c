/* comma-rows.c - tells rows whose decimal comma is also their delimiter */
#include "core/trace/read/comma-rows.h"

#include "core/quantity/error.h"
#include "core/trace/text/decimal.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

typedef struct {
  gboolean up, down;
  double last, low, most; /* most: the greatest magnitude */
} Way;

/* The i-th pair of fields as one number with a decimal comma between them. */
static gboolean
pair (const SpTextFields *fields, guint i, double *value)
{
  const SpTextField *whole = sp_fields_get (fields, 2 * i), *decimals = whole + 1;

  return !whole->quoted && !decimals->quoted && whole->end + 1 == decimals->start && decimals->start < decimals->end
         && g_ascii_isdigit (*decimals->start) && sp_decimal_all (whole->start, whole->end, ',', 0, 0, value)
         && !memchr (whole->start, '.', (gsize) (whole->end - whole->start))
         && sp_decimal_all (whole->start, decimals->end, ',', 0, 0, value);
}

static void
look (Way *way, double value, gboolean first)
{
  if (first)
    *way = (Way){ TRUE, TRUE, value, value, fabs (value) };
  else {
    way->up = way->up && value > way->last;
    way->down = way->down && value < way->last;
    way->low = MIN (way->low, value);
    way->most = MAX (way->most, fabs (value));
    way->last = value;
  }
}

/* One column that can be frequencies, and levels in all others. */
static gboolean
could_be_trace (const Way *ways, guint n, gboolean alone)
{
  guint frequencies = 0, large = 0;

  for (guint i = 0; i < n; i++) {
    frequencies += ways[i].low >= 0 && (ways[i].up || ways[i].down);
    large += ways[i].most > SP_GREATEST_LEVEL;
  }
  return n == 1 ? alone && large == 0 : frequencies > 0 && large <= 1;
}

gboolean
sp_rows_joined (const SpTextLines *rows, guint sample, guint n, gboolean alone)
{
  Way ways[SP_LIMIT_COLUMNS / 2 + 1];
  g_auto (SpTextFields) fields = { 0 };
  SpTextLines lines = *rows;
  guint seen = 0;
  SpTextLine line;
  double value;

  if (n < 2 || n % 2 != 0)
    return FALSE;
  sp_fields_init (&fields);
  while (seen < (sample ? sample : SP_LIMIT_POINTS) && sp_lines_next_record (&lines, &line)) {
    if (!sp_line_looks_like_row (&line) || sp_fields_split (&fields, &line, ',') != n)
      continue;
    for (guint i = 0; i < n / 2; i++) {
      if (!pair (&fields, i, &value))
        return FALSE;
      look (&ways[i], value, seen == 0);
    }
    seen++;
  }
  return seen > 0 && could_be_trace (ways, n / 2, alone);
}

gboolean
sp_fail_joined (const SpTextLines *rows, guint n, const char *file, GError **error)
{
  g_autoptr (GString) apart = g_string_new (NULL), joined = g_string_new (NULL);
  g_auto (SpTextFields) fields;
  SpTextLines lines = *rows;
  SpTextLine line;

  sp_fields_init (&fields);
  while (sp_lines_next_record (&lines, &line) && sp_fields_split (&fields, &line, ',') != n)
    ;
  for (guint i = 0; i < MIN (n, 6); i++) {
    g_autofree char *text = sp_field_text (sp_fields_get (&fields, i));
    g_string_append_printf (apart, "%s%s", i ? " | " : "", text);
    g_string_append_printf (joined, "%s%s", i == 0 ? "" : i % 2 ? "." : " | ", text);
  }
  if (n == 2)
    return sp_fail_at (error, file, (guint) line.number, 1,
                       _ ("can be read in two ways, and the whole file does not tell which: as %s, a frequency and a level (name the "
                          "first's unit: ?frequency_unit=MHz, say), or as %s, a level alone with a decimal comma (give start and stop: "
                          "?decimal=comma&delimiter=blank&start=30MHz&stop=1GHz, say)"),
                       apart->str, joined->str);
  return sp_fail_at (
      error, file, (guint) line.number, 1,
      _ ("can be read in two ways, and the whole file does not tell which: as %s (?decimal=point&delimiter=comma), or as %s, "
         "the comma being delimiter and decimal mark at once: that needs an export with semicolons or with a decimal point"),
      apart->str, joined->str);
}
