/* ask-user.c - puts a question to the user, or tells at length */
#include "ui/window/widgets/ask-user.h"

#include <glib/gi18n-lib.h>

typedef struct {
  GtkWindow *parent;
  void (*keep) (GtkWindow *parent, SpKeep keep);
  void (*whether) (gpointer data, gboolean yes);
  gpointer data;
} Question;

static void
on_response (GtkDialog *dialog, int response, Question *question)
{
  gtk_window_destroy (GTK_WINDOW (dialog));
  if (question->whether)
    question->whether (question->data, response == GTK_RESPONSE_ACCEPT);
  else
    question->keep (question->parent, response == GTK_RESPONSE_ACCEPT   ? SP_KEEP_SAVE
                                      : response == GTK_RESPONSE_REJECT ? SP_KEEP_DROP
                                                                        : SP_KEEP_CANCEL);
  g_object_unref (question->parent);
  g_free (question);
}

static GtkDialog *
new_dialog (GtkWindow *parent, GtkMessageType type, GtkButtonsType buttons, const char *text, const char *why)
{
  GtkWidget *dialog = gtk_message_dialog_new (parent, GTK_DIALOG_MODAL, type, buttons, "%s", text);
  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", why);
  gtk_window_set_title (GTK_WINDOW (dialog), text); /* not on show in this kind of window, but what it is called */
  return GTK_DIALOG (dialog);
}

static void
ask (GtkDialog *dialog, Question asked)
{
  Question *question = g_new (Question, 1);
  *question = asked;
  g_object_ref (question->parent);
  g_signal_connect (dialog, "response", G_CALLBACK (on_response), question);
  gtk_window_present (GTK_WINDOW (dialog));
}

void
sp_ask_keep (GtkWindow *parent, const char *text, const char *why, void (*answered) (GtkWindow *parent, SpKeep keep))
{
  GtkDialog *dialog = new_dialog (parent, GTK_MESSAGE_QUESTION, GTK_BUTTONS_NONE, text, why);
  gtk_dialog_add_buttons (dialog, _ ("Cancel"), GTK_RESPONSE_CANCEL, _ ("Close without saving"), GTK_RESPONSE_REJECT, _ ("Save as…"),
                          GTK_RESPONSE_ACCEPT, NULL);
  gtk_dialog_set_default_response (dialog, GTK_RESPONSE_ACCEPT);
  ask (dialog, (Question){ .parent = parent, .keep = answered });
}

void
sp_ask_whether (GtkWindow *parent, const char *text, const char *why, const char *yes, void (*answered) (gpointer data, gboolean yes),
                gpointer data)
{
  GtkDialog *dialog = new_dialog (parent, GTK_MESSAGE_QUESTION, GTK_BUTTONS_NONE, text, why);
  gtk_dialog_add_buttons (dialog, _ ("Cancel"), GTK_RESPONSE_CANCEL, yes, GTK_RESPONSE_ACCEPT, NULL);
  gtk_dialog_set_default_response (dialog, GTK_RESPONSE_CANCEL);
  ask (dialog, (Question){ .parent = parent, .whether = answered, .data = data });
}

void
sp_tell_user (GtkWindow *parent, const char *heading, const char *text)
{
  GtkDialog *dialog = new_dialog (parent, GTK_MESSAGE_INFO, GTK_BUTTONS_CLOSE, heading, text);
  g_signal_connect (dialog, "response", G_CALLBACK (gtk_window_destroy), NULL);
  gtk_window_present (GTK_WINDOW (dialog));
}
