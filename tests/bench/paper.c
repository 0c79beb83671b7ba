/* paper.c - twelve slips, and the report of twelve conditions, as PDF, beside drawing their charts alone; and the report's first page: ratios within one run */
#include "tests/bench/sweeps.h"
#include "ui/figure/plot/plot.h"
#include "ui/paper/export.h"
#include "ui/paper/pages.h"

#include <cairo-pdf.h>
#include <math.h>

#define SLIPS 12
#define POINTS 10000

static double
since (gint64 start)
{
  return (double) (g_get_monotonic_time () - start) / 1000;
}

static cairo_status_t
forget (void *data, const unsigned char *bytes, unsigned length)
{
  (void) data, (void) bytes, (void) length;
  return CAIRO_STATUS_SUCCESS;
}

/* Each chart as wide as a slip's, on a PDF of its own. */
static double
time_charts (const SpFindings *findings)
{
  gint64 start = g_get_monotonic_time ();
  for (guint i = 0; i < findings->n; i++) {
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (forget, NULL, 480, 190);
    cairo_t *cr = cairo_create (surface);
    SpRect rect = { 0, 0, 480, 190 };
    SpView view;
    sp_view_init (&view);
    view.condition = i;
    view.radio = sp_view_radio_name (findings, i);
    g_autoptr (SpPen) pen = sp_pen_new (cr, FALSE, NULL);
    g_autoptr (SpPlot) plot = sp_plot_new (pen, findings, &view, &rect);
    sp_plot_draw (plot, pen);
    cairo_destroy (cr);
    cairo_surface_destroy (surface);
  }
  return since (start);
}

static double
time_slips (const SpFindings *findings)
{
  gint64 start = g_get_monotonic_time ();
  for (guint i = 0; i < findings->bench->n_radios; i++) {
    g_autoptr (SpPaper) paper = sp_paper_slip (findings, i, SP_PAPER_A4);
    g_autoptr (GBytes) bytes = sp_paper_export (paper, SP_PAPER_PDF, SP_PAPER_A4, NULL);
    g_assert_nonnull (bytes);
  }
  return since (start);
}

static double
time_report (const SpFindings *findings)
{
  gint64 start = g_get_monotonic_time ();
  g_autoptr (SpPaper) paper = sp_paper_report (findings, -1);
  g_autoptr (GBytes) bytes = sp_paper_export (paper, SP_PAPER_PDF, SP_PAPER_A4, NULL);
  g_assert_nonnull (bytes);
  return since (start);
}

/* As the window shows it first, while the other pages are laid. */
static double
time_first_page (const SpFindings *findings)
{
  gint64 start = g_get_monotonic_time ();
  g_autoptr (SpPaper) paper = sp_paper_report (findings, -1);
  g_autoptr (SpPages) pages = sp_pages_first (paper, SP_PAPER_A4);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 800, 1131);
  cairo_t *cr = cairo_create (surface);
  g_assert_true (sp_pages_draw (pages, 0, cr));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return since (start);
}

int
main (void)
{
  g_autoptr (SpFindings) findings = findings_of_sweeps (SLIPS, POINTS);
  double charts[RUNS], slips[RUNS], report[RUNS], first[RUNS];
  for (guint i = 0; i < RUNS; i++) {
    charts[i] = time_charts (findings);
    slips[i] = time_slips (findings);
    report[i] = time_report (findings);
    first[i] = time_first_page (findings);
  }
  double base = median (charts);
  printf ("%-52s %8.2f ms / %8.2f ms = %5.2fx  (goal %s)\n", "twelve slips as PDF / their charts alone", median (slips), base,
          median (slips) / base, "3x at most");
  printf ("%-52s %8.2f ms / %8.2f ms = %5.2fx  (goal %s)\n", "report of twelve conditions as PDF / the same", median (report), base,
          median (report) / base, "3x at most");
  printf ("%-52s %8.2f ms / %8.2f ms = %5.2fx  (goal %s)\n", "its first page on screen / the same", median (first), base,
          median (first) / base, "100 ms at most");
  return 0;
}
