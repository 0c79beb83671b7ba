/* read-table.c - reads tables of delimited text */
#include "core/trace/read/read-job.h"

#include "core/quantity/error.h"
#include "core/trace/read/points.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define SAMPLE_ROWS 32 /* what is looked at first; the whole file only where these leave it open; bounds time */

/* What was understood of a table before its points are read. */
typedef struct {
  SpDialect dialect;
  SpHeader header;
  SpPreamble preamble;
  SpColumns columns;
  SpPoints points;
  GPtrArray *warnings;
} Table;

static void
table_clear (Table *table)
{
  sp_header_clear (&table->header);
  sp_preamble_clear (&table->preamble);
  sp_columns_clear (&table->columns);
  sp_points_clear (&table->points);
  g_clear_pointer (&table->warnings, g_ptr_array_unref);
}

static void
warn (Table *table, SpReason *reason)
{
  sp_reasons_add (table->warnings, reason);
}

/* The options' start and stop, each before the file's. */
static gboolean
find_sweep (const SpTraceOptions *options, const SpPreamble *preamble, double *start_hz, double *stop_hz)
{
  sp_preamble_sweep (preamble, start_hz, stop_hz);
  sp_read_override (start_hz, options->start_hz);
  sp_read_override (stop_hz, options->stop_hz);
  return *start_hz >= 0 && *stop_hz > *start_hz;
}

/* ---- units -> points in Hz and dBm ---- */

static void
reverse (double *values, guint64 n)
{
  for (guint64 i = 0; i < n / 2; i++) {
    double other = values[i];
    values[i] = values[n - 1 - i];
    values[n - 1 - i] = other;
  }
}

static gboolean
bare_frequencies (SpReadJob *job, Table *table, GError **error)
{
  const SpPoints *points = &table->points;
  double high = points->descends ? points->frequency_hz[0] : points->frequency_hz[points->n - 1];

  if (!table->columns.unit_open)
    return TRUE;
  if (high < SP_BARE_HZ)
    return sp_fail_at (error, job->file, (guint) table->header.rows.number, 1,
                       _ ("frequencies up to %.12g without a unit; expected one in the header, as in ‘Frequency (MHz)’. Give it: "
                          "?frequency_unit=MHz, say"),
                       high);
  warn (table, sp_reason (UNIT_ASSUMED, .file = job->file, .unit = "Hz", .of = "frequency"));
  return TRUE;
}

static gboolean
find_frequencies (SpReadJob *job, Table *table, GError **error)
{
  SpPoints *points = &table->points;
  double stated = table->preamble.points, start, stop;

  if (points->frequency_hz) {
    if (!bare_frequencies (job, table, error))
      return FALSE;
    if (!isnan (stated) && stated != (double) (points->n + points->skipped)) {
      char number[32];
      g_snprintf (number, sizeof number, "%.0f", stated);
      warn (table, sp_reason (SETTING_IGNORED, .file = job->file, .key = "points", .value = number, .line = table->preamble.points_line));
    }
    return TRUE;
  }
  if (points->skipped)
    return sp_fail_at (error, job->file, (guint) g_array_index (points->skipped_lines, guint64, 0), 1,
                       _ ("a bad line among levels that have no frequencies of their own; expected a level in each line, since all that "
                          "follow would shift"));
  if (!isnan (stated) && stated != (double) points->n)
    return sp_fail_at (error, job->file, (guint) table->preamble.points_line, 1,
                       _ ("%.0f points stated, and %" G_GUINT64_FORMAT " levels follow; expected as many, since their frequencies are "
                          "counted out. Take the export again"),
                       stated, points->n);
  find_sweep (job->options, &table->preamble, &start, &stop);
  if (isnan (job->options->start_hz) && !table->preamble.sweep_unit_said && job->options->frequency_unit_hz == 0)
    warn (table, sp_reason (UNIT_ASSUMED, .file = job->file, .unit = "Hz", .of = "frequency"));
  points->frequency_hz = sp_read_spread (start, stop, points->n, job->file, error);
  return points->frequency_hz != NULL;
}

static char *
list_lines (const SpPoints *points)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < MIN (points->skipped_lines->len, 20); i++)
    g_string_append_printf (text, "%s%" G_GUINT64_FORMAT, i ? ", " : "", g_array_index (points->skipped_lines, guint64, i));
  if (points->skipped > 20)
    g_string_append (text, ", …");
  return g_string_free (text, FALSE);
}

