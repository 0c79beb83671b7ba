/* budget.c - sums of a budget's terms: in square for each column, degrees of freedom by Welch-Satterthwaite, what cancels */
#include "core/budget/budget.h"
#include "tests/suite.h"

#include <math.h>
#include <string.h>

/* A 30 dB pad measured with u 0.1 dB, an analyzer of 0.6 dB accuracy, a level at 300 MHz of P at 100 MHz. (out->terms transfer full) */
static SpBudget
budget_of (gboolean of_power)
{
  GError *error = NULL;
  const char *chain_text = "[chain]\nname=C\nstages=a\n[stage a]\nkind=pad\nrating_w=50\nvswr=1.1\npower_coefficient=0\n"
                           "points=10MHz 30 0.1; 1GHz 30 0.1\n",
             *analyzer_text = "[analyzer]\nname=A\naccuracy_db=0.6\nrepeatability_db=0.1\nvswr=1.5\n";
  g_autoptr (SpKeyFile) chain_file = sp_key_file_parse (chain_text, strlen (chain_text), "c.chain", &error),
                        analyzer_file = sp_key_file_parse (analyzer_text, strlen (analyzer_text), "a.analyzer", &error);
  g_autoptr (SpChain) chain = sp_chain_parse_with (chain_file, NULL, &error);
  sp_no_error (error);
  g_autoptr (SpAnalyzer) analyzer = sp_analyzer_parse (analyzer_file, &error);
  sp_no_error (error);
  SpBudgetView view = {
    .chain = chain, .analyzer = analyzer, .temperature_c = NAN, .radio_vswr = 1.2, .radio_harmonic_vswr = 1.5, .fundamental_hz = 100e6
  };
  SpBudgetReadings readings = { .noise_u_db = 0.2, .carrier_noise_u_db = 0.01, .power_repeat_u_db = 0.5, .power_repeat_dof = 3 };
  SpBudget budget;
  if (of_power)
    sp_budget_power (&view, &readings, &budget);
  else
    sp_budget (&view, 300e6, &readings, 0, &budget);
  return budget;
}

/* There is exactly one. */
static const SpTerm *
only_term (const SpBudget *budget, SpTermKind kind)
{
  const SpTerm *only = NULL;
  for (guint i = 0; i < budget->n; i++)
    if (budget->terms[i].kind == kind) {
      ck_assert_ptr_null (only);
      only = &budget->terms[i];
    }
  ck_assert_ptr_nonnull (only);
  return only;
}

/* A column's u is its terms' in square, its U k times that (JCGM 100, 5.1.2 and 6.2.1). */
START_TEST (terms_add_in_square)
{
  SpBudget budget = budget_of (FALSE);
  ck_assert_uint_gt (budget.n, 4);
  for (int column = SP_BUDGET_LEVEL; column < SP_BUDGET_COLUMNS; column++) {
    SpSum sum = sp_budget_sum (&budget, column);
    double squares = 0;
    for (guint i = 0; i < budget.n; i++)
      squares += pow (sp_term_u_db (&budget.terms[i], column), 2);
    ck_assert_double_gt (sum.u_db, 0);
    ck_assert_double_eq_tol (sum.u_db, sqrt (squares), 1e-12);
    ck_assert_double_eq_tol (sum.expanded_db, sum.k * sum.u_db, 1e-12);
  }
  g_free (budget.terms);
}
END_TEST

/* The stated accuracy is a half-width of a rectangle, 0.6/sqrt 3 (JCGM 100, 4.3.7), in level and P alike: it is gone from their difference. */
START_TEST (what_is_in_both_cancels_in_the_difference)
{
  SpBudget budget = budget_of (FALSE);
  const SpTerm *term = only_term (&budget, SP_TERM_ACCURACY);
  ck_assert_double_eq_tol (term->u_level_db, 0.6 / sqrt (3), 1e-12);
  ck_assert_double_eq (term->u_dbc_db, 0);
  ck_assert (sp_term_cancels (term));
  g_free (budget.terms);
}
END_TEST

