/* evidence.h - whose an emission is, as its readings show it: level against the attenuation that was added
 *
 * Three directions from the first reading: what is the radio's stays where it is, what the analyzer makes falls by (order - 1) dB for each dB, noise
 * rises with it. Over them the readings with their u twice over, an arrow downwards where nothing was seen, the fit in its 95 % band; at the right what
 * is left for the radio's and the analyzer's own part, and what stands there unkeyed.
 */
#pragma once

#include "ui/figure/pen/pen.h"

/* Draws into `rect`, numbers and all. Nothing where the emission has no evidence. */
void sp_evidence_draw (SpPen *pen, const SpEmission *emission, const SpRect *rect);

/* The same in words, for a screen reader: each reading, then each part. NULL where there is none. (transfer full) */
char *sp_evidence_says (const SpEmission *emission);
