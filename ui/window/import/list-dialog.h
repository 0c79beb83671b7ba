/* list-dialog.h - the form of the evening's list: radios and planned conditions, typed, pasted or from a file, before anything is swept */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* What was understood of each line, and what is wrong with it where, stands beside it as it is typed; taking it is one undoable edit. */
void sp_list_dialog_present (GtkWindow *parent, SpSession *session);
/* Is `file` a bench book or a sheet, by its ending? Then it is read, and its radios, without sweeps, are offered to the bench in a question over `parent`;
 * what is wrong with it is told as trouble. sp_import_begin() asks this of each file. */
gboolean sp_import_earlier (GtkWindow *parent, SpSession *session, GFile *file);
