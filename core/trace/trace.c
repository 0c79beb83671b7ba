/* trace.c - a trace: points, settings, hash; made, checked, searched */
#include "core/trace/trace.h"

#include "core/quantity/ascending.h"
#include "core/quantity/error.h"
#include "core/quantity/hash.h"
#include "core/quantity/text.h"
#include "core/trace/build.h"
#include "core/trace/limits.h"

#include <float.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

typedef struct {
  SpTrace trace;                /* first: what everybody sees */
  GBytes *frequencies, *levels; /* what its arrays point into */
  char *sha256;                 /* set once, by whoever asks first */
  GPtrArray *stretches;         /* likewise; empty: there is but one */
} Owner;

static const char *const detector_names[] = { NULL, "peak", "sample", "rms", "average", "negative", "normal", "quasi-peak" };
static const char *const average_names[] = { "none", "power", "log", "voltage" };

const char *
sp_detector_name (SpDetector detector)
{
  return (guint) detector < G_N_ELEMENTS (detector_names) ? detector_names[detector] : NULL;
}

const char *
sp_average_name (SpAverage average)
{
  return (guint) average < G_N_ELEMENTS (average_names) ? average_names[average] : NULL;
}

void
sp_settings_init (SpSettings *settings)
{
  *settings = (SpSettings){ .rbw_hz = NAN,
                            .vbw_hz = NAN,
                            .attenuation_db = NAN,
                            .reference_dbm = NAN,
                            .sweep_time_s = NAN,
                            .detector = SP_DETECTOR_UNKNOWN,
                            .average = SP_AVERAGE_NONE,
                            .averages = NAN,
                            .hold = SP_HOLD_NONE };
}

SpTrace *
sp_trace_build (const char *file, GBytes *frequencies, GBytes *levels)
{
  Owner *owner = g_atomic_rc_box_new0 (Owner);
  SpTrace *trace = &owner->trace;
  gsize size, level_size;

  owner->frequencies = g_bytes_ref (frequencies);
  owner->levels = g_bytes_ref (levels);
  trace->frequency_hz = g_bytes_get_data (frequencies, &size);
  trace->reading_dbm = g_bytes_get_data (levels, &level_size);
  g_assert (size == level_size);
  trace->n = size / sizeof (double);
  trace->file = g_strdup (file);
  trace->unit_read = SP_UNIT_DBM;
  trace->unit_scale = 1;
  trace->warnings = sp_reasons_new ();
  sp_settings_init (&trace->settings);
  return trace;
}

gboolean
sp_points_ordered (guint64 n, const double *frequency_hz, const double *level_dbm, guint64 *bad)
{
  double last = -1;

  for (guint64 i = 0; i < n; last = frequency_hz[i++])
    if (!(frequency_hz[i] > last && (frequency_hz[i] == 0 || frequency_hz[i] >= SP_LIMIT_LEAST_HZ)
          && frequency_hz[i] <= SP_LIMIT_FREQUENCY_HZ && fabs (level_dbm[i]) <= SP_LIMIT_LEVEL_DBM)) {
      *bad = i;
      return FALSE;
    }
  return TRUE;
}

/* Not said, or within what a reader accepts. */
static gboolean
setting_fits (double value, double least, double most)
{
  return isnan (value) || (value >= least && value <= most);
}

static gboolean
settings_fit (const SpSettings *s)
{
  return setting_fits (s->rbw_hz, SP_LIMIT_LEAST_HZ, SP_LIMIT_FREQUENCY_HZ)
         && setting_fits (s->vbw_hz, SP_LIMIT_LEAST_HZ, SP_LIMIT_FREQUENCY_HZ)
         && setting_fits (s->attenuation_db, -SP_LIMIT_ATTENUATION_DB, SP_LIMIT_ATTENUATION_DB)
         && setting_fits (s->reference_dbm, -SP_LIMIT_REFERENCE_DBM, SP_LIMIT_REFERENCE_DBM)
         && setting_fits (s->sweep_time_s, DBL_MIN, SP_LIMIT_SWEEP_S) && setting_fits (s->averages, 1, SP_LIMIT_AVERAGES);
}

SpTrace *
sp_trace_new (const char *name, guint64 n, const double *frequency_hz, const double *level_dbm, const SpSettings *settings, GError **error)
{
  guint64 bad;

  if (n < 2 || n > SP_LIMIT_POINTS) {
    sp_fail (error, n < 2 ? SP_ERROR_INPUT : SP_ERROR_LIMIT, _ ("%s: %" G_GUINT64_FORMAT " points; a trace has 2 to %" G_GUINT64_FORMAT),
             name, n, SP_LIMIT_POINTS);
    return NULL;
  }
  if (!sp_points_ordered (n, frequency_hz, level_dbm, &bad)) {
    sp_fail (error, SP_ERROR_INPUT,
             _ ("%s: point %" G_GUINT64_FORMAT
                " (%.17g Hz, %.17g dBm) is below 1e-6 Hz (and not 0), beyond 1e15 Hz or 400 dBm either way, or its frequency does not "
                "ascend"),
             name, bad + 1, frequency_hz[bad], level_dbm[bad]);
    return NULL;
  }
  if (settings && !settings_fit (settings)) {
    sp_fail (error, SP_ERROR_INPUT, _ ("%s: a setting is beyond its range: bandwidths and the sweep time are above zero, averages from 1"),
             name);
    return NULL;
  }
  g_autoptr (GBytes) frequencies = g_bytes_new (frequency_hz, n * sizeof (double));
  g_autoptr (GBytes) levels = g_bytes_new (level_dbm, n * sizeof (double));
  SpTrace *trace = sp_trace_build (name, frequencies, levels);
  trace->column = g_strdup ("2");
  trace->options = g_strdup ("");
  if (settings)
    trace->settings = *settings;
  return trace;
}

