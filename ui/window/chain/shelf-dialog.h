/* shelf-dialog.h - stages kept for the next bench: the chosen one is put on the shelf, or one is taken from there into the chain */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/chain-edit.h"

/* `stage` of the chain at `place`: what is put away; what is taken comes behind it. */
void sp_shelf_dialog_present (GtkWindow *parent, SpSession *session, SpChainPlace place, guint stage);
/* The folder of .chain files in the user's data folder, there or not. (transfer full) */
char *sp_shelf_user_folder (void);
