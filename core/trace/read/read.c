/* read.c - from a file, or bytes, to traces */
#include "core/trace/read/read-job.h"

#include "core/quantity/error.h"
#include "core/quantity/hash.h"
#include "core/trace/build.h"
#include "core/trace/read/block.h"
#include "core/trace/read/points.h"
#include "core/trace/read/read.h"
#include "core/trace/text/bytes.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* ---- settings ---- */

void
sp_read_override (double *place, double given)
{
  if (!isnan (given))
    *place = given;
}

static SpSettings
settle (const SpSettings *read, const SpTraceOptions *options)
{
  SpSettings settings = *read;
  const SpSettings *given = &options->settings;

  sp_read_override (&settings.rbw_hz, given->rbw_hz);
  sp_read_override (&settings.vbw_hz, given->vbw_hz);
  sp_read_override (&settings.attenuation_db, given->attenuation_db);
  sp_read_override (&settings.reference_dbm, given->reference_dbm);
  sp_read_override (&settings.averages, given->averages);
  if (given->detector != SP_DETECTOR_UNKNOWN)
    settings.detector = given->detector;
  if (options->average_given)
    settings.average = given->average;
  if (options->hold_given)
    settings.hold = given->hold;
  return settings;
}

/* ---- units -> points in Hz and dBm ---- */

double *
sp_read_spread (double start_hz, double stop_hz, guint64 n, const char *file, GError **error)
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

gboolean
sp_read_convert (double *levels, guint64 n, const SpUnitWord *unit, guint64 *bad)
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

/* ---- traces ---- */

GBytes *
sp_read_take_array (double **values, guint64 n)
{
  double *kept = g_realloc_n (g_steal_pointer (values), n, sizeof (double));
  return g_bytes_new_take (kept, n * sizeof (double));
}

SpTrace *
sp_read_make_trace (SpReadJob *job, GBytes *frequencies, GBytes *levels, const SpUnitWord *unit, const char *column,
                    const SpSettings *settings)
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

/* ---- a block of levels ---- */

static gboolean
read_block (SpReadJob *job, GError **error)
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
    return sp_fail (error, SP_ERROR_INPUT,
                    _ ("%s: a block has no frequencies; expected start and stop with it: ?start=30MHz&stop=1GHz, "
                       "say"),
                    job->file);
  if (n < 2)
    return sp_fail (error, SP_ERROR_INPUT, _ ("%s: %" G_GUINT64_FORMAT " values in the block; a trace has at least 2 points"), job->file,
                    n);
  if (!sp_read_convert (values, n, &unit, &bad))
    return sp_fail (error, SP_ERROR_INPUT, _ ("%s: value %" G_GUINT64_FORMAT " of the block has no level in dBm"), job->file, bad + 1);
  for (guint64 i = 0; i < n; i++)
    if (fabs (values[i]) > SP_LIMIT_LEVEL_DBM)
      return sp_fail (error, SP_ERROR_INPUT,
                      _ ("%s: value %" G_GUINT64_FORMAT " of the block is %g dBm; expected at most 400 either way. Another ?format=, "
                         "?order= or ?unit= may be right"),
                      job->file, i + 1, values[i]);
  g_autofree double *spread_out = sp_read_spread (options->start_hz, options->stop_hz, n, job->file, error);
  if (!spread_out)
    return FALSE;
  g_autoptr (GBytes) frequencies = sp_read_take_array (&spread_out, n), levels = sp_read_take_array (&values, n);
  sp_settings_init (&unknown);
  SpTrace *trace = sp_read_make_trace (job, frequencies, levels, &unit, "1", &unknown);
  if (options->unit < 0)
    sp_reasons_add (trace->warnings, sp_reason (UNIT_ASSUMED, .file = job->file, .unit = "dBm", .of = "level"));
  if (trailing)
    sp_reasons_add (trace->warnings, sp_reason (TRAILING_BLOCK, .file = job->file, .words = "", .line = 1.0));
  return TRUE;
}

