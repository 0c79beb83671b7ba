/* chain.c - edits of a chain and of an analyzer: keys, stages, what is shared and what is refused */
#include "tests/edit/edited.h"

START_TEST (chain_keys)
{
  SpChain *chain = bench->chain;
  g_autofree char *text = g_strdup (chain->text);
  g_autoptr (SpChain) now = sp_chain_set (chain, 0, "points", "1MHz 20 0.1; 2GHz 21 0.1", &error);
  sp_no_error (error);
  ck_assert_double_eq_tol (sp_stage_loss (now, 0, 1e6, NAN, 0).loss_db, 20, 1e-12);
  ck_assert_ptr_eq (now->stages[1]->two_port, chain->stages[1]->two_port); /* not read again */
  ck_assert_str_eq (now->file, chain->file);
  ck_assert_str_ne (now->sha256, chain->sha256);
  g_autoptr (SpChain) back = sp_chain_set (now, 0, "points", "1MHz 30 0.1; 1GHz 30.5 0.1", &error);
  ck_assert_str_eq (back->sha256, chain->sha256);
  ck_assert_str_eq (back->text, chain->text);
  g_autoptr (SpChain) named = sp_chain_set (chain, -1, "name", "Long # shelf", &error);
  sp_no_error (error);
  g_autofree char *name = sp_chain_get (named, -1, "name"), *points = sp_chain_get (chain, 0, "points"),
                  *none = sp_chain_get (chain, 0, "u_db");
  ck_assert_str_eq (name, "Long # shelf");
  ck_assert_str_eq (points, "1000000 30 0.1; 1000000000 30.5 0.1");
  ck_assert_ptr_null (none);
  refused (sp_chain_set (chain, 0, "points", "1MHz loud", &error), "points");
  refused (sp_chain_set (chain, 0, "kind", NULL, &error), "kind");
  refused (sp_chain_set (chain, 1, "points", "1MHz 1", &error), "points too");
  refused (sp_chain_set (chain, 1, "touchstone", "no such.s2p", &error), "no such.s2p");
  refused (sp_chain_set (chain, 0, "rating w", "1", &error), "small letters");
  ck_assert_str_eq (chain->text, text);
}
END_TEST

static void
check_order (const SpChain *chain, const char *names)
{
  g_autoptr (GString) list = g_string_new (NULL);
  for (guint i = 0; i < chain->n; i++)
    g_string_append_printf (list, "%s%s", i ? "|" : "", chain->stages[i]->name);
  ck_assert_str_eq (list->str, names);
  ck_assert_ptr_nonnull (strstr (chain->text, "\n[stage spare]\nkind=pad\n")); /* of a stage that is not listed */
  ck_assert_ptr_nonnull (strstr (chain->text, "\ncolour=blue\n"));
}

START_TEST (chain_stages)
{
  g_autoptr (SpChain) moved = sp_chain_move_stage (bench->chain, 0, 1, &error);
  check_order (moved, "lead|pad");
  g_autoptr (SpChain) back = sp_chain_move_stage (moved, 0, 1, &error);
  ck_assert_str_eq (back->sha256, bench->chain->sha256);
  g_autoptr (SpChain) added = sp_chain_add_stage (moved, 1, " low; pass [#1] ", SP_STAGE_FILTER, &error);
  sp_no_error (error);
  check_order (added, "lead|low; pass [#1]|pad");
  ck_assert_uint_eq (added->stages[1]->kind, SP_STAGE_FILTER);
  g_autoptr (SpChain) twin = sp_chain_duplicate_stage (added, 2, "pad 2", &error);
  check_order (twin, "lead|low; pass [#1]|pad|pad 2");
  ck_assert_double_eq (twin->stages[3]->rating_w, 10);
  g_autoptr (SpChain) ported = sp_chain_duplicate_stage (twin, 0, "wire", &error);
  sp_no_error (error);
  ck_assert_ptr_eq (ported->stages[1]->two_port, bench->chain->stages[1]->two_port);
  g_autoptr (SpChain) less = sp_chain_remove_stage (twin, 1, &error);
  check_order (less, "lead|pad|pad 2");
  ck_assert_ptr_null (strstr (less->text, "low%3B"));
  SpChain *one = bench->conditions[1].chain;
  refused (sp_chain_remove_stage (one, 0, &error), "at least one");
  refused (sp_chain_add_stage (one, 0, "pad", SP_STAGE_PAD, &error), "already");
  refused (sp_chain_add_stage (bench->chain, 0, "spare", SP_STAGE_PAD, &error), "already");
  refused (sp_chain_add_stage (one, 0, " ", SP_STAGE_PAD, &error), "has a name");
  refused (sp_chain_duplicate_stage (one, 0, "pad", &error), "already");
}
END_TEST

START_TEST (analyzer_keys)
{
  SpAnalyzer *analyzer = bench->conditions[1].analyzer;
  g_autoptr (SpAnalyzer) now = sp_analyzer_set (analyzer, "damage_dbm", "25", &error);
  sp_no_error (error);
  g_autofree char *damage = sp_analyzer_get (now, "damage_dbm"), *odd = sp_analyzer_get (now, "odd"), *none = sp_analyzer_get (now, "vswr");
  ck_assert_double_eq (now->damage_dbm, 25);
  ck_assert_str_eq (damage, "25");
  ck_assert_str_eq (odd, "1");
  ck_assert_ptr_null (none);
  g_autoptr (SpAnalyzer) back = sp_analyzer_set (now, "damage_dbm", "10", &error);
  ck_assert_str_eq (back->sha256, analyzer->sha256);
  g_autoptr (SpAnalyzer) bare = sp_analyzer_set (analyzer, "accuracy_db", NULL, &error);
  ck_assert (bare->accuracy.assumed && !analyzer->accuracy.assumed);
  refused (sp_analyzer_set (analyzer, "accuracy_db", "fine", &error), "accuracy_db");
  refused (sp_analyzer_set (analyzer, "filter", "round", &error), "gaussian");
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chain");
  TCase *c = tcase_create ("chain");
  tcase_add_unchecked_fixture (c, NULL, remove_folder);
  tcase_add_checked_fixture (c, set_up, tear_down);
  tcase_add_test (c, chain_keys);
  tcase_add_test (c, chain_stages);
  tcase_add_test (c, analyzer_keys);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
