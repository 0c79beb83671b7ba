/* workbook-figure.c - the figure as it is drawn everywhere, and the chosen condition as a chart of the spreadsheet's own */
#include "ui/report/workbook/workbook-private.h"

#include "ui/figure/figure.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define FIGURE_WIDTH 1600
#define FIGURE_HEIGHT 900
#define FIGURE_SCALE 0.75
#define FIGURE_ROWS 35    /* rows that it covers then, and a blank one */
#define CHART_SCALE_X 2.5 /* as wide as the figure */
#define CHART_SCALE_Y 1.5

static gboolean
insert_figure (Page *page, GError **error)
{
  SpView view = *page->work->view;
  view.dark = FALSE;
  view.pointer_hz = NAN;
  if (!workbook_temporary_good ()) /* the figure begins with an errno of its own */
    return FALSE;
  g_autoptr (GBytes) picture = sp_figure_export (SP_FIGURE_PNG_SMALL, FIGURE_WIDTH, FIGURE_HEIGHT, page->work->findings, &view, error);
  if (!picture)
    return FALSE;
  gsize length;
  const unsigned char *bytes = g_bytes_get_data (picture, &length);
  lxw_image_options options = { .x_scale = FIGURE_SCALE, .y_scale = FIGURE_SCALE, .description = (char *) _ ("The bench as a figure") };
  workbook_note (worksheet_insert_image_buffer_opt (page->sheet, page->row, 0, bytes, length, &options));
  page->row += FIGURE_ROWS;
  return TRUE;
}

static void
insert_chart (Page *page)
{
  const Workbook *work = page->work;
  lxw_chart *chart = work->view->condition < work->findings->n ? workbook_chart (work, work->view->condition) : NULL;
  if (!chart)
    return;
  lxw_chart_options options = { .x_scale = CHART_SCALE_X,
                                .y_scale = CHART_SCALE_Y,
                                .description = (char *) _ ("Levels, floor and limit of the chosen condition") };
  workbook_note (worksheet_insert_chart_opt (page->sheet, page->row, 0, chart, &options));
}

gboolean
workbook_figure (const Workbook *work, const char *name, GError **error)
{
  Page page;
  if (!workbook_page (work, name, &page))
    return FALSE;
  if (!insert_figure (&page, error))
    return FALSE;
  insert_chart (&page);
  page_finish (&page, 0, 0, 0);
  worksheet_fit_to_pages (page.sheet, 1, 1);
  return TRUE;
}
