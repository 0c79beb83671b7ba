/* curve.c - evaluates a sampled curve: value, uncertainty, whether inside its span */
#include "core/curve/curve.h"

#include "core/quantity/error.h"
#include "core/quantity/large.h"

#include <float.h>
#include <glib/gi18n-lib.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_interp.h>
#include <math.h>

/* What lies behind a curve; `open` is first, so that a pointer to one is a pointer to the other. */
typedef struct {
  SpCurve open;
  double *frequency_hz, *value, *u;
  double *x;     /* ln f; NULL for a single point */
  double *slope; /* of the monotone cubic at the points, per neper; NULL below three points and for SQRT */
} Curve;

/* -- construction -- */

static gboolean
check (SpCurveKind kind, guint n, const double *frequency_hz, const double *value, const double *u, guint *bad, GError **error)
{
  if (n == 0)
    return sp_fail (error, SP_ERROR_USAGE, _ ("a curve without points; expected at least one"));
  for (guint i = 0; i < n; i++) {
    *bad = i;
    if (!isfinite (frequency_hz[i]) || frequency_hz[i] < 0)
      return sp_fail (error, SP_ERROR_USAGE, _ ("a frequency of %g Hz; expected a finite one that is not negative"), frequency_hz[i]);
    if (frequency_hz[i] == 0 && (n > 1 || kind == SP_CURVE_SQRT))
      return sp_fail (error, SP_ERROR_USAGE, _ ("a point at 0 Hz; expected frequencies above 0, the curve runs over their logarithm"));
    if (i > 0 && !(frequency_hz[i] > frequency_hz[i - 1]))
      return sp_fail (error, SP_ERROR_USAGE, _ ("%.15g Hz after %.15g Hz; expected ascending frequencies, each given once"),
                      frequency_hz[i], frequency_hz[i - 1]);
    if (!isfinite (value[i]))
      return sp_fail (error, SP_ERROR_USAGE, _ ("a value that is no finite number at %.15g Hz"), frequency_hz[i]);
    if (u && (u[i] < 0 || isinf (u[i])))
      return sp_fail (error, SP_ERROR_USAGE, _ ("an uncertainty of %g at %.15g Hz; expected a finite one that is not negative"), u[i],
                      frequency_hz[i]);
  }
  return TRUE;
}

/* Slopes of Steffen's cubic at the points: with the values they are the whole cubic, so that nothing of GSL's need be kept. */
static double *
steffen_slopes (guint n, const double *x, const double *y)
{
  double *slope = g_new (double, n);

  gsl_set_error_handler_off ();
  gsl_interp *interpolation = sp_made (gsl_interp_alloc (gsl_interp_steffen, n));
  gboolean good = interpolation && gsl_interp_init (interpolation, x, y, n) == GSL_SUCCESS;
  for (guint i = 0; good && i < n; i++)
    good = gsl_interp_eval_deriv_e (interpolation, x, y, x[i], NULL, &slope[i]) == GSL_SUCCESS && isfinite (slope[i]);
  if (interpolation)
    gsl_interp_free (interpolation);
  if (!good)
    g_clear_pointer (&slope, g_free);
  return slope;
}

static gboolean
all_weigh (const SpCurve *open)
{
  for (guint i = 0; i < open->n; i++)
    if (!(open->u[i] > 0))
      return FALSE;
  return TRUE;
}

/* value = a sqrt(f) + b f by least squares: the two columns, frequencies scaled to the highest, are made orthogonal (Gram-Schmidt). */
static void
fit_cable_law (SpCurve *open)
{
  const double top = open->frequency_hz[open->n - 1];
  const gboolean weighted = all_weigh (open);
  double pp = 0, pq = 0, qq = 0, py = 0, qy = 0, rest = 0;

  for (guint i = 0; i < open->n; i++) {
    double w = weighted ? 1 / (open->u[i] * open->u[i]) : 1, q = open->frequency_hz[i] / top, p = sqrt (q);
    pp += w * p * p;
    pq += w * p * q;
    py += w * p * open->value[i];
  }
  for (guint i = 0; i < open->n; i++) {
    double w = weighted ? 1 / (open->u[i] * open->u[i]) : 1, q = open->frequency_hz[i] / top, p = sqrt (q);
    double across = q - pq / pp * p;
    qq += w * across * across;
    qy += w * across * (open->value[i] - py / pp * p);
  }
  /* Points too close together tell only one parameter. */
  double b = open->n > 1 && qq > 1e-24 * pp ? qy / qq : 0;
  open->law_a = (py - pq * b) / pp / sqrt (top);
  open->law_b = b / top;
  for (guint i = 0; i < open->n; i++) {
    double residual = open->value[i] - open->law_a * sqrt (open->frequency_hz[i]) - open->law_b * open->frequency_hz[i];
    rest += residual * residual;
  }
  open->law_s = open->n > 2 ? sqrt (rest / (open->n - 2)) : 0;
}

