/* command-width.c - how wide the signal in a trace is */
#include "app/command.h"

#include "core/trace/read/read.h"
#include "ui/report/json.h"
#include "ui/report/table.h"

static SpTrace *
read_trace (const char *reference, GError **error)
{
  g_autofree char *path = NULL;
  SpTraceOptions options;
  sp_trace_options_init (&options);
  SpTrace *trace = sp_trace_operand_parse (reference, &path, &options, error) ? sp_trace_read_file (path, &options, error) : NULL;
  sp_trace_options_clear (&options);
  return trace;
}

int
command_width (const Arguments *arguments, GError **error)
{
  SpWidthAsked asked;
  sp_width_asked_init (&asked);
  if (!input_rest (arguments, "width", 1, 1, error) || !arguments_frequency (arguments, "from", &asked.from_hz, error)
      || !arguments_frequency (arguments, "to", &asked.to_hz, error)
      || !arguments_frequency (arguments, "channel", &asked.channel_hz, error)
      || !arguments_frequency (arguments, "spacing", &asked.spacing_hz, error)
      || !arguments_frequency (arguments, "center", &asked.center_hz, error))
    return FAILED;
  const char *profile = arguments_text (arguments, "analyzer");
  g_autoptr (SpAnalyzer) analyzer = profile ? sp_analyzer_read (profile, error) : NULL;
  if (profile && !analyzer)
    return FAILED;
  if (analyzer)
    asked.filter = analyzer->filter;
  g_autoptr (SpTrace) trace = read_trace (g_ptr_array_index (arguments->rest, 0), error);
  g_autoptr (SpWidths) widths = trace ? sp_widths_measure (trace, &asked, error) : NULL;
  if (!widths)
    return FAILED;
  gboolean json = arguments_have (arguments, "json");
  g_autofree char *text = json ? sp_json_widths (widths) : sp_table_widths (widths);
  return (json ? output_machine (arguments, text, error) : output_text (arguments, text, error)) ? DONE : FAILED;
}