/* ---- points of a range ---- */

/* Of one trace what from= and to= leave; its settings are the whole's. NULL where that is no trace. (transfer full) */
static SpTrace *
keep_range (SpTrace *whole, const SpTraceOptions *options)
{
  guint64 first = isnan (options->from_hz) ? 0 : sp_trace_find (whole, options->from_hz);
  guint64 end = isnan (options->to_hz) ? whole->n : sp_trace_find (whole, options->to_hz);
  end += end < whole->n && whole->frequency_hz[end] == options->to_hz;
  return end >= first + 2 ? sp_trace_cut (whole, first, end - first, FALSE) : NULL;
}

static gboolean
keep_ranges (SpReadJob *job, GError **error)
{
  GPtrArray *kept = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_trace_unref);
  const SpTrace *whole = NULL;
  for (guint i = 0; i < job->traces->len; i++) {
    whole = job->traces->pdata[i];
    SpTrace *part = keep_range (job->traces->pdata[i], job->options);
    if (part)
      g_ptr_array_add (kept, part);
  }
  if (kept->len == 0)
    sp_fail (error, SP_ERROR_INPUT,
             _ ("%s: fewer than 2 points in the range of ?from= and ?to=; expected some of those from %.12g to %.12g Hz"), whole->file,
             whole->frequency_hz[0], whole->frequency_hz[whole->n - 1]);
  gboolean any = kept->len > 0;
  g_ptr_array_set_size (job->traces, 0);
  g_ptr_array_extend_and_steal (job->traces, kept);
  return any;
}

/* An RBW that no option states for just these points was one for all of them. */
static gboolean
finish (SpReadJob *job, GError **error)
{
  const SpTraceOptions *options = job->options;
  for (guint i = 0; i < job->traces->len; i++) {
    SpTrace *whole = job->traces->pdata[i];
    if (isnan (options->settings.rbw_hz) && !isnan (whole->settings.rbw_hz))
      sp_trace_warn_of_stretches (whole);
  }
  return (isnan (options->from_hz) && isnan (options->to_hz)) || keep_ranges (job, error);
}

/* ---- entry points ---- */

#define LONG_BYTES ((gsize) 1 << 20) /* hashed in half a millisecond: a thread costs a tenth of that; bounds time */

static gboolean
is_damaged (const SpTrace *trace)
{
  gboolean damaged = trace->skipped_lines > 0;

  for (guint i = 0; i < trace->warnings->len; i++)
    damaged |= ((SpReason *) trace->warnings->pdata[i])->code == SP_REASON_TRAILING_BLOCK;
  return damaged;
}

typedef enum { READ_ONE, READ_JOINED, READ_ALL } Extent;

static GPtrArray *
read_bytes (GBytes *bytes, const char *file, const SpTraceOptions *given, Extent extent, guint last_table, GError **error)
{
  SpTraceOptions none;
  g_autoptr (GPtrArray) traces = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_trace_unref);
  SpReadJob job = { bytes, file, given ? given : &none, extent == READ_ALL, extent == READ_JOINED, last_table, traces, 0 };
  gboolean good;

  sp_trace_options_init (&none);
  if (g_bytes_get_size (bytes) == 0)
    good = sp_fail (error, SP_ERROR_INPUT, _ ("%s: the file is empty; expected lines of a frequency and a level"), file);
  else if (g_bytes_get_size (bytes) > SP_LIMIT_FILE_BYTES)
    good = sp_fail (error, SP_ERROR_LIMIT, _ ("%s: more than %" G_GSIZE_FORMAT " bytes, the limit"), file, SP_LIMIT_FILE_BYTES);
  else if (job.options->format != SP_BLOCK_NONE)
    good = read_block (&job, error);
  else if (sp_block_detect (bytes))
    good = sp_fail_at (error, file, 1, 1,
                       _ ("a block of values (IEEE 488.2); expected to be told its format: "
                          "?format=real32&start=30MHz&stop=1GHz, say (or real64, ascii)"));
  else
    good = sp_read_tables (&job, error);
  return good && finish (&job, error) ? g_steal_pointer (&traces) : NULL;
}