static Curve *
copy_points (SpCurveKind kind, guint n, const double *frequency_hz, const double *value, const double *u)
{
  Curve *curve = g_atomic_rc_box_new0 (Curve);

  curve->frequency_hz = g_memdup2 (frequency_hz, n * sizeof *frequency_hz);
  curve->value = g_memdup2 (value, n * sizeof *value);
  curve->u = u ? g_memdup2 (u, n * sizeof *u) : g_new (double, n);
  for (guint i = 0; !u && i < n; i++)
    curve->u[i] = NAN;
  curve->open = (SpCurve){ .kind = kind,
                           .n = n,
                           .frequency_hz = curve->frequency_hz,
                           .value = curve->value,
                           .u = curve->u,
                           .low_hz = frequency_hz[0],
                           .high_hz = frequency_hz[n - 1] };
  return curve;
}

SpCurve *
sp_curve_new (SpCurveKind kind, guint n, const double *frequency_hz, const double *value, const double *u, guint *bad, GError **error)
{
  guint offending = 0;

  if (!check (kind, n, frequency_hz, value, u, bad ? bad : &offending, error))
    return NULL;
  Curve *curve = copy_points (kind, n, frequency_hz, value, u);
  if (n > 1) {
    curve->x = g_new (double, n);
    for (guint i = 0; i < n; i++)
      curve->x[i] = log (frequency_hz[i]);
  }
  if (kind == SP_CURVE_SQRT)
    fit_cable_law (&curve->open);
  else if (n > 2 && !(curve->slope = steffen_slopes (n, curve->x, value))) {
    sp_curve_unref (&curve->open);
    sp_fail (error, SP_ERROR_USAGE, _ ("points so close together that no smooth curve can be laid through them; leave some out"));
    return NULL;
  }
  return &curve->open;
}

SpCurve *
sp_curve_new_constant (double value, double u)
{
  const double frequency_hz = 0;
  Curve *curve = copy_points (SP_CURVE_LINEAR, 1, &frequency_hz, &value, &u);

  curve->open.high_hz = INFINITY;
  return &curve->open;
}

SpCurve *
sp_curve_ref (const SpCurve *curve)
{
  return g_atomic_rc_box_acquire ((SpCurve *) curve);
}

static void
clear (gpointer data)
{
  Curve *curve = data;

  g_free (curve->frequency_hz);
  g_free (curve->value);
  g_free (curve->u);
  g_free (curve->x);
  g_free (curve->slope);
}

void
sp_curve_unref (SpCurve *curve)
{
  g_atomic_rc_box_release_full (curve, clear);
}

/* -- one frequency -- */

static double
secant (const Curve *curve, guint i)
{
  return (curve->value[i + 1] - curve->value[i]) / (curve->x[i + 1] - curve->x[i]);
}

/* The monotone cubic's coefficients in s = ln(f / f_i) on segment i. */
static void
smooth_segment (const Curve *curve, guint i, double c[4])
{
  double h = curve->x[i + 1] - curve->x[i], m = secant (curve, i), from = curve->slope[i], to = curve->slope[i + 1];

  c[0] = curve->value[i];
  c[1] = from;
  c[2] = (3 * m - 2 * from - to) / h;
  c[3] = (from + to - 2 * m) / (h * h);
}

/* The coefficients of what the curve is on segment i. */
static void
segment (const Curve *curve, guint i, double c[4])
{
  if (curve->open.kind == SP_CURVE_SMOOTH && curve->slope)
    smooth_segment (curve, i, c);
  else
    c[0] = curve->value[i], c[1] = secant (curve, i), c[2] = c[3] = 0;
}

static double
cubic (const double c[4], double s)
{
  return c[0] + s * (c[1] + s * (c[2] + s * c[3]));
}

static double
u_of_point (const Curve *curve, guint i, double u_default)
{
  return isnan (curve->u[i]) ? u_default : curve->u[i];
}

/* The last point not above f, which lies within the span. */
static guint
find_segment (const Curve *curve, double frequency_hz)
{
  guint low = 0, high = curve->open.n - 1;

  while (high - low > 1) {
    guint middle = low + (high - low) / 2;
    if (curve->frequency_hz[middle] <= frequency_hz)
      low = middle;
    else
      high = middle;
  }
  return low;
}

/* Far beyond any radio: from here on the law is held, so that its two terms cannot overflow against each other; bounds what is computed */
#define LAW_TOP_HZ 1e15

