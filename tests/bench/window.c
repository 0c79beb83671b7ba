/* The first frame of a bare GTK window: what the program's own is measured against. Prints milliseconds since the process began, then ends. */
#include <gtk/gtk.h>

static gint64 began;

static void
painted (GdkFrameClock *clock)
{
  (void) clock;
  printf ("%.1f\n", (double) (g_get_monotonic_time () - began) / 1000);
  g_application_quit (g_application_get_default ());
}

static void
watch_clock (GtkWidget *window)
{
  g_signal_connect (gtk_widget_get_frame_clock (window), "after-paint", G_CALLBACK (painted), NULL);
}

static void
activate (GtkApplication *application)
{
  GtkWidget *window = gtk_application_window_new (application);
  gtk_window_set_default_size (GTK_WINDOW (window), 1440, 900);
  g_signal_connect (window, "realize", G_CALLBACK (watch_clock), NULL);
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
