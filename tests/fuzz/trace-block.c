/* trace-block.c - any bytes as a block of levels. The first byte says in which of the formats and byte orders. */
#include "core/trace/limits.h"
#include "core/trace/read/read.h"
#include "core/trace/trace.h"
#include "tests/fuzz/fuzz.h"

#include <math.h>
#include <string.h>

/* Its options, in which format, ends and byte order stand, read it alone again. */
static void
read_again (const SpTrace *trace)
{
  g_autoptr (GError) error = NULL;
  SpTraceOptions options;

  FUZZ_MUST (sp_trace_options_from_text (trace->options, &options, NULL));
  g_autoptr (SpTrace) again = sp_trace_read_bytes (trace->raw, trace->file, &options, &error);
  FUZZ_MUST_SAY (again, error);
  FUZZ_MUST (again && again->n == trace->n && memcmp (again->reading_dbm, trace->reading_dbm, trace->n * sizeof (double)) == 0);
  FUZZ_MUST (strcmp (sp_trace_sha256 (again), sp_trace_sha256 (trace)) == 0);
  sp_trace_options_clear (&options);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  SpTraceOptions options;

  if (size < 1)
    return 0;
  sp_trace_options_init (&options);
  options.format = SP_BLOCK_REAL32 + *data % 3;
  options.little_endian = *data / 3 % 2;
  options.start_hz = 1e6;
  options.stop_hz = 1e9;
  g_autoptr (GBytes) bytes = g_bytes_new (data + 1, size - 1);
  g_autoptr (SpTrace) trace = sp_trace_read_bytes (bytes, "file", &options, &error);
  FUZZ_MUST_SAY (trace, error);
  for (guint64 i = 0; trace && i < trace->n; i++) {
    FUZZ_MUST (i == 0 || trace->frequency_hz[i] > trace->frequency_hz[i - 1]);
    FUZZ_MUST (fabs (trace->reading_dbm[i]) <= SP_LIMIT_LEVEL_DBM);
  }
  if (trace)
    read_again (trace);
  return 0;
}
