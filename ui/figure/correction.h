/* correction.h - what an analyzer's check found: the correction within its band of U against frequency, other settings, the corridor that is stated */
#pragma once

#include "core/check/check.h"
#include "ui/figure/pen/pen.h"

/* Draws into `rect`, numbers and all; log frequency. Without a point yet: nothing. */
void sp_correction_draw (SpPen *pen, const SpCheckResult *result, const SpRect *rect);
/* A bar of what is left of `left`, in `rect`, beside the greatest that is stated. */
void sp_correction_draw_left (SpPen *pen, const SpCheckResult *result, guint left, const SpRect *rect);
/* "+2.04 dB at 1.5 GHz: beyond what is stated", or how far at most; for a screen reader too. (transfer full) */
char *sp_correction_says (const SpCheckResult *result);
