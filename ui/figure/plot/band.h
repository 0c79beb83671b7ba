/* band.h - draws a curve directly into the pixels of an image, faster than a general stroke
 *
 * A line drawn with a round pen covers one unbroken span of y above each x. A band stores that span for each quarter of a pixel and
 * shades its edges by the covered part of a pixel. The result looks like cairo's stroke, some ten times faster (tests/bench). Lines
 * and boxes are collected; sp_band_fill() draws them and starts again.
 */
#pragma once

#include "ui/figure/pen/pen.h"

typedef struct SpBand SpBand;

/* Draws within `clip` only. NULL if the pen draws on no image (SVG, PDF, a recording), or rotated, or within a group: use cairo's
 * strokes then. (transfer full) */
SpBand *sp_band_new (SpPen *pen, const SpRect *clip);
void sp_band_free (SpBand *band);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpBand, sp_band_free)

/* In points. A band holds one function of x: lines and boxes at the same x are joined. */
void sp_band_line (SpBand *band, double x1, double y1, double x2, double y2);
void sp_band_box (SpBand *band, double x, double width, double top, double bottom);
void sp_band_thicken (SpBand *band, double width);    /* by a round pen of this width */
void sp_band_dash (SpBand *band, const SpDash *dash); /* gaps, measured along x */
void sp_band_fill (SpBand *band, const SpColour *colour, double opacity);
