/* driver.c - the whole program, led by a script instead of a hand: linked with app/main.c, it does one line of it whenever nothing is under way.
 *
 * SP_SCRIPT names the script, SP_LOG what is written of it: `step N` before line N, `? HASH` after it, `= HASH PATH` where the window says saved,
 * `events N` and `done` at the end. Lines: `do ACTION`, `set KEY VALUE` (of the bench), `choose N`, `page NAME`, `import` (what SPURPROOF_TEST_ANSWER
 * says), `saved`, `new PATH` (waits until another file stands there), `measure` (memory and descriptors), `quit`.
 */
#include <fcntl.h>
#include <glib/gstdio.h>
#include <malloc.h>
#include <stdarg.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/bench/edit/edit.h"
#include "tests/faults/victim.h"
#include "ui/window/import/import-private.h"
#include "ui/window/session/reading.h"
#include "ui/window/shell/window.h"

static struct {
  char **lines;
  guint next;
  int log;
  SpWindow *window;
  gboolean asked;  /* the line at hand was begun and waits */
  ino_t stood;     /* of `new` */
  guint countdown; /* looks at it that found it quiet */
} script;

static void G_GNUC_PRINTF (1, 2) tell (const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  g_autofree char *line = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  if (write (script.log, line, strlen (line)) < 0)
    g_error ("the log cannot be written");
}

static SpSession *
session (void)
{
  return sp_window_session (script.window);
}

static void
on_saved (void)
{
  gboolean saved;
  g_object_get (session (), "saved", &saved, NULL);
  if (saved)
    tell ("= %s %s\n", sp_session_bench (session ())->sha256, sp_book_path (sp_session_book (session ())));
}

static void
on_trouble (SpSession *of, const char *what, const char *to_do)
{
  (void) of;
  tell ("! %s %s\n", what, to_do ? to_do : "");
}

static gboolean
find_window (void)
{
  GApplication *application = g_application_get_default ();
  GList *windows = application ? gtk_application_get_windows (GTK_APPLICATION (application)) : NULL;
  for (; windows && !script.window; windows = windows->next)
    if (SP_IS_WINDOW (windows->data) && gtk_widget_get_mapped (windows->data)) {
      script.window = windows->data;
      g_signal_connect (session (), "notify::saved", G_CALLBACK (on_saved), NULL);
      g_signal_connect (session (), "trouble", G_CALLBACK (on_trouble), NULL);
      on_saved ();
    }
  return script.window != NULL;
}

static SpImportWindow *
import_window (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  for (GList *l = windows; l; l = l->next)
    if (G_TYPE_CHECK_INSTANCE_TYPE (l->data, SP_TYPE_IMPORT_WINDOW))
      return SP_IMPORT_WINDOW (l->data);
  return NULL;
}

static gboolean
is_quiet (void)
{
  SpImportWindow *import = import_window ();
  gboolean busy = sp_session_judging (session ()) || sp_readings_under_way () > 0;
  if (import) {
    busy |= import->cancellable || import->settle_source || import->refresh_source;
    for (guint i = 0; i < sp_import_window_count (import); i++)
      busy |= sp_import_window_item (import, i)->reading;
  }
  return !busy;
}

/* Anonymous memory in KiB, of the whole process. */
static guint64
anonymous_kib (void)
{
  g_autofree char *rollup = NULL;
  const char *line = g_file_get_contents ("/proc/self/smaps_rollup", &rollup, NULL, NULL) ? strstr (rollup, "\nAnonymous:") : NULL;
  return line ? g_ascii_strtoull (line + strlen ("\nAnonymous:"), NULL, 10) : 0;
}

static guint
descriptors (void)
{
  g_autoptr (GDir) dir = g_dir_open ("/proc/self/fd", 0, NULL);
  guint n = 0;
  while (dir && g_dir_read_name (dir))
    n++;
  return n;
}