SpTrace *
sp_trace_read_bytes (GBytes *bytes, const char *name, const SpTraceOptions *options, GError **error)
{
  g_autoptr (GPtrArray) traces = read_bytes (bytes, name, options, READ_ONE, 0, error);
  return traces ? sp_trace_ref (traces->pdata[0]) : NULL;
}

static SpTrace *
read_joined (GBytes *bytes, const char *name, const SpTraceOptions *options, GError **error)
{
  g_autoptr (GPtrArray) traces = read_bytes (bytes, name, options, READ_JOINED, 0, error);
  if (!traces)
    return NULL;
  return traces->len > 1 ? sp_trace_join (traces) : sp_trace_ref (traces->pdata[0]);
}

SpTrace *
sp_trace_read_joined (const char *path, const SpTraceOptions *options, GError **error)
{
  g_autoptr (GBytes) bytes = sp_bytes_read (path, options && options->pipe, error);
  return bytes ? read_joined (bytes, path, options, error) : NULL;
}

SpTrace *
sp_trace_read_file (const char *path, const SpTraceOptions *options, GError **error)
{
  g_autoptr (GBytes) bytes = sp_bytes_read (path, options && options->pipe, error);
  return bytes ? sp_trace_read_bytes (bytes, path, options, error) : NULL;
}

static gpointer
hash (gpointer bytes)
{
  return sp_sha256 (bytes);
}

SpTrace *
sp_trace_read_hashed (const char *path, const SpTraceOptions *options, GError **error)
{
  g_autoptr (GBytes) bytes = sp_bytes_read (path, options && options->pipe, error);
  if (!bytes)
    return NULL;
  GThread *hashing = g_bytes_get_size (bytes) >= LONG_BYTES ? g_thread_try_new ("hash", hash, bytes, NULL)
                                                            : NULL; /* without: whoever asks will hash */
  SpTrace *trace = read_joined (bytes, path, options, error);
  g_autofree char *sha256 = hashing ? g_thread_join (hashing) : NULL;
  if (trace && sha256)
    sp_trace_know_sha256 (trace, sha256);
  GPtrArray *parts = trace && sha256 ? sp_trace_stretches (trace) : NULL;
  for (guint i = 0; parts && i < parts->len; i++)
    sp_trace_share_sha256 (trace, parts->pdata[i]);
  return trace;
}

GPtrArray *
sp_trace_read_all (const char *path, const SpTraceOptions *options, GError **error)
{
  g_autoptr (GBytes) bytes = sp_bytes_read (path, options && options->pipe, error);
  return bytes ? sp_trace_read_all_bytes (bytes, path, options, error) : NULL;
}

/* ---- each column alone ---- */

/* 0: there is but one. */
static guint
table_of (const SpTrace *trace)
{
  g_autofree char *table = sp_trace_options_get (trace->options, "table");
  return table ? (guint) g_ascii_strtoull (table, NULL, 10) : 0;
}

/* The trace that reading by its own options gives. */
static SpTrace *
read_alone (GBytes *bytes, const SpTrace *trace, GError **error)
{
  SpTrace *alone = NULL;
  SpTraceOptions options;

  if (sp_trace_options_from_text (trace->options, &options, error))
    alone = sp_trace_read_bytes (bytes, trace->file, &options, error);
  sp_trace_options_clear (&options);
  return alone;
}

