/* ask-file.c - asks for files to read, or for one to write */
#include "ui/window/widgets/ask-file.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "ui/window/session/preferences.h"
#include "ui/window/widgets/ask-user.h"

/* The chooser asks about replacing the name that was typed; where the ending is added here, it is asked here. */

typedef struct {
  GtkWidget *owner;
  GtkFileChooserNative *chooser; /* nobody else keeps it alive */
  void (*one) (GtkWidget *owner, GFile *file);
  void (*several) (GtkWidget *owner, GListModel *files);
  const char *ending; /* NULL: none is added */
  const char *folder; /* the preference that holds where the last one was */
} Question;

#define READ_FROM "folder-read"
#define WRITTEN_TO "folder-written"

static GFile *answer;

static GtkWindow *
window_of (GtkWidget *owner)
{
  return GTK_WINDOW (gtk_widget_get_root (owner));
}

void
sp_ask_file_answer (GFile *file)
{
  g_set_object (&answer, file);
  g_clear_object (&file);
}

char *
sp_ask_file_path (GFile *file)
{
  char *path = g_file_get_path (file);
  return path ? path : g_file_get_uri (file);
}

/* ---- a name that gets an ending ---- */

typedef struct {
  GtkWidget *owner;
  GFile *file;
  void (*chosen) (GtkWidget *owner, GFile *file);
} Replacing;

static void
on_replace (gpointer data, gboolean yes)
{
  Replacing *replacing = data;
  if (yes)
    replacing->chosen (replacing->owner, replacing->file);
  g_object_unref (replacing->file);
  g_object_unref (replacing->owner);
  g_free (replacing);
}

static gboolean
ends_with (const char *name, const char *ending)
{
  gsize length = strlen (name), its = strlen (ending);
  return length > its && g_ascii_strcasecmp (name + length - its, ending) == 0;
}

/* The chooser asked about the name as it was typed, not about this one. */
static void
take_with_ending (const Question *question, GFile *file)
{
  g_autofree char *name = g_file_get_basename (file);
  if (ends_with (name, question->ending)) {
    question->one (question->owner, file);
    return;
  }
  g_autoptr (GFile) folder = g_file_get_parent (file);
  g_autofree char *whole = g_strconcat (name, question->ending, NULL), *shown = g_filename_display_name (whole);
  g_autoptr (GFile) named = g_file_get_child (folder, whole);
  g_autoptr (GFileInfo) there = g_file_query_info (named, G_FILE_ATTRIBUTE_STANDARD_TYPE, G_FILE_QUERY_INFO_NOFOLLOW_SYMLINKS, NULL, NULL);
  if (!there) {
    question->one (question->owner, named);
    return;
  }
  Replacing *replacing = g_new (Replacing, 1);
  *replacing = (Replacing){ g_object_ref (question->owner), g_object_ref (named), question->one };
  g_autofree char *text = g_strdup_printf (_ ("“%s” is there already. Replace it?"), shown), *place = sp_ask_file_path (folder);
  g_autofree char *why = g_strdup_printf (_ ("It stands in %s. All that is in it is gone then, a bench book's history too."), place);
  sp_ask_whether (window_of (question->owner), text, why, _ ("Replace"), on_replace, replacing);
}

/* The next question of the kind opens there: exports stand on a stick, reports in a folder of their own. */
static void
remember_folder (const Question *question, GFile *file)
{
  g_autoptr (GFile) folder = g_file_get_parent (file);
  g_autofree char *uri = folder ? g_file_get_uri (folder) : NULL;
  if (uri)
    sp_preferences_set (question->folder, uri);
}

static void
open_remembered (const Question *question)
{
  g_autofree char *uri = sp_preferences_get (question->folder);
  g_autoptr (GFile) folder = uri ? g_file_new_for_uri (uri) : NULL;
  if (folder && g_file_query_exists (folder, NULL))
    gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (question->chooser), folder, NULL);
}

static void
tell (Question *question, GListModel *files)
{
  g_autoptr (GFile) first = g_list_model_get_item (files, 0);
  if (!first)
    return;
  remember_folder (question, first);
  if (question->ending)
    take_with_ending (question, first);
  else if (question->several)
    question->several (question->owner, files);
  else
    question->one (question->owner, first);
}

static void
on_response (GtkNativeDialog *dialog, int response, Question *question)
{
  if (response == GTK_RESPONSE_ACCEPT) {
    g_autoptr (GListModel) files = gtk_file_chooser_get_files (GTK_FILE_CHOOSER (dialog));
    tell (question, files);
  }
  g_object_unref (question->chooser);
  g_object_unref (question->owner);
  g_free (question);
}

