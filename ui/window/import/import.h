/* import.h - from dropped or chosen files to sweeps of the bench: read off the main thread, shown as understood, corrected, then one edit */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Opens a window over `parent` that imports `files` (GListModel of GFile; a folder stands for the files in it) for a condition (index),
 * or -1: radios are proposed from the files' names. It fills while they are read; each sweep shows what was understood and can be
 * corrected, and what all files of one shape lack is asked for once. Accepting is one undoable edit; closing, also while files are being
 * read, is as if nothing had happened. A file that cannot be read stays in the list with its file, line and what to do, and holds up
 * none of the others; bytes that the bench has already are not taken again unless they are ticked. At most 1000 files, 2000 sweeps and 2
 * GiB at once. */
void sp_import_begin (GtkWindow *parent, SpSession *session, GListModel *files, int condition);
/* The same with what was dropped (a GdkFileList) on a widget of that window. */
void sp_import_dropped (GtkWidget *on, SpSession *session, const GValue *dropped, int condition);
/* Is `file` a chain, an analyzer, a mask or a report's words, by its ending? Then it is read, and offered to the bench in a question over `parent`; what is wrong with it
 * is told as trouble. sp_import_begin() asks this of each file, and imports the others. */
gboolean sp_import_resource (GtkWindow *parent, SpSession *session, GFile *file);

/* A picture, read aside and put on in one undoable edit: beside a radio (its index), on the bench, or over the papers in place of another. `owner`: a
 * widget, kept meanwhile; nothing comes of it where its window was closed. sp_import_begin() takes pictures among its files by their ending. */
#define SP_PLACE_BENCH (-1)
#define SP_PLACE_LETTERHEAD (-2)
void sp_import_picture (GtkWidget *owner, SpSession *session, GFile *file, int place);
