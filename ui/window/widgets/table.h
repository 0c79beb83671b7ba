/* table.h - what the column views of the pages share */
#pragma once

#include <gtk/gtk.h>

/* Handlers of a GtkSignalListItemFactory that make and fill the cells of a column, which they are told. unbind may be NULL. */
typedef void (*SpTableCell) (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer column);
typedef struct {
  SpTableCell set_up, bind, unbind;
} SpTableCells;

/* Appends a column. What column 0 says is what a screen reader calls the row. `width` in pixels, 0: as its cells want it; -1: what the others leave. (transfer none) */
GtkColumnViewColumn *sp_table_add_column (GtkColumnView *view, const char *title, int width, const SpTableCells *cells, guint column);
/* Titles over their cells: one letter a column, 'l' or 'r'. GTK 4.8 has no call for it. */
void sp_table_align_titles (GtkColumnView *view, const char *alignment);
/* What the term over a column means, one sentence, to be shown over its title. */
void sp_table_explain_title (GtkColumnView *view, guint column, const char *sentence);
/* What a screen reader calls the table, and the list of rows in it, which has the focus. */
void sp_table_name (GtkColumnView *view, const char *name);
