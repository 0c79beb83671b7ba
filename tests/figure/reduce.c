#include "ui/figure/plot/reduce.h"
#include "core/quantity/ascending.h"
#include "tests/suite.h"

#define N 100000

static double *
ramp (guint64 n)
{
  double *x = g_new (double, n);
  for (guint64 i = 0; i < n; i++)
    x[i] = 1e6 * (double) i;
  return x;
}

static double *
noise (guint64 n, guint32 seed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  double *y = g_new (double, n);
  for (guint64 i = 0; i < n; i++)
    y[i] = -50 + 10 * log10 (-log (1 - g_rand_double (rand)));
  return y;
}

/* Against the plain definition, point by point. */
static void
check_with (const SpAxis *axis, guint64 n, const double *x, const double *y, const SpPyramid *pyramid, guint n_columns)
{
  g_autofree SpColumn *columns = g_new (SpColumn, n_columns);
  sp_reduce (axis, n, x, y, pyramid, n_columns, columns);
  guint64 seen = 0;
  for (guint i = 0; i < n_columns; i++) {
    double least = INFINITY, greatest = -INFINITY, sum = 0;
    for (guint64 k = columns[i].first; k < columns[i].first + columns[i].count; k++) {
      double unit = axis->scale->to_unit (x[k], axis->from, axis->to) * n_columns;
      ck_assert (unit >= i - 1e-6 && unit <= i + 1 + 1e-6);
      least = MIN (least, y[k]);
      greatest = MAX (greatest, y[k]);
      sum += y[k];
    }
    seen += columns[i].count;
    if (!columns[i].count) {
      ck_assert (isnan (columns[i].least) && isnan (columns[i].greatest));
      continue;
    }
    ck_assert_double_eq (columns[i].least, least);
    ck_assert_double_eq (columns[i].greatest, greatest);
    ck_assert_double_eq_tol (columns[i].middle, sum / (double) columns[i].count, 1e-9);
    guint64 peak = columns[i].first;
    while (y[peak] < greatest)
      peak++;
    ck_assert_uint_eq (sp_column_peak (&columns[i], y, pyramid), peak);
  }
  guint64 inside = 0;
  for (guint64 k = 0; k < n; k++)
    inside += x[k] >= axis->from && x[k] <= axis->to ? 1 : 0;
  ck_assert_uint_eq (seen, inside);
}

static void
check_against_definition (const SpAxis *axis, guint64 n, const double *x, const double *y, guint n_columns)
{
  g_autoptr (SpPyramids) pyramids = sp_pyramids_new ();
  check_with (axis, n, x, y, NULL, n_columns);
  check_with (axis, n, x, y, sp_pyramids_of (pyramids, n, y), n_columns);
  ck_assert_ptr_eq (sp_pyramids_of (pyramids, n, y), sp_pyramids_of (pyramids, n, y));
  ck_assert_ptr_null (sp_pyramids_of (NULL, n, y));
}

START_TEST (extremes_are_kept)
{
  g_autofree double *x = ramp (N), *y = NULL;
  y = noise (N, 3);
  const SpAxis axes[] = { { &sp_scale_linear, x[0], x[N - 1], 0, 930 },
                          { &sp_scale_linear, 3.1e9, 3.7e9, 0, 930 },
                          { &sp_scale_linear, -5e9, 2e11, 0, 930 },
                          { &sp_scale_logarithmic, 5e6, 9e10, 0, 930 } };
  for (guint i = 0; i < G_N_ELEMENTS (axes); i++) {
    check_against_definition (&axes[i], N, x, y, 930);
    check_against_definition (&axes[i], N, x, y, 7);
  }
  check_against_definition (&axes[0], 2, x, y, 930);
}
END_TEST

/* Points that crowd in one place and are rare in another: the search may not count on the last column. */
START_TEST (uneven_points)
{
  g_autofree double *x = ramp (N), *y = noise (N, 6);
  for (guint64 i = 0; i < N; i++)
    x[i] = i < N / 2 ? 1e6 * (double) i : 1e6 * N / 2 + 1e3 * (double) (i - N / 2) + (i > N / 2 + 2000 ? 7e9 : 0);
  const SpAxis axes[] = { { &sp_scale_linear, x[0], x[N - 1], 0, 930 },
                          { &sp_scale_linear, x[N / 2 - 9], x[N / 2 + 9], 0, 930 },
                          { &sp_scale_logarithmic, 1e6, x[N - 1], 0, 930 } };
  for (guint i = 0; i < G_N_ELEMENTS (axes); i++) {
    check_against_definition (&axes[i], N, x, y, 930);
    check_against_definition (&axes[i], N, x, y, 13);
  }
}
END_TEST

START_TEST (a_single_high_point_survives)
{
  g_autofree double *x = ramp (N), *y = noise (N, 4);
  g_autofree SpColumn *columns = g_new (SpColumn, 900);
  SpAxis axis = { &sp_scale_linear, x[0], x[N - 1], 0, 900 };
  y[54321] = 12;
  sp_reduce (&axis, N, x, y, NULL, 900, columns);
  sp_reduce_peaks (900, columns);
  guint standing = 0;
  for (guint i = 0; i < 900; i++)
    if (columns[i].stands_out) {
      standing++;
      ck_assert_uint_eq (sp_column_peak (&columns[i], y, NULL), 54321);
    }
  ck_assert_uint_eq (standing, 1);
}
END_TEST

START_TEST (noise_alone_does_not_stand_out)
{
  g_autofree double *x = ramp (N), *y = NULL;
  y = noise (N, 5);
  g_autofree SpColumn *columns = g_new (SpColumn, 1000);
  SpAxis axis = { &sp_scale_linear, x[0], x[N - 1], 0, 1000 };
  sp_reduce (&axis, N, x, y, NULL, 1000, columns);
  sp_reduce_peaks (1000, columns);
  for (guint i = 0; i < 1000; i++)
    ck_assert (!columns[i].stands_out);
}
END_TEST

START_TEST (search)
{
  const double x[] = { 1, 2, 2.5, 7 };
  ck_assert_uint_eq (sp_ascending_first (4, x, 0), 0);
  ck_assert_uint_eq (sp_ascending_first (4, x, 2), 1);
  ck_assert_uint_eq (sp_ascending_first (4, x, 2.1), 2);
  ck_assert_uint_eq (sp_ascending_first (4, x, 8), 4);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("figure/reduce");
  TCase *t = tcase_create ("reduce");
  tcase_add_test (t, extremes_are_kept);
  tcase_add_test (t, uneven_points);
  tcase_add_test (t, a_single_high_point_survives);
  tcase_add_test (t, noise_alone_does_not_stand_out);
  tcase_add_test (t, search);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
