/* marks.h - the key to the marks of the chart: each with what it means */
#pragma once

#include "ui/figure/pen/pen.h"

/* Two columns in `rect`, from its upper edge down. */
void sp_marks_draw (SpPen *pen, const SpRect *rect);
double sp_marks_height (void);
/* The same in words alone, a sentence a mark. (transfer full) */
char *sp_marks_says (void);
