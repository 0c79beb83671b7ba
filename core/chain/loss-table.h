/* loss-table.h - reads a table of a stage's losses from another program: a line each of frequency, loss and, if known, u
 *
 * Separated by comma, semicolon, tab or blanks. Skips lines with `#` or `!`, and blank ones. One header line may name the unit of the
 * frequencies ("MHz"; without one Hz, unless the numbers have theirs). Losses are positive dB. Any order; at most 10,000 points, 16
 * MiB.
 */
#pragma once

#include <glib.h>

/* The table as the value of a stage's key "points", ascending. NULL and an error with file, line and column. (transfer full) */
char *sp_loss_table_read (const char *path, GError **error);
/* The same from memory; `name` is the file's name in messages. (transfer full) */
char *sp_loss_table_parse (const char *bytes, gsize length, const char *name, GError **error);
