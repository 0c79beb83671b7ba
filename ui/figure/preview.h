/* preview.h - one export's readings as they were read, small: shows at once whether columns and unit are right */
#pragma once

#include "core/trace/trace.h"
#include "ui/figure/pen/pen.h"

/* Readings at the analyzer's input over frequency, every extreme of them; nothing is corrected. */
void sp_preview_draw (SpPen *pen, const SpTrace *trace, const SpRect *rect);
/* The same in words: "from -92.3 dBm to 12.1 dBm, the highest at 145.6 MHz". Looks at every
 * reading. (transfer full) */
char *sp_preview_says (const SpTrace *trace);
