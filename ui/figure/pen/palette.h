/* palette.h - the colours of every figure, as data: few, each with one meaning, and never colour alone
 *
 * Light and dark. The six trace inks are at least 25 apart (CIE76) to normal, protan, deutan and tritan eyesight and have a contrast
 * of 4.5:1 with the sheet. Dark paper has calm inks: under L* 83 and chroma 46, and neither yellow nor cyan. tests/figure/palette.c
 * recomputes all of it. The seventh trace uses the first ink again, dashed, the thirteenth dotted.
 */
#pragma once

#include "core/findings/findings.h"

typedef struct {
  double red, green, blue;
} SpColour; /* 0..1, sRGB */

#define SP_TRACE_INKS 6

typedef struct {
  SpColour sheet, ink, soft;             /* paper, text, secondary text */
  SpColour limit, floor_edge, floor_ink; /* floor_ink: words on the floor */
  SpColour fog, fog_ink;                 /* the blind zone and the text in it */
  SpColour verdict[5];                   /* by SpVerdict; "no limit" is soft */
  SpColour trace[SP_TRACE_INKS];
  guint dash_each; /* so many traces in turn have one dash */
} SpPalette;

const SpPalette *sp_palette (gboolean dark);
/* The same in high contrast: what was soft is ink. */
const SpPalette *sp_palette_strong (gboolean dark);
/* A printer's: white paper, black ink, red for the limit alone, and a dash for each trace. `alone`: traces are ink too. */
const SpPalette *sp_palette_paper (gboolean alone);
/* The same without a colour: the limit is black too, told by its ticks. */
const SpPalette *sp_palette_grey (gboolean alone);

/* Lengths on and off in turn, in points; n 0: drawn through. */
typedef struct {
  int n;
  double points[4];
} SpDash;

/* Of the first six traces, of the next six, ...: drawn through, dashed, dotted, dash and dot. */
#define SP_TRACE_DASHES 4
extern const SpDash sp_trace_dashes[SP_TRACE_DASHES];
