/* suite.h - what every Check suite here shares
 *
 * A suite is a file with `static Suite *suite (void)` and SP_MAIN. Checks against something outside the project go through sp_outside():
 * it names the source beside the number, fails like any assertion, and prints one line from which tests/run tells how many
 * there were and the largest deviation over its tolerance.
 */
#pragma once

#include <check.h>
#include <glib.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static inline void
sp_outside_at (const char *place, const char *what, const char *source, double got, double want, double tolerance)
{
  double ratio = got == want ? 0 : fabs (got - want) / tolerance;
  printf ("outside\t%.4g\t%s\t%s\t%s\n", ratio, what, source, place);
  fflush (stdout);
  ck_assert_msg (ratio <= 1, "%s: %s: got %.17g, %s says %.17g +- %g", place, what, got, source, want, tolerance);
}

/* The same check against something of our own, such as a simulation: not counted among those from outside. */
static inline void
sp_near (const char *what, const char *source, double got, double want, double tolerance)
{
  ck_assert_msg (fabs (got - want) <= tolerance, "%s: got %.17g, %s says %.17g +- %g", what, got, source, want, tolerance);
}

/* `source`: standard and clause, book and equation, handbook table; "calculated: FORMULA" for exact mathematics; ", from memory" where it is. */
#define sp_outside(what, source, got, want, tolerance) sp_outside_at (G_STRLOC, what, source, got, want, tolerance)

/* Folder of test inputs: the source tree's tests/ (set by Meson). */
static inline char *
sp_test_path (const char *relative)
{
  const char *top = g_getenv ("SP_SOURCE_ROOT");
  return g_build_filename (top ? top : ".", relative, NULL);
}

#define sp_no_error(error) ck_assert_msg ((error) == NULL, "unexpected error: %s", (error) ? (error)->message : "")

/* What main() returns. */
static inline int
sp_run_suite (Suite *suite)
{
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

#define SP_MAIN(suite_function)                                                                                                            \
  int main (void)                                                                                                                          \
  {                                                                                                                                        \
    return sp_run_suite (suite_function ());                                                                                               \
  }
