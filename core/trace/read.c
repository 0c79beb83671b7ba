/* The stages in their order: bytes -> text -> lines -> fields -> columns -> units -> points. */
#include "core/quantity/error.h"
#include "core/trace/block.h"
#include "core/trace/build.h"
#include "core/trace/bytes.h"
#include "core/trace/points.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define SAMPLE_ROWS 32 /* what is looked at first; the whole file only where these leave it open */

typedef struct {
  GBytes *raw;
  const char *file;
  const SpTraceOptions *options;
  gboolean all;          /* level columns, not only one */
  GPtrArray *traces;     /* what came of it */
} Job;

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

/* ---- settings ---- */

static void
override (double *place, double given)
{
  if (!isnan (given))
    *place = given;
}

static SpSettings
settle (const SpSettings *read, const SpTraceOptions *options)
{
  SpSettings settings = *read;
  const SpSettings *given = &options->settings;

  override (&settings.rbw_hz, given->rbw_hz);
  override (&settings.vbw_hz, given->vbw_hz);
  override (&settings.attenuation_db, given->attenuation_db);
  override (&settings.reference_dbm, given->reference_dbm);
  override (&settings.averages, given->averages);
  if (given->detector != SP_DETECTOR_UNKNOWN)
    settings.detector = given->detector;
  if (options->average_given)
    settings.average = given->average;
  if (options->hold_given)
    settings.hold = given->hold;
  return settings;
}

