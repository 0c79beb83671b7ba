/* condition-table.h - all conditions as a table: a value, a mask or a chain for many rows at once, or pasted */
#pragma once

#include <gtk/gtk.h>

#include "ui/window/session/session.h"

/* Rows by radio, frequency and power. What is set or pasted for the rows that are chosen is one undoable edit. The chosen condition's row is chosen. */
void sp_condition_table_present (GtkWindow *parent, SpSession *session);