static double
cable_law (const SpCurve *open, double frequency_hz)
{
  double f = frequency_hz > 0 ? MIN (frequency_hz, LAW_TOP_HZ) : open->frequency_hz[0];
  return open->law_a * sqrt (f) + open->law_b * f;
}

/* At or beyond end `i`, or at the one point there is. */
static SpCurveAt
beyond (const Curve *curve, guint i, double frequency_hz, double u_default)
{
  const SpCurve *open = &curve->open;
  double end_hz = curve->frequency_hz[i], u = u_of_point (curve, i, u_default);

  if (open->kind == SP_CURVE_SQRT)
    return (SpCurveAt){ cable_law (open, frequency_hz), hypot (u, open->law_s), frequency_hz == end_hz };
  if (open->n > 1 && frequency_hz != end_hz) {
    /* Below 1 Hz the logarithm would run away for nothing: u stays what it is there. */
    double f = frequency_hz > MIN (1, end_hz) ? MIN (frequency_hz, DBL_MAX) : MIN (1, end_hz);
    u = hypot (u, secant (curve, i ? i - 1 : 0) * log (f / end_hz));
  }
  return (SpCurveAt){ curve->value[i], u, frequency_hz >= open->low_hz && frequency_hz <= open->high_hz };
}

SpCurveAt
sp_curve_at (const SpCurve *open, double frequency_hz, double u_default)
{
  const Curve *curve = (const Curve *) open;
  double c[4];

  if (isinf (open->high_hz))
    return (SpCurveAt){ open->value[0], u_of_point (curve, 0, u_default), TRUE };
  if (!(frequency_hz > open->low_hz))
    return beyond (curve, 0, frequency_hz, u_default);
  if (frequency_hz >= open->high_hz)
    return beyond (curve, open->n - 1, frequency_hz, u_default);

  guint i = find_segment (curve, frequency_hz);
  double s = log (frequency_hz / curve->frequency_hz[i]), h = curve->x[i + 1] - curve->x[i];
  double u = u_of_point (curve, i, u_default) * (1 - s / h) + u_of_point (curve, i + 1, u_default) * (s / h);
  if (open->kind == SP_CURVE_SQRT)
    return (SpCurveAt){ cable_law (open, frequency_hz), hypot (u, open->law_s), TRUE };
  if (curve->slope) {
    smooth_segment (curve, i, c);
    u = hypot (u, (curve->value[i] + secant (curve, i) * s - cubic (c, s)) / sqrt (3));
  }
  segment (curve, i, c);
  return (SpCurveAt){ cubic (c, s), u, TRUE };
}

double
sp_curve_between (const SpCurve *open, double frequency_hz)
{
  const Curve *curve = (const Curve *) open;
  if (isinf (open->high_hz) || !(frequency_hz > open->low_hz) || frequency_hz >= open->high_hz)
    return 0;
  guint i = find_segment (curve, frequency_hz);
  double t = log (frequency_hz / curve->frequency_hz[i]) / (curve->x[i + 1] - curve->x[i]);
  return 2 * sqrt (fmax (t * (1 - t), 0));
}

/* -- many frequencies -- */