/* The options' start and stop, each before the file's. */
static gboolean
find_sweep (const SpTraceOptions *options, const SpPreamble *preamble, double *start_hz, double *stop_hz)
{
  sp_preamble_sweep (preamble, start_hz, stop_hz);
  override (start_hz, options->start_hz);
  override (stop_hz, options->stop_hz);
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

/* NULL and an error where the sweep goes beyond all frequencies. */
static double *
spread (double start_hz, double stop_hz, guint64 n, const char *file, GError **error)
{
  if (stop_hz > SP_LIMIT_FREQUENCY_HZ) {
    sp_fail (error, SP_ERROR_INPUT, _ ("%s: a sweep to %g Hz; expected at most 1e15 Hz. Give what it was: ?start=30MHz&stop=1GHz, say"),
             file, stop_hz);
    return NULL;
  }
  double *frequencies = g_new (double, n);

  for (guint64 i = 0; i < n; i++)
    frequencies[i] = start_hz + (stop_hz - start_hz) * (double) i / (double) (n - 1);
  frequencies[n - 1] = stop_hz;
  return frequencies;
}

/* Levels from a column's unit to dBm, in place; the name of the first that has no level in dBm in *bad. */
static gboolean
convert_levels (double *levels, guint64 n, const SpUnitWord *unit, guint64 *bad)
{
  double scale = pow (10, unit->exponent);

  for (guint64 i = 0; unit->level != SP_UNIT_DBM && i < n; i++) {
    levels[i] = sp_dbm_from_reading (levels[i], unit->level, scale, SP_TRACE_OHM);
    if (!isfinite (levels[i])) {
      *bad = i;
      return FALSE;
    }
  }
  return TRUE;
}

static gboolean
bare_frequencies (Job *job, Table *table, GError **error)
{
  const SpPoints *points = &table->points;
  double high = points->descends ? points->frequency_hz[0] : points->frequency_hz[points->n - 1];

  if (!table->columns.unit_open)
    return TRUE;
  if (high < SP_BARE_HZ)
    return sp_fail_at (error, job->file, (guint) table->header.rows.number, 0,
                       _ ("frequencies up to %.12g without a unit; expected one in the header, as in ‘Frequency (MHz)’. Give it: "
                          "?frequency_unit=MHz, say"), high);
  warn (table, sp_reason_new (SP_REASON_UNIT_ASSUMED, job->file, "Hz", "frequency", 0));
  return TRUE;
}

static gboolean
find_frequencies (Job *job, Table *table, GError **error)
{
  SpPoints *points = &table->points;
  double stated = table->preamble.points, start, stop;

  if (points->frequency_hz) {
    if (!bare_frequencies (job, table, error))
      return FALSE;
    if (!isnan (stated) && stated != (double) (points->n + points->skipped)) {
      char number[32];
      g_snprintf (number, sizeof number, "%.0f", stated);
      warn (table, sp_reason_new (SP_REASON_SETTING_IGNORED, job->file, "points", number, 1, (double) table->preamble.points_line));
    }
    return TRUE;
  }
  if (points->skipped)
    return sp_fail_at (error, job->file, (guint) g_array_index (points->skipped_lines, guint64, 0), 0,
                       _ ("a bad line among levels that have no frequencies of their own; expected a level in each line, since all that "
                          "follow would shift"));
  if (!isnan (stated) && stated != (double) points->n)
    return sp_fail_at (error, job->file, (guint) table->preamble.points_line, 0,
                       _ ("%.0f points stated, and %" G_GUINT64_FORMAT " levels follow; expected as many, since their frequencies are "
                          "counted out. Take the export again"),
                       stated, points->n);
  find_sweep (job->options, &table->preamble, &start, &stop);
  if (isnan (job->options->start_hz) && !table->preamble.sweep_unit_said && job->options->frequency_unit_hz == 0)
    warn (table, sp_reason_new (SP_REASON_UNIT_ASSUMED, job->file, "Hz", "frequency", 0));
  points->frequency_hz = spread (start, stop, points->n, job->file, error);
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
warn_of_points (Job *job, Table *table)
{
  SpPoints *points = &table->points;

  if (table->dialect.settled)
    warn (table, sp_reason_new (SP_REASON_DECIMAL_DECIDED, job->file, sp_dialect_word (table->dialect.mark), NULL, 0));
  if (points->skipped) {
    g_autofree char *lines = list_lines (points);
    warn (table, sp_reason_new (SP_REASON_LINES_SKIPPED, job->file, lines, NULL, 2, (double) points->skipped,
                                (double) g_array_index (points->skipped_lines, guint64, 0)));
  }
  if (points->trailing_line)
    warn (table, sp_reason_new (SP_REASON_TRAILING_BLOCK, job->file, points->trailing_text, NULL, 1, (double) points->trailing_line));
  if (!points->descends)
    return;
  warn (table, sp_reason_new (SP_REASON_ORDER_REVERSED, job->file, NULL, NULL, 0));
  reverse (points->frequency_hz, points->n);
  for (guint i = 0; i < points->n_levels; i++)
    reverse (points->level[i], points->n);
}

/* ---- traces ---- */

static GBytes *
take_array (double **values, guint64 n)
{
  double *kept = g_realloc_n (g_steal_pointer (values), n, sizeof (double));
  return g_bytes_new_take (kept, n * sizeof (double));
}

static SpTrace *
make_trace (Job *job, GBytes *frequencies, GBytes *levels, const SpUnitWord *unit, const char *column, const SpSettings *settings)
{
  SpTrace *trace = sp_trace_build (job->file, frequencies, levels);

  trace->column = g_strdup (column);
  trace->unit_read = unit->level;
  trace->unit_scale = pow (10, unit->exponent);
  trace->settings = settle (settings, job->options);
  trace->raw = g_bytes_ref (job->raw);
  trace->options = sp_trace_options_text (job->options);
  g_ptr_array_add (job->traces, trace);
  return trace;
}

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

/* One of several columns read at once says which it is. */
static void
name_column (SpTrace *trace, const SpLevelColumn *column)
{
  char number[16];
  g_snprintf (number, sizeof number, "%u", column->field + 1);
  g_autofree char *without = g_steal_pointer (&trace->options);
  trace->options = sp_trace_options_set (without, "column", number, NULL);
}

static gboolean
make_traces (Job *job, Table *table, GError **error)
{
  SpPoints *points = &table->points;
  guint64 bad;

  if (!find_frequencies (job, table, error))
    return FALSE;
  warn_of_points (job, table);
  g_autoptr (GBytes) frequencies = take_array (&points->frequency_hz, points->n);
  for (guint i = 0; i < points->n_levels; i++) {
    const SpLevelColumn *column = &g_array_index (table->columns.levels, SpLevelColumn, i);
    if (!convert_levels (points->level[i], points->n, &column->unit, &bad))
      return sp_fail (error, SP_ERROR_INPUT, _ ("%s: point %" G_GUINT64_FORMAT " has no level in dBm"), job->file, bad + 1);
    g_autoptr (GBytes) levels = take_array (&points->level[i], points->n);
    SpSettings settings = column_settings (table, column);
    SpTrace *trace = make_trace (job, frequencies, levels, &column->unit, column->name, &settings);
    if (points->n_levels > 1)
      name_column (trace, column);
    trace->skipped_lines = points->skipped;
    trace->skipped = points->skipped ? g_array_ref (points->skipped_lines) : NULL;
    sp_reasons_extend (trace->warnings, table->warnings);
    if (column->unit_assumed)
      sp_reasons_add (trace->warnings, sp_reason_new (SP_REASON_UNIT_ASSUMED, job->file, "dBm", "level", 0));
    if (table->columns.n_level_columns > 1 && job->options->column)
      sp_reasons_add (trace->warnings, sp_reason_new (SP_REASON_COLUMN_CHOSEN, job->file, column->name, NULL, 1,
                                                      (double) table->columns.n_level_columns));
  }
  return TRUE;
}

/* ---- a table of delimited text ---- */

/* Whether start and stop are known, before the way of writing is. */
static gboolean
sweep_is_known (Job *job, const SpText *text, const SpLines *rows)
{
  SpDialect neutral = { .mark = '.', .mark_open = TRUE };
  g_auto (SpPreamble) preamble;
  double start, stop;

  sp_preamble_read (text->start, rows->next, &neutral, 0, job->file, &preamble, NULL);
  return find_sweep (job->options, &preamble, &start, &stop);
}

static gboolean
several_columns (Job *job, const Table *table, GError **error)
{
  g_autofree char *list = sp_columns_list (&table->columns);
  return sp_fail_at (error, job->file, (guint) (table->header.names ? table->header.line : table->header.rows.number), 0,
                     _ ("%u level columns: %s; expected one. Name the one you mean: ?column=%u"), table->columns.n_level_columns, list,
                     g_array_index (table->columns.levels, SpLevelColumn, 0).field + 1);
}

/* All stages once, having looked at `sample` rows first. */
static gboolean
read_table (Job *job, const SpText *text, const SpLines *rows, gboolean sweep, guint sample, Table *table, GError **error)
{
  const SpTraceOptions *options = job->options;
  double start, stop;

  table->warnings = sp_reasons_new ();
  if (!sp_dialect_choose (text, job->file, rows, sample, options, sweep, &table->dialect, error))
    return FALSE;
  sp_header_find (text, rows, &table->dialect, &table->header);
  sp_preamble_read (text->start, table->header.start, &table->dialect, options->frequency_unit_hz, job->file, &table->preamble,
                    table->warnings);
  sweep = find_sweep (options, &table->preamble, &start, &stop);
  if (!sp_columns_find (&table->dialect, &table->header, &table->preamble, options, sweep, job->file, &table->columns, error))
    return FALSE;
  if (table->columns.levels->len > 1 && !job->all)
    return several_columns (job, table, error);
  return sp_points_read (&table->dialect, &table->columns, &table->header.rows, options->skip_bad, job->file, &table->points, error);
}

static gboolean
same_dialect (const SpDialect *a, const SpDialect *b)
{
  return a->delimiter == b->delimiter && a->mark == b->mark && a->group == b->group && a->n == b->n;
}

static gboolean
read_text (Job *job, GError **error)
{
  g_auto (SpText) text = { 0 };
  g_autoptr (GError) first_error = NULL;
  Table table = { 0 }, again = { 0 };
  SpLines rows;

  if (!sp_text_decode (job->raw, job->file, &text, error) || !sp_dialect_start (&text, job->file, &rows, error))
    return FALSE;
  gboolean sweep = sweep_is_known (job, &text, &rows);
  gboolean good = read_table (job, &text, &rows, sweep, SAMPLE_ROWS, &table, &first_error);
  if (good)
    good = make_traces (job, &table, error);
  /* The first rows had no decimal mark: a later one may show that it is the other. The whole file tells. */
  else if (table.dialect.mark_open && g_error_matches (first_error, SP_ERROR, SP_ERROR_INPUT) && !job->options->skip_bad
           && read_table (job, &text, &rows, sweep, 0, &again, NULL)
           && !same_dialect (&table.dialect, &again.dialect))
    good = make_traces (job, &again, error);
  else
    g_propagate_error (error, g_steal_pointer (&first_error));
  table_clear (&table);
  table_clear (&again);
  return good;
}

/* ---- a block of levels ---- */

static gboolean
read_block (Job *job, GError **error)
{
  const SpTraceOptions *options = job->options;
  SpUnitWord unit = { SP_UNIT_KIND_LEVEL, options->unit < 0 ? 0 : (int) lround (log10 (options->unit_scale)),
                      options->unit < 0 ? SP_UNIT_DBM : (SpLevelUnit) options->unit, NULL };
  SpSettings unknown;
  gsize trailing;
  guint64 n, bad;

  g_autofree double *values = sp_block_values (job->raw, job->file, options->format, options->little_endian, &n, &trailing, error);
  if (!values)
    return FALSE;
  if (isnan (options->start_hz) || isnan (options->stop_hz))
    return sp_fail (error, SP_ERROR_INPUT, _ ("%s: a block has no frequencies; expected start and stop with it: ?start=30MHz&stop=1GHz, "
                                              "say"), job->file);
  if (n < 2)
    return sp_fail (error, SP_ERROR_INPUT, _ ("%s: %" G_GUINT64_FORMAT " values in the block; a trace has at least 2 points"), job->file,
                    n);
  if (!convert_levels (values, n, &unit, &bad))
    return sp_fail (error, SP_ERROR_INPUT, _ ("%s: value %" G_GUINT64_FORMAT " of the block has no level in dBm"), job->file, bad + 1);
  for (guint64 i = 0; i < n; i++)
    if (fabs (values[i]) > SP_LIMIT_LEVEL_DBM)
      return sp_fail (error, SP_ERROR_INPUT,
                      _ ("%s: value %" G_GUINT64_FORMAT " of the block is %g dBm; expected at most 400 either way. Another ?format=, "
                         "?order= or ?unit= may be right"),
                      job->file, i + 1, values[i]);
  g_autofree double *spread_out = spread (options->start_hz, options->stop_hz, n, job->file, error);
  if (!spread_out)
    return FALSE;
  g_autoptr (GBytes) frequencies = take_array (&spread_out, n), levels = take_array (&values, n);
  sp_settings_init (&unknown);
  SpTrace *trace = make_trace (job, frequencies, levels, &unit, "1", &unknown);
  if (options->unit < 0)
    sp_reasons_add (trace->warnings, sp_reason_new (SP_REASON_UNIT_ASSUMED, job->file, "dBm", "level", 0));
  if (trailing)
    sp_reasons_add (trace->warnings, sp_reason_new (SP_REASON_TRAILING_BLOCK, job->file, "", NULL, 1, 1.0));
  return TRUE;
}

/* ---- entry points ---- */

static GPtrArray *
read_bytes (GBytes *bytes, const char *file, const SpTraceOptions *given, gboolean all, GError **error)
{
  SpTraceOptions none;
  g_autoptr (GPtrArray) traces = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_trace_unref);
  Job job = { bytes, file, given ? given : &none, all, traces };
  gboolean good;

  sp_trace_options_init (&none);
  if (g_bytes_get_size (bytes) > SP_LIMIT_FILE_BYTES)
    good = sp_fail (error, SP_ERROR_LIMIT, _ ("%s: more than %" G_GSIZE_FORMAT " bytes, the limit"), file, SP_LIMIT_FILE_BYTES);
  else if (job.options->format != SP_BLOCK_NONE)
    good = read_block (&job, error);
  else if (sp_block_detect (bytes))
    good = sp_fail_at (error, file, 1, 1, _ ("a block of values (IEEE 488.2); expected to be told its format: "
                                             "?format=real32&start=30MHz&stop=1GHz, say (or real64, ascii)"));
  else
    good = read_text (&job, error);
  return good ? g_steal_pointer (&traces) : NULL;
}

SpTrace *
sp_trace_read_bytes (GBytes *bytes, const char *name, const SpTraceOptions *options, GError **error)
{
  g_autoptr (GPtrArray) traces = read_bytes (bytes, name, options, FALSE, error);
  return traces ? sp_trace_ref (traces->pdata[0]) : NULL;
}

SpTrace *
sp_trace_read_file (const char *path, const SpTraceOptions *options, GError **error)
{
  g_autoptr (GBytes) bytes = sp_bytes_read (path, error);
  return bytes ? sp_trace_read_bytes (bytes, path, options, error) : NULL;
}

GPtrArray *
sp_trace_read_all (const char *path, const SpTraceOptions *options, GError **error)
{
  g_autoptr (GBytes) bytes = sp_bytes_read (path, error);
  return bytes ? read_bytes (bytes, path, options, TRUE, error) : NULL;
}

GPtrArray *
sp_trace_read_all_bytes (GBytes *bytes, const char *name, const SpTraceOptions *options, GError **error)
{
  return read_bytes (bytes, name, options, TRUE, error);
}
