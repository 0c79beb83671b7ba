/* export.h - a paper as the bytes of a file
 *
 * Equal findings give equal bytes, with SOURCE_DATE_EPOCH's date or the bench's, never the clock's.
 */
#pragma once

#include <gio/gio.h>

#include "ui/report/paper/paper.h"

typedef enum { SP_PAPER_PDF, SP_PAPER_HTML } SpPaperFormat;

/* NULL and an error: it could not be drawn. (transfer full) */
GBytes *sp_paper_export (const SpPaper *paper, SpPaperFormat format, SpPaperSize size, GError **error);

/* Whether what stands at `path` may give way to a result; else FALSE and an error. */
typedef gboolean (*SpPaperMay) (const char *path, GError **error);
/* A slip for each radio into `folder`, which is made: RADIO-SERIAL.pdf; equal names get -2. Each is written beside and renamed; the first that cannot be ends
 * it. may_replace NULL: anything may. */
gboolean sp_paper_write_slips (const SpFindings *findings, const char *folder, SpPaperSize size, SpPaperMay may_replace, GError **error);

typedef enum { SP_FIGURES_PAPER, SP_FIGURES_DARK, SP_FIGURES_GREY } SpFiguresInk;

typedef struct {
  gboolean svg, pdf, png;
  double width_mm; /* from SP_FIGURES_LEAST_MM to SP_FIGURES_MOST_MM */
  double dpi;      /* of PNG */
  SpFiguresInk ink;
} SpFiguresAsked;

#define SP_FIGURES_LEAST_MM 80 /* narrower, the words of a chart have no room (common practice, no source) */
#define SP_FIGURES_MOST_MM 600
#define SP_FIGURES_LEAST_DPI 72
#define SP_FIGURES_MOST_DPI 600

/* SVG, PDF and PNG, 160 mm wide, 300 dpi. */
void sp_figures_asked_init (SpFiguresAsked *asked);
/* Every figure of the report, and of all conditions against each other, into `folder`, which is made: names say what they are, equal ones get -2; and
 * captions.txt, a line "FILE: caption" each. Charts of one waveband have the same axes; a radio's of several conditions once more, in log f, on axes
 * over all of them. All are made before the first is written; each is written beside and renamed. `may_replace` as above. */
gboolean sp_paper_write_figures (const SpFindings *findings, const char *folder, const SpFiguresAsked *asked, SpPaperMay may_replace,
                                 GCancellable *stop, GError **error);