/* P as the mean of four sweeps has 3 degrees of freedom of its own: more than 3 in all, and k over the 2 of type B alone (JCGM 100, G.4.1). */
START_TEST (few_readings_widen_k)
{
  SpBudget budget = budget_of (TRUE);
  ck_assert_double_ge (budget.dof_level, 3);
  ck_assert_double_lt (budget.dof_level, 100);
  ck_assert_double_gt (budget.k_level, 2);
  ck_assert_double_lt (budget.k_level, 3.31);
  g_free (budget.terms);
}
END_TEST

/* An emission's limit follows the P that other sweeps tell: their scatter is in P, dBc and margin, with its degrees of freedom, and not in the level. */
START_TEST (another_sweeps_power_widens_the_margin)
{
  SpBudget budget = budget_of (FALSE);
  const SpTerm *term = only_term (&budget, SP_TERM_REPEATS);
  ck_assert_double_eq (term->u_level_db, 0);
  ck_assert_double_eq (term->u_power_db, 0.5);
  ck_assert_double_eq (term->u_dbc_db, 0.5);
  ck_assert_double_eq_tol (term->dof_power, 3, 1e-12);
  ck_assert_double_lt (budget.dof_power, 100);
  g_free (budget.terms);
}
END_TEST

START_TEST (of_what_was_not_swept_nothing_is_known)
{
  SpBudget none;
  sp_budget_none (&none);
  ck_assert (none.n == 0 && isnan (none.u_level_db) && isnan (none.expanded_margin_db) && isnan (none.u_dbc_db));
}
END_TEST

/* ---- the table in core/docs ---- */

#define HEAD "\n| term | level | P | dBc |\n|---|---|---|---|\n"

/* The names in a row's first cell, such as "noise, sampling" or "chain (curves, connectors)", into `names`. */
static void
take_names (GHashTable *names, const char *row)
{
  g_auto (GStrv) cells = g_strsplit (row, "|", 3);
  g_auto (GStrv) parts = g_strsplit (cells[1], "(", 2);
  g_auto (GStrv) found = g_strsplit (parts[0], ",", -1);
  for (guint i = 0; found[i]; i++)
    g_hash_table_add (names, g_strdup (g_strstrip (found[i])));
}

/* Every kind of term has a name and a row, and no row is of anything else. */
START_TEST (the_page_tells_every_term)
{
  g_autofree char *path = sp_test_path ("core/docs/computation.md"), *page = NULL;
  ck_assert_msg (g_file_get_contents (path, &page, NULL, NULL), "%s", path);
  const char *table = strstr (page, HEAD);
  ck_assert_msg (table, "no table of terms in core/docs/computation.md");
  g_auto (GStrv) rows = g_strsplit (table + strlen (HEAD), "\n", -1);
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (guint i = 0; rows[i] && rows[i][0] == '|'; i++)
    take_names (names, rows[i]);
  guint told = g_hash_table_size (names);
  for (guint kind = 0; kind < SP_N_TERMS; kind++) {
    ck_assert_msg (sp_term_name (kind), "term %u has no name", kind);
    ck_assert_msg (g_hash_table_contains (names, sp_term_name (kind)), "%s: no row in core/docs/computation.md", sp_term_name (kind));
  }
  ck_assert_uint_eq (told, SP_N_TERMS);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("budget");
  TCase *t = tcase_create ("budget");
  tcase_add_test (t, terms_add_in_square);
  tcase_add_test (t, what_is_in_both_cancels_in_the_difference);
  tcase_add_test (t, few_readings_widen_k);
  tcase_add_test (t, another_sweeps_power_widens_the_margin);
  tcase_add_test (t, the_page_tells_every_term);
  tcase_add_test (t, of_what_was_not_swept_nothing_is_known);
  suite_add_tcase (s, t);
  return s;
}

SP_MAIN (suite)
