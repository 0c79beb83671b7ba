/* whatif.h - what would move with another calibration: this bench beside the same one with another chain, or beside another book */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* `file`: a .chain, a book or a sheet. Judges it in a thread of its own, then shows in a window what moved, by how much, and which verdicts flip. Nothing is
 * edited. No findings yet: nothing happens; a file that cannot be read is told through the session's "trouble". */
void sp_moves_show (GtkWindow *parent, SpSession *session, GFile *file);
