/* export.h - a paper as the bytes of a file
 *
 * Equal findings give equal bytes, with SOURCE_DATE_EPOCH's date or the bench's, never the clock's.
 */
#pragma once

#include "ui/report/paper/paper.h"

typedef enum { SP_PAPER_PDF, SP_PAPER_HTML } SpPaperFormat;

/* NULL and an error: it could not be drawn. (transfer full) */
GBytes *sp_paper_export (const SpPaper *paper, SpPaperFormat format, SpPaperSize size, GError **error);

/* Whether what stands at `path` may give way to a result; else FALSE and an error. */
typedef gboolean (*SpPaperMay) (const char *path, GError **error);
/* A slip for each radio into `folder`, which is made: RADIO-SERIAL.pdf; equal names get -2. Each is written beside and renamed; the first that cannot be ends
 * it. may_replace NULL: anything may. */
gboolean sp_paper_write_slips (const SpFindings *findings, const char *folder, SpPaperSize size, SpPaperMay may_replace, GError **error);
