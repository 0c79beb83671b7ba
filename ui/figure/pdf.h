/* pdf.h - whether a PDF of cairo's is whole
 *
 * cairo loses what embedding a font says when there is no memory: its status stays good, and the file lacks the font's objects, so that a reader
 * shows the page without its words.
 */
#pragma once

#include <glib.h>

/* TRUE: each object that the file's table names stands where the table says, and is ended before the next begins; the table names the catalog. A
 * table in a stream (ISO 32000-1, 7.5.8), as a later cairo may write it, is not looked into. */
gboolean sp_pdf_is_whole (const char *data, gsize size);
