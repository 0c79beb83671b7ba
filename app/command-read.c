/* command-read.c - what the reader of traces understood, or the points */
#include "app/command.h"

#include "core/quantity/error.h"
#include "ui/report/csv.h"
#include "ui/report/json.h"
#include "ui/report/table.h"

#include <glib/gi18n.h>

/* All level columns of a file, or the one that ?column= names. */
static gboolean
read_into (GPtrArray *traces, const char *reference, GError **error)
{
  g_autofree char *path = NULL;
  SpTraceOptions options;
  sp_trace_options_init (&options);
  gboolean done = FALSE;
  if (sp_trace_options_parse (reference, &path, &options, error)) {
    g_autoptr (GPtrArray) columns = NULL;
    if (options.column) {
      SpTrace *trace = sp_trace_read_file (path, &options, error);
      done = trace != NULL;
      if (trace)
        g_ptr_array_add (traces, trace);
    } else if ((columns = sp_trace_read_all (path, &options, error))) {
      done = TRUE;
      for (guint i = 0; i < columns->len; i++)
        g_ptr_array_add (traces, sp_trace_ref (g_ptr_array_index (columns, i)));
    }
  }
  sp_trace_options_clear (&options);
  return done;
}

int
command_read (const Arguments *arguments, GError **error)
{
  if (!input_rest (arguments, "read", 1, G_MAXUINT, error))
    return FAILED;
  gboolean json = arguments_have (arguments, "json"), csv = arguments_have (arguments, "csv");
  if (json && csv) {
    sp_fail (error, SP_ERROR_USAGE, _("--json or --csv, not both"));
    return FAILED;
  }
  g_autoptr (GPtrArray) traces = g_ptr_array_new_with_free_func ((GDestroyNotify) sp_trace_unref);
  for (guint i = 0; i < arguments->rest->len; i++)
    if (!read_into (traces, g_ptr_array_index (arguments->rest, i), error))
      return FAILED;
  g_autofree char *text = json ? sp_json_traces (traces) : csv ? sp_csv_traces (traces) : sp_table_traces (traces);
  return (json || csv ? output_machine (arguments, text, error) : output_text (arguments, text, error)) ? DONE : FAILED;
}
