/* command-draw.c - the chart as a file */
#include "app/command.h"

#include "core/compare/order.h"
#include "core/quantity/error.h"
#include "ui/figure/figure.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* "1600x900" */
static gboolean
size_asked (const Arguments *arguments, double *width, double *height, GError **error)
{
  const char *text = arguments_text (arguments, "size");
  if (!text)
    return TRUE;
  g_auto (GStrv) sides = g_strsplit (text, "x", -1);
  guint64 w, h;
  if (g_strv_length (sides) != 2 || !g_ascii_string_to_unsigned (sides[0], 10, SP_FIGURE_LEAST_WIDTH, SP_FIGURE_MOST, &w, NULL)
      || !g_ascii_string_to_unsigned (sides[1], 10, SP_FIGURE_LEAST_HEIGHT, SP_FIGURE_MOST, &h, NULL))
    return sp_fail (error, SP_ERROR_USAGE, _ ("--size %s: WIDTHxHEIGHT was expected, from %dx%d to %dx%d"), text, SP_FIGURE_LEAST_WIDTH,
                    SP_FIGURE_LEAST_HEIGHT, SP_FIGURE_MOST, SP_FIGURE_MOST);
  *width = (double) w;
  *height = (double) h;
  return TRUE;
}

static gboolean
format_asked (const Arguments *arguments, SpFigureFormat *format, GError **error)
{
  const char *path = arguments_text (arguments, "output"), *word = arguments_text (arguments, "format");
  if (!path)
    return sp_fail (error, SP_ERROR_USAGE, _ ("where to? -o FILE.png, FILE.svg or FILE.pdf"));
  if (!word && strcmp (path, "-") == 0)
    word = "png";
  g_autofree char *as_ending = word ? g_strconcat (".", word, NULL) : NULL;
  return sp_figure_format_of (word ? as_ending : path, format, error);
}

static gboolean
view_asked (const Arguments *arguments, SpView *view, GError **error)
{
  sp_view_init (view);
  view->dark = arguments_have (arguments, "dark");
  view->all_sweeps = !arguments_have (arguments, "judged-only");
  view->by_harmonic = arguments_have (arguments, "by-harmonic");
  view->relative = arguments_have (arguments, "dbc");
  if (!arguments_frequency (arguments, "from", &view->from_hz, error) || !arguments_frequency (arguments, "to", &view->to_hz, error))
    return FALSE;
  if (arguments_have (arguments, "log") && arguments_have (arguments, "linear"))
    return sp_fail (error, SP_ERROR_USAGE, _ ("--log and --linear: one of them"));
  if (view->from_hz >= view->to_hz)
    return sp_fail (error, SP_ERROR_USAGE, _ ("--from must lie below --to"));
  return TRUE;
}

static gboolean
levels_asked (const Arguments *arguments, double *bottom_db, double *top_db, GError **error)
{
  *bottom_db = *top_db = NAN;
  if (!arguments_number (arguments, "level-from", bottom_db, error) || !arguments_number (arguments, "level-to", top_db, error))
    return FALSE;
  if (*bottom_db >= *top_db)
    return sp_fail (error, SP_ERROR_USAGE, _ ("--level-from must lie below --level-to"));
  return TRUE;
}

int
command_draw (const Arguments *arguments, GError **error)
{
  double width = 1600, height = 900, bottom_db, top_db;
  SpFigureFormat format;
  SpView view;
  if (!format_asked (arguments, &format, error) || !size_asked (arguments, &width, &height, error) || !view_asked (arguments, &view, error)
      || !levels_asked (arguments, &bottom_db, &top_db, error))
    return FAILED;
  g_autoptr (SpFindings) findings = input_findings (arguments, &view, error);
  if (!findings)
    return FAILED;
  view.logarithmic = arguments_have (arguments, "log") || (!arguments_have (arguments, "linear") && sp_compare_is_wide (findings));
  sp_view_set_levels (&view, findings, bottom_db, top_db);
  return output_made (arguments, sp_figure_export (format, width, height, findings, &view, error), error);
}
