/* points-slow.c - rows that are not plain, bad ones, and what stands among and behind the rows */
#include "core/trace/read/points-loop.h"

#include "core/quantity/error.h"
#include "core/trace/text/decimal.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* SCPI: 9.91E37 is not a number, 9.9E37 an infinity (SCPI 1999 7.2.1.4, 7.2.1.5, from memory). What is beyond is a number out of range. */
static gboolean
is_no_number (double value)
{
  return fabs (value) >= 9.9e37 && fabs (value) <= 9.91e37;
}

/* ---- rows ---- */

static gboolean bad_line (SpPointsLoop *loop, const SpTextLine *line, const char *at, GError **error, const char *format, ...)
    G_GNUC_PRINTF (5, 6);

static gboolean
bad_line (SpPointsLoop *loop, const SpTextLine *line, const char *at, GError **error, const char *format, ...)
{
  va_list arguments;

  if (loop->skip_bad) {
    loop->points->skipped++;
    if (loop->points->skipped_lines->len < SP_LIMIT_SKIPPED_LISTED)
      g_array_append_val (loop->points->skipped_lines, line->number);
    return TRUE;
  }
  va_start (arguments, format);
  g_autofree char *text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  return sp_fail_at (error, loop->file, (guint) line->number, sp_line_column (line, at),
                     _ ("%s. Mend the line, or leave such lines out: ?bad=skip"), text);
}

/* A field's text for a message: not too long, valid UTF-8. */
static char *
excerpt (const char *start, const char *end)
{
  gsize length = (gsize) (end - start);
  g_autofree char *part = g_utf8_make_valid (start, (gssize) MIN (length, 40));
  return length > 40 ? g_strconcat (part, "…", NULL) : g_steal_pointer (&part);
}

static const char *
what_is_wanted (guint place)
{
  return place == 0 ? _ ("a frequency") : _ ("a level");
}

/* Values of a row that is not plain: quoted, with marks of thousands, exponents, many digits. FALSE with the field that spoils it. */
static gboolean
slow_values (SpPointsLoop *loop, const SpTextFields *fields, const SpTextField **spoiled, guint *place)
{
  const SpDialect *dialect = loop->dialect;

  for (guint w = 0; w < loop->plan.n_wanted; w++) {
    const SpTextField *field = sp_fields_get (fields, loop->plan.wanted[w].field);
    double *value = &loop->values[loop->plan.place[w]];
    *spoiled = field;
    *place = loop->plan.place[w];
    if (!sp_decimal_all (field->start, field->end, dialect->mark, dialect->group, loop->plan.wanted[w].shift, value)
        || is_no_number (*value))
      return FALSE;
  }
  return TRUE;
}

static const SpTextField *
field_at_place (const SpPointsLoop *loop, const SpTextFields *fields, guint place)
{
  for (guint w = 0; w < loop->plan.n_wanted; w++)
    if (loop->plan.place[w] == place)
      return sp_fields_get (fields, loop->plan.wanted[w].field);
  return sp_fields_get (fields, 0);
}

static gboolean
is_too_low (double frequency_hz)
{
  return frequency_hz > 0 && frequency_hz < SP_LIMIT_LEAST_HZ;
}

/* NULL where the row's values may stand behind those there are; else what is wrong, and in which field. */
static const char *
wrong_with (const SpPointsLoop *loop, guint *place)
{
  double f = loop->values[0];

  *place = 0;
  if (!sp_points_goes_on (loop))
    return f < 0                 ? _ ("a negative frequency")
           : is_too_low (f)      ? _ ("a frequency below 1e-6 Hz; expected 0, more, or a larger unit")
           : f == loop->last     ? _ ("a frequency that the row before has too; each may stand once")
           : loop->direction > 0 ? _ ("a frequency below the one before; the rows ascended so far")
                                 : _ ("a frequency above the one before; the rows descended so far");
  for (guint w = 0; w < loop->plan.n_wanted; w++) {
    const SpWanted *wanted = &loop->plan.wanted[w];
    *place = loop->plan.place[w];
    if (sp_points_is_within (wanted, loop->values[*place]))
      continue;
    if (*place == 0 && !loop->levels_alone)
      return _ ("a frequency beyond 1e15 Hz; expected less, or a smaller unit");
    return wanted->low > 0 && !(loop->values[*place] > 0) ? _ ("no level in dBm for zero or less than zero V or W")
                                                          : _ ("a level beyond 400 dBm either way; expected one between, or another unit");
  }
  return NULL;
}