static void
warn_of_points (SpReadJob *job, Table *table)
{
  SpPoints *points = &table->points;

  if (table->columns.decided) {
    char number[16];
    g_snprintf (number, sizeof number, "%d", table->columns.frequency + 1);
    warn (table, sp_reason (FREQUENCY_DECIDED, .file = job->file, .column = number));
  }
  if (table->dialect.settled)
    warn (table, sp_reason (DECIMAL_DECIDED, .file = job->file, .mark = sp_dialect_word (table->dialect.mark)));
  if (points->skipped) {
    g_autofree char *lines = list_lines (points);
    warn (table, sp_reason (LINES_SKIPPED, .file = job->file, .which = lines, .lines = points->skipped,
                            .first_line = g_array_index (points->skipped_lines, guint64, 0)));
  }
  if (points->trailing_line)
    warn (table, sp_reason (TRAILING_BLOCK, .file = job->file, .words = points->trailing_text, .line = points->trailing_line));
  if (!points->descends)
    return;
  warn (table, sp_reason (ORDER_REVERSED, .file = job->file));
  reverse (points->frequency_hz, points->n);
  for (guint i = 0; i < points->n_levels; i++)
    reverse (points->level[i], points->n);
}

/* ---- traces ---- */

static SpSettings
column_settings (const Table *table, const SpLevelColumn *column)
{
  SpSettings settings = table->preamble.settings;

  if (table->preamble.reference_bare)
    settings.reference_dbm = sp_dbm_from_reading (settings.reference_dbm, column->unit.level, pow (10, column->unit.exponent),
                                                  SP_TRACE_OHM);
  if (!isfinite (settings.reference_dbm))
    settings.reference_dbm = NAN;
  if (column->hold != SP_HOLD_NONE)
    settings.hold = column->hold;
  return settings;
}

/* One of several read at once says in its options which it is. */
static void
set_number (SpTrace *trace, const char *key, guint number)
{
  char text[16];
  g_snprintf (text, sizeof text, "%u", number);
  g_autofree char *without = g_steal_pointer (&trace->options);
  trace->options = sp_trace_options_set (without, key, text, NULL);
}

/* Columns of the second table and those after it are told from the first's: "Level (2)". */
static char *
column_name (const SpLevelColumn *column, guint number)
{
  return number == 1 ? g_strdup (column->name) : g_strdup_printf ("%s (%u)", column->name, number);
}

/* A table alone has no more than the limit; many of them together might. */
static gboolean
count_values (SpReadJob *job, const Table *table, guint number, GError **error)
{
  job->values += table->points.n * table->points.n_levels;
  if (job->values <= SP_LIMIT_VALUES)
    return TRUE;
  return sp_fail (error, SP_ERROR_LIMIT,
                  _ ("%s: more than %" G_GUINT64_FORMAT
                     " levels in its first %u tables, the limit; name the table you mean: ?table=1, say"),
                  job->file, SP_LIMIT_VALUES, number);
}

/* `number`: of the table, from 1. */
static gboolean
make_traces (SpReadJob *job, Table *table, guint number, GError **error)
{
  SpPoints *points = &table->points;
  guint64 bad;

  if (!count_values (job, table, number, error) || !find_frequencies (job, table, error))
    return FALSE;
  warn_of_points (job, table);
  g_autoptr (GBytes) frequencies = sp_read_take_array (&points->frequency_hz, points->n);
  for (guint i = 0; i < points->n_levels; i++) {
    const SpLevelColumn *column = &g_array_index (table->columns.levels, SpLevelColumn, i);
    if (!sp_read_convert (points->level[i], points->n, &column->unit, &bad))
      return sp_fail (error, SP_ERROR_INPUT, _ ("%s: point %" G_GUINT64_FORMAT " has no level in dBm"), job->file, bad + 1);
    g_autoptr (GBytes) levels = sp_read_take_array (&points->level[i], points->n);
    SpSettings settings = column_settings (table, column);
    g_autofree char *name = column_name (column, number);
    SpTrace *trace = sp_read_make_trace (job, frequencies, levels, &column->unit, name, &settings);
    if (points->n_levels > 1)
      set_number (trace, "column", column->field + 1);
    if (number > 1 || points->next_table.next)
      set_number (trace, "table", number);
    trace->skipped_lines = points->skipped;
    trace->skipped = points->skipped ? g_array_ref (points->skipped_lines) : NULL;
    sp_reasons_extend (trace->warnings, table->warnings);
    if (column->unit_assumed)
      sp_reasons_add (trace->warnings, sp_reason (UNIT_ASSUMED, .file = job->file, .unit = "dBm", .of = "level"));
    if (table->columns.n_level_columns > 1 && job->options->column)
      sp_reasons_add (trace->warnings,
                      sp_reason (COLUMN_CHOSEN, .file = job->file, .column = column->name, .columns = table->columns.n_level_columns));
  }
  return TRUE;
}

