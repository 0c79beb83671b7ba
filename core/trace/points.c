#include "core/trace/points.h"

#include "core/quantity/error.h"
#include "core/trace/bytes.h"
#include "core/trace/fast-row.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define NOT_A_NUMBER 9.9e37 /* SCPI: 9.91E37 is not a number, 9.9E37 an infinity (SCPI 1999 7.2.1.4, 7.2.1.5, from memory) */

typedef struct {
  const SpDialect *dialect;
  const char *file;
  gboolean skip_bad, levels_alone;
  SpRowPlan plan;            /* place 0: frequency, 1.. levels */
  double values[SP_LIMIT_COLUMNS + 1];
  SpPoints *points;
  guint64 capacity, limit;
  double last;               /* frequency */
  double direction;          /* 1 ascending, -1 descending, 0 not yet known */
} Loop;

static gboolean
grow (Loop *loop, guint64 capacity, GError **error)
{
  SpPoints *points = loop->points;

  capacity = MIN (capacity, loop->limit);
  for (guint i = 0; i <= points->n_levels; i++) {
    double **array = i == 0 ? &points->frequency_hz : &points->level[i - 1];
    if (i == 0 && loop->levels_alone)
      continue;
    double *larger = sp_bytes_large_array (*array, capacity * sizeof (double));
    if (!larger)
      return sp_fail (error, SP_ERROR_LIMIT, _ ("%s: not enough memory for its points"), loop->file);
    *array = larger;
  }
  loop->capacity = capacity;
  return TRUE;
}

static inline gboolean
is_within (const SpWanted *wanted, double value)
{
  return value >= wanted->low && value <= wanted->high;
}

/* NULL where the row's values may stand behind those there are; else what is wrong, and in which field. */
static inline const char *
wrong_with (const Loop *loop, guint *place)
{
  double f = loop->values[0];

  *place = 0;
  if (!loop->levels_alone) {
    if (!(f >= 0))
      return _ ("a negative frequency");
    if (loop->points->n > 0 && !((loop->direction != 0 ? loop->direction : f > loop->last ? 1 : -1) * (f - loop->last) > 0))
      return f == loop->last            ? _ ("a frequency that the row before has too; each may stand once")
             : loop->direction > 0      ? _ ("a frequency below the one before; the rows ascended so far")
                                        : _ ("a frequency above the one before; the rows descended so far");
  }
  for (guint w = 0; w < loop->plan.n_wanted; w++)
    if (!is_within (&loop->plan.wanted[w], loop->values[loop->plan.place[w]])) {
      *place = loop->plan.place[w];
      if (*place == 0)
        return _ ("a frequency beyond 1e15 Hz; expected less, or a smaller unit");
      return loop->plan.wanted[w].low > 0 && !(loop->values[*place] > 0)
               ? _ ("no level in dBm for zero or less than zero V or W")
               : _ ("a level beyond 400 dBm either way; expected one between, or another unit");
    }
  return NULL;
}

static inline void
append (Loop *loop)
{
  SpPoints *points = loop->points;
  guint64 n = points->n++;

  if (!loop->levels_alone) {
    double f = loop->values[0];
    if (n == 1)
      loop->direction = f > loop->last ? 1 : -1;
    loop->last = points->frequency_hz[n] = f;
  }
  for (guint i = 0; i < points->n_levels; i++)
    points->level[i][n] = loop->values[i + 1];
}

/* ---- the slow path ---- */

static gboolean
bad_line (Loop *loop, const SpLine *line, const char *at, GError **error, const char *format, ...) G_GNUC_PRINTF (5, 6);

static gboolean
bad_line (Loop *loop, const SpLine *line, const char *at, GError **error, const char *format, ...)
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
slow_values (Loop *loop, const SpFields *fields, const SpField **spoiled, guint *place)
{
  const SpDialect *dialect = loop->dialect;

  for (guint w = 0; w < loop->plan.n_wanted; w++) {
    const SpField *field = sp_fields_get (fields, loop->plan.wanted[w].field);
    double *value = &loop->values[loop->plan.place[w]];
    *spoiled = field;
    *place = loop->plan.place[w];
    if (!sp_decimal_all (field->start, field->end, dialect->mark, dialect->group, loop->plan.wanted[w].shift, value)
        || fabs (*value) >= NOT_A_NUMBER)
      return FALSE;
  }
  return TRUE;
}

