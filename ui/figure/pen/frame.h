/* frame.h - two linear axes round the area of a small plot: ticks inward, level lines across, no frame above or at the right */
#pragma once

#include "ui/figure/pen/pen.h"
#include "ui/figure/pen/scale.h"

typedef struct {
  SpRect area;
  SpAxis x, y;
} SpFrame;

/* Room that the numbers take round the area. */
#define SP_FRAME_LEFT 52
#define SP_FRAME_HEAD 24
#define SP_FRAME_FOOT 34

/* Axes over all of `area`; y climbs. */
void sp_frame_init (SpFrame *frame, const SpRect *area, double x_from, double x_to, double y_from, double y_to);
/* `y_unit` stands above the level axis, `x_words` below the other, at the right;
 * NULL: that axis has no numbers. */
void sp_frame_draw (const SpFrame *frame, SpPen *pen, const char *y_unit, const char *x_words);
/* The edges of an area, with frequencies in Hz below it, each with its unit. */
void sp_frame_frequencies (SpPen *pen, const SpRect *area, const SpAxis *x);
/* Of a number on an axis whose ticks are a step apart. */
int sp_frame_decimals (double step);
/* Clips to the area; between cairo_save and cairo_restore. */
void sp_frame_clip (const SpFrame *frame, SpPen *pen);
