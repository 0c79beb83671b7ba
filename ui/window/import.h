/* import.h - from dropped or chosen files to sweeps of the bench: read off the main thread, shown as understood, corrected, then one edit
 */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session.h"

/* Starts importing `files` (GListModel of GFile) for a condition (index), or -1: propose radios from the file names. Progress with cancel while reading; then the sheet that
 * shows what was understood of each and lets it be corrected; one undoable edit when accepted. What cannot be read is said in the session's trouble bar with file, line and
 * what to do, and the rest goes on. */
void sp_import_begin (GtkWindow *parent, SpSession *session, GListModel *files, int condition);