static const SpField *
field_at_place (const Loop *loop, const SpFields *fields, guint place)
{
  for (guint w = 0; w < loop->plan.n_wanted; w++)
    if (loop->plan.place[w] == place)
      return sp_fields_get (fields, loop->plan.wanted[w].field);
  return sp_fields_get (fields, 0);
}

static gboolean
slow_row (Loop *loop, SpFields *fields, const SpLine *line, gboolean *good, GError **error)
{
  guint n = sp_fields_split (fields, line, loop->dialect->delimiter), place;
  const SpField *spoiled;
  const char *wrong;

  *good = FALSE;
  if (n != loop->dialect->n)
    return bad_line (loop, line, sp_fields_get (fields, n > loop->dialect->n ? loop->dialect->n : n - 1)->at, error,
                     n > SP_LIMIT_COLUMNS ? _ ("more than %u fields in a row; expected %u")
                                          : _ ("%u fields in a row; expected %u as in the rows before"),
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
    const SpField *field = field_at_place (loop, fields, place);
    g_autofree char *text = excerpt (field->start, field->end);
    return bad_line (loop, line, field->at, error, _ ("‘%s’: %s"), text, wrong);
  }
  *good = TRUE;
  return TRUE;
}

/* ---- what stands behind the rows ---- */

static gboolean
says_not_a_number (SpFields *fields, const SpLine *line, char delimiter)
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

/* The row's frequency lies where the trace's do: it is of a second trace, or of a list of markers. */
static gboolean
among_points (const Loop *loop)
{
  double f = loop->values[0];
  return loop->levels_alone || (f - loop->points->frequency_hz[0]) * (f - loop->last) <= 0;
}

/* A line of text among the rows ends them, unless rows that carry them on come behind it. *goes_on is such a row's line; *others counts
 * rows of the same form that do not. */
static void
look_behind (Loop *loop, SpFields *fields, SpLines lines, guint64 *goes_on, guint64 *others, guint64 *first_other)
{
  const SpField *spoiled;
  SpLine line;
  guint place;

  *goes_on = *others = 0;
  while (*goes_on == 0 && sp_lines_next_record (&lines, &line)) {
    if (!sp_line_looks_like_row (&line) || sp_fields_split (fields, &line, loop->dialect->delimiter) != loop->dialect->n
        || !slow_values (loop, fields, &spoiled, &place))
      continue;
    if (!wrong_with (loop, &place))
      *goes_on = line.number;
    else if (among_points (loop) && (*others)++ == 0)
      *first_other = line.number;
  }
}

static gboolean
text_line (Loop *loop, SpFields *fields, const SpLine *line, const SpLines *behind, gboolean *end, GError **error)
{
  guint64 goes_on, others, first_other = 0, n = loop->points->n;
  const char *first = line->start;

  while (first < line->end && g_ascii_isspace (*first))
    first++;
  g_autofree char *text = excerpt (first, line->end);
  *end = FALSE;
  if (says_not_a_number (fields, line, loop->dialect->delimiter))
    return bad_line (loop, line, first, error, _ ("‘%s’ is not a number; expected a row as before"), text);
  look_behind (loop, fields, *behind, &goes_on, &others, &first_other);
  if (goes_on)
    return bad_line (loop, line, first, error, _ ("‘%s’ among the rows, which go on in line %" G_GUINT64_FORMAT "; expected a row"), text,
                     goes_on);
  if (others >= 2 && 2 * others >= n)
    return sp_fail_at (error, loop->file, (guint) first_other, 0,
                       _ ("another table of rows begins, after %" G_GUINT64_FORMAT " rows of the first; expected one table in a file. Put "
                          "each into a file of its own"), n);
  loop->points->trailing_line = line->number;
  loop->points->trailing_text = g_steal_pointer (&text);
  *end = TRUE;
  return TRUE;
}

