#include "core/curve/curve.h"
#include "core/quantity/error.h"
#include "tests/suite.h"

#include <string.h>

static const SpCurveKind kinds[] = { SP_CURVE_LINEAR, SP_CURVE_SMOOTH, SP_CURVE_SQRT };

static SpCurve *
make (SpCurveKind kind, guint n, const double *f, const double *value, const double *u)
{
  g_autoptr (GError) error = NULL;
  SpCurve *curve = sp_curve_new (kind, n, f, value, u, NULL, &error);
  sp_no_error (error);
  return curve;
}

START_TEST (bad_points)
{
  static const struct {
    guint n;
    double f[3], value[3], u[3];
    guint bad;
    const char *message;
  } rows[] = {
    { 0, { 0 }, { 0 }, { 0 }, 0, "a curve without points; expected at least one" },
    { 2, { 1e6, NAN }, { 1, 2 }, { 0, 0 }, 1, "a frequency of nan Hz; expected a finite one that is not negative" },
    { 2, { 1e6, INFINITY }, { 1, 2 }, { 0, 0 }, 1, "a frequency of inf Hz; expected a finite one that is not negative" },
    { 1, { -5 }, { 1 }, { 0 }, 0, "a frequency of -5 Hz; expected a finite one that is not negative" },
    { 2, { 0, 1e6 }, { 1, 2 }, { 0, 0 }, 0, "a point at 0 Hz; expected frequencies above 0, the curve runs over their logarithm" },
    { 3, { 1e6, 3e6, 2e6 }, { 1, 2, 3 }, { 0, 0, 0 }, 2, "2000000 Hz after 3000000 Hz; expected ascending frequencies, each given once" },
    { 2, { 1e6, 1e6 }, { 1, 2 }, { 0, 0 }, 1, "1000000 Hz after 1000000 Hz; expected ascending frequencies, each given once" },
    { 2, { 1e6, 2e6 }, { 1, NAN }, { 0, 0 }, 1, "a value that is no finite number at 2000000 Hz" },
    { 2, { 1e6, 2e6 }, { 1, 2 }, { 0, -.1 }, 1, "an uncertainty of -0.1 at 2000000 Hz; expected a finite one that is not negative" },
    { 2, { 1e6, 2e6 }, { 1, 2 }, { INFINITY, 0 }, 0, "an uncertainty of inf at 1000000 Hz; expected a finite one that is not negative" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    for (guint k = 0; k < 3; k++) {
      g_autoptr (GError) error = NULL;
      guint bad = 0;
      ck_assert_ptr_null (sp_curve_new (kinds[k], rows[i].n, rows[i].f, rows[i].value, rows[i].u, &bad, &error));
      ck_assert_str_eq (error->message, rows[i].message);
      ck_assert (error->code == SP_ERROR_USAGE && bad == rows[i].bad);
    }
}
END_TEST

START_TEST (at_points_and_halfway)
{
  const double f[] = { 1e6, 1e7, 1e8 }, value[] = { 1, 3, 4 }, u[] = { .1, .3, NAN };
  g_autoptr (SpCurve) linear = make (SP_CURVE_LINEAR, 3, f, value, u), smooth = make (SP_CURVE_SMOOTH, 3, f, value, u);

  for (guint i = 0; i < 3; i++) {
    SpCurveAt a = sp_curve_at (linear, f[i], .7), b = sp_curve_at (smooth, f[i], .7);
    ck_assert (a.value == value[i] && b.value == value[i] && a.inside && b.inside);
    ck_assert_double_eq_tol (a.u, i < 2 ? u[i] : .7, 1e-15);
    ck_assert_double_eq_tol (b.u, a.u, 1e-15);
  }
  /* Halfway over log f between the first two. By hand: slopes of the cubic (per decade) 2 and min(1, 2, 1.5/2) * 2 = 1.5, so it lies
   * (2 - 1.5) / 8 above the line. */
  double middle = sqrt (1e13);
  SpCurveAt a = sp_curve_at (linear, middle, .7), b = sp_curve_at (smooth, middle, .7);
  ck_assert_double_eq_tol (a.value, 2, 1e-12);
  ck_assert_double_eq_tol (b.value, 2 + .5 / 8, 1e-12);
  ck_assert_double_eq_tol (a.u, hypot (.2, .5 / 8 / sqrt (3)), 1e-12);
  ck_assert_double_eq_tol (b.u, a.u, 1e-12);
}
END_TEST

START_TEST (outside_the_span)
{
  const double f[] = { 1e6, 1e7, 1e8 }, value[] = { 1, 3, 4 }, u[] = { .1, .3, .2 };

  for (guint k = 0; k < 2; k++) {
    g_autoptr (SpCurve) curve = make (kinds[k], 3, f, value, u);
    SpCurveAt below = sp_curve_at (curve, 1e5, 0), above = sp_curve_at (curve, 1e10, 0);
    ck_assert (below.value == 1 && above.value == 4 && !below.inside && !above.inside);
    ck_assert_double_eq_tol (below.u, hypot (.1, 2), 1e-12); /* 2 dB a decade, one decade */
    ck_assert_double_eq_tol (above.u, hypot (.2, 2), 1e-12); /* 1 dB a decade, two decades */
  }
  g_autoptr (SpCurve) law = make (SP_CURVE_SQRT, 3, f, value, u);
  SpCurveAt above = sp_curve_at (law, 4e8, 0);
  ck_assert (!above.inside);
  ck_assert_double_eq_tol (above.value, law->law_a * 2e4 + law->law_b * 4e8, 1e-12);
  ck_assert_double_eq_tol (above.u, hypot (.2, law->law_s), 1e-12);
}
END_TEST

START_TEST (few_points)
{
  const double f[] = { 1e8, 4e8 }, value[] = { 2, 5 };
  g_autoptr (SpCurve) constant = sp_curve_new_constant (7, NAN);

  for (guint k = 0; k < 3; k++) {
    SpCurveAt at = sp_curve_at (constant, (double[]){ -1, 0, 1e12 }[k], .3);
    ck_assert (at.value == 7 && at.u == .3 && at.inside);
  }
  for (guint k = 0; k < 2; k++) {
    g_autoptr (SpCurve) one = make (kinds[k], 1, f, value, NULL), two = make (kinds[k], 2, f, value, NULL);
    SpCurveAt here = sp_curve_at (one, 1e8, .3), there = sp_curve_at (one, 1e9, .3), between = sp_curve_at (two, 2e8, .3);
    ck_assert (here.value == 2 && here.inside && here.u == .3 && there.value == 2 && !there.inside && there.u == .3);
    ck_assert_double_eq_tol (between.value, 3.5, 1e-12);
    ck_assert_double_eq_tol (between.u, .3, 1e-12);
  }
  g_autoptr (SpCurve) one = make (SP_CURVE_SQRT, 1, f, value, NULL), two = make (SP_CURVE_SQRT, 2, f, value, NULL);
  ck_assert (one->law_b == 0 && one->law_s == 0 && two->law_s == 0);
  ck_assert_double_eq_tol (sp_curve_at (one, 4e8, 0).value, 4, 1e-12); /* four times f, twice the loss */
  ck_assert_double_eq_tol (sp_curve_at (two, 1e8, 0).value, 2, 1e-12);
  ck_assert_double_eq_tol (sp_curve_at (two, 4e8, 0).value, 5, 1e-12);
}
END_TEST

/* -- random curves -- */

typedef struct {
  guint n;
  double f[24], value[24], u[24];
} Points;

static Points
draw_points (GRand *rand, guint least, gboolean monotone)
{
  Points points = { .n = g_rand_int_range (rand, least, 24) };
  double x = g_rand_double_range (rand, 5, 18), value = g_rand_double_range (rand, -5, 60);

  for (guint i = 0; i < points.n; i++) {
    x += g_rand_boolean (rand) ? g_rand_double_range (rand, 1e-4, 1e-2) : g_rand_double_range (rand, .01, 1);
    value += g_rand_double_range (rand, monotone ? 0 : -20, 20);
    points.f[i] = exp (x);
    points.value[i] = value;
    points.u[i] = g_rand_int_range (rand, 0, 5) ? g_rand_double_range (rand, 0, .5) : NAN;
  }
  return points;
}

START_TEST (smooth_never_overshoots)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (6);

  for (guint round = 0; round < 3000; round++) {
    Points p = draw_points (rand, 3, round % 2);
    g_autoptr (SpCurve) curve = make (SP_CURVE_SMOOTH, p.n, p.f, p.value, p.u);
    for (guint i = 0; i + 1 < p.n; i++) {
      double before = p.value[i], low = fmin (before, p.value[i + 1]), high = fmax (before, p.value[i + 1]);
      for (guint k = 1; k < 20; k++) {
        double value = sp_curve_at (curve, p.f[i] * pow (p.f[i + 1] / p.f[i], k / 20.), .3).value;
        ck_assert_msg (value >= low - 1e-10 && value <= high + 1e-10, "%g not within %g..%g", value, low, high);
        /* between two points it runs one way only */
        ck_assert ((value - before) * (p.value[i + 1] - p.value[i]) >= -1e-9);
        before = value;
      }
    }
  }
}
END_TEST

START_TEST (u_never_falls_outside)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);

  for (guint round = 0; round < 3000; round++) {
    Points p = draw_points (rand, 1, FALSE);
    g_autoptr (SpCurve) curve = make (kinds[round % 3], p.n, p.f, p.value, p.u);
    double below = sp_curve_at (curve, curve->low_hz, .3).u, above = sp_curve_at (curve, curve->high_hz, .3).u;
    for (double ratio = 1.01; ratio < 1e6; ratio *= 3) {
      SpCurveAt down = sp_curve_at (curve, curve->low_hz / ratio, .3), up = sp_curve_at (curve, curve->high_hz * ratio, .3);
      ck_assert (!down.inside && !up.inside && down.u >= below - 1e-12 && up.u >= above - 1e-12);
      below = down.u;
      above = up.u;
    }
  }
}
END_TEST

