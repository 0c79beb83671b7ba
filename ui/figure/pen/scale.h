/* scale.h - converts values to positions on paper and back: a scale is a table of functions, an axis a scale with its ends
 *
 * No cairo here. Linear and logarithmic are two constants; a third would be a third table.
 */
#pragma once

#include <glib.h>

#define SP_TICKS_MAX 128

typedef struct {
  double value;
  gboolean labelled; /* a tick with a number; the others only mark the division */
} SpTick;

typedef struct {
  double (*to_unit) (double value, double from, double to); /* from -> 0, to -> 1; not clamped */
  double (*from_unit) (double unit, double from, double to);
  gboolean (*has) (double value); /* FALSE: the scale cannot show this value (NaN; <= 0 on a logarithmic one) */
  /* Ascending ticks within [from, to], at most `most` of them labelled, at most SP_TICKS_MAX. Returns their number. */
  guint (*ticks) (double from, double to, guint most, SpTick *out);
} SpScale;

extern const SpScale sp_scale_linear;
extern const SpScale sp_scale_logarithmic;

typedef struct {
  const SpScale *scale;
  double from, to;   /* values at the ends; from < to */
  double start, end; /* their positions in points; end < start for an upward axis */
} SpAxis;

double sp_axis_at (const SpAxis *axis, double value); /* position in points */
double sp_axis_value (const SpAxis *axis, double place);

/* The 1-2-5 step that cuts a span > 0 into at most `most` (>= 1) parts. */
double sp_nice_step (double span, guint most);
