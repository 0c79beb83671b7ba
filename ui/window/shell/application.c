/* application.c - the program with a window: what a start shows */
#include "ui/window/shell/application.h"

#include <glib-unix.h>
#include <glib/gi18n-lib.h>
#include <signal.h>
#include <unistd.h>

#include "ui/window/session/preferences.h"
#include "ui/window/session/startup.h"
#include "ui/window/shell/window.h"
#include "ui/window/widgets/theme.h"

struct _SpApplication {
  GtkApplication parent_instance;
  char *samples;
  gboolean offered; /* the books without a name */
};

G_DEFINE_FINAL_TYPE (SpApplication, sp_application, GTK_TYPE_APPLICATION)

static SpWindow *
show_book (SpApplication *self, SpBook *book, const char *held)
{
  SpWindow *window = sp_window_new (GTK_APPLICATION (self), book, held);
  gtk_window_present (GTK_WINDOW (window));
  return window;
}

static SpBook *
book_of (SpApplication *self, const char *sheet, GError **error)
{
  g_autofree char *path = g_build_filename (self->samples, sheet, NULL), *held = NULL;
  g_autoptr (GFile) file = g_file_new_for_path (path);
  return sp_window_book_from (file, &held, error);
}

/* No radios yet; chain, analyzer and mask are there to be edited. */
static SpBook *
new_book_of (SpApplication *self)
{
  g_autoptr (GError) error = NULL;
  SpBook *book = book_of (self, "blank.sheet", &error);
  if (!book)
    g_error ("%s", error->message); /* the program's own file, not a user's */
  return book;
}

/* NULL: there is none, or it is gone. */
static char *
last_path (void)
{
  g_autofree char *path = sp_preferences_get ("book");
  return path && g_file_test (path, G_FILE_TEST_EXISTS) ? g_steal_pointer (&path) : NULL;
}

static SpBook *
last_book (char **held, GError **error)
{
  g_autofree char *path = last_path ();
  return path ? sp_early_book (path, held, error) : NULL;
}

/* Once, in the first window. */
static void
offer_kept (SpApplication *self, SpWindow *window)
{
  if (!self->offered)
    sp_window_offer_kept (window);
  self->offered = TRUE;
}

/* Above the sample, until it was read once. */
static void
show_hint (SpWindow *window)
{
  g_autofree char *read = sp_preferences_get ("hint");
  if (!read)
    sp_window_show_hint (window);
}

static char *
sample_path (SpApplication *self)
{
  return g_build_filename (self->samples, "club.sheet", NULL);
}

static gboolean
is_sample (SpApplication *self, GFile *file)
{
  g_autofree char *path = sample_path (self);
  g_autoptr (GFile) sample = g_file_new_for_path (path);
  return g_file_equal (file, sample);
}

static void
sp_application_activate (GApplication *application)
{
  SpApplication *self = SP_APPLICATION (application);
  g_autoptr (GError) error = NULL;
  GtkWindow *present = gtk_application_get_active_window (GTK_APPLICATION (self));
  if (present) {
    gtk_window_present (present);
    return;
  }
  g_autofree char *held = NULL;
  SpBook *book = last_book (&held, &error);
  if (book) {
    offer_kept (self, show_book (self, book, held));
    return;
  }
  book = book_of (self, "club.sheet", NULL);
  SpWindow *window = show_book (self, book ? book : new_book_of (self), NULL);
  offer_kept (self, window);
  if (book)
    show_hint (window);
  if (error)
    sp_session_trouble (sp_window_session (window), error->message, _ ("The sample is shown instead."));
}