START_TEST (never_nan)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);
  const double odd[] = { 0, -0.0, -1, -1e300, -INFINITY, INFINITY, NAN, 1e-320, 1e-9, .5, 1, 1.7e308, 2.2e-308 };

  for (guint round = 0; round < 600; round++) {
    Points p = draw_points (rand, 1, FALSE);
    g_autoptr (SpCurve) curve = make (kinds[round % 3], p.n, p.f, p.value, p.u);
    for (guint i = 0; i < G_N_ELEMENTS (odd); i++) {
      SpCurveAt at = sp_curve_at (curve, odd[i], .3);
      ck_assert (isfinite (at.value) && isfinite (at.u) && at.u >= 0 && !at.inside);
      if (!(odd[i] > 0) || round % 3 != 2)
        ck_assert (at.value == sp_curve_at (curve, odd[i] > 1e3 ? curve->high_hz : curve->low_hz, .3).value);
    }
  }
}
END_TEST

START_TEST (many_at_once)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (9);
  const guint most = 3000;
  g_autofree double *f = g_new (double, most), *out = g_new (double, most);

  for (guint round = 0; round < 900; round++) {
    Points p = draw_points (rand, 1, FALSE);
    g_autoptr (SpCurve) curve = make (kinds[round % 3], p.n, p.f, p.value, p.u);
    guint n = round % 7 ? g_rand_int_range (rand, 0, most) : g_rand_int_range (rand, 0, 4);
    double step = p.f[p.n - 1] * g_rand_double_range (rand, .1, 3) / (n + 1), start = g_rand_boolean (rand) ? -2 * step : p.f[0] * .9;
    for (guint i = 0; i < n; i++) {
      f[i] = round % 2 ? start + i * step : p.f[0] * pow (p.f[p.n - 1] / p.f[0] * 1.2, (double) i / n);
      out[i] = i;
    }
    for (guint i = 0; n > 50 && i < p.n; i++) { /* exactly on the points too */
      guint k = 0;
      while (k < n && f[k] < p.f[i])
        k++;
      if (k < n)
        f[k] = p.f[i];
    }
    sp_curve_add_to (curve, n, f, out);
    for (guint i = 0; i < n; i++) {
      double expected = i + sp_curve_at (curve, f[i], .3).value;
      ck_assert_msg (fabs (out[i] - expected) < 1e-6, "kind %d: %.12g, not %.12g at %.12g Hz", kinds[round % 3], out[i], expected, f[i]);
    }
  }
}
END_TEST

