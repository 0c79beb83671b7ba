/* ask-user.h - puts a question to the user, or tells at length
 *
 * The one place here that knows the message dialogs of GTK 4.8, which later versions replace.
 */
#pragma once

#include <gtk/gtk.h>

typedef enum { SP_KEEP_CANCEL, SP_KEEP_SAVE, SP_KEEP_DROP } SpKeep;

/* Shall what is not saved be kept? `why`: more about it. `answered` is called once; closing the question is SP_KEEP_CANCEL. `parent` is kept until then. */
void sp_ask_keep (GtkWindow *parent, const char *text, const char *why, void (*answered) (GtkWindow *parent, SpKeep keep));
/* A question with the answers Cancel and `yes`. `answered` is called once; closing the question is FALSE. `parent` is kept until then. */
void sp_ask_whether (GtkWindow *parent, const char *text, const char *why, const char *yes, void (*answered) (gpointer data, gboolean yes),
                     gpointer data);
/* A heading and paragraphs to be read and closed. */
void sp_tell_user (GtkWindow *parent, const char *heading, const char *text);