/* The next of SPURPROOF_TEST_ANSWER, for tests that drive the whole program: answers parted by ':', the files of one by ';'. */
static GListModel *
next_test_answer (void)
{
  static char **answers;
  static guint next;
  if (!answers)
    answers = g_strsplit (g_getenv ("SPURPROOF_TEST_ANSWER") ? g_getenv ("SPURPROOF_TEST_ANSWER") : "", ":", -1);
  if (!answers[next] || !*answers[next])
    return NULL;
  g_auto (GStrv) paths = g_strsplit (answers[next++], ";", -1);
  GListStore *files = g_list_store_new (G_TYPE_FILE);
  for (guint i = 0; paths[i]; i++) {
    g_autoptr (GFile) file = g_file_new_for_path (paths[i]);
    g_list_store_append (files, file);
  }
  return G_LIST_MODEL (files);
}

static void
add_filter (Question *question, const char *pattern, const char *name)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  g_auto (GStrv) patterns = g_strsplit (pattern, " ", -1);
  for (guint i = 0; patterns[i]; i++)
    gtk_file_filter_add_pattern (filter, patterns[i]);
  gtk_file_filter_set_name (filter, name);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (question->chooser), filter);
}

/* "bench books, sheets": what the endings of a pattern stand for. (transfer full) */
static char *
words_of_pattern (const char *pattern)
{
  static const struct {
    const char *pattern, *kind;
  } kinds[] = { { "*", N_ ("all files") },
                { "*.benchbook", N_ ("bench books") },
                { "*.sheet", N_ ("sheets") },
                { "*.chain", N_ ("chains") },
                { "*.analyzer", N_ ("analyzers") },
                { "*.mask", N_ ("masks") },
                { "*.run", N_ ("runs") },
                { "*.csv", N_ ("tables") },
                { "*.s2p", N_ ("Touchstone files") },
                { "*.xlsx", N_ ("spreadsheets") } };
  g_autoptr (GString) words = g_string_new (NULL);
  g_auto (GStrv) parts = g_strsplit (pattern, " ", -1);
  for (guint i = 0; parts[i]; i++)
    for (guint k = 0; k < G_N_ELEMENTS (kinds); k++)
      if (strcmp (parts[i], kinds[k].pattern) == 0)
        g_string_append_printf (words, "%s%s", words->len ? ", " : "", _ (kinds[k].kind));
  return g_string_free (g_steal_pointer (&words), FALSE);
}

static void
ask (Question asked, GtkFileChooserAction action, const char *title, const char *pattern, const char *name)
{
  if (answer) {
    g_autoptr (GFile) given = g_steal_pointer (&answer);
    g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
    g_list_store_append (files, given);
    tell (&asked, G_LIST_MODEL (files));
    return;
  }
  g_autoptr (GListModel) scripted = next_test_answer ();
  if (scripted) {
    tell (&asked, scripted);
    return;
  }
  Question *question = g_new (Question, 1);
  *question = asked;
  g_object_ref (question->owner);
  question->chooser = gtk_file_chooser_native_new (title, window_of (question->owner), action, NULL, NULL);
  g_autofree char *kinds = words_of_pattern (pattern);
  add_filter (question, pattern, kinds);
  if (strcmp (pattern, "*") != 0)
    add_filter (question, "*", _ ("all files"));
  open_remembered (question);
  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (question->chooser), question->several != NULL);
  if (name)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (question->chooser), name);
  g_signal_connect (question->chooser, "response", G_CALLBACK (on_response), question);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (question->chooser), TRUE);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (question->chooser));
}

void
sp_ask_file (GtkWidget *owner, const char *title, const char *pattern, void (*chosen) (GtkWidget *owner, GFile *file))
{
  ask ((Question){ .owner = owner, .one = chosen, .folder = READ_FROM }, GTK_FILE_CHOOSER_ACTION_OPEN, title, pattern, NULL);
}

void
sp_ask_files (GtkWidget *owner, const char *title, const char *pattern, void (*chosen) (GtkWidget *owner, GListModel *files))
{
  ask ((Question){ .owner = owner, .several = chosen, .folder = READ_FROM }, GTK_FILE_CHOOSER_ACTION_OPEN, title, pattern, NULL);
}

void
sp_ask_save (GtkWidget *owner, const char *title, const char *pattern, const char *name, const char *ending,
             void (*chosen) (GtkWidget *owner, GFile *file))
{
  ask ((Question){ .owner = owner, .one = chosen, .ending = ending, .folder = WRITTEN_TO }, GTK_FILE_CHOOSER_ACTION_SAVE, title, pattern,
       name);
}

void
sp_ask_folder (GtkWidget *owner, const char *title, void (*chosen) (GtkWidget *owner, GFile *folder))
{
  ask ((Question){ .owner = owner, .one = chosen, .folder = WRITTEN_TO }, GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, title, "*", NULL);
}