/* ---- a table of delimited text ---- */

/* Whether start and stop are known, before the way of writing is. */
static gboolean
sweep_is_known (SpReadJob *job, const SpText *text, const SpTextLines *rows)
{
  SpDialect neutral = { .mark = '.', .mark_open = TRUE };
  g_auto (SpPreamble) preamble;
  double start, stop;

  sp_preamble_read (text, rows->next, &neutral, 0, job->file, &preamble, NULL);
  return find_sweep (job->options, &preamble, &start, &stop);
}

static gboolean
several_columns (SpReadJob *job, const Table *table, GError **error)
{
  g_autofree char *list = sp_columns_list (&table->columns);
  return sp_fail_at (error, job->file, (guint) (table->header.names ? table->header.line : table->header.rows.number), 1,
                     _ ("%u level columns: %s; expected one. Name the one you mean: ?column=%u"), table->columns.n_level_columns, list,
                     g_array_index (table->columns.levels, SpLevelColumn, 0).field + 1);
}

/* All layers once, having looked at `sample` rows first. */
static gboolean
read_table (SpReadJob *job, const SpText *text, const SpTextLines *rows, gboolean sweep, guint sample, Table *table, GError **error)
{
  const SpTraceOptions *options = job->options;
  SpLinesAbove above;
  double start, stop;

  table->warnings = sp_reasons_new ();
  if (!sp_dialect_choose (text, job->file, rows, sample, options, sweep, &table->dialect, error))
    return FALSE;
  sp_lines_above (text, rows, &above);
  sp_header_find (&above, rows, &table->dialect, &table->header);
  sp_preamble_read (text, table->header.start, &table->dialect, options->frequency_unit_hz, job->file, &table->preamble, table->warnings);
  sweep = find_sweep (options, &table->preamble, &start, &stop);
  if (!sp_columns_find (&table->dialect, &table->header, &table->preamble, options, sweep, job->file, &table->columns, error))
    return FALSE;
  if (table->columns.levels->len > 1 && !job->all)
    return several_columns (job, table, error);
  return sp_points_read (&table->dialect, &table->columns, &table->header, options->skip_bad, job->file, &table->points, error);
}

/* ---- tables one below the other ---- */

/* A table further down, of the same form as the first: written the same way, with what it does not say itself as the first says it. */
static gboolean
read_further (SpReadJob *job, const SpText *text, const Table *first, const SpTextLines *from, Table *table, GError **error)
{
  const SpTraceOptions *options = job->options;
  SpText rest = { NULL, from->next, (gsize) (text->start + text->length - from->next), from->number - 1, text->encoding };
  SpLinesAbove above;
  double start, stop;
  SpTextLines rows;

  table->warnings = sp_reasons_new ();
  if (!sp_dialect_start (&rest, job->file, &rows, error))
    return FALSE;
  table->dialect = first->dialect;
  sp_lines_above (&rest, &rows, &above);
  sp_header_find (&above, &rows, &table->dialect, &table->header);
  sp_preamble_read (&rest, table->header.start, &table->dialect, options->frequency_unit_hz, job->file, &table->preamble, table->warnings);
  sp_preamble_inherit (&table->preamble, &first->preamble);
  const SpHeader *names = table->header.names ? &table->header : &first->header;
  gboolean sweep = find_sweep (options, &table->preamble, &start, &stop);
  return sp_columns_find (&table->dialect, names, &table->preamble, options, sweep, job->file, &table->columns, error)
         && sp_points_read (&table->dialect, &table->columns, &table->header, options->skip_bad, job->file, &table->points, error);
}

