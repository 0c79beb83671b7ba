/* table.h - what the column views of the pages share
 */
#pragma once

#include <gtk/gtk.h>

/* Titles over their cells: one letter a column, 'l' or 'r'. GTK 4.8 has no call for it. */
void sp_table_align_titles (GtkColumnView *view, const char *alignment);
