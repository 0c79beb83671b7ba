/* why.h - the pictures of one verdict explained: a small one for each step of the walk (core/findings/why.h) */
#pragma once

#include "core/findings/why.h"
#include "ui/figure/pen/pen.h"

#define SP_WHY_PICTURE_HEIGHT 160 /* reads well with widths from 220 */

/* Draws the step's picture into `rect`. What would settle it has none. */
void sp_why_draw (SpPen *pen, const SpWhy *why, SpWhyStep step, const SpRect *rect);
