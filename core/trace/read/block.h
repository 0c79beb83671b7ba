/* block.h - values that an instrument sends as a block (IEEE 488.2) or as a list
 *
 * Definite length: '#', a digit n from 1 to 9, n digits that say how many bytes follow, the bytes. Indefinite: "#0", then all bytes; a
 * last LF is the message's end. A list: numbers in ASCII between commas, blanks or line ends, with or without a block round it.
 */
#pragma once

#include "core/trace/trace.h"

/* The values, *n of them (g_free). Any count of them, none too: what a trace needs is the caller's to ask. A claimed length beyond the
 * file's end, a length that is no whole number of values, a value that is no number are errors. *trailing is the count of bytes behind the
 * block, but for a line end. */
double *sp_block_values (GBytes *bytes, const char *file, SpBlockFormat format, gboolean little_endian, guint64 *n, gsize *trailing,
                         GError **error);

/* TRUE where the bytes begin as a definite-length block does and its length fits into them. */
gboolean sp_block_detect (GBytes *bytes);
