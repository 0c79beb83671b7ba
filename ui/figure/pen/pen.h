/* pen.h - the drawing pen: a cairo context, its colours, its type
 *
 * All lengths are points (a pixel on a screen of scale 1). Inter with tabular figures unless another family is requested.
 */
#pragma once

#include <cairo.h>

#include "ui/figure/pen/palette.h"

typedef struct {
  double x, y, width, height;
} SpRect;

typedef enum { SP_TEXT_TINY, SP_TEXT_SMALL, SP_TEXT_BODY, SP_TEXT_BOLD, SP_TEXT_HEAD, SP_N_TEXTS } SpTextStyle; /* 10.5 to 14 points */

typedef struct SpPen {
  cairo_t *cr;
  const SpPalette *palette;
  gboolean vector; /* the surface stores shapes (SVG, PDF, sp_pen_recording), not pixels */
  double column;   /* least visible width in points: a device pixel; half a point on a vector surface */
  double grain;    /* of a trace's columns, at least: `column`, where nobody sets it wider */
  struct SpPenText *text;
} SpPen;

/* Keeps a reference to `cr`. font NULL: Inter. (transfer full) */
SpPen *sp_pen_new (cairo_t *cr, gboolean dark, const char *font);
/* A surface of shapes that will be played to a printer, drawn on as a PDF is. (transfer full) */
cairo_surface_t *sp_pen_recording (void);
void sp_pen_free (SpPen *pen);
/* What is written in place of the family asked for (NULL: Inter), which is not installed or cannot be read; NULL where it is there. (transfer full) */
char *sp_pen_other_type (const char *font);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpPen, sp_pen_free)

void sp_pen_colour (SpPen *pen, const SpColour *colour, double opacity);
/* A straight line, crisp if horizontal or vertical, in the current colour. */
void sp_pen_line (SpPen *pen, double x1, double y1, double x2, double y2, double width);
void sp_pen_dotted (SpPen *pen, double x1, double y1, double x2, double y2, double width, double gap);
/* Dashes of the strokes that follow, the first of them `offset` points in; NULL: drawn through. */
void sp_pen_dash (SpPen *pen, const SpDash *dash, double offset);
void sp_pen_box (SpPen *pen, const SpRect *rect);                  /* fills */
double sp_pen_snap (const SpPen *pen, double place, double width); /* nearest position where a line of this width covers whole pixels */

/* Writes one line; `align` 0: begins at x, 0.5: centred, 1: ends there. Returns its width. */
double sp_pen_text (SpPen *pen, double x, double baseline, SpTextStyle style, const SpColour *colour, double align, const char *text);
/* The same over a soft edge of the sheet's colour, for writing on top of lines. */
double sp_pen_text_halo (SpPen *pen, double x, double baseline, SpTextStyle style, const SpColour *colour, double align, const char *text,
                         const SpColour *halo);
/* At most `width` wide; cut with an ellipsis. */
double sp_pen_text_fit (SpPen *pen, double x, double baseline, SpTextStyle style, const SpColour *colour, double width, const char *text);
/* At most `lines` lines of `width`, the first at `baseline`; cut with an ellipsis. Returns the number of lines. */
guint sp_pen_text_wrap (SpPen *pen, double x, double baseline, SpTextStyle style, const SpColour *colour, double width, guint lines,
                        const char *text);
/* Number of lines of `width` for the whole text. */
guint sp_pen_text_lines (SpPen *pen, SpTextStyle style, double width, const char *text);
double sp_pen_text_width (SpPen *pen, SpTextStyle style, const char *text);
double sp_pen_line_height (SpTextStyle style);
/* Something does not stand there as it should: there was no memory for it. Whoever asks has set errno to 0 before the pen was made. */
gboolean sp_pen_failed (const SpPen *pen);
