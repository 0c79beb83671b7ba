/* curve.h - a sampled curve against frequency: interpolation, its uncertainty, its valid span
 *
 * Points (f, value, u) with f in Hz, strictly ascending, f > 0 where there is more than one. Value is a dB quantity (a loss, a noise
 * density, a level) or a plain ratio (VSWR). Immutable, reference counted.
 * Kinds: LINEAR in value over log f; SMOOTH, monotone cubic over log f (Steffen 1990, Astron. Astrophys. 239, 443; slopes at the
 * points by GSL); SQRT, the cable law a*sqrt(f) + b*f by least squares, weights 1/u^2 where every point has a u > 0, which also rules
 * outside the span. With one point b = 0, with two the law runs through both. Its residual s (of the values, n - 2 degrees of
 * freedom) joins u in square.
 * u between points: linear over log f, with the shape term |linear - monotone cubic| / sqrt 3 added in square (LINEAR and SMOOTH,
 * from three points up). Outside the span of those two the end value is held and |end segment's slope| * |ln f ratio| is added in
 * square; frequencies below 1 Hz count as 1 Hz in it. SQRT holds u of its ends.
 * One point is a constant (not SQRT): it holds everywhere, and its span is that one frequency unless sp_curve_new_constant made it.
 */
#pragma once

#include <glib.h>

typedef enum { SP_CURVE_LINEAR, SP_CURVE_SMOOTH, SP_CURVE_SQRT } SpCurveKind;

typedef struct {
  SpCurveKind kind;
  guint n;
  const double *frequency_hz; /* n, ascending */
  const double *value;        /* n */
  const double *u;            /* n; NaN where the point carries none */
  double low_hz, high_hz;     /* valid span; 0 .. INFINITY for a constant */
  double law_a, law_b;        /* SQRT: value = a sqrt(f) + b f */
  double law_s;               /* SQRT: residual standard deviation, n - 2 degrees of freedom; 0 for n <= 2 */
} SpCurve;

typedef struct {
  double value;
  double u;        /* standard, of the value; NaN points count as `u_default` given to sp_curve_at */
  gboolean inside; /* within the span */
} SpCurveAt;

/* Copies n >= 1 points. u may be NULL (all NaN). Errors (SP_ERROR_USAGE, a sentence without a place): a frequency not finite or < 0,
 * not strictly ascending, a value not finite, a u negative. `bad` (may be NULL) becomes the offending point's index. (transfer full) */
SpCurve *sp_curve_new (SpCurveKind kind, guint n, const double *frequency_hz, const double *value, const double *u, guint *bad,
                       GError **error);
/* The same value at every frequency. (transfer full) */
SpCurve *sp_curve_new_constant (double value, double u);
SpCurve *sp_curve_ref (const SpCurve *curve);
void sp_curve_unref (SpCurve *curve);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpCurve, sp_curve_unref)

/* f any number; f <= 0 (or NaN) holds the end value, SQRT its law's at the lowest point, and counts as outside (a constant is inside
 * everywhere). Never NaN. */
SpCurveAt sp_curve_at (const SpCurve *curve, double frequency_hz, double u_default);

/* How far f lies from both points that it is between: 2 sqrt (t (1 - t)) with t its place in their logarithms; 1 midway, 0 at a point and outside the
 * span. What a random walk that is known at both ends may be off by, against midway. */
double sp_curve_between (const SpCurve *curve, double frequency_hz);

/* Values only, at `n` ascending frequencies, added to out[]: out[i] += value(f[i]), within 1e-9 and 3e-9 of the largest step between two
 * points (3e-7 dB at 100 dB). One pass over the segments, no logarithm and no root at a point. */
void sp_curve_add_to (const SpCurve *curve, guint64 n, const double *frequency_hz, double *out);
