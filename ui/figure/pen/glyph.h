/* glyph.h - the five verdicts and the five origins as shapes that can be told apart without colour
 *
 * Verdicts; the bar is the limit. complies: a filled half-disc hangs below the bar. exceeds: a wedge pierces it. inconclusive: a lens is
 * cut by it. not proven: the bar over a dotted open arc. no limit: an arc without a bar.
 * Origins. radio: solid dot. analyzer: open square. mixed: half-filled square. ambient: the antenna of IEC 60617, a triangle on its mast. untested: small ring.
 */
#pragma once

#include "ui/figure/pen/pen.h"

/* Centred on x, y; `size` is the bar's length (14 reads well). */
void sp_glyph_verdict (SpPen *pen, double x, double y, double size, SpVerdict verdict);
/* Centred on x, y, in `ink`; about 2 * radius across (3.5 reads well). SP_ORIGIN_NONE draws nothing. */
void sp_glyph_origin (SpPen *pen, double x, double y, double radius, SpOrigin origin, const SpColour *ink);
