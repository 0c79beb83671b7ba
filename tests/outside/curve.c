/* curve.c - interpolation and the cable law against published data, exact mathematics, and a general library run here and now */
#include "core/curve/curve.h"
#include "tests/suite.h"

#include <string.h>

#define MHZ 1e6

/* GSL 2.7, interpolation/test.c, test_steffen2: the knots, and samples of its 129 values. Our abscissa is ln f, so f = exp x. */
static const double steffen_x[] = {
  4.673405471947611,  4.851675778029557,  6.185473620119991,  7.066003430727031,  7.236222118389267,  7.82067161881444,
  8.054504031621493,  8.615033792800752,  9.16666529764867,   9.442092828126395,  10.719577968900381, 11.741967577609238,
  12.564881194673035, 12.938424721515084, 12.985892202096888, 13.995771653255744, 14.459157783380315, 15.834857667614848,
  15.887779086499942, 18.64645279534696,  19.256361741244287, 19.85100457105047,  19.943627313550987, 20.5033910115468,
  20.895380493234843, 21.759942483053962, 21.948984866760803, 22.2504057728461,   22.741860290952104, 23.088720630939164,
};
static const double steffen_y[] = {
  -6.131584089652438, 4.997132870704837,    9.50359639889188,   -3.788474042493764, 1.98825324341826,    -6.553460294945401,
  8.44565760012345,   -3.643687601520438,   -4.720262269613782, -5.31956608504474,  4.7484698519996655,  1.8191111043001218,
  2.7234424260251124, -7.282776099988966,   -6.966038807035955, 2.6047260012112545, -3.6363485275348033, -4.124714595822157,
  -4.820986899771757, -2.8550035950284602,  6.017204757558943,  6.7275899382734075, -9.423359755713639,  -0.3645325139870703,
  6.925739188986089,  -0.07843256857855074, 1.6744315603866244, -8.332083151442944, 6.059246349756446,   -7.360159198725659,
};
static const struct {
  double x, y;
} steffen_samples[] = {
  { 5.0417117751274407, 6.1897906340782765 },   { 5.7783243814871028, 9.083679750243256 },    { 6.3307838362568507, 8.5371013292095554 },
  { 6.8832432910265968, -2.3083133782071208 },  { 7.236222118389267, 1.98825324341826 },      { 7.4357027457963438, -0.31768851396215103 },
  { 7.9881622005660908, 5.5087083141507147 },   { 8.356468503745921, 1.9932653799771245 },    { 8.9089279585156689, -4.3315242293057175 },
  { 9.277234261695499, -5.0157009305506106 },   { 10.013846868055161, -1.0745634258401102 },  { 11.302918929184571, 2.9757785771330334 },
  { 12.223684687134147, 2.3859686670095699 },   { 12.776144141903895, -3.258105131647655 },   { 13.512756748263556, -1.0497645733987406 },
  { 14.249369354623219, -0.91241316251151927 }, { 14.617675657803051, -3.7309363021244821 },  { 15.354288264162712, -3.920664327319995 },
  { 17.01166662847195, -4.4946810436655156 },   { 18.853198144371106, -0.46968123806956008 }, { 19.405657599140852, 6.3291356295622618 },
  { 20.32642335709043, -3.9651685725226056 },   { 21.063035963450094, 6.2377210430025594 },   { 21.98380172139967, 1.3047436323966959 },
  { 22.720414327759332, 5.9794239504090552 },   { 22.90456747934925, 1.5387265272596853 },
};

static SpCurve *
curve_over (SpCurveKind kind, guint n, const double *x, const double *y)
{
  double f[64];
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < n; i++)
    f[i] = exp (x[i]);
  SpCurve *curve = sp_curve_new (kind, n, f, y, NULL, NULL, &error);
  sp_no_error (error);
  return curve;
}

START_TEST (steffen)
{
  g_autoptr (SpCurve) curve = curve_over (SP_CURVE_SMOOTH, G_N_ELEMENTS (steffen_x), steffen_x, steffen_y);

  for (guint i = 0; i < G_N_ELEMENTS (steffen_samples); i++)
    sp_outside ("monotone cubic", "GSL 2.7, interpolation/test.c, test_steffen2", sp_curve_at (curve, exp (steffen_samples[i].x), 0).value,
                steffen_samples[i].y, 1e-10);
}
END_TEST

