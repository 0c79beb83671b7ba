/* shelf-dialog.h - what is kept for the next bench: the chosen stage is put on the shelf, or one is taken from there into the chain; likewise the
 * analyzer */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/chain-edit.h"

/* `stage` of the chain at `place`: what is put away; what is taken comes behind it. */
void sp_shelf_dialog_present (GtkWindow *parent, SpSession *session, SpChainPlace place, guint stage);
/* The chosen condition's analyzer, or the bench's; what is taken comes in its place, wherever it is used. */
void sp_shelf_dialog_present_analyzers (GtkWindow *parent, SpSession *session);
/* The folder of .chain and .analyzer files in the user's data folder, there or not. (transfer full) */
char *sp_shelf_user_folder (void);
