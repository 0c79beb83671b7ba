/* ask-file.c - asks for one file to read */
#include "ui/window/ask-file.h"

#include <glib/gi18n-lib.h>

typedef struct {
  GtkWindow *parent;
  GtkFileChooserNative *chooser; /* nobody else keeps it alive */
  void (*chosen) (GtkWindow *parent, GFile *file);
} Question;

static GFile *answer;

void
sp_ask_file_answer (GFile *file)
{
  g_set_object (&answer, file);
  g_clear_object (&file);
}

static void
on_response (GtkNativeDialog *dialog, int response, Question *question)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  if (file)
    question->chosen (question->parent, file);
  g_object_unref (question->chooser);
  g_object_unref (question->parent);
  g_free (question);
}

void
sp_ask_file (GtkWindow *parent, const char *title, const char *pattern, void (*chosen) (GtkWindow *parent, GFile *file))
{
  g_autoptr (GFile) given = g_steal_pointer (&answer);
  if (given) {
    chosen (parent, given);
    return;
  }
  Question *question = g_new (Question, 1);
  *question = (Question) { g_object_ref (parent), gtk_file_chooser_native_new (title, parent, GTK_FILE_CHOOSER_ACTION_OPEN, NULL, NULL), chosen };
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new (), all = gtk_file_filter_new ();
  gtk_file_filter_add_pattern (filter, pattern);
  gtk_file_filter_set_name (filter, pattern);
  gtk_file_filter_add_pattern (all, "*");
  gtk_file_filter_set_name (all, _("all files"));
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (question->chooser), filter);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (question->chooser), all);
  g_signal_connect (question->chooser, "response", G_CALLBACK (on_response), question);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (question->chooser), TRUE);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (question->chooser));
}
