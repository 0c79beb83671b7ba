/* chart.c - frames of the chart in a real window: ten traces of N points panned, zoomed and pointed at, beside plain windows in the same
 * run
 *
 * usage: bench-chart [points], under a display, best on one core: taskset -c 0 tests/under-display bench-chart. A frame's time is the
 * call that changes the chart plus the frame clock's work from before-paint to after-paint, with the display's own part (synchronized).
 * Medians. The plain window holds one picture of the same size and repaints it whole: what no frame can do without.
 */
#include "tests/figure/fixture.h"
#include "ui/window/chart/chart-private.h"

#include <stdio.h>
#include <stdlib.h>

#define RUNS 40
#define WIDTH 1000
#define HEIGHT 560
#define TRACES 10

static gint64 frame_start, frame_us;
static gboolean framed;

static void
before_paint (void)
{
  frame_start = g_get_monotonic_time ();
}

static void
after_paint (void)
{
  gdk_display_sync (gdk_display_get_default ());
  frame_us = g_get_monotonic_time () - frame_start;
  framed = TRUE;
}

static GtkWidget *
window_with (GtkWidget *child)
{
  GtkWidget *window = gtk_window_new ();
  gtk_window_set_decorated (GTK_WINDOW (window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (window), WIDTH, HEIGHT);
  gtk_window_set_child (GTK_WINDOW (window), child);
  gtk_window_present (GTK_WINDOW (window));
  while (!gtk_widget_get_mapped (child) || !gtk_widget_get_frame_clock (child))
    g_main_context_iteration (NULL, TRUE);
  GdkFrameClock *clock = gtk_widget_get_frame_clock (child);
  g_signal_connect (clock, "before-paint", G_CALLBACK (before_paint), NULL);
  g_signal_connect_after (clock, "after-paint", G_CALLBACK (after_paint), NULL);
  for (framed = FALSE; !framed || gtk_widget_get_width (child) == 0;) {
    gtk_widget_queue_draw (child);
    g_main_context_iteration (NULL, TRUE);
  }
  return window;
}

static int
by_value (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

static double
median_frame_ms (void (*change) (GtkWidget *, guint), GtkWidget *widget)
{
  double ms[RUNS];
  for (guint i = 0; i < RUNS + 3; i++) {
    gint64 start = g_get_monotonic_time ();
    change (widget, i);
    gint64 called = g_get_monotonic_time () - start;
    for (framed = FALSE; !framed;)
      g_main_context_iteration (NULL, TRUE);
    if (i >= 3)
      ms[i - 3] = (double) (called + frame_us) / 1000;
  }
  qsort (ms, RUNS, sizeof *ms, by_value);
  return ms[RUNS / 2];
}

static void
pan (GtkWidget *widget, guint i)
{
  SpChart *chart = SP_CHART (widget);
  SpAxis start = *sp_chart_axis (chart);
  sp_chart_pan (chart, &start, i % 2 ? 37 : -37);
}

static void
zoom (GtkWidget *widget, guint i)
{
  sp_chart_zoom (SP_CHART (widget), 400, i % 2 ? 1.25 : 0.8);
}

static void
point (GtkWidget *widget, guint i)
{
  SpChart *chart = SP_CHART (widget);
  sp_session_set_pointer (chart->session, sp_axis_value (sp_chart_axis (chart), 300 + 7 * i % 300));
}

static void
repaint (GtkWidget *widget, guint i)
{
  gtk_widget_set_opacity (widget, i % 2 ? 1 : 0.99);
}

static void
nudge (GtkWidget *widget, guint i)
{
  gtk_widget_set_margin_start (widget, (int) (20 + i % 2));
}

#define FAINT 3 /* sweeps more, of the chosen condition */

static SpBench *
ten (guint64 points, guint faint)
{
  SpBench *bench = fixture_bench (points, -1);
  bench->conditions = g_renew (SpCondition, bench->conditions, TRACES);
  for (guint i = FIXTURE_N; i < TRACES; i++) {
    SpCondition *c = &bench->conditions[i];
    *c = bench->conditions[i % FIXTURE_N];
    c->name = g_strdup_printf ("again %u", i);
    c->sweeps = g_memdup2 (c->sweeps, sizeof *c->sweeps);
    sp_trace_ref (c->sweeps[0].trace);
  }
  for (guint i = 0; i < faint; i++)
    fixture_add_sweep (bench, 0, SP_PURPOSE_SUPERSEDED, NAN);
  bench->n_conditions = TRACES;
  return bench;
}

typedef struct {
  double pan, zoom, point;
} Frames;

static Frames
measure (guint64 points, guint faint)
{
  g_autoptr (SpBench) bench = ten (points, faint);
  g_autoptr (SpSession) session = sp_session_new (sp_book_new (bench));
  while (sp_session_judging (session))
    g_main_context_iteration (NULL, TRUE);
  GtkWidget *chart = sp_chart_new (session), *window = window_with (chart);
  sp_session_set_view (session, 200e6, 1200e6, NAN, NAN);
  Frames frames = { median_frame_ms (pan, chart), median_frame_ms (zoom, chart), 0 };
  guint built = sp_chart_layers_built (SP_CHART (chart), SP_LAYER_TRACES);
  frames.point = median_frame_ms (point, chart);
  if (sp_chart_layers_built (SP_CHART (chart), SP_LAYER_TRACES) != built)
    g_error ("moving the pointer drew the curves again");
  gtk_window_destroy (GTK_WINDOW (window));
  return frames;
}

static void
line (const char *what, double ours, const char *other, double theirs, const char *goal)
{
  printf ("%-44s %8.2f ms / %-28s %7.2f ms = %6.2fx  (%s)\n", what, ours, other, theirs, ours / theirs, goal);
}

int
main (int argc, char **argv)
{
  guint64 points = argc > 1 ? g_ascii_strtoull (argv[1], NULL, 10) : 1000000;
  if (!gtk_init_check ())
    return 77;
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  g_autoptr (GBytes) bytes = g_bytes_new (cairo_image_surface_get_data (image), WIDTH * HEIGHT * 4);
  GdkTexture *texture = gdk_memory_texture_new (WIDTH, HEIGHT, GDK_MEMORY_DEFAULT, bytes, WIDTH * 4);
  GtkWidget *picture = gtk_picture_new_for_paintable (GDK_PAINTABLE (texture)), *window = window_with (picture);
  double plain = median_frame_ms (repaint, picture);
  gtk_window_destroy (GTK_WINDOW (window));
  GtkWidget *label = gtk_label_new ("0123456789");
  gtk_widget_set_halign (label, GTK_ALIGN_START);
  window = window_with (label);
  double little = median_frame_ms (nudge, label);
  gtk_window_destroy (GTK_WINDOW (window));
  Frames few = measure (1001, 0), many = measure (points, 0), more = measure (points, FAINT);
  printf ("%d traces of %" G_GUINT64_FORMAT " points, %d x %d\n", TRACES, points, WIDTH, HEIGHT);
  line ("a frame of panning", many.pan, "plain window, one picture", plain, "goal 33 ms on the machine of the facts on speed");
  line ("a frame of panning", many.pan, "the same of 1001 points", few.pan, "-");
  line ("a frame of zooming", many.zoom, "plain window, one picture", plain, "goal 33 ms likewise");
  line ("a frame of zooming", many.zoom, "the same of 1001 points", few.zoom, "-");
  line ("a frame of panning, three faint sweeps", more.pan, "without them", many.pan, "-");
  line ("a frame of zooming, three faint sweeps", more.zoom, "without them", many.zoom, "-");
  line ("the pointer moves", many.point, "plain window, a label moves", little, "goal 4 ms likewise");
  line ("the pointer moves", many.point, "the same of 1001 points", few.point, "1 where no curve is drawn");
  return 0;
}
