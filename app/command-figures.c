/* command-figures.c - every figure as a file of its own, for an article or a notice board */
#include "app/command.h"

#include "core/quantity/error.h"
#include "ui/paper/export.h"

#include <glib/gi18n.h>
#include <string.h>

static gboolean
formats_asked (const Arguments *arguments, SpFiguresAsked *asked, GError **error)
{
  const char *text = arguments_text (arguments, "format");
  const struct {
    const char *word;
    gboolean *wanted;
  } formats[] = { { "svg", &asked->svg }, { "pdf", &asked->pdf }, { "png", &asked->png } };
  if (!text)
    return TRUE;
  asked->svg = asked->pdf = asked->png = FALSE;
  g_auto (GStrv) words = g_strsplit (text, ",", -1);
  for (char **word = words; *word; word++) {
    guint i = 0;
    while (i < G_N_ELEMENTS (formats) && strcmp (*word, formats[i].word) != 0)
      i++;
    if (i == G_N_ELEMENTS (formats))
      return sp_fail (error, SP_ERROR_USAGE, _ ("--format %s: svg, pdf, png, or several of them with commas between, were expected"), text);
    *formats[i].wanted = TRUE;
  }
  return words[0] || sp_fail (error, SP_ERROR_USAGE, _ ("--format: svg, pdf, png, or several of them with commas between, were expected"));
}

static gboolean
number_asked (const Arguments *arguments, const char *name, double least, double most, double *number, GError **error)
{
  if (!arguments_number (arguments, name, number, error))
    return FALSE;
  return (*number >= least && *number <= most)
         || sp_fail (error, SP_ERROR_USAGE, _ ("--%s: a number from %.0f to %.0f was expected"), name, least, most);
}

static gboolean
ink_asked (const Arguments *arguments, SpFiguresAsked *asked, GError **error)
{
  gboolean dark = arguments_have (arguments, "dark"), grey = arguments_have (arguments, "grey");
  asked->ink = dark ? SP_FIGURES_DARK : grey ? SP_FIGURES_GREY : SP_FIGURES_PAPER;
  return !(dark && grey) || sp_fail (error, SP_ERROR_USAGE, _ ("--dark and --grey: one of them"));
}

int
command_figures (const Arguments *arguments, GError **error)
{
  const char *folder = arguments_text (arguments, "directory");
  SpFiguresAsked asked;
  SpView view;
  sp_figures_asked_init (&asked);
  sp_view_init (&view); /* each figure has its own */
  if (!folder) {
    sp_fail (error, SP_ERROR_USAGE, _ ("figures makes files: -d DIR is needed"));
    return FAILED;
  }
  if (!formats_asked (arguments, &asked, error)
      || !number_asked (arguments, "width-mm", SP_FIGURES_LEAST_MM, SP_FIGURES_MOST_MM, &asked.width_mm, error)
      || !number_asked (arguments, "dpi", SP_FIGURES_LEAST_DPI, SP_FIGURES_MOST_DPI, &asked.dpi, error)
      || !ink_asked (arguments, &asked, error))
    return FAILED;
  g_autoptr (SpFindings) findings = input_findings (arguments, &view, error);
  if (!findings || !sp_paper_write_figures (findings, folder, &asked, output_may_replace, NULL, error))
    return FAILED;
  output_say_type ();
  return DONE;
}
