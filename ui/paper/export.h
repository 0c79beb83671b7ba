/* export.h - a paper as the bytes of a file
 *
 * Equal findings give equal bytes, with SOURCE_DATE_EPOCH's date or the bench's, never the clock's.
 */
#pragma once

#include "ui/report/paper/paper.h"

typedef enum { SP_PAPER_PDF, SP_PAPER_HTML } SpPaperFormat;

/* NULL and an error: it could not be drawn. (transfer full) */
GBytes *sp_paper_export (const SpPaper *paper, SpPaperFormat format, SpPaperSize size, GError **error);