START_TEST (rpn14)
{
  static const double x[] = { 7.99, 8.09, 8.19, 8.70, 9.20, 10, 12, 15, 20 };
  static const double y[] = { 0, .27643e-4, .4375e-1, .16918, .46943, .94374, .99864, .99992, .99999 };
  static const struct {
    double x, y;
  } rows[] = {
    { 7.99, 0 },         { 9.191, .464023 },  { 10.392, .963099 }, { 11.593, .996146 }, { 12.794, .999224 }, { 13.995, .999764 },
    { 15.196, .999925 }, { 16.397, .999950 }, { 17.598, .999965 }, { 18.799, .999976 }, { 20, .999990 },
  };
  g_autoptr (SpCurve) curve = curve_over (SP_CURVE_SMOOTH, G_N_ELEMENTS (x), x, y);

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    sp_outside ("monotone cubic of RPN14", "data: Fritsch and Carlson 1980; calculated: Steffen 1990, 6 decimals",
                sp_curve_at (curve, exp (rows[i].x), 0).value, rows[i].y, 5e-7);
}
END_TEST

static SpCurve *
cable (guint n, const double *f_mhz, const double *loss, double *worst)
{
  double f[16];
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < n; i++)
    f[i] = f_mhz[i] * MHZ;
  SpCurve *curve = sp_curve_new (SP_CURVE_SQRT, n, f, loss, NULL, NULL, &error);
  sp_no_error (error);
  *worst = 0;
  for (guint i = 0; i < n; i++)
    *worst = fmax (*worst, fabs (sp_curve_at (curve, f[i], 0).value - loss[i]));
  return curve;
}

/* A cable by a stated law, its losses as a table prints them: to 0.1 dB. */
static void
print_table (double a, double b, const double *f_mhz, guint n, double *loss)
{
  for (guint i = 0; i < n; i++)
    loss[i] = round (10 * (a * sqrt (f_mhz[i]) + b * f_mhz[i])) / 10;
}

/* Least squares of loss = a sqrt f + b f by the normal equations. */
static void
fit (const double *f_mhz, const double *loss, guint n, double *a, double *b)
{
  double ff = 0, fh = 0, hh = 0, fl = 0, hl = 0;
  for (guint i = 0; i < n; i++) {
    double h = sqrt (f_mhz[i]), f = f_mhz[i];
    hh += h * h, fh += f * h, ff += f * f, hl += h * loss[i], fl += f * loss[i];
  }
  *a = (hl * ff - fl * fh) / (hh * ff - fh * fh);
  *b = (fl * hh - hl * fh) / (hh * ff - fh * fh);
}

static const double table_mhz[] = { 10, 30, 50, 150, 220, 450, 900, 2500 };

START_TEST (cable_law)
{
  static const double laws[][2] = { { .12, .0003 }, { .6, .008 }, { 1.25, .0007 }, { .7, .002 } };
  const char *source = "calculated: normal equations of a table printed from a stated law";
  for (guint i = 0; i < G_N_ELEMENTS (laws); i++) {
    double loss[8], worst, a, b, most = 0;
    print_table (laws[i][0], laws[i][1], table_mhz, 8, loss);
    fit (table_mhz, loss, 8, &a, &b);
    for (guint k = 0; k < 8; k++)
      most = fmax (most, fabs (loss[k] - a * sqrt (table_mhz[k]) - b * table_mhz[k]));
    g_autoptr (SpCurve) curve = cable (8, table_mhz, loss, &worst);
    sp_outside ("cable law a", source, curve->law_a * 1e3, a, 1e-9);
    sp_outside ("cable law b", source, curve->law_b * 1e6, b, 1e-11);
    sp_outside ("cable law, worst residual", source, worst, most, 1e-9);
    sp_outside ("cable law a, rounding apart", "calculated: the stated law", curve->law_a * 1e3, laws[i][0], 0.02);
  }
}
END_TEST

/* A table with a misprint of 3 dB: the law does not fit, and u must say so. */
START_TEST (bad_fit_shows)
{
  double loss[8], worst, a, b, most = 0, rest = 0;
  print_table (1.5, .015, table_mhz, 8, loss);
  loss[5] -= 3;
  fit (table_mhz, loss, 8, &a, &b);
  for (guint k = 0; k < 8; k++) {
    double r = loss[k] - a * sqrt (table_mhz[k]) - b * table_mhz[k];
    most = fmax (most, fabs (r));
    rest += r * r;
  }
  g_autoptr (SpCurve) curve = cable (8, table_mhz, loss, &worst);
  sp_outside ("cable law over a misprint, worst residual", "calculated: normal equations", worst, most, 1e-9);
  sp_outside ("residual standard deviation", "calculated: sqrt(sum r^2/(n-2))", curve->law_s, sqrt (rest / 6), 1e-9);
  ck_assert_double_gt (curve->law_s, 1);
  ck_assert_double_ge (sp_curve_at (curve, 300 * MHZ, .05).u, curve->law_s);
}
END_TEST

