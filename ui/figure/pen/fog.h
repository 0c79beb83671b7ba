/* fog.h - the missing paper between a limit and a floor above it, where nothing could have been seen */
#pragma once

#include "ui/figure/pen/pen.h"

/* Fills the clip region, which is inside `rect`, over earlier drawings. */
void sp_fog (SpPen *pen, const SpRect *rect);
