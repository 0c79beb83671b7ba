/* The first frame of a bare GTK window: what the program's own is measured against. Prints milliseconds since the process began, then ends. */
#include <gtk/gtk.h>

static gint64 began;

static gboolean
painted (GtkWidget *widget, GdkFrameClock *clock, gpointer application)
{
  (void) widget;
  if (gdk_frame_clock_get_frame_counter (clock) < 1)
    return G_SOURCE_CONTINUE;
  printf ("%.1f\n", (double) (g_get_monotonic_time () - began) / 1000);
  g_application_quit (application);
  return G_SOURCE_REMOVE;
}

static void
activate (GtkApplication *application)
{
  GtkWidget *window = gtk_application_window_new (application);
  gtk_window_set_default_size (GTK_WINDOW (window), 1440, 900);
  gtk_widget_add_tick_callback (window, painted, application, NULL);
  gtk_window_present (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  began = g_get_monotonic_time ();
  g_autoptr (GtkApplication) application = gtk_application_new ("org.spurproof.Bare", G_APPLICATION_NON_UNIQUE);
  g_signal_connect (application, "activate", G_CALLBACK (activate), NULL);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