/* One line that the fast path left. *end: the rows are over. */
static gboolean
slow_line (Loop *loop, SpFields *fields, SpLines *lines, gboolean *end, GError **error)
{
  SpLine line;
  gboolean good;

  *end = !sp_lines_next_record (lines, &line);
  if (*end || sp_line_is_blank (&line) || sp_line_is_comment (&line, NULL))
    return TRUE;
  if (line.end - line.start > (gssize) SP_LIMIT_LINE_BYTES)
    return sp_fail_at (error, loop->file, (guint) line.number, 0, _ ("a line of more than %" G_GSIZE_FORMAT " bytes; expected a row"),
                       SP_LIMIT_LINE_BYTES);
  if (loop->points->n > 0 && !sp_line_looks_like_row (&line))
    return text_line (loop, fields, &line, lines, end, error);
  if (!slow_row (loop, fields, &line, &good, error))
    return FALSE;
  if (good)
    append (loop);
  return TRUE;
}

/* ---- the loop ---- */

static gboolean
room (Loop *loop, const SpLines *lines, GError **error)
{
  if (loop->points->n < loop->capacity)
    return TRUE;
  if (loop->capacity >= loop->limit)
    return sp_fail (error, SP_ERROR_LIMIT,
                    _ ("%s: more than %" G_GUINT64_FORMAT " points with %u levels each, the limit; export a narrower span, or read one "
                       "column: ?column=2, say"),
                    loop->file, loop->limit, loop->points->n_levels);
  if (loop->capacity)
    return grow (loop, 2 * loop->capacity, error);
  /* As many as fit if all lines are as long as the first; memory that is not written to costs nothing. */
  const char *line_end = memchr (lines->next, lines->mark, (gsize) (lines->end - lines->next));
  gsize length = line_end ? (gsize) (line_end - lines->next) + 1 : 1;
  return grow (loop, (guint64) (lines->end - lines->next) / MAX (length, 4) + 64, error);
}

/* Behind the last line end of the text, but for what is looked at ahead; rows before it can be read without looking for the text's end at
 * each character. */
static const char *
last_line_end (const SpLines *lines)
{
  const char *p = lines->end - MIN (SP_DECIMAL_READ_AHEAD, lines->end - lines->next);
  while (p > lines->next && p[-1] != lines->mark)
    p--;
  return p;
}

/* The commonest table by far, 'frequency,level' ascending with nothing else in a row, in a loop whose state stays in registers: a quarter
 * faster than the general one below. Stops at the first row that is anything else, and leaves it to that. */
static void
run_pairs (Loop *loop, SpLines *lines, const char *safe_end)
{
  SpPoints *points = loop->points;
  const char delimiter = loop->dialect->delimiter, mark = loop->dialect->mark;
  const int shift = loop->plan.wanted[0].shift;
  const double most = loop->plan.wanted[0].high;
  const SpWanted *level_wanted = &loop->plan.wanted[1];
  double *frequencies = points->frequency_hz, *levels = points->level[0], last = loop->last, f, level;
  const char *row = lines->next, *p;
  guint64 n = points->n, before = n;

  for (; row < safe_end && n < loop->capacity; row = p + 1, n++) {
    if (!(p = sp_alike_read (&loop->plan.alike[0], row, mark, shift, &f)) || *p != delimiter)
      break;
    if (!(p = sp_alike_read (&loop->plan.alike[1], p + 1, mark, 0, &level)))
      break;
    p += *p == '\r';
    if (*p != '\n' || !(f > last) || f > most || !is_within (level_wanted, level))
      break;
    frequencies[n] = last = f;
    levels[n] = level;
  }
  points->n = n;
  loop->last = last;
  lines->next = row;
  lines->number += n - before;
}

/* Two rows have told which way they go. */
static gboolean
are_pairs (const Loop *loop, const SpLines *lines)
{
  return loop->dialect->n == 2 && loop->plan.n_wanted == 2 && loop->plan.place[0] == 0 && loop->dialect->delimiter
         && loop->dialect->delimiter != ' ' && loop->direction > 0 && lines->mark == '\n';
}

static gboolean
run (Loop *loop, SpLines *lines, GError **error)
{
  const char *safe_end = last_line_end (lines), *p;
  const gboolean plain = loop->dialect->group == '\0';
  g_auto (SpFields) fields;
  gboolean end = FALSE;
  guint place;

  sp_fields_init (&fields);
  while (!end && lines->next < lines->end) {
    if (!room (loop, lines, error))
      return FALSE;
    if (plain && are_pairs (loop, lines))
      run_pairs (loop, lines, safe_end);
    while (plain && !are_pairs (loop, lines) && lines->next < safe_end && loop->points->n < loop->capacity
           && (p = sp_fast_row (lines->next, &loop->plan, loop->values))
           && (p = sp_fast_line_end (p, lines->mark)) && !wrong_with (loop, &place)) {
      append (loop);
      lines->number++;
      lines->next = p;
    }
    if (loop->points->n < loop->capacity && !slow_line (loop, &fields, lines, &end, error))
      return FALSE;
  }
  return TRUE;
}