static gboolean
is_saved (void)
{
  gboolean saved;
  g_object_get (session (), "saved", &saved, NULL);
  return saved;
}

static ino_t
file_at (const char *path)
{
  struct stat status;
  return stat (path, &status) == 0 ? status.st_ino : 0;
}

/* FALSE: to be looked at again. */
static gboolean
import (void)
{
  SpImportWindow *window = import_window ();
  if (!script.asked)
    gtk_widget_activate_action (GTK_WIDGET (script.window), "win.import", NULL);
  else if (window && gtk_widget_get_sensitive (window->accept))
    gtk_widget_activate_action (GTK_WIDGET (window), "import.accept", NULL);
  else
    return !window;
  return FALSE;
}

static gboolean
run_line (const char *word, const char *rest)
{
  g_auto (GStrv) words = g_strsplit (rest, " ", 2);
  GtkWidget *window = GTK_WIDGET (script.window);
  GError *error = NULL;
  if (strcmp (word, "do") == 0)
    gtk_widget_activate_action (window, rest, NULL);
  else if (strcmp (word, "page") == 0)
    gtk_widget_activate_action (window, "win.page", "s", rest);
  else if (strcmp (word, "choose") == 0)
    sp_session_choose (session (), (guint) atoi (rest), -1);
  else if (strcmp (word, "set") == 0)
    sp_session_edit (session (), sp_bench_set (sp_session_bench (session ()), words[0], words[1], &error), words[0], error);
  else if (strcmp (word, "saved") == 0)
    return is_saved ();
  else if (strcmp (word, "import") == 0)
    return import ();
  else if (strcmp (word, "new") == 0)
    return file_at (rest) != script.stood && file_at (rest) != 0;
  else if (strcmp (word, "stands") == 0) /* before what makes it new */
    script.stood = file_at (rest);
  else if (strcmp (word, "measure") == 0) {
    malloc_trim (0); /* what was freed, and is kept for later, is no leak */
    tell ("measured %" G_GUINT64_FORMAT " %u\n", anonymous_kib (), descriptors ());
  } else
    g_error ("“%s” is no word of a script", word);
  return TRUE;
}

static gboolean
step (gpointer data)
{
  (void) data;
  if (!find_window () || !is_quiet ())
    return G_SOURCE_CONTINUE;
  const char *line = script.lines[script.next];
  if (!line || !*line || strcmp (line, "quit") == 0) {
    tell ("events %u\ndone\n", victim_events ());
    victim_arm ("/dev/null", 0, FALSE);
    if (line && *line)
      gtk_window_close (GTK_WINDOW (script.window));
    return G_SOURCE_REMOVE;
  }
  g_auto (GStrv) parts = g_strsplit (line, " ", 2);
  if (!script.asked)
    tell ("step %u\n", script.next);
  gboolean done = run_line (parts[0], parts[1] ? parts[1] : "");
  script.asked = !done;
  if (done) {
    tell ("? %s\n", sp_session_bench (session ())->sha256);
    script.next++;
  }
  return G_SOURCE_CONTINUE;
}

/* Before main(): what is written at the start counts too. SP_VICTIM is EVENT FOLDER, or EVENT/torn FOLDER. */
static void __attribute__ ((constructor)) begin (void)
{
  const char *path = g_getenv ("SP_SCRIPT"), *log = g_getenv ("SP_LOG"), *victim = g_getenv ("SP_VICTIM");
  g_autofree char *text = NULL;
  if (!path || !log)
    return;
  if (!g_file_get_contents (path, &text, NULL, NULL))
    g_error ("%s: no script", path);
  script.lines = g_strsplit (g_strchomp (text), "\n", -1);
  script.log = g_open (log, O_CREAT | O_TRUNC | O_WRONLY | O_APPEND | O_CLOEXEC, 0600);
  if (victim)
    victim_arm (strchr (victim, ' ') + 1, (guint) atoi (victim), strstr (victim, "/torn ") != NULL);
  g_timeout_add (5, step, NULL);
}