START_TEST (values_are_copies)
{
  double f[] = { 1e6, 1e7 }, value[] = { 1, 2 };
  SpCurve *curve = make (SP_CURVE_LINEAR, 2, f, value, NULL), *second = sp_curve_ref (curve);

  f[0] = value[0] = 77;
  sp_curve_unref (curve);
  ck_assert (second->frequency_hz[0] == 1e6 && second->value[0] == 1 && isnan (second->u[1]));
  ck_assert (second->low_hz == 1e6 && second->high_hz == 1e7 && second->n == 2 && second->kind == SP_CURVE_LINEAR);
  sp_curve_unref (second);
}
END_TEST

/* As a random walk that is known at both ends: sqrt (t (1 - t)) of log f, against its middle; by hand. */
START_TEST (between_two_points)
{
  const double f[] = { 1e6, 16e6, 32e6 }, value[] = { 0, 1, 2 };
  g_autoptr (SpCurve) curve = sp_curve_new (SP_CURVE_LINEAR, 3, f, value, NULL, NULL, NULL), one = sp_curve_new_constant (1, 0);
  ck_assert_double_eq_tol (sp_curve_between (curve, 4e6), 1, 1e-12);
  ck_assert_double_eq_tol (sp_curve_between (curve, 2e6), 2 * sqrt (0.25 * 0.75), 1e-12);
  const double none[] = { 1e6, 16e6, 32e6, 0.5e6, 1e9, 0, -1, NAN };
  for (guint i = 0; i < G_N_ELEMENTS (none); i++)
    ck_assert (sp_curve_between (curve, none[i]) == 0 && sp_curve_between (one, none[i]) == 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("curve/curve");
  TCase *tests = tcase_create ("curves");

  tcase_add_test (tests, bad_points);
  tcase_add_test (tests, at_points_and_halfway);
  tcase_add_test (tests, outside_the_span);
  tcase_add_test (tests, few_points);
  tcase_add_test (tests, smooth_never_overshoots);
  tcase_add_test (tests, u_never_falls_outside);
  tcase_add_test (tests, never_nan);
  tcase_add_test (tests, many_at_once);
  tcase_add_test (tests, values_are_copies);
  tcase_add_test (tests, between_two_points);
  suite_add_tcase (s, tests);
  return s;
}

SP_MAIN (suite)
