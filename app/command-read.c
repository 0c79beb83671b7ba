/* command-read.c - what the reader of traces understood, or the points */
#include "app/command.h"

#include "core/quantity/error.h"
#include "core/trace/read/read-parallel.h"
#include "ui/report/csv.h"
#include "ui/report/json.h"
#include "ui/report/table.h"

#include <glib/gi18n.h>

/* All level columns of the files, or those that ?column= names, in their order. */
static gboolean
read_into (GPtrArray *traces, GPtrArray *references, GError **error)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < references->len; i++)
    g_ptr_array_add (names, g_ptr_array_index (references, i));
  g_ptr_array_add (names, NULL);
  g_autoptr (GPtrArray) readings = sp_trace_read_many ((const char *const *) names->pdata, SP_MANY_ALL | SP_MANY_OPERANDS);
  for (guint i = 0; i < readings->len; i++) {
    SpTraceReading *reading = g_ptr_array_index (readings, i);
    if (reading->error) {
      g_propagate_error (error, g_steal_pointer (&reading->error));
      return FALSE;
    }
    for (guint k = 0; k < reading->traces->len; k++)
      g_ptr_array_add (traces, sp_trace_ref (g_ptr_array_index (reading->traces, k)));
  }
  return TRUE;
}

int
command_read (const Arguments *arguments, GError **error)
{
  if (!input_rest (arguments, "read", 1, G_MAXUINT, error))
    return FAILED;
  gboolean json = arguments_have (arguments, "json"), csv = arguments_have (arguments, "csv");
  if (json && csv) {
    sp_fail (error, SP_ERROR_USAGE, _ ("--json or --csv, not both"));
    return FAILED;
  }
  g_autoptr (GPtrArray) traces = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_trace_unref);
  if (!read_into (traces, arguments->rest, error))
    return FAILED;
  g_autofree char *text = json ? sp_json_traces (traces) : csv ? sp_csv_traces (traces) : sp_table_traces (traces);
  return (json || csv ? output_machine (arguments, text, error) : output_text (arguments, text, error)) ? DONE : FAILED;
}
