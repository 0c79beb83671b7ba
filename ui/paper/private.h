/* private.h - private to ui/paper: the writers */
#pragma once

#include <cairo.h>

#include "ui/paper/export.h"

GBytes *paper_to_pdf (const SpPaper *paper, SpPaperSize size, GError **error);
/* Adds the language and what each figure shows, in the order of their drawing, to a tagged PDF of cairo's; FALSE, and nothing is added: it is none. */
gboolean pdf_speak (GByteArray *bytes, const char *language, const GPtrArray *alts);
/* SOURCE_DATE_EPOCH's date, else the bench's. */
void pdf_describe (cairo_surface_t *surface, const SpPaper *paper, const char *title, const char *subject);
GBytes *paper_to_html (const SpPaper *paper, SpPaperSize size, GError **error);

/* FALSE: it could not be drawn. */
typedef gboolean (*SvgDraw) (cairo_t *cr, gpointer data);
/* Adds a drawing as an element; `drawing` makes the names in it differ from those of others in the same page, `size` are its width and height as
 * attributes. `title` says what it is, `alt` in full what it shows; NULL: it adds nothing to the words beside it. */
gboolean svg_add (GString *out, guint drawing, const char *size, double width, double height, const char *title, const char *alt,
                  SvgDraw draw, gpointer data);

/* "X" if no file of this run has that name yet, else "X-2" ...; taken: char*, kept by it. (transfer full) */
char *name_free (GHashTable *taken, const char *name);
