/* band.h - a curve straight into the pixels of an image: a function of x needs no general stroke
 *
 * A line thickened by a round pen covers, above each x, one unbroken span of y. So a band keeps that span for each quarter of a pixel,
 * and its edges are shaded by the part of a pixel they cover: to the eye what cairo's own stroke gives, some ten times sooner
 * (tests/bench). Lines and boxes join the band; sp_band_fill() draws what has gathered and begins anew.
 */
#pragma once

#include "ui/figure/pen/pen.h"

typedef struct SpBand SpBand;

/* Draws within `clip` only. NULL where the pen does not draw on an image (SVG, PDF, a recording), or turned, or within a group: then
 * cairo's own strokes must serve. (transfer full) */
SpBand *sp_band_new (SpPen *pen, const SpRect *clip);
void sp_band_free (SpBand *band);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpBand, sp_band_free)

/* In points, like all that a pen draws. A band holds one function of x: what a line or box adds above an x joins what is there already. */
void sp_band_line (SpBand *band, double x1, double y1, double x2, double y2);
void sp_band_box (SpBand *band, double x, double width, double top, double bottom);
void sp_band_thicken (SpBand *band, double width);       /* by a round pen of this width */
void sp_band_dash (SpBand *band, double on, double off); /* gaps, measured along x */
void sp_band_fill (SpBand *band, const SpColour *colour, double opacity);