static void
sp_application_open (GApplication *application, GFile **files, int n, const char *hint)
{
  SpApplication *self = SP_APPLICATION (application);
  (void) hint;
  for (int i = 0; i < n; i++) {
    g_autoptr (GError) error = NULL;
    g_autofree char *held = NULL;
    SpBook *book = sp_window_book_from (files[i], &held, &error);
    if (book) {
      SpWindow *window = show_book (self, book, held);
      offer_kept (self, window);
      if (is_sample (self, files[i]))
        show_hint (window);
      continue;
    }
    GtkWindow *present = gtk_application_get_active_window (GTK_APPLICATION (self));
    SpWindow *window = present ? SP_WINDOW (present) : show_book (self, new_book_of (self), NULL);
    offer_kept (self, window);
    sp_session_trouble (sp_window_session (window), error->message, NULL);
  }
}

static void
new_book (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  (void) action, (void) parameter;
  show_book (SP_APPLICATION (data), new_book_of (SP_APPLICATION (data)), NULL);
}

/* In place of the window's book, as any file that is opened. */
static void
open_sample (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  (void) action, (void) parameter;
  g_autofree char *path = sample_path (SP_APPLICATION (data));
  g_autoptr (GFile) file = g_file_new_for_path (path);
  GtkWindow *present = gtk_application_get_active_window (GTK_APPLICATION (data));
  if (SP_IS_WINDOW (present))
    sp_window_open (SP_WINDOW (present), file);
}

static void
change_theme (GSimpleAction *action, GVariant *state, gpointer data)
{
  (void) data;
  sp_theme_set (sp_theme_named (g_variant_get_string (state, NULL)));
  sp_preferences_set ("theme", sp_theme_name (sp_theme_get ()));
  g_simple_action_set_state (action, state);
}

/* GTK would say so in words of its own and end with 1, as everything else does: app/start goes on without a window. */
static void
need_display (void)
{
  if (gtk_init_check ())
    return;
  g_printerr (_ ("spurproof: no display answers. Start it in a desktop session, or use spurproof-batch, which needs none.\n"));
  _exit (SP_APPLICATION_NO_DISPLAY); /* at once: the book is being read in a thread */
}

/* ---- told to end ---- */

/* As closing does, but nothing is asked: nobody may be there to answer. */
static void
take_and_save (void)
{
  g_autolist (GtkWindow) windows = gtk_window_list_toplevels ();
  g_list_foreach (windows, (GFunc) (GCallback) g_object_ref, NULL);
  for (GList *one = windows; one; one = one->next)
    gtk_window_set_focus (one->data, NULL); /* what is typed is taken, in dialogs too */
  for (GList *one = windows; one; one = one->next) {
    SpSession *session = SP_IS_WINDOW (one->data) ? sp_window_session (one->data) : NULL;
    if (!session)
      continue;
    sp_session_end (session);
  }
}

static gboolean
on_signal (gpointer number)
{
  take_and_save ();
  signal (GPOINTER_TO_INT (number), SIG_DFL); /* who waits for the program learns what ended it */
  raise (GPOINTER_TO_INT (number));
  return G_SOURCE_REMOVE;
}

static void
heed_signals (void)
{
  static const int numbers[] = { SIGTERM, SIGHUP, SIGINT };
  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++) {
    struct sigaction before;
    if (sigaction (numbers[i], NULL, &before) == 0 && before.sa_handler != SIG_IGN) /* nohup's stays so */
      g_unix_signal_add (numbers[i], on_signal, GINT_TO_POINTER (numbers[i]));
  }
}

