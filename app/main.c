/* main.c - spurproof: the program with a window. `spurproof [BOOK.benchbook | BENCH.sheet]...` */
#include <glib/gi18n.h>
#include <locale.h>

#include "app/paths.h" /* made by Meson */
#include "ui/picture/coder.h"
#include "ui/window/shell/application.h"
#include "ui/window/shell/window.h"

/* Installed, or beside the sources it was built from. */
static const char *
samples (void)
{
  const char *given = g_getenv ("SPURPROOF_SAMPLES");
  return given ? given : g_file_test (SP_SAMPLES_FOLDER, G_FILE_TEST_IS_DIR) ? SP_SAMPLES_FOLDER : SP_SAMPLES_SOURCE;
}

/* SPURPROOF_BENCH=frame: for tests/bench, says how long it took to paint the first frame and the first with findings, then ends. */
static gint64 began;

/* Findings come between frames, never within one: those that are there now are in the picture. */
static void
painted (GdkFrameClock *clock, SpWindow *window)
{
  static double first;
  double now = (double) (g_get_monotonic_time () - began) / 1000;
  (void) clock;
  if (first == 0)
    first = now;
  if (!sp_session_findings (sp_window_session (window)))
    return;
  printf ("%.1f %.1f\n", first, now);
  g_application_quit (g_application_get_default ());
}

static void
watch_clock (GtkWidget *window)
{
  g_signal_connect (gtk_widget_get_frame_clock (window), "after-paint", G_CALLBACK (painted), window);
}

static void
watch_frames (GtkApplication *application, GtkWindow *window)
{
  (void) application;
  if (SP_IS_WINDOW (window))
    g_signal_connect (window, "realize", G_CALLBACK (watch_clock), NULL);
}

int
main (int argc, char **argv)
{
  began = g_get_monotonic_time ();
  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, SP_LOCALE_FOLDER);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  sp_picture_start ();
  g_autoptr (SpApplication) application = sp_application_new (samples ());
  if (g_strcmp0 (g_getenv ("SPURPROOF_BENCH"), "frame") == 0)
    g_signal_connect (application, "window-added", G_CALLBACK (watch_frames), NULL);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
