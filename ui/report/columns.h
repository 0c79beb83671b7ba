/* columns.h - private to ui/report: a text table with aligned columns for a terminal */
#pragma once

#include <glib.h>

typedef struct Columns Columns;

/* One letter of `alignment` for each column: 'l' left, 'r' right. The other arguments are the columns' titles. (transfer full) */
Columns *columns_new (const char *alignment, ...) G_GNUC_NULL_TERMINATED;
Columns *columns_new_heads (const char *alignment, const char *const *heads);
/* The next cell, row by row. Takes `text`. */
void columns_add (Columns *columns, char *text);
/* Heads, a rule, rows; two blanks between columns, none at a line's end. Appends to `out`, every line indented. Frees `columns`. */
void columns_finish (Columns *columns, guint indent, GString *out);
/* Width of a text in the terminal: wide characters count two, combining ones none. */
guint columns_width (const char *text);
