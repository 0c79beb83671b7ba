/* mark.h - marks of the spectrum that the chart and the key to its marks share */
#pragma once

#include "ui/figure/pen/pen.h"

/* A condition's line in its ink and dash, from x as far as `length` at y: the swatch in lists and at names, as its trace is drawn. */
#define SP_SWATCH_LENGTH 26
void sp_mark_swatch (SpPen *pen, double x, double y, double length, guint condition);

/* What of a reading is not the radio's: a hollow, hatched pipe down from the reading. `guessed`: its outline is dashed. */
void sp_mark_pipe (SpPen *pen, const SpRect *pipe, const SpColour *ink, gboolean guessed);
/* The most that is the radio's, across the pipe at y. */
void sp_mark_most (SpPen *pen, double x, double y);
/* What others are compared with: a ring with a cross. */
void sp_mark_reference (SpPen *pen, double x, double y);
/* Where a note is pinned. */
#define SP_PIN_RADIUS 3.5
void sp_mark_pin (SpPen *pen, double x, double y);
/* A step's reading: seen, a diamond; not seen, at most there. */
void sp_mark_step (SpPen *pen, double x, double y, gboolean seen);
