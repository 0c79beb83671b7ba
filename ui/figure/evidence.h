/* evidence.h - the evidence of an emission's origin: level against the added attenuation
 *
 * Three directions start at the first reading: the radio's part stays, the analyzer's product falls by (order - 1) dB for each dB,
 * noise rises with it. Above them the readings with 2 u, an arrow downwards for an unseen one, and the fit in its 95 % band. At the
 * right the possible parts of radio and analyzer, and the unkeyed level.
 */
#pragma once

#include "ui/figure/pen/pen.h"

/* Draws into `rect`, with numbers. Draws nothing if the emission has no evidence. */
void sp_evidence_draw (SpPen *pen, const SpEmission *emission, const SpRect *rect);

/* The same as text for a screen reader: each reading, then each part. NULL: no evidence. (transfer full) */
char *sp_evidence_says (const SpEmission *emission);