/* The trace's own ends as options, in place of others: one at a time, so that no old one lies on the wrong side of a new one. */
static void
name_ends (SpTrace *trace)
{
  char digits[32];
  g_autofree char *whole = trace->options, *no_from = sp_trace_options_set (whole, "from", NULL, NULL);
  g_autofree char *with_to = sp_trace_options_set (no_from, "to", sp_format_exact (trace->frequency_hz[trace->n - 1], digits), NULL);
  trace->options = sp_trace_options_set (with_to, "from", sp_format_exact (trace->frequency_hz[0], digits), NULL);
}

SpTrace *
sp_trace_cut (const SpTrace *whole, guint64 first, guint64 n, gboolean named)
{
  Owner *owner = (Owner *) whole;
  g_autoptr (GBytes) frequencies = g_bytes_new_from_bytes (owner->frequencies, first * sizeof (double), n * sizeof (double));
  g_autoptr (GBytes) levels = g_bytes_new_from_bytes (owner->levels, first * sizeof (double), n * sizeof (double));
  SpTrace *part = sp_trace_build (whole->file, frequencies, levels);

  part->column = g_strdup (whole->column);
  part->unit_read = whole->unit_read;
  part->unit_scale = whole->unit_scale;
  part->settings = whole->settings;
  part->skipped_lines = whole->skipped_lines;
  part->skipped = whole->skipped ? g_array_ref (whole->skipped) : NULL;
  sp_reasons_extend (part->warnings, whole->warnings);
  part->raw = whole->raw ? g_bytes_ref (whole->raw) : NULL;
  part->options = g_strdup (whole->options);
  if (named)
    name_ends (part);
  const char *sha256 = whole->raw ? g_atomic_pointer_get (&owner->sha256) : NULL;
  if (sha256)
    sp_trace_know_sha256 (part, sha256);
  return part;
}

void
sp_trace_know_stretches (SpTrace *trace, GPtrArray *parts)
{
  Owner *owner = (Owner *) trace;

  if (g_once_init_enter (&owner->stretches))
    g_once_init_leave (&owner->stretches, parts);
  else
    g_ptr_array_unref (parts);
}

GPtrArray *
sp_trace_stretches (const SpTrace *trace)
{
  Owner *owner = (Owner *) trace;

  if (g_once_init_enter (&owner->stretches)) {
    GPtrArray *found = sp_trace_find_stretches (trace);
    g_once_init_leave (&owner->stretches, found ? found : g_ptr_array_new ());
  }
  return owner->stretches->len ? owner->stretches : NULL;
}

const char *
sp_trace_sha256 (const SpTrace *trace)
{
  Owner *owner = (Owner *) trace;

  if (g_once_init_enter (&owner->sha256))
    g_once_init_leave (&owner->sha256, sp_sha256 (trace->raw ? trace->raw : owner->levels));
  return owner->sha256;
}

void
sp_trace_know_sha256 (SpTrace *trace, const char *sha256)
{
  Owner *owner = (Owner *) trace;

  if (g_once_init_enter (&owner->sha256))
    g_once_init_leave (&owner->sha256, g_strdup (sha256));
}

void
sp_trace_share_sha256 (const SpTrace *known, const SpTrace *trace)
{
  Owner *owner = (Owner *) trace;

  if (known != trace && known->raw && known->raw == trace->raw && g_once_init_enter (&owner->sha256))
    g_once_init_leave (&owner->sha256, g_strdup (sp_trace_sha256 (known)));
}

SpTrace *
sp_trace_ref (const SpTrace *trace)
{
  return g_atomic_rc_box_acquire ((SpTrace *) trace);
}

static void
clear (gpointer memory)
{
  Owner *owner = memory;
  SpTrace *trace = &owner->trace;

  g_free (trace->file);
  g_free (trace->column);
  g_free (owner->sha256);
  g_clear_pointer (&owner->stretches, g_ptr_array_unref);
  g_free (trace->options);
  g_ptr_array_unref (trace->warnings);
  g_clear_pointer (&trace->skipped, g_array_unref);
  g_clear_pointer (&trace->raw, g_bytes_unref);
  g_bytes_unref (owner->frequencies);
  g_bytes_unref (owner->levels);
}

void
sp_trace_unref (SpTrace *trace)
{
  g_atomic_rc_box_release_full (trace, clear);
}

guint64
sp_trace_find (const SpTrace *trace, double frequency_hz)
{
  return sp_ascending_first (trace->n, trace->frequency_hz, frequency_hz);
}

double
sp_trace_spacing_hz (const SpTrace *trace, double from_hz, double to_hz)
{
  guint64 first = sp_trace_find (trace, from_hz), last = sp_trace_find (trace, to_hz);
  double greatest = 0;

  /* Whatever overlaps [from, to] counts, so the interval that `from` lies in is the first. */
  first = MIN (MAX (first, 1), trace->n - 1);
  last = CLAMP (last, first, trace->n - 1);
  for (guint64 i = first; i <= last; i++)
    greatest = MAX (greatest, trace->frequency_hz[i] - trace->frequency_hz[i - 1]);
  return greatest;
}
