#include "ui/figure/pen/scale.h"
#include "tests/suite.h"

START_TEST (round_trips)
{
  const SpAxis axes[] = { { &sp_scale_linear, -80, 40, 600, 20 },
                          { &sp_scale_linear, 0, 1.55e9, 40, 960 },
                          { &sp_scale_logarithmic, 9e3, 3e9, 40, 960 } };
  for (guint i = 0; i < G_N_ELEMENTS (axes); i++)
    for (guint k = 0; k <= 100; k++) {
      double value = axes[i].scale->from_unit (k / 100.0, axes[i].from, axes[i].to), place = sp_axis_at (&axes[i], value);
      ck_assert_double_eq_tol (sp_axis_value (&axes[i], place), value, 1e-9 * (fabs (axes[i].to) + fabs (axes[i].from)));
      ck_assert_double_eq_tol (place, axes[i].start + k / 100.0 * (axes[i].end - axes[i].start), 1e-6);
    }
}
END_TEST

START_TEST (equal_ratios_are_equal_lengths)
{
  SpAxis axis = { &sp_scale_logarithmic, 1e6, 1e9, 0, 900 };
  ck_assert_double_eq_tol (sp_axis_at (&axis, 1e7), 300, 1e-9);
  ck_assert_double_eq_tol (sp_axis_at (&axis, 2e8) - sp_axis_at (&axis, 1e8), sp_axis_at (&axis, 2e6) - sp_axis_at (&axis, 1e6), 1e-9);
}
END_TEST

START_TEST (what_has_no_place)
{
  ck_assert (sp_scale_linear.has (0) && sp_scale_linear.has (-3) && !sp_scale_linear.has (NAN) && !sp_scale_linear.has (INFINITY));
  ck_assert (!sp_scale_logarithmic.has (0) && !sp_scale_logarithmic.has (-1) && sp_scale_logarithmic.has (1e-3)
             && !sp_scale_logarithmic.has (NAN));
}
END_TEST

static void
check_ticks (const SpScale *scale, double from, double to, guint most)
{
  SpTick ticks[SP_TICKS_MAX];
  guint n = scale->ticks (from, to, most, ticks), labelled = 0;
  ck_assert_uint_le (n, SP_TICKS_MAX);
  ck_assert_uint_ge (n, 1);
  for (guint i = 0; i < n; i++) {
    ck_assert (ticks[i].value >= from - 1e-6 * fabs (from) - 1e-9 && ticks[i].value <= to + 1e-6 * fabs (to) + 1e-9);
    ck_assert (i == 0 || ticks[i].value > ticks[i - 1].value);
    labelled += ticks[i].labelled ? 1 : 0;
  }
  ck_assert_uint_ge (labelled, 1);
  ck_assert_uint_le (labelled, most + 2); /* the ends may both be whole steps */
}

START_TEST (ticks_are_few_ascending_and_inside)
{
  check_ticks (&sp_scale_linear, -75.3, 43.1, 9);
  check_ticks (&sp_scale_linear, 0, 1.55e9, 11);
  check_ticks (&sp_scale_linear, 146.19e6, 146.21e6, 6);
  for (double top = 1e5; top < 1e11; top *= 3.7)
    for (guint most = 3; most < 14; most += 2)
      check_ticks (&sp_scale_logarithmic, 1e4, top, most);
}
END_TEST

START_TEST (steps_are_one_two_five)
{
  ck_assert_double_eq_tol (sp_nice_step (100, 10), 10, 1e-9);
  ck_assert_double_eq_tol (sp_nice_step (100, 9), 20, 1e-9);
  ck_assert_double_eq_tol (sp_nice_step (1.55e9, 8), 2e8, 1);
  ck_assert_double_eq_tol (sp_nice_step (3e-3, 2), 2e-3, 1e-12);
  ck_assert_double_gt (sp_nice_step (0, 5), 0);
  ck_assert_double_gt (sp_nice_step (NAN, 5), 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("figure/scale");
  TCase *t = tcase_create ("scale");
  tcase_add_test (t, round_trips);
  tcase_add_test (t, equal_ratios_are_equal_lengths);
  tcase_add_test (t, what_has_no_place);
  tcase_add_test (t, ticks_are_few_ascending_and_inside);
  tcase_add_test (t, steps_are_one_two_five);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