static void
sp_application_startup (GApplication *application)
{
  static const GActionEntry actions[] = { { .name = "new", .activate = new_book }, { .name = "sample", .activate = open_sample } };
  static const char *const new_keys[] = { "<Control>n", NULL }, *const close_keys[] = { "<Control>w", NULL },
                           *const sample_keys[] = { "<Control><Shift>s", NULL }, *const help_keys[] = { "<Control>question", NULL };
  need_display ();
  G_APPLICATION_CLASS (sp_application_parent_class)->startup (application);
  heed_signals ();
  const char *family = sp_early_type ();
  g_autofree char *theme = sp_preferences_get ("theme");
  sp_theme_start (sp_theme_named (theme), family);
  g_action_map_add_action_entries (G_ACTION_MAP (application), actions, G_N_ELEMENTS (actions), application);
  g_autoptr (GSimpleAction) paper = g_simple_action_new_stateful ("theme", G_VARIANT_TYPE_STRING,
                                                                  g_variant_new_string (sp_theme_name (sp_theme_get ())));
  g_signal_connect (paper, "change-state", G_CALLBACK (change_theme), NULL);
  g_action_map_add_action (G_ACTION_MAP (application), G_ACTION (paper));
  gtk_application_set_accels_for_action (GTK_APPLICATION (application), "app.new", new_keys);
  gtk_application_set_accels_for_action (GTK_APPLICATION (application), "app.sample", sample_keys);
  gtk_application_set_accels_for_action (GTK_APPLICATION (application), "window.close", close_keys);
  gtk_application_set_accels_for_action (GTK_APPLICATION (application), "win.show-help-overlay", help_keys);
  gtk_window_set_default_icon_name ("org.spurproof.Spurproof");
}

static gboolean
has_option (char **arguments)
{
  for (char **one = arguments; *one; one++)
    if ((*one)[0] == '-')
      return TRUE;
  return FALSE;
}

/* Before anything of GTK: what will be shown is read and judged meanwhile. Not with an option, which may end the program at once: a library that a thread
 * loads then is begun a second time, and GLib aborts. */
static gboolean
sp_application_local_command_line (GApplication *application, char ***arguments, int *status)
{
  SpApplication *self = SP_APPLICATION (application);
  if (has_option (*arguments))
    return G_APPLICATION_CLASS (sp_application_parent_class)->local_command_line (application, arguments, status);
  g_autoptr (GFile) named = (*arguments)[0] && (*arguments)[1] ? g_file_new_for_commandline_arg ((*arguments)[1]) : NULL;
  g_autofree char *path = named ? g_file_get_path (named) : last_path ();
  if (!path && !named)
    path = sample_path (self);
  if (path)
    sp_early_begin (path);
  return G_APPLICATION_CLASS (sp_application_parent_class)->local_command_line (application, arguments, status);
}

static void
sp_application_finalize (GObject *object)
{
  g_free (SP_APPLICATION (object)->samples);
  G_OBJECT_CLASS (sp_application_parent_class)->finalize (object);
}

static void
sp_application_class_init (SpApplicationClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_application_finalize;
  G_APPLICATION_CLASS (klass)->local_command_line = sp_application_local_command_line;
  G_APPLICATION_CLASS (klass)->startup = sp_application_startup;
  G_APPLICATION_CLASS (klass)->activate = sp_application_activate;
  G_APPLICATION_CLASS (klass)->open = sp_application_open;
}

static void
sp_application_init (SpApplication *self)
{
  (void) self;
}

/* What every program of a command line answers, with no display too. */
static int
on_options (GApplication *application, GVariantDict *options)
{
  (void) application;
  if (!g_variant_dict_contains (options, "version"))
    return -1;
  g_print ("spurproof %s\n", SP_VERSION);
  return 0;
}

static void
tell_options (GApplication *application)
{
  static const GOptionEntry entries[] = { { "version", 0, 0, G_OPTION_ARG_NONE, NULL, N_ ("print the version"), NULL }, { 0 } };
  g_application_add_main_option_entries (application, entries);
  g_application_set_option_context_parameter_string (application, _ ("[BOOK.benchbook | BENCH.sheet]..."));
  g_application_set_option_context_summary (
      application, _ ("Opens a window on a bench book, or on a sheet that becomes one: is a transmitter clean, and how sure is that?"));
  g_signal_connect (application, "handle-local-options", G_CALLBACK (on_options), NULL);
}

SpApplication *
sp_application_new (const char *samples)
{
  SpApplication *self = g_object_new (SP_TYPE_APPLICATION, "application-id", "org.spurproof.Spurproof", "flags",
                                      G_APPLICATION_HANDLES_OPEN | G_APPLICATION_NON_UNIQUE, NULL);
  self->samples = g_strdup (samples);
  tell_options (G_APPLICATION (self));
  return self;
}
