#include "core/detection/spectrum.h"
#include "tests/suite.h"

#include <gsl/gsl_randist.h>
#include <string.h>

#define N 700

static void
noise (double *x, guint n, gulong seed)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  gsl_rng_set (rng, seed);
  for (guint i = 0; i < n; i++)
    x[i] = -90 + 10 * log10 (gsl_ran_exponential (rng, 1));
  gsl_rng_free (rng);
}

static int
by_value (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

/* The definition, word for word. NaN: the window is empty. */
static double
plain_quantile (guint n, const double *x, const guint8 *skip, guint half, double p, guint i)
{
  guint width = MIN (n, 2 * half + 1), from = i < half ? 0 : MIN (i - half, n - width), k = 0;
  double v[N];

  for (guint j = from; j < from + width; j++)
    if (!skip || !skip[j])
      v[k++] = x[j];
  qsort (v, k, sizeof *v, by_value);
  return k ? v[(guint)(p * k)] : NAN;
}

START_TEST (quantile_is_its_definition)
{
  static const double ps[] = { 0.01, 0.25, 0.5, 0.9, 0.999 };
  static const guint halves[] = { 0, 1, 3, 50, 349, 350, 351, 5000 };
  double x[N], out[N];
  guint8 skip[N];

  noise (x, N, 5);
  for (guint i = 0; i < N; i++)
    skip[i] = i % 3 == 0;
  for (guint masked = 0; masked < 2; masked++)
    for (guint h = 0; h < G_N_ELEMENTS (halves); h++)
      for (guint k = 0; k < G_N_ELEMENTS (ps); k++) {
        sp_running_quantile (N, x, masked ? skip : NULL, halves[h], ps[k], out);
        for (guint i = 0; i < N; i++) {
          double want = plain_quantile (N, x, masked ? skip : NULL, halves[h], ps[k], i);
          ck_assert (isnan (want) || fabs (out[i] - want) < 0.01);
        }
      }
}
END_TEST

START_TEST (quantile_holds_where_all_is_skipped)
{
  double x[9] = { 1, 2, 3, 4, 5, 6, 7, 8, 9 }, out[9];
  guint8 skip[9] = { 1, 1, 0, 1, 1, 1, 1, 0, 1 };

  sp_running_quantile (9, x, skip, 0, 0.5, out);
  double want[9] = { 3, 3, 3, 3, 3, 8, 8, 8, 8 };
  for (int i = 0; i < 9; i++)
    ck_assert_double_eq_tol (out[i], want[i], 0.01);
  memset (skip, 1, sizeof skip);
  sp_running_quantile (9, x, skip, 1, 0.5, out);
  ck_assert_double_eq_tol (out[4], 5, 0.01);
  sp_running_quantile (0, x, NULL, 1, 0.5, out);
}
END_TEST

START_TEST (quantile_of_the_whole_range)
{
  double x[6] = { -1000, 1000, -1000, 1e9, -1e9, 0 }, out[6];

  sp_running_quantile (6, x, NULL, 0, 0.5, out);
  double want[6] = { -1000, 1000, -1000, 1000, -1000, 0 };
  for (int i = 0; i < 6; i++)
    ck_assert_double_eq_tol (out[i], want[i], 0.01);
}
END_TEST

/* A signal as broad as the window must not lift the floor beyond what a median forgives; a step of the noise is followed. */
START_TEST (floor_leaves_signals_out)
{
  g_autofree double *x = g_new (double, 6000), *clean = g_new (double, 6000), *median = g_new (double, 6000);

  noise (x, 6000, 9);
  for (guint i = 3000; i < 6000; i++)
    x[i] += 20;
  sp_running_quantile (6000, x, NULL, 200, 0.5, clean);
  for (guint i = 1000; i < 1150; i++)
    x[i] = -20;
  sp_noise_floor (6000, x, 200, 0.5, 12, 10, median);
  for (guint i = 0; i < 6000; i++) {
    gboolean near_signal = i > 700 && i<1500, near_step = i> 2750 && i < 3250;
    ck_assert_double_eq_tol (median[i], clean[i], near_signal ? 2 : near_step ? 22 : 0.6);
  }
  ck_assert_double_eq_tol (median[100], -90 - 1.59, 1);
  ck_assert_double_eq_tol (median[5900], -70 - 1.59, 1);
}
END_TEST

/* scipy's walk, without its economy. */
static gboolean
plain_peak (guint n, const double *x, guint i, double prominence)
{
  guint left = i, right = i;

  while (left > 0 && x[left - 1] == x[i])
    left--;
  while (right + 1 < n && x[right + 1] == x[i])
    right++;
  if (left == 0 || right + 1 == n || x[left - 1] > x[i] || x[right + 1] > x[i] || i != (left + right) / 2)
    return FALSE;
  double low_left = x[i], low_right = x[i];
  for (guint j = i + 1; j-- > 0 && x[j] <= x[i];)
    low_left = MIN (low_left, x[j]);
  for (guint j = i; j < n && x[j] <= x[i]; j++)
    low_right = MIN (low_right, x[j]);
  return x[i] - MAX (low_left, low_right) >= prominence;
}

START_TEST (peaks_are_their_definition)
{
  double x[N], height[N];

  for (guint coarse = 0; coarse < 3; coarse++) /* coarse: many plateaus and equal peaks */
  {
    noise (x, N, 100 + _i);
    for (guint i = 0; i < N; i++) {
      x[i] = coarse == 1 ? floor (x[i]) : coarse == 2 ? floor (x[i] / 6) * 6 : x[i];
      height[i] = -92. + i % 7;
    }
    g_autoptr (GArray) peaks = sp_find_peaks (N, x, height, 4);
    guint k = 0;
    for (guint i = 0; i < N; i++) {
      if (!plain_peak (N, x, i, 4) || x[i] < height[i])
        continue;
      ck_assert_uint_lt (k, peaks->len);
      ck_assert_uint_eq (g_array_index (peaks, guint64, k), i);
      k++;
    }
    ck_assert_uint_eq (k, peaks->len);
    ck_assert_msg (k > 0, "no peak at coarseness %u", coarse);
  }
}
END_TEST

START_TEST (peaks_of_little)
{
  double flat[5] = { 1, 1, 1, 1, 1 }, height[5] = { 0, 0, 0, 0, 0 }, rise[5] = { 1, 2, 3, 4, 5 }, tent[5] = { 0, 1, 1, 1, 0 };

  for (guint n = 0; n <= 5; n++) {
    g_autoptr (GArray) none = sp_find_peaks (n, flat, height, 0), up = sp_find_peaks (n, rise, height, 0);
    ck_assert_uint_eq (none->len + up->len, 0);
  }
  g_autoptr (GArray) one = sp_find_peaks (5, tent, height, 1);
  ck_assert_uint_eq (one->len, 1);
  ck_assert_uint_eq (g_array_index (one, guint64, 0), 2);
}
END_TEST

START_TEST (parabola_without_a_bend)
{
  double offset, level;

  sp_parabola (-3, -3, -3, &offset, &level);
  ck_assert_double_eq (offset, 0);
  ck_assert_double_eq (level, -3);
  sp_parabola (-3, -3, -4, &offset, &level);
  ck_assert_double_eq_tol (offset, -0.5, 1e-12);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("detection/spectrum");
  TCase *c = tcase_create ("all");

  tcase_set_timeout (c, 60);
  tcase_add_test (c, quantile_is_its_definition);
  tcase_add_test (c, quantile_holds_where_all_is_skipped);
  tcase_add_test (c, quantile_of_the_whole_range);
  tcase_add_test (c, floor_leaves_signals_out);
  tcase_add_loop_test (c, peaks_are_their_definition, 0, 20);
  tcase_add_test (c, peaks_of_little);
  tcase_add_test (c, parabola_without_a_bend);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
