/* figure.h - the whole figure: staircase, spectrum, radios, ledger and title block on one sheet
 *
 * One drawing function for PNG, SVG, PDF, the report and the window; no GTK. Every number comes from the findings; only positions are
 * computed here. plot.h and panels.h draw the panels.
 */
#pragma once

#include "ui/figure/panels.h"
#include "ui/figure/plot/plot.h"

#define SP_FIGURE_LEAST_WIDTH 640
#define SP_FIGURE_LEAST_HEIGHT 400
#define SP_FIGURE_MOST 16384

typedef struct {
  SpRect radios, staircase, statement, plot, ledger, title;
} SpFigureLayout;

/* Positions of the parts on a sheet of width x height points. Columns and rows shrink and vanish on small ones; 1024 x 640 holds all. */
SpFigureLayout sp_figure_layout (double width, double height);

/* Draws the whole figure, sheet and all, at the origin of `cr`. The context is left as it was. FALSE: something
 * lacks, for there was no memory for it; errno is 0 before. */
gboolean sp_figure_draw (cairo_t *cr, double width, double height, const SpFindings *findings, const SpView *view);

/* PNG_SMALL: with a palette (few-colours.h), for a file that holds many pictures. */
typedef enum { SP_FIGURE_PNG, SP_FIGURE_SVG, SP_FIGURE_PDF, SP_FIGURE_PNG_SMALL } SpFigureFormat;

/* The format by the file name's ending, in any case. FALSE and an error that names the three formats if it is another. */
gboolean sp_figure_format_of (const char *path, SpFigureFormat *format, GError **error);

/* The file as bytes. Equal findings and view give equal bytes; a PDF has the bench's date, or none. Width and height in points (pixels
 * of a PNG), within SP_FIGURE_LEAST_WIDTH/HEIGHT and SP_FIGURE_MOST. NULL and an error: a size outside, or cairo's message. (transfer
 * full) */
GBytes *sp_figure_export (SpFigureFormat format, double width, double height, const SpFindings *findings, const SpView *view,
                          GError **error);
/* The plot alone in a printer's ink, as the bytes of a PNG_SMALL with two pixels a point; `dark` does not count. Otherwise as above. */
GBytes *sp_figure_export_plot (double width, double height, const SpFindings *findings, const SpView *view, GError **error);
