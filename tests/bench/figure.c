/* figure.c - the figure of N points beside a plain scene of cairo's own and beside reading the points once, in the same run
 *
 * usage: bench-figure [points]. Each line: what, ms, what it is measured against, ms, ratio. Medians of runs; absolute times mean nothing
 * elsewhere. The plain scene is what no figure can do without: 1600 x 900 painted, 20 lines of text, 2000 boxes, 60 strokes of 16 points
 * each.
 */
#include "ui/figure/figure.h"
#include "tests/figure/fixture.h"

#include <stdio.h>
#include <stdlib.h>

#define RUNS 15
#define WIDTH 1600
#define HEIGHT 900

static SpFindings *findings;
static SpView view;
static SpPlot *plot;
static cairo_surface_t *surface;
static volatile double sink;

static int
by_value (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

static double
median_ms (void (*work) (void))
{
  double ms[RUNS];
  work (); /* fonts are loaded once, not at every drawing */
  for (guint i = 0; i < RUNS; i++) {
    gint64 start = g_get_monotonic_time ();
    work ();
    ms[i] = (double) (g_get_monotonic_time () - start) / 1000;
  }
  qsort (ms, RUNS, sizeof *ms, by_value);
  return ms[RUNS / 2];
}

static void
draw_figure (void)
{
  cairo_t *cr = cairo_create (surface);
  sp_figure_draw (cr, WIDTH, HEIGHT, findings, &view);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
}

static void
draw_pointer (void)
{
  cairo_t *cr = cairo_create (surface);
  SpPen *pen = sp_pen_new (cr, FALSE, NULL);
  sp_plot_draw_pointer (plot, pen, 438.6e6);
  sp_pen_free (pen);
  cairo_destroy (cr);
}

static void
draw_scene (void)
{
  cairo_t *cr = cairo_create (surface);
  SpPen *pen = sp_pen_new (cr, FALSE, NULL);
  sp_pen_colour (pen, &pen->palette->sheet, 1);
  cairo_paint (cr);
  for (guint i = 0; i < 20; i++)
    sp_pen_text (pen, 20, 20 + 20 * i, SP_TEXT_BODY, &pen->palette->ink, 0, "a line of plain text 0123456789");
  for (guint i = 0; i < 2000; i++)
    cairo_rectangle (cr, i % 1000, 400 + i * 37 % 101 / 7.0, 1, 40);
  cairo_fill (cr);
  cairo_set_line_width (cr, 1.25);
  for (guint i = 0; i < 60; i++) {
    for (guint k = 0; k < 16; k++)
      cairo_line_to (cr, i * 16 + k, 600 + (i * 16 + k) * 53 % 29);
    cairo_stroke (cr);
  }
  sp_pen_free (pen);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
}

static void
read_points (void)
{
  const SpCorrected *k = &findings->conditions[0].corrected[0];
  double sum = 0;
  for (guint64 i = 0; i < k->n; i++)
    sum += k->level_dbm[i] + k->floor_dbm[i];
  sink = sum;
}

static void
line (const char *what, double ours, const char *other, double theirs, const char *goal)
{
  printf ("%-44s %8.2f ms / %-22s %7.2f ms = %6.2fx  (%s)\n", what, ours, other, theirs, ours / theirs, goal);
}

int
main (int argc, char **argv)
{
  guint64 n = argc > 1 ? g_ascii_strtoull (argv[1], NULL, 10) : 1000000;
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  sp_view_init (&view);
  view.radio = "Tolvane";
  findings = fixture_findings_one (1001, 0);
  double small = median_ms (draw_figure);
  sp_findings_unref (findings);
  findings = fixture_findings_one (n, 0);
  double big = median_ms (draw_figure), scene = median_ms (draw_scene), reading = median_ms (read_points);
  SpPen *pen = sp_pen_new (cairo_create (surface), FALSE, NULL);
  SpRect rect = { 300, 200, 1280, 480 };
  plot = sp_plot_new (pen, findings, &view, &rect);
  double pointer = median_ms (draw_pointer);
  const SpPurpose faint[] = { SP_PURPOSE_STEP, SP_PURPOSE_UNKEYED, SP_PURPOSE_SUPERSEDED };
  for (guint i = 0; i < G_N_ELEMENTS (faint); i++)
    fixture_add_other (findings, 0, faint[i], 10, NAN);
  double four = median_ms (draw_figure);
  view.all_sweeps = FALSE;
  view.radio = NULL;
  double all = median_ms (draw_figure);
  printf ("%" G_GUINT64_FORMAT " points\n", n);
  line ("figure, one trace", big, "plain scene", scene, "goal 30 ms on the machine of the facts on speed");
  line ("figure, one trace", big, "reading its points", reading, "-");
  line ("figure, one trace", big, "the same of 1001", small, "-");
  line ("figure, and three faint sweeps of as many", four, "figure, one trace", big, "-");
  line ("figure, and four traces of 1001", all, "plain scene", scene, "-");
  line ("pointer layer", pointer, "plain scene", scene, "-");
  return 0;
}
