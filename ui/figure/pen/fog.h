/* fog.h - where the paper is missing: what lies between a limit and a floor above it could not have been seen
 */
#pragma once

#include "ui/figure/pen/pen.h"

/* Fills the clip; `rect` holds it. What stood there goes. */
void sp_fog (SpPen *pen, const SpRect *rect);