static gboolean
slow_row (SpPointsLoop *loop, SpTextFields *fields, const SpTextLine *line, gboolean *good, GError **error)
{
  guint n = sp_fields_split (fields, line, loop->dialect->delimiter), place;
  const SpTextField *spoiled;
  const char *wrong;

  *good = FALSE;
  if (n == 0)
    return bad_line (loop, line, line->start, error, _ ("no fields in a row; expected %u as in the rows before"), loop->dialect->n);
  if (n != loop->dialect->n)
    return bad_line (loop, line, sp_fields_get (fields, n > loop->dialect->n ? loop->dialect->n : n - 1)->at, error,
                     n > SP_LIMIT_COLUMNS ? _ ("more than %u fields in a row; expected %u")
                                          : _ ("fields in this row: %u; expected %u as in the rows before"),
                     MIN (n, SP_LIMIT_COLUMNS), loop->dialect->n);
  if (!slow_values (loop, fields, &spoiled, &place)) {
    g_autofree char *text = excerpt (spoiled->start, spoiled->end);
    if (!*text)
      return bad_line (loop, line, spoiled->at, error, _ ("an empty field; expected %s"), what_is_wanted (place));
    return bad_line (loop, line, spoiled->at, error, _ ("‘%s’ is not a number; expected %s, written as in the rows before (decimal %s)"),
                     text, what_is_wanted (place), sp_dialect_word (loop->dialect->mark));
  }
  wrong = wrong_with (loop, &place);
  if (wrong) {
    const SpTextField *field = field_at_place (loop, fields, place);
    g_autofree char *text = excerpt (field->start, field->end);
    return bad_line (loop, line, field->at, error, _ ("‘%s’: %s"), text, wrong);
  }
  *good = TRUE;
  return TRUE;
}

/* ---- what stands behind the rows ---- */

static gboolean
says_not_a_number (SpTextFields *fields, const SpTextLine *line, char delimiter)
{
  static const char *const words[] = { "nan", "-nan", "inf", "-inf", "+inf", "infinity", "-infinity", "n/a", "na", "null", "---", "--" };

  if (sp_fields_split (fields, line, delimiter) == 0)
    return FALSE;
  g_autofree char *text = sp_field_text (sp_fields_get (fields, 0));
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_ascii_strcasecmp (text, words[i]) == 0)
      return TRUE;
  return FALSE;
}

/* What comes behind a place among the rows. */
typedef struct {
  guint64 goes_on;       /* line of a row that carries the rows on; 0: none */
  guint64 run;           /* else: rows of the same form that go back and then one way, as many as show that it is a table */
  gboolean among;        /* the first of them lies where the rows do: it is of another sweep, or of a list of markers */
  gboolean header_again; /* the header is repeated in front of them */
} Behind;

static gboolean
is_header_line (const SpPointsLoop *loop, const SpTextLine *line)
{
  SpTextLines lines;
  SpTextLine other;

  sp_lines_init (&lines, loop->header->start, (gsize) (loop->header->rows.next - loop->header->start));
  while (sp_lines_next (&lines, &other))
    if (!sp_line_is_blank (&other) && other.end - other.start == line->end - line->start
        && memcmp (other.start, line->start, (gsize) (line->end - line->start)) == 0)
      return TRUE;
  return FALSE;
}

/* A row of the same form, whatever its frequency: its values are in the loop then. */
static gboolean
is_row (SpPointsLoop *loop, SpTextFields *fields, const SpTextLine *line)
{
  const SpTextField *spoiled;
  guint place;

  if (!sp_line_looks_like_row (line) || sp_fields_split (fields, line, loop->dialect->delimiter) != loop->dialect->n
      || !slow_values (loop, fields, &spoiled, &place))
    return FALSE;
  for (guint w = 0; w < loop->plan.n_wanted; w++)
    if (!sp_points_is_within (&loop->plan.wanted[w], loop->values[loop->plan.place[w]]))
      return FALSE;
  return TRUE;
}

static gboolean
is_table (const SpPointsLoop *loop, const Behind *behind)
{
  return behind->run >= 2 && 2 * behind->run >= loop->points->n;
}

/* Looks for rows that go on, as far as a table begins. */
static void
look_behind (SpPointsLoop *loop, SpTextFields *fields, SpTextLines lines, Behind *behind)
{
  double last = 0, way = 0;
  SpTextLine line;

  *behind = (Behind){ 0 };
  while (sp_lines_next_record (&lines, &line)) {
    if (!is_row (loop, fields, &line)) {
      behind->header_again |= is_header_line (loop, &line);
      behind->run = 0;
      continue;
    }
    double f = loop->values[0];
    if (sp_points_fit (loop)) {
      *behind = (Behind){ .goes_on = line.number };
      return;
    }
    if (behind->run > 1 && !(way * (f - last) > 0))
      behind->run = 0;
    if (behind->run == 0)
      behind->among = (f - loop->points->frequency_hz[0]) * (f - loop->last) <= 0;
    way = f - last;
    last = f;
    behind->run++;
    if (is_table (loop, behind))
      return;
  }
}

#define PREAMBLE_LINES 200 /* that another preamble is looked for in; each line alone where the first bad one is no error; bounds time */

