/* losscurve.h - a stage's loss against frequency: the curve within its band of U, the measured points with their whiskers, the label */
#pragma once

#include "core/chain/chain.h"
#include "ui/figure/pen/pen.h"

/* Draws into `rect`, numbers and all; log frequency. Outside the calibrated span the curve is dotted. `stage` beyond the chain: nothing. */
void sp_loss_curve_draw (SpPen *pen, const SpChain *chain, guint stage, const SpRect *rect);

/* The sentence above the curve, for a screen reader too: "30.09 ± 0.10 dB at 150 MHz; 0.15 dB above its label at most, at 1 GHz".
 * (transfer full) */
char *sp_loss_curve_says (const SpChain *chain, guint stage);
