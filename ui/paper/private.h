/* private.h - private to ui/paper: the writers */
#pragma once

#include "ui/paper/export.h"

GBytes *paper_to_pdf (const SpPaper *paper, SpPaperSize size, GError **error);
/* Adds the language and what each figure shows, in the order of their drawing, to a tagged PDF of cairo's; FALSE, and nothing is added: it is none. */
gboolean pdf_speak (GByteArray *bytes, const char *language, const GPtrArray *alts);
GBytes *paper_to_html (const SpPaper *paper, SpPaperSize size, GError **error);