static int
by_field (gconstpointer a, gconstpointer b)
{
  const guint *x = a, *y = b;
  return x[0] < y[0] ? -1 : x[0] > y[0];
}

/* What a level may be, in its column's unit. */
static void
bound_level (SpWanted *wanted, const SpUnitWord *unit)
{
  if (unit->level == SP_UNIT_VOLT || unit->level == SP_UNIT_WATT) {
    double scale = pow (10, unit->exponent), low = sp_watt_from_dbm (-SP_LIMIT_LEVEL_DBM), high = sp_watt_from_dbm (SP_LIMIT_LEVEL_DBM);
    gboolean volt = unit->level == SP_UNIT_VOLT;
    wanted->low = (volt ? sqrt (low * SP_TRACE_OHM) : low) / scale;
    wanted->high = (volt ? sqrt (high * SP_TRACE_OHM) : high) / scale;
  } else {
    double offset = sp_dbm_from_reading (0, unit->level, 1, SP_TRACE_OHM);
    wanted->low = -SP_LIMIT_LEVEL_DBM - offset;
    wanted->high = SP_LIMIT_LEVEL_DBM - offset;
  }
}

static void
plan (Loop *loop, const SpColumns *columns, const char *text)
{
  guint order[SP_LIMIT_COLUMNS + 1][2], n = 0;

  if (columns->frequency >= 0) {
    order[n][0] = (guint) columns->frequency;
    order[n++][1] = 0;
  }
  for (guint i = 0; i < columns->levels->len; i++) {
    order[n][0] = g_array_index (columns->levels, SpLevelColumn, i).field;
    order[n++][1] = i + 1;
  }
  qsort (order, n, sizeof order[0], by_field);
  for (guint w = 0; w < n; w++) {
    guint place = order[w][1];
    const SpLevelColumn *level = place ? &g_array_index (columns->levels, SpLevelColumn, place - 1) : NULL;
    SpWanted *wanted = &loop->plan.wanted[w];
    *wanted = (SpWanted){ order[w][0], level ? 0 : columns->exponent, 0, SP_LIMIT_FREQUENCY_HZ };
    if (level)
      bound_level (wanted, &level->unit);
    loop->plan.place[w] = place;
    sp_alike_init (&loop->plan.alike[w], text);
  }
  loop->plan.n_wanted = n;
  loop->plan.n = loop->dialect->n;
  loop->plan.delimiter = loop->dialect->delimiter;
  loop->plan.mark = loop->dialect->mark;
}

gboolean
sp_points_read (const SpDialect *dialect, const SpColumns *columns, const SpLines *rows, gboolean skip_bad, const char *file,
                SpPoints *points, GError **error)
{
  Loop loop = { .dialect = dialect, .file = file, .skip_bad = skip_bad, .levels_alone = columns->frequency < 0, .points = points };
  SpLines lines = *rows;

  loop.limit = MIN (SP_LIMIT_POINTS, SP_LIMIT_VALUES / columns->levels->len);
  *points = (SpPoints){ .n_levels = columns->levels->len, .level = g_new0 (double *, columns->levels->len),
                        .skipped_lines = g_array_new (FALSE, FALSE, sizeof (guint64)) };
  plan (&loop, columns, rows->next);
  if (!run (&loop, &lines, error))
    return FALSE;
  if (points->n < 2)
    return sp_fail_at (error, file, (guint) rows->number, 0, points->n ? _ ("one row of numbers; a trace has at least 2 points")
                                                                        : _ ("no good row of numbers; a trace has at least 2 points"));
  points->descends = loop.direction < 0;
  return TRUE;
}

void
sp_points_clear (SpPoints *points)
{
  g_clear_pointer (&points->frequency_hz, g_free);
  for (guint i = 0; points->level && i < points->n_levels; i++)
    g_free (points->level[i]);
  g_clear_pointer (&points->level, g_free);
  g_clear_pointer (&points->skipped_lines, g_array_unref);
  g_clear_pointer (&points->trailing_text, g_free);
}
