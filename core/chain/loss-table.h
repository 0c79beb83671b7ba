/* loss-table.h - a stage's losses as somebody else's table: frequency, loss and, if known, u, a line each
 *
 * Comma, semicolon, tab or blanks between; `#`, `!` and blank lines are passed over; one header line may stand above, and may name the unit of the
 * frequencies ("MHz"; without one Hz, unless the numbers carry theirs). Losses are positive dB. Any order; at most 10,000 points, 16 MiB.
 */
#pragma once

#include <glib.h>

/* The table as the value of a stage's key "points", ascending. NULL and an error with file, line and column. (transfer full) */
char *sp_loss_table_read (const char *path, GError **error);
/* The same from memory; `name` stands for the file. (transfer full) */
char *sp_loss_table_parse (const char *bytes, gsize length, const char *name, GError **error);
