/* command-report.c - the report as a spreadsheet */
#include "app/command.h"

#include "core/quantity/error.h"
#include "ui/report/workbook/workbook.h"

#include <glib/gi18n.h>
#include <string.h>

static gboolean
is_asked_for (const char *path, const char *word, const char *format)
{
  g_autofree char *lower = g_ascii_strdown (path, -1), *ending = g_strconcat (".", format, NULL);
  return word ? strcmp (word, format) == 0 : g_str_has_suffix (lower, ending);
}

static gboolean
format_asked (const Arguments *arguments, GError **error)
{
  const char *path = arguments_text (arguments, "output"), *word = arguments_text (arguments, "format");
  if (!path)
    return sp_fail (error, SP_ERROR_USAGE, _ ("where to? -o FILE.xlsx"));
  if (!word && strcmp (path, "-") == 0)
    return sp_fail (error, SP_ERROR_USAGE, _ ("-o - needs --format xlsx"));
  if (is_asked_for (path, word, "pdf"))
    return sp_fail (error, SP_ERROR_USAGE, _ ("%s: this version writes the report as a spreadsheet: -o FILE.xlsx"), word ? word : path);
  return is_asked_for (path, word, "xlsx")
         || sp_fail (error, SP_ERROR_USAGE, _ ("%s: a report is a spreadsheet: -o FILE.xlsx was expected"), word ? word : path);
}

int
command_report (const Arguments *arguments, GError **error)
{
  SpView view;
  if (!format_asked (arguments, error))
    return FAILED;
  sp_view_init (&view); /* of the figure and the chart: the sheets hold all */
  g_autoptr (SpFindings) findings = input_findings (arguments, &view, error);
  return findings ? output_made (arguments, sp_workbook_export (findings, &view, arguments_have (arguments, "traces"), error), error)
                  : FAILED;
}
