/* choose.c - how long it takes until another condition's picture stands: the page of radios on a sheet, one condition after another chosen
 *
 * usage: bench-choose SHEET [harmonic], under a display. The time is the call plus the frame clock's work from before-paint to after-paint, with
 * the display's own part; the median, and the greatest, in milliseconds. tests/window/made.py makes sheets of 27 conditions.
 */
#include "core/bench/sheet/sheet.h"
#include "ui/window/pages/spectrum-page.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define RUNS 54

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

static int
by_value (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;
  return (x > y) - (x < y);
}

static double
choose_ms (SpSession *session, guint condition)
{
  while (g_main_context_pending (NULL))
    g_main_context_iteration (NULL, FALSE);
  gint64 start = g_get_monotonic_time ();
  sp_session_choose (session, condition, SP_DECIDING_EMISSION);
  gint64 called = g_get_monotonic_time () - start;
  for (framed = FALSE; !framed;)
    g_main_context_iteration (NULL, TRUE);
  return (double) (called + frame_us) / 1000;
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  if (argc < 2 || !gtk_init_check ())
    return 77;
  SpBench *bench = sp_bench_read (argv[1], &error);
  if (!bench)
    g_error ("%s", error->message);
  guint n = bench->n_conditions;
  SpSession *session = sp_session_new (sp_book_new (bench));
  while (sp_session_judging (session))
    g_main_context_iteration (NULL, TRUE);
  sp_session_set_by_harmonic (session, argc > 2 && strcmp (argv[2], "harmonic") == 0);
  GtkWidget *page = sp_spectrum_page_new (session), *window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (window), 1440, 900);
  gtk_window_set_child (GTK_WINDOW (window), page);
  gtk_window_present (GTK_WINDOW (window));
  while (!gtk_widget_get_mapped (page))
    g_main_context_iteration (NULL, TRUE);
  GdkFrameClock *clock = gtk_widget_get_frame_clock (page);
  g_signal_connect (clock, "before-paint", G_CALLBACK (before_paint), NULL);
  g_signal_connect_after (clock, "after-paint", G_CALLBACK (after_paint), NULL);
  double ms[RUNS];
  for (guint i = 0; i < RUNS + 3; i++) {
    double taken = choose_ms (session, (i + 1) % n);
    if (i >= 3)
      ms[i - 3] = taken;
  }
  qsort (ms, RUNS, sizeof *ms, by_value);
  printf ("%u conditions: median %.1f ms, greatest %.1f ms (goal 100 ms)\n", n, ms[RUNS / 2], ms[RUNS - 1]);
  return 0;
}
