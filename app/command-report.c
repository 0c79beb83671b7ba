/* command-report.c - what a user hands over: the spreadsheet, the report, a radio's slip, all slips */
#include "app/command.h"

#include "core/quantity/error.h"
#include "ui/paper/export.h"
#include "ui/paper/pages.h"
#include "ui/report/workbook/workbook.h"

#include <glib/gi18n.h>
#include <string.h>

typedef enum { FORMAT_XLSX, FORMAT_PDF, FORMAT_HTML } Format;

static const char *const formats[] = { [FORMAT_XLSX] = "xlsx", [FORMAT_PDF] = "pdf", [FORMAT_HTML] = "html" };

static gboolean
format_asked (const Arguments *arguments, Format *format, GError **error)
{
  const char *path = arguments_text (arguments, "output"), *word = arguments_text (arguments, "format");
  if (!path)
    return sp_fail (error, SP_ERROR_USAGE, _ ("where to? -o FILE.xlsx, FILE.pdf or FILE.html, or --slips DIR"));
  if (!word && strcmp (path, "-") == 0)
    return sp_fail (error, SP_ERROR_USAGE, _ ("-o - needs --format xlsx, pdf or html"));
  g_autofree char *lower = g_ascii_strdown (path, -1);
  for (guint i = 0; i < G_N_ELEMENTS (formats); i++) {
    g_autofree char *ending = g_strconcat (".", formats[i], NULL);
    if (word ? strcmp (word, formats[i]) == 0 : g_str_has_suffix (lower, ending)) {
      *format = (Format) i;
      return TRUE;
    }
  }
  return sp_fail (error, SP_ERROR_USAGE, _ ("%s: a report is a spreadsheet, a PDF or a page: .xlsx, .pdf or .html was expected"),
                  word ? word : path);
}

static gboolean
size_asked (const Arguments *arguments, SpPaperSize *size, GError **error)
{
  const char *word = arguments_text (arguments, "paper");
  *size = SP_PAPER_A4;
  if (!word)
    return TRUE;
  for (guint i = 0; i < SP_N_PAPERS; i++)
    if (g_ascii_strcasecmp (word, sp_paper_size_name ((SpPaperSize) i)) == 0) {
      *size = (SpPaperSize) i;
      return TRUE;
    }
  return sp_fail (error, SP_ERROR_USAGE, _ ("--paper %s: a4, letter or a5 was expected"), word);
}

/* What the bench's .report file says, where no --paper does. */
static void
size_stated (const Arguments *arguments, const SpBench *bench, SpPaperSize *size)
{
  const char *word = bench->document ? sp_document_papers[bench->document->paper] : NULL;
  for (guint i = 0; word && !arguments_text (arguments, "paper") && i < SP_N_PAPERS; i++)
    if (g_ascii_strcasecmp (word, sp_paper_size_name ((SpPaperSize) i)) == 0)
      *size = (SpPaperSize) i;
}

/* The radio that --radio names, by its own name or a condition's; -1: none is named, or it makes one. */
static gboolean
radio_asked (const Arguments *arguments, const SpBench *bench, int *radio, GError **error)
{
  const char *name = input_radio_named (arguments);
  *radio = -1;
  if (!name)
    return TRUE;
  int condition = input_condition (bench, name, error);
  if (condition >= 0)
    *radio = (int) bench->conditions[condition].radio;
  return condition >= 0;
}

static int
write_slips (const Arguments *arguments, const SpFindings *findings, SpPaperSize size, GError **error)
{
  if (!sp_paper_write_slips (findings, arguments_text (arguments, "slips"), size, output_may_replace, error))
    return FAILED;
  output_say_type ();
  return DONE;
}

/* ---- one file ---- */

static gboolean
slip_is_possible (const SpFindings *findings, int *radio, Format format, GError **error)
{
  if (format == FORMAT_XLSX)
    return sp_fail (error, SP_ERROR_USAGE, _ ("--slip: a slip is a PDF or a page: -o FILE.pdf or FILE.html was expected"));
  if (*radio < 0 && findings->bench->n_radios == 1)
    *radio = 0;
  return *radio >= 0
         || sp_fail (error, SP_ERROR_USAGE, _ ("--slip: whose? There are %u radios: --radio NAME, or --slips DIR for all"),
                     findings->bench->n_radios);
}

static int
write_paper (const Arguments *arguments, const SpFindings *findings, int radio, Format format, SpPaperSize size, GError **error)
{
  g_autoptr (SpPaper) paper = arguments_have (arguments, "slip") ? sp_paper_slip (findings, (guint) radio, size)
                                                                 : sp_paper_report (findings, radio);
  return output_made (arguments, sp_paper_export (paper, format == FORMAT_PDF ? SP_PAPER_PDF : SP_PAPER_HTML, size, error), error);
}

int
command_report (const Arguments *arguments, GError **error)
{
  SpView view;
  Format format = FORMAT_PDF;
  SpPaperSize size;
  int radio;
  gboolean slips = arguments_have (arguments, "slips"), slip = arguments_have (arguments, "slip");
  if (slips && (slip || arguments_have (arguments, "output"))) {
    sp_fail (error, SP_ERROR_USAGE, _ ("--slips DIR writes a slip for each radio into DIR: neither --slip nor -o goes with it"));
    return FAILED;
  }
  if ((!slips && !format_asked (arguments, &format, error)) || !size_asked (arguments, &size, error))
    return FAILED;
  sp_view_init (&view); /* of the figure and the chart: the sheets hold all */
  g_autoptr (SpFindings) findings = input_findings (arguments, &view, error);
  if (!findings || !radio_asked (arguments, findings->bench, &radio, error))
    return FAILED;
  size_stated (arguments, findings->bench, &size);
  if (slips)
    return write_slips (arguments, findings, size, error);
  if (slip && !slip_is_possible (findings, &radio, format, error))
    return FAILED;
  return format == FORMAT_XLSX
             ? output_made (arguments, sp_workbook_export (findings, &view, arguments_have (arguments, "traces"), error), error)
             : write_paper (arguments, findings, radio, format, size, error);
}