static gboolean
several_tables (SpReadJob *job, const GArray *lines, GError **error)
{
  g_autoptr (GString) list = g_string_new (NULL);

  for (guint i = 0; i < MIN (lines->len, 10); i++)
    g_string_append_printf (list, "%s%" G_GUINT64_FORMAT, i ? ", " : "", g_array_index (lines, guint64, i));
  return sp_fail_at (error, job->file, (guint) g_array_index (lines, guint64, 1), 1,
                     _ ("%u tables of rows, from lines %s%s; expected one. Name the one you mean: ?table=1, say"), lines->len, list->str,
                     lines->len > 10 ? ", …" : "");
}

/* Do they follow each other in frequency, none reaching into another? */
static gboolean
follow (const GPtrArray *traces)
{
  gboolean up = traces->len > 1, down = up;

  for (guint i = 1; i < traces->len; i++) {
    const SpTrace *a = traces->pdata[i - 1], *b = traces->pdata[i];
    up &= b->frequency_hz[0] >= a->frequency_hz[a->n - 1];
    down &= b->frequency_hz[b->n - 1] <= a->frequency_hz[0];
  }
  return up || down;
}

/* The first table has been read; those behind it. */
static gboolean
read_tables (SpReadJob *job, const SpText *text, Table *first, GError **error)
{
  const guint wanted = job->options->table;
  g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (guint64));
  SpTextLines next = first->points.next_table;
  gboolean good = TRUE;

  g_array_append_val (lines, first->header.rows.number);
  if (wanted <= 1)
    good = make_traces (job, first, 1, error);
  while (good && next.next && lines->len != wanted && lines->len != job->last_table) {
    Table table = { 0 };
    if (lines->len == SP_LIMIT_TABLES)
      good = sp_fail_at (error, job->file, (guint) next.number, 1, _ ("more than %u tables of rows, the limit"), SP_LIMIT_TABLES);
    else
      good = read_further (job, text, first, &next, &table, error);
    if (good) {
      next = table.points.next_table;
      g_array_append_val (lines, table.header.rows.number);
      if (wanted == 0 || wanted == lines->len)
        good = make_traces (job, &table, lines->len, error);
    }
    table_clear (&table);
  }
  if (good && wanted > lines->len)
    return sp_fail (error, SP_ERROR_INPUT, _ ("%s: ?table=%u, and there are %u tables of rows"), job->file, wanted, lines->len);
  if (good && !job->all && wanted == 0 && lines->len > 1 && !(job->joins && follow (job->traces)))
    return several_tables (job, lines, error);
  return good;
}

/* Is there a character in the rows that could be a decimal mark? Without one the whole file tells no more than its first rows. */
static gboolean
may_hold_mark (const SpText *text, const SpTextLines *rows, char delimiter)
{
  gsize length = (gsize) (text->start + text->length - rows->next);
  return memchr (rows->next, '.', length) || (memchr (rows->next, delimiter == ',' ? '"' : ',', length));
}

gboolean
sp_read_tables (SpReadJob *job, GError **error)
{
  g_auto (SpText) text = { 0 };
  g_autoptr (GError) first_error = NULL;
  Table table = { 0 }, again = { 0 };
  SpTextLines rows;

  if (!sp_text_decode (job->raw, job->file, &text, error) || !sp_dialect_start (&text, job->file, &rows, error))
    return FALSE;
  gboolean sweep = sweep_is_known (job, &text, &rows);
  gboolean good = read_table (job, &text, &rows, sweep, SAMPLE_ROWS, &table, &first_error)
                  && read_tables (job, &text, &table, &first_error);
  /* The first rows had no decimal mark: a later one may show that it is the other. The whole file tells. */
  if (!good && table.dialect.mark_open && g_error_matches (first_error, SP_ERROR, SP_ERROR_INPUT) && !job->options->skip_bad
      && may_hold_mark (&text, &rows, table.dialect.delimiter)) {
    g_ptr_array_set_size (job->traces, 0);
    job->values = 0;
    table_clear (&table);
    good = read_table (job, &text, &rows, sweep, 0, &again, NULL) && read_tables (job, &text, &again, NULL);
  }
  if (!good)
    g_propagate_error (error, g_steal_pointer (&first_error));
  table_clear (&table);
  table_clear (&again);
  return good;
}