/* Index of the first of f[i..n) above `limit`; gallops, for the next block's end is mostly near. */
static guint64
find_above (const double *f, guint64 i, guint64 n, double limit)
{
  guint64 step = 1;

  while (i + step < n && f[i + step] <= limit)
    step *= 2;
  guint64 low = i + step / 2, high = MIN (i + step, n); /* f[low] <= limit unless low == i */
  while (low < high) {
    guint64 middle = low + (high - low) / 2;
    if (f[middle] <= limit)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

/* The logarithm costs more than all the rest, so it is taken once for a block no wider than to/from = 1 + 2 HALF. Inside it, with
 * t = f/middle - 1, a curve is the polynomial in t that it begins with (|t|^4 <= 1.5e-11): for a straight segment
 * ln(f / middle) = t - t^2/2 + t^3/3 leaves out less than t^4/4; a steep segment is narrow, so the value is wrong by less than
 * |y_(i+1) - y_i| HALF^3 / 8 (calculated). A cubic segment whose own t^4 would count is taken through ln(f / middle), three times
 * as wrong as that: 3e-7 dB at a step of 100 dB. */
#define HALF (1.0 / 512)
#define CUBIC_ERROR_DB 1e-9 /* bounds what a value is wrong by */

/* The same loop for processors with wide registers: twice as fast, the same bits (no contraction, see meson.build). */
#if defined(__x86_64__) && defined(__GNUC__)
#define WIDE __attribute__ ((target ("avx2")))
#define HAS_WIDE() __builtin_cpu_supports ("avx2")
#else
#define WIDE
#define HAS_WIDE() FALSE
#endif

/* p[0] + t (p[1] + t (p[2] + t p[3])) */
static inline __attribute__ ((always_inline)) void
polynomial_loop (const double p[4], double middle, guint64 n, const double *restrict f, double *restrict out)
{
  const double scale = 1 / middle, p0 = p[0], p1 = p[1], p2 = p[2], p3 = p[3];

  for (guint64 i = 0; i < n; i++) {
    double t = (f[i] - middle) * scale;
    out[i] += p0 + t * (p1 + t * (p2 + t * p3));
  }
}

static void
polynomial_plain (const double p[4], double middle, guint64 n, const double *f, double *out)
{
  polynomial_loop (p, middle, n, f, out);
}

WIDE static void
polynomial_wide (const double p[4], double middle, guint64 n, const double *f, double *out)
{
  polynomial_loop (p, middle, n, f, out);
}

static void
add_polynomial (const double p[4], double middle, guint64 n, const double *f, double *out)
{
  (HAS_WIDE () ? polynomial_wide : polynomial_plain) (p, middle, n, f, out);
}

static void
add_block (const double c[4], double s0, double middle, guint64 n, const double *restrict f, double *restrict out)
{
  /* The segment's cubic about s0, then in t. */
  const double d[4] = { cubic (c, s0), c[1] + s0 * (2 * c[2] + 3 * s0 * c[3]), c[2] + 3 * s0 * c[3], c[3] };
  const double p[4] = { d[0], d[1], d[2] - d[1] / 2, d[3] - d[2] + d[1] / 3 }, scale = 1 / middle;

  if ((d[2] == 0 && d[3] == 0) || fabs (d[2]) + 1.5 * fabs (d[3]) < CUBIC_ERROR_DB / (HALF * HALF * HALF * HALF)) {
    add_polynomial (p, middle, n, f, out);
    return;
  }
  for (guint64 i = 0; i < n; i++) {
    double t = (f[i] - middle) * scale, s = t * (1 + t * (-1.0 / 2 + t * (1.0 / 3)));
    out[i] += d[0] + s * (d[1] + s * (d[2] + s * d[3]));
  }
}

/* The block of f[i..n) that begins at i: its end, and its middle. */
static guint64
block_end (const double *f, guint64 i, guint64 n, double limit, double *middle)
{
  guint64 end = MAX (find_above (f, i, n, MIN (f[i] * (1 + 2 * HALF), limit)), i + 1);

  *middle = f[i] + (f[end - 1] - f[i]) / 2;
  return end;
}

static void
add_segment (const double c[4], double f_i, double f_next, guint64 n, const double *f, double *out)
{
  double middle;

  for (guint64 i = 0, end; i < n; i = end) {
    end = block_end (f, i, n, f_next, &middle);
    add_block (c, log (middle / f_i), middle, end - i, f + i, out + i);
  }
}

static void
add_constant (double value, guint64 n, double *out)
{
  for (guint64 i = 0; i < n; i++)
    out[i] += value;
}

/* sqrt (middle (1 + t)) = sqrt (middle) (1 + t/2 - t^2/8 + t^3/16), 6e-13 of itself wrong at most. */
static void
add_law (const SpCurve *open, guint64 n, const double *f, double *out)
{
  guint64 i = 0, top = n > 0 && f[0] <= LAW_TOP_HZ ? find_above (f, 0, n, LAW_TOP_HZ) : 0, end;
  double middle;

  for (; i < top && !(f[i] > 0); i++)
    out[i] += cable_law (open, f[i]);
  for (; i < top; i = end) {
    end = block_end (f, i, top, LAW_TOP_HZ, &middle);
    double root = open->law_a * sqrt (middle), straight = open->law_b * middle;
    const double p[4] = { root + straight, root / 2 + straight, -root / 8, root / 16 };
    add_polynomial (p, middle, end - i, f + i, out + i);
  }
  if (i < n)
    add_constant (cable_law (open, LAW_TOP_HZ), n - i, out + i);
}

void
sp_curve_add_to (const SpCurve *open, guint64 n, const double *frequency_hz, double *out)
{
  const Curve *curve = (const Curve *) open;
  double c[4];

  if (n == 0)
    return;
  if (open->kind == SP_CURVE_SQRT) {
    add_law (open, n, frequency_hz, out);
    return;
  }
  guint64 i = find_above (frequency_hz, 0, n, curve->frequency_hz[0]);
  add_constant (curve->value[0], i, out);
  for (guint k = 0; k + 1 < open->n && i < n; k++) {
    guint64 end = find_above (frequency_hz, i, n, curve->frequency_hz[k + 1]);
    segment (curve, k, c);
    add_segment (c, curve->frequency_hz[k], curve->frequency_hz[k + 1], end - i, frequency_hz + i, out + i);
    i = end;
  }
  add_constant (curve->value[open->n - 1], n - i, out + i);
}
