/* main.c - spurproof: the program with a window. `spurproof [BOOK.benchbook | BENCH.sheet]...` */
#include <glib/gi18n.h>
#include <locale.h>

#include "ui/window/application.h"

/* Installed, or beside the sources it was built from. */
static const char *
samples (void)
{
  const char *given = g_getenv ("SPURPROOF_SAMPLES");
  return given ? given : g_file_test (SP_SAMPLES_FOLDER, G_FILE_TEST_IS_DIR) ? SP_SAMPLES_FOLDER : SP_SAMPLES_SOURCE;
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, SP_LOCALE_FOLDER);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  g_autoptr (SpApplication) application = sp_application_new (samples ());
  return g_application_run (G_APPLICATION (application), argc, argv);
}
