/* columns.h - private to ui/report: a text table whose columns line up in a terminal
 */
#pragma once

#include <glib.h>

typedef struct Columns Columns;

/* One letter of `alignment` for each column: 'l' left, 'r' right. Heads are the column's titles. (transfer full) */
Columns *columns_new (const char *alignment, ...) G_GNUC_NULL_TERMINATED;
Columns *columns_new_heads (const char *alignment, const char *const *heads);
/* The next cell, row by row. Takes `text`. */
void columns_add (Columns *columns, char *text);
/* Heads, a rule, rows; two blanks between columns, no blanks at a line's end. Appends to `out`, every line indented. Frees `columns`. */
void columns_finish (Columns *columns, guint indent, GString *out);
/* Places in the terminal that a text takes: wide characters two, combining ones none. */
guint columns_width (const char *text);