/* Of one column all tables, up to the last that has it: `traces` from `first` on that are of this column are replaced. */
static gboolean
read_column_alone (GPtrArray *traces, guint first, GBytes *bytes, const char *column, GError **error)
{
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (guint));
  SpTrace *one = traces->pdata[first];
  g_autofree char *text = sp_trace_options_set (one->options, "table", NULL, NULL);
  SpTraceOptions options;
  guint last = 0;

  for (guint i = first; i < traces->len; i++) {
    g_autofree char *other = sp_trace_options_get (((SpTrace *) traces->pdata[i])->options, "column");
    if (g_strcmp0 (column, other) != 0)
      continue;
    g_array_append_val (places, i);
    last = MAX (last, table_of (traces->pdata[i]));
  }
  gboolean good = sp_trace_options_from_text (text, &options, error);
  g_autoptr (GPtrArray) alone = good ? read_bytes (bytes, one->file, &options, READ_ALL, last, error) : NULL;
  sp_trace_options_clear (&options);
  for (guint i = 0; alone && i < places->len; i++) {
    SpTrace **place = (SpTrace **) &traces->pdata[g_array_index (places, guint, i)];
    guint table = table_of (*place);
    SpTrace *trace = table <= alone->len ? sp_trace_ref (alone->pdata[table - 1]) : read_alone (bytes, *place, error);
    if (!trace)
      return FALSE;
    g_free (trace->options);
    trace->options = g_strdup ((*place)->options);
    sp_trace_unref (*place);
    *place = trace;
  }
  return alone != NULL;
}

static gboolean
replace_alone (GPtrArray *traces, guint i, GBytes *bytes, GError **error)
{
  SpTrace *trace = traces->pdata[i], *alone = read_alone (bytes, trace, error);
  if (!alone)
    return FALSE;
  traces->pdata[i] = alone;
  sp_trace_unref (trace);
  return TRUE;
}

/* How often all is read again: once a column, and once for each trace whose table has one column where others have more. */
static guint
count_readings (const GPtrArray *traces, GHashTable *columns)
{
  guint without = 0;

  for (guint i = 0; i < traces->len; i++) {
    char *column = sp_trace_options_get (((SpTrace *) traces->pdata[i])->options, "column");
    if (column)
      g_hash_table_add (columns, column);
    else
      without++;
  }
  guint n = g_hash_table_size (columns);
  return n > 0 ? n + without : 0;
}

/* A line that is bad in one column may be good in another: where there are such lines each column is read alone, as its options
 * will have it read when it is read again. Nothing changes where all lines are good, or no table has a second column. */
static gboolean
read_each_alone (GPtrArray *traces, GBytes *bytes, const char *file, GError **error)
{
  g_autoptr (GHashTable) columns = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gboolean damaged = FALSE, good = TRUE;

  for (guint i = 0; i < traces->len; i++)
    damaged |= is_damaged (traces->pdata[i]);
  if (!damaged || traces->len < 2)
    return TRUE;
  guint readings = count_readings (traces, columns), tables = table_of (traces->pdata[traces->len - 1]);
  if (readings > SP_LIMIT_AGAIN_BYTES / (g_bytes_get_size (bytes) + tables * SP_LIMIT_AGAIN_TABLE))
    return sp_fail (error, SP_ERROR_LIMIT,
                    _ ("%s: %u traces among lines that are left out, too many to read each alone; name one: "
                       "?column=2&table=1, say"),
                    file, traces->len);
  for (guint i = 0; readings > 0 && good && i < traces->len; i++) {
    g_autofree char *column = sp_trace_options_get (((SpTrace *) traces->pdata[i])->options, "column");
    if (!column || tables == 0)
      good = replace_alone (traces, i, bytes, error);
    else if (g_hash_table_remove (columns, column))
      good = read_column_alone (traces, i, bytes, column, error);
  }
  return good;
}

GPtrArray *
sp_trace_read_all_bytes (GBytes *bytes, const char *name, const SpTraceOptions *options, GError **error)
{
  g_autoptr (GPtrArray) traces = read_bytes (bytes, name, options, READ_ALL, 0, error);
  return traces && read_each_alone (traces, bytes, name, error) ? g_steal_pointer (&traces) : NULL;
}
