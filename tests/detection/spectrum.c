#include "core/detection/spectrum.h"
#include "tests/suite.h"

#include <gsl/gsl_randist.h>
#include <string.h>
#include <time.h>

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
  double x = *(const double *) a, y = *(const double *) b;
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
  return k ? v[(guint) (p * k)] : NAN;
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

/* Worked out in two halves at once: right about their seam and at both ends. */
START_TEST (quantile_of_a_long_trace)
{
  const guint n = 200001, half = 60, places[] = { 0, 100000 - 200, 200001 - 400 };
  g_autofree double *x = g_new (double, n), *out = g_new (double, n);

  noise (x, n, 6);
  sp_running_quantile (n, x, NULL, half, 0.5, out);
  for (guint k = 0; k < G_N_ELEMENTS (places); k++)
    for (guint i = places[k]; i < places[k] + 400; i++)
      ck_assert (fabs (out[i] - plain_quantile (n, x, NULL, half, 0.5, i)) < 0.01);
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

/* As judging asks for it: sides differ by 2.5 of their u, which is that of a median of readings (1.25 of their spread over the root of their number). */
static SpNoiseWindow
window_of (guint half, guint guard, double spread_db)
{
  return (SpNoiseWindow){ .half = half,
                          .least = MAX (MIN (25, half), half / 8),
                          .p = 0.5,
                          .exclude_db = 12,
                          .guard = guard,
                          .agree_db = 2.5 * M_SQRT2 * 1.2533 * spread_db / sqrt (half) };
}

/* A signal does not lift the floor, a step of the noise is followed; at its foot and edge the higher side stands. */
START_TEST (floor_leaves_signals_out)
{
  g_autofree double *x = g_new (double, 6000), *clean = g_new (double, 6000), *level = g_new (double, 6000);
  SpNoiseWindow w = window_of (200, 10, 5);

  noise (x, 6000, 9);
  for (guint i = 3000; i < 6000; i++)
    x[i] += 20;
  sp_running_quantile (6000, x, NULL, 200, 0.5, clean);
  for (guint i = 1000; i < 1080; i++)
    x[i] = -20;
  sp_noise_floor (6000, x, &w, level);
  for (guint i = 0; i < 6000; i++) {
    gboolean near_signal = i > 700 && i<1400, near_step = i> 2750 && i < 3250;
    ck_assert_double_eq_tol (level[i], clean[i], near_signal ? 3.5 : near_step ? 22 : 2.2);
    if (near_step)
      ck_assert_double_ge (level[i], i < 3000 ? -93 : -73);
  }
  ck_assert_double_eq_tol (level[100], -90 - 1.59, 1);
  ck_assert_double_eq_tol (level[5900], -70 - 1.59, 1);
}
END_TEST

/* One side of a point, word for word; NaN: too few are kept. */
static double
plain_side (const double *x, const guint8 *skip, const SpNoiseWindow *w, guint i, int step, guint *k)
{
  double v[N];
  int j = step > 0 ? MIN ((int) i, N - 1 - (int) w->half) : MAX ((int) i, (int) w->half);
  *k = 0;
  for (guint walked = 0; j >= 0 && j < N && (walked <= w->half || (*k < w->least && walked <= 4 * w->half)); j += step, walked++)
    if (!skip[j])
      v[(*k)++] = x[j];
  qsort (v, *k, sizeof *v, by_value);
  return *k >= w->least ? v[*k / 2] : NAN;
}

/* Where sides never differ too much the floor is the mean of the two, and marking goes by it twice: strong groups, then all. */
START_TEST (floor_is_its_definition)
{
  static const guint halves[] = { 4, 50, 348 }, guards[] = { 1, 2, 30 };
  double x[N], got[N];
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  gsl_rng_set (rng, 60 + _i);
  noise (x, N, 60 + _i);
  for (guint k = 0; k < (guint) _i * 3; k++) { /* lines, and signals as broad as windows */
    guint from = gsl_rng_uniform_int (rng, N), width = k % 4 ? 1 : 1 + gsl_rng_uniform_int (rng, 60);
    for (guint i = from; i < MIN (N, from + width); i++)
      x[i] = k % 2 ? -40 : -62.3;
  }
  for (guint h = 0; h < G_N_ELEMENTS (halves); h++)
    for (guint g = 0; g < G_N_ELEMENTS (guards); g++) {
      SpNoiseWindow w = window_of (halves[h], guards[g], 5);
      double want[N];
      guint8 skip[N] = { 0 };
      w.agree_db = INFINITY;
      for (guint round = 0; round < 3; round++) {
        for (guint i = 0; i < N; i++) {
          guint k;
          double l = plain_side (x, skip, &w, i, -1, &k), r = plain_side (x, skip, &w, i, 1, &k);
          if (!isnan (l) || !isnan (r))
            want[i] = isnan (l) ? r : isnan (r) ? l : (l + r) / 2;
        }
        double over = round == 0 ? 27 : 12; /* feet of the strong, then all */
        for (guint i = 0; i < N && round < 2; i++) {
          guint last = i;
          gboolean strong = round == 1;
          for (guint j = i; j < N && j - last <= guards[g] && x[i] > want[i] + over; j++)
            if (x[j] > want[j] + over) {
              last = j;
              strong |= x[j] > want[j] + 42;
            }
          for (guint j = i < guards[g] ? 0 : i - guards[g]; strong && x[i] > want[i] + over && j < MIN (N, last + guards[g] + 1); j++)
            skip[j] = TRUE;
          i = MAX (i, last);
        }
      }
      sp_noise_floor (N, x, &w, got);
      for (guint i = 0; i < N; i++)
        ck_assert_msg (fabs (got[i] - want[i]) < 0.02, "half %u, guard %u, point %u: %g, not %g", halves[h], guards[g], i, got[i], want[i]);
    }
  gsl_rng_free (rng);
}
END_TEST

/* Neither end of a trace is the first. */
START_TEST (floor_of_a_trace_turned_round)
{
  double x[N], turned[N], level[N], other[N];
  noise (x, N, 400 + _i);
  for (guint i = 0; i < N; i++)
    x[i] += (i > 300 ? 8 : 0) + (i % 97 == 5 ? 25 : 0) + (i / 3 == 200 ? 60 : 0);
  for (guint i = 0; i < N; i++)
    turned[i] = x[N - 1 - i];
  SpNoiseWindow w = window_of (20 + 10 * (guint) _i, 2, 5);
  sp_noise_floor (N, x, &w, level);
  sp_noise_floor (N, turned, &w, other);
  for (guint i = 0; i < N; i++)
    ck_assert_double_eq (level[i], other[N - 1 - i]);
}
END_TEST

/* All points lie within the guard of a line: as many windows as there are find nothing that is kept. */
START_TEST (floor_of_nothing_but_lines)
{
  guint n = 300000;
  g_autofree double *x = g_new (double, n), *level = g_new (double, n);
  noise (x, n, 8);
  for (guint i = 0; i < n; i += 5)
    x[i] += 60;
  SpNoiseWindow w = window_of (50, 2, 5);
  sp_noise_floor (n, x, &w, level);
  for (guint i = 0; i < n; i++)
    ck_assert_double_eq_tol (level[i], -90, 6);
  for (guint m = 1; m < 40; m++)
    sp_noise_floor (m, x, &w, level);
  sp_noise_floor (0, x, &w, level);
}
END_TEST

/* Processor seconds for the first n points; the least of three, for the machine has other work. */
static double
seconds_of_floor (guint n, const double *x, double *level)
{
  SpNoiseWindow w = window_of (50, 2, 5);
  double least = INFINITY;
  for (guint i = 0; i < 3; i++) {
    clock_t begun = clock ();
    sp_noise_floor (n, x, &w, level);
    least = fmin (least, (double) (clock () - begun) / CLOCKS_PER_SEC);
  }
  return least;
}

/* Ten times the points take some ten times as long; a hundred times if it were not linear. */
START_TEST (floor_is_linear)
{
  guint n = 300000;
  g_autofree double *x = g_new (double, n), *level = g_new (double, n);
  noise (x, n, 8);
  for (guint i = 0; i < n; i += 5)
    x[i] += 60;
  double few = seconds_of_floor (n / 10, x, level), many = seconds_of_floor (n, x, level);
  ck_assert_msg (many < 30 * few, "%g s for a tenth, %g s for all", few, many);
}
END_TEST

#define LONG 20000
#define HALF 200

/* Noise of a hundred averages round `level`: its median is known to a few hundredths of a dB. */
static void
steady_noise (double *x, double (*level) (guint i), gsl_rng *rng)
{
  for (guint i = 0; i < LONG; i++)
    x[i] = level (i) + 10 * log10 (gsl_ran_gamma (rng, 100, 0.01));
}

static double
level_ground (guint i)
{
  (void) i;
  return -90;
}

static double
step_of_10_db (guint i)
{
  return i < LONG / 2 ? -95 : -85;
}

static double
slope_of_10_db_a_decade (guint i)
{
  return -60 - 10 * log10 (1 + i / (LONG / 999.)); /* three decades over the span, the steepest at its start */
}

static double
slope_down_up (guint i)
{
  return -90 + 10 * log10 (1 + abs ((int) i - LONG / 2) / (LONG / 999.));
}

/* Steps and slopes of the noise are followed to half a dB, but within half a window of an edge; on a bend within what half a window sees of it. */
START_TEST (floor_follows_steps_and_slopes)
{
  static double (*const grounds[]) (guint) = { level_ground, step_of_10_db, slope_of_10_db_a_decade, slope_down_up };
  g_autofree double *x = g_new (double, LONG), *level = g_new (double, LONG);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  gsl_rng_set (rng, 5 + _i);
  SpNoiseWindow w = window_of (HALF, 5, 0.44);
  for (guint k = 0; k < G_N_ELEMENTS (grounds); k++) {
    steady_noise (x, grounds[k], rng);
    sp_noise_floor (LONG, x, &w, level);
    for (guint i = HALF; i < LONG - HALF; i++) {
      double within = fabs (grounds[k](i - HALF) - 2 * grounds[k](i) + grounds[k](i + HALF));
      double over = level[i] - grounds[k](i);
      if (within < 0.5) /* straight enough over the window; on a steep slope the safe side */
        ck_assert_msg (over > -0.5 && over < 1, "ground %u, point %u: %g, not %g", k, i, level[i], grounds[k](i));
      ck_assert_double_lt (fabs (level[i] - grounds[k](i)), 10.5);
    }
    if (k == 1) {
      ck_assert_double_eq_tol (level[LONG / 2 - HALF / 2], -95, 0.5);
      ck_assert_double_eq_tol (level[LONG / 2 + HALF / 2], -85, 0.5);
    }
  }
  gsl_rng_free (rng);
}
END_TEST

/* A fifth of the points are lines, 14 to 60 dB over the noise: it stays where it was, as well as fewer readings can tell. */
START_TEST (floor_under_a_forest)
{
  g_autofree double *x = g_new (double, LONG), *clean = g_new (double, LONG), *level = g_new (double, LONG);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  gsl_rng_set (rng, 15 + _i);
  SpNoiseWindow w = window_of (HALF, 1, 0.44);
  steady_noise (x, level_ground, rng);
  sp_noise_floor (LONG, x, &w, clean);
  for (guint i = 0; i < LONG; i++)
    if (gsl_rng_uniform (rng) < 0.2)
      x[i] += 14 + 46 * gsl_rng_uniform (rng);
  sp_noise_floor (LONG, x, &w, level);
  gsl_rng_free (rng);
  for (guint i = 0; i < LONG; i++)
    ck_assert_double_eq_tol (level[i], clean[i], 0.7);
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
  double x[N], base[N];

  for (guint coarse = 0; coarse < 3; coarse++) /* coarse: many plateaus and equal peaks */
  {
    noise (x, N, 100 + _i);
    for (guint i = 0; i < N; i++) {
      x[i] = coarse == 1 ? floor (x[i]) : coarse == 2 ? floor (x[i] / 6) * 6 : x[i];
      base[i] = -95. + i % 7;
    }
    g_autoptr (GArray) peaks = sp_find_peaks (N, x, base, 3, 4);
    guint k = 0;
    for (guint i = 0; i < N; i++) {
      if (!plain_peak (N, x, i, 4) || x[i] < base[i] + 3)
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
    g_autoptr (GArray) none = sp_find_peaks (n, flat, height, 0, 0), up = sp_find_peaks (n, rise, height, 0, 0);
    ck_assert_uint_eq (none->len + up->len, 0);
  }
  g_autoptr (GArray) one = sp_find_peaks (5, tent, height, 0, 1);
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
  tcase_add_test (c, quantile_of_a_long_trace);
  tcase_add_test (c, quantile_holds_where_all_is_skipped);
  tcase_add_test (c, quantile_of_the_whole_range);
  tcase_add_test (c, floor_leaves_signals_out);
  tcase_add_loop_test (c, floor_is_its_definition, 0, 12);
  tcase_add_loop_test (c, floor_of_a_trace_turned_round, 0, 8);
  tcase_add_test (c, floor_of_nothing_but_lines);
  tcase_add_test (c, floor_is_linear);
  tcase_add_loop_test (c, floor_follows_steps_and_slopes, 0, 5);
  tcase_add_loop_test (c, floor_under_a_forest, 0, 5);
  tcase_add_loop_test (c, peaks_are_their_definition, 0, 20);
  tcase_add_test (c, peaks_of_little);
  tcase_add_test (c, parabola_without_a_bend);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
