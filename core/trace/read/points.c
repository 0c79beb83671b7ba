/* points.c - reads the rows of a table into points */
#include "core/trace/read/points-loop.h"

#include "core/quantity/error.h"
#include "core/quantity/large.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define FIRST_VALUES ((guint64) 1 << 14)                              /* space for so many until the rows have shown that they are ones */
#define SMALL_VALUES ((guint64) SP_LARGE_BYTES / sizeof (double) / 8) /* no large array before a table has as many; bounds memory */
#define MOST_GROWTH 256                                               /* at once; bounds memory */

static gboolean
grow (SpPointsLoop *loop, guint64 capacity, GError **error)
{
  SpPoints *points = loop->points;

  capacity = MIN (capacity, loop->limit);
  for (guint i = loop->levels_alone; i <= points->n_levels; i++) {
    double **array = i == 0 ? &points->frequency_hz : &points->level[i - 1];
    double *larger = sp_large_resize (*array, points->n * sizeof (double), capacity * sizeof (double));
    if (!larger)
      return sp_fail (error, SP_ERROR_LIMIT, _ ("%s: not enough memory for its points"), loop->file);
    *array = larger;
  }
  loop->capacity = capacity;
  return TRUE;
}

/* As many as fit if all lines are as long as the first, and only the first rows of a long table: what looks like one may end after two of them. */
static guint64
space_for_first (const SpPointsLoop *loop, const SpTextLines *lines)
{
  const char *line_end = memchr (lines->next, lines->mark, (gsize) (lines->end - lines->next));
  gsize length = line_end ? (gsize) (line_end - lines->next) + 1 : 1;
  return MIN ((guint64) (lines->end - lines->next) / MAX (length, 4), FIRST_VALUES / (loop->points->n_levels + 1)) + 64;
}

/* As many as fit if the lines go on as long as they were, and some more; another table may begin long before. */
static guint64
space_for_all (const SpPointsLoop *loop, const SpTextLines *lines)
{
  guint64 n = loop->points->n, read = (guint64) (lines->next - loop->header->rows.next), left = (guint64) (lines->end - lines->next);
  guint64 all = n + n * left / read;
  if (n < SMALL_VALUES) /* a large array costs a large page, however few of its values come */
    all = MIN (all, SMALL_VALUES);
  return MAX (MIN (all + all / 16, MOST_GROWTH * n), n + n / 2);
}

static gboolean
make_space (SpPointsLoop *loop, const SpTextLines *lines, GError **error)
{
  if (loop->points->n < loop->capacity)
    return TRUE;
  if (loop->capacity >= loop->limit)
    return sp_fail (error, SP_ERROR_LIMIT,
                    _ ("%s: more than %" G_GUINT64_FORMAT " points with %u levels each, the limit; export a narrower span, or read one "
                       "column: ?column=2, say"),
                    loop->file, loop->limit, loop->points->n_levels);
  return grow (loop, loop->capacity ? space_for_all (loop, lines) : space_for_first (loop, lines), error);
}

/* Gives back what is far too long. Made shorter where they stand, the arrays of many columns would leave gaps that the next table's do not fit
 * into, and each table would take new memory. */
static void
trim (SpPointsLoop *loop)
{
  SpPoints *points = loop->points;

  if (loop->capacity <= 2 * points->n || loop->capacity * sizeof (double) >= SP_LARGE_BYTES)
    return;
  for (guint i = loop->levels_alone; i <= points->n_levels; i++) {
    double **array = i == 0 ? &points->frequency_hz : &points->level[i - 1];
    double *kept = g_memdup2 (*array, points->n * sizeof (double));
    g_free (*array);
    *array = kept;
  }
}

/* Behind the last line end of the text, but for what is looked at ahead; rows before it can be read without looking for the text's end at
 * each character. */
static const char *
last_line_end (const SpTextLines *lines)
{
  const char *p = lines->end - MIN (SP_SAME_FORMAT_READ_AHEAD, lines->end - lines->next);
  while (p > lines->next && p[-1] != lines->mark)
    p--;
  return p;
}

/* The commonest table by far, 'frequency,level' ascending with nothing else in a row, in a loop whose state stays in registers: a quarter
 * faster than the general one below. Stops at the first row that is anything else, and leaves it to that. */
static void
run_pairs (SpPointsLoop *loop, SpTextLines *lines, const char *safe_end)
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
    if (!(p = sp_same_format_read (&loop->plan.alike[0], row, mark, shift, &f)) || *p != delimiter)
      break;
    if (!(p = sp_same_format_read (&loop->plan.alike[1], p + 1, mark, 0, &level)))
      break;
    p += *p == '\r';
    if (*p != '\n' || !(f > last) || f > most || !sp_points_is_within (level_wanted, level))
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
are_pairs (const SpPointsLoop *loop, const SpTextLines *lines)
{
  return loop->dialect->n == 2 && loop->plan.n_wanted == 2 && loop->plan.place[0] == 0 && loop->dialect->delimiter
         && loop->dialect->delimiter != ' ' && loop->direction > 0 && lines->mark == '\n';
}

static gboolean
run (SpPointsLoop *loop, SpTextLines *lines, GError **error)
{
  const char *safe_end = last_line_end (lines), *p;
  const gboolean plain = loop->dialect->group == '\0';
  g_auto (SpTextFields) fields;
  gboolean end = FALSE;

  sp_fields_init (&fields);
  while (!end && lines->next < lines->end) {
    if (!make_space (loop, lines, error))
      return FALSE;
    if (plain && are_pairs (loop, lines))
      run_pairs (loop, lines, safe_end);
    while (plain && !are_pairs (loop, lines) && lines->next < safe_end && loop->points->n < loop->capacity
           && (p = sp_fast_row (lines->next, &loop->plan, loop->values)) && (p = sp_fast_line_end (p, lines->mark))
           && sp_points_fit (loop)) {
      sp_points_append (loop);
      lines->number++;
      lines->next = p;
    }
    if (loop->points->n < loop->capacity && !sp_points_slow_line (loop, &fields, lines, &end, error))
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
plan (SpPointsLoop *loop, const SpColumns *columns, const char *text)
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
    sp_same_format_init (&loop->plan.alike[w], text);
  }
  loop->plan.n_wanted = n;
  loop->plan.n = loop->dialect->n;
  loop->plan.delimiter = loop->dialect->delimiter;
  loop->plan.mark = loop->dialect->mark;
}

gboolean
sp_points_read (const SpDialect *dialect, const SpColumns *columns, const SpHeader *header, gboolean skip_bad, const char *file,
                SpPoints *points, GError **error)
{
  SpPointsLoop loop = { .dialect = dialect, .file = file, .skip_bad = skip_bad, .levels_alone = columns->frequency < 0, .points = points };
  const SpTextLines *rows = &header->rows;
  SpTextLines lines = *rows;

  loop.header = header;
  loop.limit = MIN (SP_LIMIT_POINTS, SP_LIMIT_VALUES / columns->levels->len);
  *points = (SpPoints){ .n_levels = columns->levels->len,
                        .level = g_new0 (double *, columns->levels->len),
                        .skipped_lines = g_array_new (FALSE, FALSE, sizeof (guint64)) };
  plan (&loop, columns, rows->next);
  if (!run (&loop, &lines, error))
    return FALSE;
  if (points->n < 2)
    return sp_fail_at (error, file, (guint) rows->number, 1,
                       points->n ? _ ("one row of numbers; a trace has at least 2 points")
                                 : _ ("no good row of numbers; a trace has at least 2 points"));
  points->descends = loop.direction < 0;
  trim (&loop);
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
