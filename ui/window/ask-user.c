#include "ui/window/ask-user.h"

#include <glib/gi18n-lib.h>

typedef struct {
  GtkWindow *parent;
  void (*answered) (GtkWindow *parent, SpKeep keep);
} Question;

static void
keep_answered (GtkDialog *dialog, int response, Question *question)
{
  gtk_window_destroy (GTK_WINDOW (dialog));
  question->answered (question->parent, response == GTK_RESPONSE_ACCEPT ? SP_KEEP_SAVE : response == GTK_RESPONSE_REJECT ? SP_KEEP_DROP : SP_KEEP_CANCEL);
  g_object_unref (question->parent);
  g_free (question);
}

void
sp_ask_keep (GtkWindow *parent, const char *text, void (*answered) (GtkWindow *parent, SpKeep keep))
{
  Question *question = g_new (Question, 1);
  *question = (Question){ g_object_ref (parent), answered };
  GtkWidget *dialog = gtk_message_dialog_new (parent, GTK_DIALOG_MODAL, GTK_MESSAGE_QUESTION, GTK_BUTTONS_NONE, "%s", text);
  gtk_dialog_add_buttons (GTK_DIALOG (dialog), _("Cancel"), GTK_RESPONSE_CANCEL, _("Close without saving"), GTK_RESPONSE_REJECT, _("Save as…"),
                          GTK_RESPONSE_ACCEPT, NULL);
  gtk_window_set_title (GTK_WINDOW (dialog), text); /* not on show in this kind of window, but what it is called */
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_ACCEPT);
  g_signal_connect (dialog, "response", G_CALLBACK (keep_answered), question);
  gtk_window_present (GTK_WINDOW (dialog));
}

void
sp_tell_user (GtkWindow *parent, const char *heading, const char *text)
{
  GtkWidget *dialog = gtk_message_dialog_new (parent, GTK_DIALOG_MODAL, GTK_MESSAGE_INFO, GTK_BUTTONS_CLOSE, "%s", heading);
  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", text);
  gtk_window_set_title (GTK_WINDOW (dialog), heading);
  g_signal_connect (dialog, "response", G_CALLBACK (gtk_window_destroy), NULL);
  gtk_window_present (GTK_WINDOW (dialog));
}
