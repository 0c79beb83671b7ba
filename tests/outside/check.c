/* check.c - random checks of an analyzer against a package that propagates uncertainty. The numbers are in check.txt, which check.py made; nothing
 * else is needed here. */
#include "tests/check/check.h"

static double
number (char ***words)
{
  return g_ascii_strtod (*(*words)++, NULL);
}

static SpCheck *
next_case (char **word, SpAnalyzer **analyzer)
{
  SpCheck *check = sp_check_new ();
  check->analyzer = g_strdup ("box");
  check->level_u_db = number (&word);
  check->source_vswr = sp_curve_new_constant (number (&word), NAN);
  double meter = number (&word);
  check->meter_vswr = meter > 0 ? sp_curve_new_constant (meter, NAN) : NULL;
  g_clear_pointer (analyzer, sp_analyzer_unref);
  *analyzer = sp_analyzer_blank ("box");
  (*analyzer)->vswr = sp_curve_new_constant (number (&word), NAN);
  check->resolution_db = number (&word);
  return check;
}

/* Its lead's point joins those of `lead`. */
static void
next_place (SpCheck *check, char **word, GArray *lead)
{
  SpCheckAt *at = sp_check_add_at (check, number (&word), NAN);
  at->level_dbm = number (&word);
  double point[3] = { at->frequency_hz };
  for (guint i = 1; i < 3; i++)
    point[i] = number (&word);
  g_array_append_vals (lead, point, 3);
  for (guint n = (guint) number (&word), i = 0; i < n; i++) {
    double shown = number (&word);
    g_array_append_val (at->shows, shown);
  }
}

static void
finish (SpCheck *check, const GArray *lead, const SpAnalyzer *analyzer, const GArray *is)
{
  guint n = lead->len / 3;
  g_autofree double *column = g_new (double, lead->len);
  for (guint i = 0; i < lead->len; i++)
    column[i % 3 * n + i / 3] = g_array_index (lead, double, i);
  check->lead_loss = sp_curve_new (SP_CURVE_LINEAR, n, column, column + n, column + 2 * n, NULL, NULL);
  g_autoptr (SpCheckResult) result = sp_check_result (check, analyzer, NAN);
  ck_assert_uint_eq (result->n, n);
  for (guint i = 0; i < n; i++) {
    const SpRunSum *sum = &result->points[i].sum;
    const double *want = &g_array_index (is, double, 4 * i);
    const char *source = "uncertainties 3.1.6, scipy 1.10 (check.py)";
    sp_outside ("correction of an analyzer, dB", source, result->points[i].correction_db, want[0], 1e-10);
    sp_outside ("its standard uncertainty, dB", source, sum->u_db, want[1], 1e-10);
    sp_outside ("its degrees of freedom, relative", source, want[2] > 0 ? sum->dof / want[2] - 1 : isinf (sum->dof) - 1, 0, 1e-9);
    sp_outside ("its expanded uncertainty, dB", source, sum->expanded_db, want[3], 1e-8);
  }
}

START_TEST (propagated)
{
  g_autofree char *path = sp_test_path ("tests/outside/check.txt"), *all = NULL;
  ck_assert (g_file_get_contents (path, &all, NULL, NULL));
  g_auto (GStrv) lines = g_strsplit (g_strchomp (all), "\n", -1);
  g_autoptr (GArray) lead = g_array_new (FALSE, FALSE, sizeof (double)), is = g_array_new (FALSE, FALSE, sizeof (double));
  SpCheck *check = NULL;
  g_autoptr (SpAnalyzer) analyzer = NULL;
  guint cases = 0;
  for (char **line = lines; *line; line++) {
    g_auto (GStrv) words = g_strsplit (*line, " ", -1);
    char **word = words + 1;
    if (strcmp (words[0], "case") == 0)
      check = next_case (word, &analyzer), cases++;
    else if (strcmp (words[0], "at") == 0)
      next_place (check, word, lead);
    for (guint i = 0; strcmp (words[0], "is") == 0 && i < 4; i++) {
      double value = number (&word);
      g_array_append_val (is, value);
    }
    if (strcmp (words[0], "is") == 0 && (!line[1] || g_str_has_prefix (line[1], "case"))) {
      finish (check, lead, analyzer, is);
      g_clear_pointer (&check, sp_check_unref);
      g_array_set_size (lead, 0);
      g_array_set_size (is, 0);
    }
  }
  ck_assert_uint_eq (cases, 40);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("outside/check");
  TCase *t = tcase_create ("check");
  tcase_add_test (t, propagated);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