/* Settings of a sweep in what stands from `at` on, in front of the row that goes on: from here the rows were taken otherwise. */
static gboolean
says_settings (const SpPointsLoop *loop, const SpTextLines *at, guint64 goes_on)
{
  g_auto (SpPreamble) preamble;
  SpTextLines ahead = *at;
  SpTextLine line;
  const char *end = at->next;

  for (guint n = loop->skip_bad ? 2 : PREAMBLE_LINES; n > 0 && sp_lines_next_record (&ahead, &line) && line.number < goes_on; n--)
    end = line.end;
  SpText text = { NULL, at->next, (gsize) (end - at->next), at->number - 1, "UTF-8" };
  sp_preamble_read (&text, end, loop->dialect, 0, loop->file, &preamble, NULL);
  const SpSettings *s = &preamble.settings;
  return !isnan (s->rbw_hz) || !isnan (s->vbw_hz) || !isnan (s->attenuation_db) || !isnan (s->reference_dbm)
         || s->detector != SP_DETECTOR_UNKNOWN || !isnan (preamble.start_hz) || !isnan (preamble.stop_hz) || !isnan (preamble.center_hz)
         || !isnan (preamble.span_hz);
}

/* A line of text among the rows ends them, unless rows that carry them on come behind it. */
static gboolean
text_line (SpPointsLoop *loop, SpTextFields *fields, const SpTextLine *line, const SpTextLines *at, const SpTextLines *next, gboolean *end,
           GError **error)
{
  const char *first = line->start;
  Behind behind;

  while (first < line->end && g_ascii_isspace (*first))
    first++;
  g_autofree char *text = excerpt (first, line->end);
  *end = FALSE;
  if (says_not_a_number (fields, line, loop->dialect->delimiter))
    return bad_line (loop, line, first, error, _ ("‘%s’ is not a number; expected a row as before"), text);
  look_behind (loop, fields, *next, &behind);
  if (behind.goes_on && says_settings (loop, at, behind.goes_on)) {
    loop->points->next_table = *at;
    return *end = TRUE;
  }
  if (behind.goes_on && is_header_line (loop, line))
    return TRUE;
  if (behind.goes_on)
    return bad_line (loop, line, first, error, _ ("‘%s’ among the rows, which go on in line %" G_GUINT64_FORMAT "; expected a row"), text,
                     behind.goes_on);
  *end = TRUE;
  if (is_table (loop, &behind) && (behind.among || behind.header_again || is_header_line (loop, line))) {
    loop->points->next_table = *at;
    return TRUE;
  }
  loop->points->trailing_line = line->number;
  loop->points->trailing_text = g_steal_pointer (&text);
  return TRUE;
}

/* A comment among the rows, with settings of rows that go on behind it? */
static gboolean
another_sweep (SpPointsLoop *loop, SpTextFields *fields, const SpTextLines *at, const SpTextLines *next)
{
  Behind behind;

  if (!says_settings (loop, at, at->number + 1))
    return FALSE;
  look_behind (loop, fields, *next, &behind);
  return behind.goes_on > 0;
}

/* Behind a blank line: a row that begins another table? */
static gboolean
begins_table (SpPointsLoop *loop, SpTextFields *fields, const SpTextLines *at)
{
  Behind behind;

  if (loop->levels_alone || loop->points->n == 0 || loop->blank_behind != loop->points->n)
    return FALSE;
  look_behind (loop, fields, *at, &behind);
  return is_table (loop, &behind);
}

gboolean
sp_points_slow_line (SpPointsLoop *loop, SpTextFields *fields, SpTextLines *lines, gboolean *end, GError **error)
{
  SpTextLines at = *lines;
  SpTextLine line;
  gboolean good;

  *end = !sp_lines_next_record (lines, &line);
  if (!*end && sp_line_is_blank (&line))
    loop->blank_behind = loop->points->n;
  if (!*end && loop->points->n > 0 && sp_line_is_comment (&line, NULL)) {
    loop->points->next_table = another_sweep (loop, fields, &at, lines) ? at : loop->points->next_table;
    *end = loop->points->next_table.next != NULL;
    return TRUE;
  }
  if (*end || sp_line_is_blank (&line) || sp_line_is_comment (&line, NULL))
    return TRUE;
  if (line.end - line.start > (gssize) SP_LIMIT_LINE_BYTES)
    return sp_fail_at (error, loop->file, (guint) line.number, 1, _ ("a line of more than %" G_GSIZE_FORMAT " bytes; expected a row"),
                       SP_LIMIT_LINE_BYTES);
  if (loop->points->n > 0 && !sp_line_looks_like_row (&line))
    return text_line (loop, fields, &line, &at, lines, end, error);
  if (begins_table (loop, fields, &at)) {
    loop->points->next_table = at;
    *end = TRUE;
    return TRUE;
  }
  if (!slow_row (loop, fields, &line, &good, error))
    return FALSE;
  if (good)
    sp_points_append (loop);
  return TRUE;
}
