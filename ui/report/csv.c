/* csv.c - the points of traces as comma-separated text */
#include "ui/report/csv.h"

#include "core/quantity/text.h"

char *
sp_csv_traces (GPtrArray *traces)
{
  GString *out = g_string_new (NULL);
  char frequency[32], level[32];
  for (guint t = 0; t < traces->len; t++) {
    const SpTrace *trace = g_ptr_array_index (traces, t);
    g_string_append (out, t ? "\nfrequency_hz,level_dbm\n" : "frequency_hz,level_dbm\n");
    for (guint64 i = 0; i < trace->n; i++) {
      g_string_append (out, sp_format_exact (trace->frequency_hz[i], frequency));
      g_string_append_c (out, ',');
      g_string_append (out, sp_format_exact (trace->reading_dbm[i], level));
      g_string_append_c (out, '\n');
    }
  }
  return g_string_free (out, FALSE);
}
