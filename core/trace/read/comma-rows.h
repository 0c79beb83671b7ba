/* comma-rows.h - rows in which one comma could be delimiter and decimal mark at once: "100,5,-50,25" is four numbers, or 100.5 and -50.25
 *
 * Such rows are read as many numbers only where something else says so: a name above each of them, or an option.
 */
#pragma once

#include "core/trace/read/dialect.h"

/* TRUE where every second field of all rows looked at (`sample`; 0: all) could be the decimals of the one before it, and what comes out could
 * be a trace. `n`: fields in a row, delimited by commas. `alone`: one value a row could be a level, too. */
gboolean sp_rows_joined (const SpTextLines *rows, guint sample, guint n, gboolean alone);

/* The two readings of the first row, as an error that names what picks each. Always FALSE. */
gboolean sp_fail_joined (const SpTextLines *rows, guint n, const char *file, GError **error);