/* -- scipy, run in the test -- */

static gboolean
take_numbers (char ***line, guint n, double *a, double *b, double *c)
{
  for (guint i = 0; i < n; i++)
    if (sscanf (*(*line)++, "%lf %lf %lf", &a[i], &b[i], &c[i]) != 3)
      return FALSE;
  return TRUE;
}

static void
check_curve (char ***line)
{
  char word[16];
  guint n, m;
  double f[64], value[64], u[64], at[64], expected[64], spread[64];

  ck_assert_int_eq (sscanf (*(*line)++, "curve %15s %u %u", word, &n, &m), 3);
  ck_assert (n <= 64 && m <= 64 && take_numbers (line, n, f, value, u) && take_numbers (line, m, at, expected, spread));
  SpCurveKind kind = strcmp (word, "smooth") == 0 ? SP_CURVE_SMOOTH : SP_CURVE_LINEAR;
  g_autoptr (SpCurve) curve = sp_curve_new (kind, n, f, value, u, NULL, NULL);
  /* One check a curve: its worst point. */
  double value_off = 0, u_off = 0, added_off = 0;
  for (guint i = 0; i < m; i++) {
    SpCurveAt got = sp_curve_at (curve, at[i], 0.3);
    double added = 0;
    sp_curve_add_to (curve, 1, &at[i], &added);
    value_off = MAX (value_off, fabs (got.value - expected[i]));
    u_off = MAX (u_off, fabs (got.u - spread[i]));
    added_off = MAX (added_off, fabs (added - expected[i]));
    ck_assert (got.inside && isfinite (got.value + got.u + added));
  }
  sp_outside ("loss between points, worst of a curve", "scipy interp1d / CubicHermiteSpline over log f, run here", value_off, 0, 1e-9);
  sp_outside ("its uncertainty", "scipy, |linear - cubic|/sqrt 3 added in square, run here", u_off, 0, 1e-9);
  sp_outside ("loss added to a trace", "scipy interp1d / CubicHermiteSpline over log f, run here", added_off, 0, 1e-6);
}

static void
check_law (char ***line)
{
  guint n;
  double a, b, s, f[64], value[64], u[64];

  ck_assert_int_eq (sscanf (*(*line)++, "law %u %lf %lf %lf", &n, &a, &b, &s), 4);
  ck_assert (n <= 64 && take_numbers (line, n, f, value, u));
  g_autoptr (SpCurve) curve = sp_curve_new (SP_CURVE_SQRT, n, f, value, u, NULL, NULL);
  double top = f[n - 1];
  sp_outside ("weighted cable law a", "scipy curve_fit, run here", curve->law_a * sqrt (top), a * sqrt (top), 1e-6);
  sp_outside ("weighted cable law b", "scipy curve_fit, run here", curve->law_b * top, b * top, 1e-6);
  sp_outside ("its residual", "scipy curve_fit, run here", curve->law_s, s, 1e-6);
}

START_TEST (scipy)
{
  const char *python = g_file_test ("/usr/bin/python3", G_FILE_TEST_IS_EXECUTABLE) ? "/usr/bin/python3" : "python3";
  g_autofree char *script = sp_test_path ("tests/outside/curve.py"), *output = NULL, *errors = NULL;
  char *command[] = { (char *) python, script, NULL };
  int status = -1;
  guint curves = 0, laws = 0;

  gboolean ran = g_spawn_sync (NULL, command, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &output, &errors, &status, NULL);
  ck_assert_msg (ran && status == 0, "scipy did not run; install python3-scipy and python3-numpy (tests/run does): %s",
                 errors ? errors : "no python3");
  g_auto (GStrv) lines = g_strsplit (output, "\n", -1);
  for (char **line = lines; *line && **line;)
    if (g_str_has_prefix (*line, "curve "))
      check_curve (&line), curves++;
    else
      check_law (&line), laws++;
  ck_assert_msg (curves == 120 && laws == 20, "%u curves and %u laws", curves, laws);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/curve");
  TCase *tests = tcase_create ("curves");

  tcase_add_test (tests, steffen);
  tcase_add_test (tests, rpn14);
  tcase_add_test (tests, cable_law);
  tcase_add_test (tests, bad_fit_shows);
  tcase_add_test (tests, scipy);
  suite_add_tcase (s, tests);
  return s;
}

SP_MAIN (suite)
