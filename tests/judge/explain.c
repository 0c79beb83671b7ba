/* explain.c - relations that were put there are found, and frequencies that have none are left alone */
#include "core/judge/emission/spur-relations.h"
#include "tests/suite.h"

#include <gsl/gsl_rng.h>

#define F0 146.52e6

static const double clocks[] = { 26e6, 19.2e6 };

static void
finds (double f, double half_hz, guint n, guint divisor, int m, double clock_hz)
{
  SpRelation r;
  ck_assert_msg (sp_relation_find (f, half_hz, F0, 100, 2, clocks, &r), "%.9g", f);
  ck_assert_msg (r.n == n && r.divisor == divisor && r.m == m && (m == 0 || r.clock_hz == clock_hz), "%.9g: %u/%u f0 %+d x %g", f, r.n,
                 r.divisor, r.m, r.clock_hz);
  ck_assert_double_eq_tol (r.frequency_hz, f, half_hz + 1e3);
  ck_assert (r.chance >= 0 && r.chance <= SP_RELATION_CHANCE);
}

START_TEST (what_was_put_there)
{
  finds (F0 / 2, 1e3, 1, 2, 0, 0);
  finds (3 * F0 / 2, 1e3, 3, 2, 0, 0);
  finds (F0 / 3, 1e3, 1, 3, 0, 0);
  finds (5 * F0 / 3, 1e3, 5, 3, 0, 0);
  finds (11 * F0, 1e3, 11, 1, 0, 0);
  finds (26e6, 1e3, 0, 1, 1, 26e6);
  finds (4 * 19.2e6, 1e3, 0, 1, 4, 19.2e6);
  finds (F0 + 26e6, 1e3, 1, 1, 1, 26e6);
  finds (F0 - 26e6, 1e3, 1, 1, -1, 26e6);
  finds (2 * F0 - 3 * 19.2e6, 1e3, 2, 1, -3, 19.2e6);
  finds (7 * 26e6 - F0, 1e3, 1, 1, -7, 26e6); /* the difference the other way round */
}
END_TEST

START_TEST (the_simplest_first)
{
  SpRelation r;
  double clock = F0 / 2; /* both a half and a clock's own: the clock is of order 1 */
  ck_assert (sp_relation_find (F0 / 2, 1e3, F0, 100, 1, &clock, &r));
  ck_assert (r.n == 0 && r.m == 1);
  ck_assert (sp_relation_find (F0 * 1.5 + 500, 1e3, F0, 100, 0, NULL, &r));
  ck_assert (r.n == 3 && r.divisor == 2);
}
END_TEST

START_TEST (without_a_fundamental_only_clocks)
{
  SpRelation r;
  ck_assert (sp_relation_find (52e6, 1e3, NAN, NAN, 2, clocks, &r));
  ck_assert (r.n == 0 && r.m == 2 && r.clock_hz == 26e6);
  ck_assert (!sp_relation_find (F0 / 2, 1e3, NAN, NAN, 2, clocks, &r));
  ck_assert (!sp_relation_find (F0 / 2, 1e3, NAN, NAN, 0, NULL, &r));
  ck_assert (!sp_relation_find (0, 1e3, F0, 100, 2, clocks, &r));
  ck_assert (!sp_relation_find (52e6, NAN, F0, 100, 2, clocks, &r));
}
END_TEST

/* Frequencies with no relation at all are explained no more often than is said, whatever the tolerance. */
START_TEST (chance_is_bounded)
{
  static const double halves[] = { 100, 1e3, 10e3, 100e3, 1e6, 10e6 };
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  gsl_rng_set (rng, 7 + (gulong) _i);
  guint n = 100000, explained = 0;
  for (guint i = 0; i < n; i++) {
    SpRelation r;
    double f = 20e6 * pow (75, gsl_rng_uniform (rng)); /* to 1.5 GHz */
    explained += sp_relation_find (f, halves[_i], F0, 100, 2, clocks, &r);
  }
  gsl_rng_free (rng);
  ck_assert_msg (explained <= 1.3 * SP_RELATION_CHANCE * n, "%g %%",
                 100. * explained / n); /* the windows are not spread evenly over the octaves */
  if (halves[_i] >= 10e6)
    ck_assert_uint_eq (explained, 0);
  if (halves[_i] == 10e3)
    ck_assert_uint_gt (explained, 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/explain");
  TCase *c = tcase_create ("all");
  tcase_add_test (c, what_was_put_there);
  tcase_add_test (c, the_simplest_first);
  tcase_add_test (c, without_a_fundamental_only_clocks);
  tcase_add_loop_test (c, chance_is_bounded, 0, 6);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
