/* trace-text.c - any bytes as an export. Where they begin with '?', the first line is the options that the file is named with. */
#include "core/trace/limits.h"
#include "core/trace/read/read.h"
#include "core/trace/read/understood.h"
#include "core/trace/trace.h"
#include "tests/fuzz/fuzz.h"

#include <math.h>
#include <string.h>

/* What trace.h promises. */
static void
check_trace (const SpTrace *trace)
{
  FUZZ_MUST (trace->n >= 2 && trace->n <= SP_LIMIT_POINTS && trace->frequency_hz[0] >= 0);
  FUZZ_MUST (trace->frequency_hz[trace->n - 1] <= SP_LIMIT_FREQUENCY_HZ);
  for (guint64 i = 0; i < trace->n; i++) {
    FUZZ_MUST (i == 0 || trace->frequency_hz[i] > trace->frequency_hz[i - 1]);
    FUZZ_MUST (fabs (trace->reading_dbm[i]) <= SP_LIMIT_LEVEL_DBM * (1 + 1e-12));
  }
  FUZZ_MUST (trace->column && trace->options && trace->raw);
}

/* What tells a trace apart among several reads it alone again. */
static void
read_again (const SpTrace *trace)
{
  g_autoptr (GError) error = NULL;
  SpTraceOptions options;

  FUZZ_MUST (sp_trace_options_from_text (trace->options, &options, NULL));
  g_autoptr (SpTrace) again = sp_trace_read_bytes (trace->raw, trace->file, &options, &error);
  FUZZ_MUST_SAY (again, error);
  FUZZ_MUST (again && again->n == trace->n && strcmp (again->column, trace->column) == 0);
  FUZZ_MUST (memcmp (again->reading_dbm, trace->reading_dbm, trace->n * sizeof (double)) == 0);
  FUZZ_MUST (strcmp (sp_trace_sha256 (again), sp_trace_sha256 (trace)) == 0);
  sp_trace_options_clear (&options);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  const uint8_t *line_end = size > 0 && *data == '?' ? memchr (data, '\n', size) : NULL;
  g_autoptr (GError) error = NULL;
  SpTraceOptions options;

  sp_trace_options_init (&options);
  if (line_end) {
    g_autofree char *text = g_strndup ((const char *) data + 1, (gsize) (line_end - data) - 1);
    sp_trace_options_clear (&options);
    if (!sp_trace_options_from_text (text, &options, &error)) {
      FUZZ_MUST (error && *error->message);
      return 0;
    }
    size -= (gsize) (line_end + 1 - data);
    data = line_end + 1;
  }
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (GPtrArray) traces = sp_trace_read_all_bytes (bytes, "file", &options, &error);
  FUZZ_MUST_SAY (traces, error);
  g_autoptr (SpUnderstood) look = sp_trace_understood (bytes, &options, traces ? traces->pdata[0] : NULL);
  FUZZ_MUST (look->n <= SP_UNDERSTOOD_LINES);
  for (guint i = 0; traces && i < traces->len; i++) {
    check_trace (traces->pdata[i]);
    if (i % (1 + traces->len / 16) == 0) /* each reads the whole file */
      read_again (traces->pdata[i]);
  }
  sp_trace_options_clear (&options);
  return 0;
}
