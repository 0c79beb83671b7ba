/* blank.h - the chart of a bench without a sweep: all of it is blind */
#pragma once

#include "ui/figure/pen/pen.h"

/* Axes without numbers round fog with a torn edge. */
void sp_blank_draw (SpPen *pen, const SpRect *rect);
