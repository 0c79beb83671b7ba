/* deciding-margins.h - the deciding margins of all conditions over the harmonics, one sheet: above the limit's line is better */
#pragma once

#include "core/compare/compare.h"
#include "ui/figure/pen/pen.h"

/* Draws into `rect`. Each row in its trace ink; a dot with its U whisker for what was seen, a small open arrow upwards for what was not (the
 * margin is at least that, if the verdict says so); rows without a limit are named beside. `chosen`: this one full, others 70 %; -1: all alike. */
void sp_deciding_margins_draw (SpPen *pen, const SpComparison *comparison, int chosen, const SpRect *rect);
