/* chains.c - every chain that the bench holds is shown and edited on the chain's page: the bench's, a condition's own, that of step and notched sweeps */
#include "tests/pages/form-room.h"

#define NOTCHED 5 /* the condition of the sample that was swept through the stub too */

static void
open_pocket (void)
{
  remove_drafts ();
  opened_sheet = "samples/pocket.sheet";
  open_chain ();
}

static GtkDropDown *
places (void)
{
  return GTK_DROP_DOWN (chain_page->places);
}

static char *
place_named (guint index)
{
  return g_strdup (gtk_string_list_get_string (GTK_STRING_LIST (gtk_drop_down_get_model (places ())), index));
}

/* By the words that are read. */
static void
choose_place (const char *words)
{
  for (guint i = 0; i < g_list_model_get_n_items (gtk_drop_down_get_model (places ())); i++) {
    g_autofree char *name = place_named (i);
    if (strcmp (name, words) == 0) {
      gtk_drop_down_set_selected (places (), i);
      settle ();
      gtk_test_widget_wait_for_draw (page);
      return;
    }
  }
  ck_abort_msg ("no place %s", words);
}

static SpChain *
notched (void)
{
  const SpCondition *condition = &sp_session_bench (session)->conditions[NOTCHED];
  for (guint i = 0; i < condition->n_sweeps; i++)
    if (condition->sweeps[i].purpose == SP_PURPOSE_NOTCHED)
      return condition->sweeps[i].chain;
  return NULL;
}

static const char *
shown_name (void)
{
  return gtk_label_get_text (GTK_LABEL (chain_page->chain_name));
}

START_TEST (one_of_notched_sweeps_is_edited)
{
  const SpChain *bench_chain = chain ();
  ck_assert_str_eq (shown_name (), bench_chain->name);
  ck_assert (gtk_widget_get_visible (chain_page->places));
  choose_place ("of Fennimarch/with the stub, notched");
  ck_assert_uint_eq (sp_session_condition (session), NOTCHED); /* chosen with its chain */
  ck_assert_str_eq (shown_name (), "Course chain with the stub");
  ck_assert_ptr_nonnull (find (page, is_label, "keyed sweep"));
  ck_assert_ptr_nonnull (find (chain_page->totals, is_label, "chain alone"));
  choose_stage (1);
  ck_assert_str_eq (shown_in (SP_FIELDS (chain_page->stage_fields), "name"), "brick");
  type_into (SP_FIELDS (chain_page->stage_fields), "rating_w", "20");
  ck_assert_double_eq (notched ()->stages[1]->rating_w, 20);
  ck_assert_ptr_eq (chain (), bench_chain); /* and nothing else */
  expect_edit ("Change the rating of brick");
  ck_assert_str_eq (shown_name (), "Course chain with the stub"); /* stays in sight */
  undo_and_compare ();
  ck_assert_str_eq (shown_in (SP_FIELDS (chain_page->stage_fields), "rating_w"), "25");
  act ("chain.down");
  ck_assert_str_eq (notched ()->stages[2]->name, "brick");
  expect_edit ("Move brick");
  undo_and_compare ();
  type_into (SP_FIELDS (chain_page->chain_fields), "name", "Stubbed");
  ck_assert_str_eq (notched ()->name, "Stubbed");
  undo_and_compare ();
  ck_assert_uint_eq (troubles, 0);
}
END_TEST

/* Both have a stage of that name. */
START_TEST (a_form_is_of_its_own_chain)
{
  choose_stage (1);
  SpRunForm *form = open_form ();
  type_key (form, "note", "of the bench's brick");
  close_window (GTK_WIDGET (form));
  choose_place ("of Fennimarch/with the stub, notched");
  choose_stage (1);
  form = open_form ();
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), "");
  for (guint i = 0; i < form->table.rows->len; i++)
    type_cell (form, i, SP_RUN_FREQUENCY, "");
  type_cell (form, 0, SP_RUN_FREQUENCY, "146MHz");
  type_cell (form, 0, SP_RUN_BEFORE, "0.01");
  type_cell (form, 0, SP_RUN_INSERTED, "-29.97; -29.98");
  press (GTK_WIDGET (form), "_Take into the stage");
  ck_assert_ptr_nonnull (notched ()->stages[1]->run);
  ck_assert_ptr_null (chain ()->stages[1]->run);
  expect_edit ("Calibrate brick by substitution");
  undo_and_compare ();
  choose_place ("of the bench");
  form = open_form ();
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), "of the bench's brick");
  close_window (GTK_WIDGET (form));
}
END_TEST

START_TEST (the_page_follows_what_is_there)
{
  GError *error = NULL;
  choose_place ("of Fennimarch/with the stub, notched");
  sp_session_choose (session, 0, -1); /* another condition: its chain */
  settle ();
  ck_assert_str_eq (shown_name (), chain ()->name);
  g_autoptr (SpChain) own = sp_chain_set (chain (), -1, "name", "Own shelf", &error);
  sp_no_error (error);
  ck_assert (sp_session_edit (session, sp_bench_set_own (sp_session_bench (session), 0, SP_RESOURCE_CHAIN, own, &error), "Own", NULL));
  settle ();
  ck_assert_str_eq (shown_name (), "Own shelf");
  choose_place ("of the bench");
  ck_assert_str_ne (shown_name (), "Own shelf");
  choose_stage (1);
  type_into (SP_FIELDS (chain_page->stage_fields), "rating_w", "20");
  ck_assert_double_eq (chain ()->stages[1]->rating_w, 20);
  ck_assert_double_eq (sp_session_bench (session)->conditions[0].chain->stages[1]->rating_w, 25);
  sp_session_undo (session);
  g_autofree char *condition = sp_condition_name (sp_session_bench (session), &sp_session_bench (session)->conditions[0]);
  g_autofree char *words = g_strdup_printf ("of %s", condition);
  choose_place (words);
  ck_assert_str_eq (shown_name (), "Own shelf");
  undo_and_compare (); /* the chain is gone from under the page */
  ck_assert_str_eq (shown_name (), chain ()->name);
}
END_TEST

/* With one chain there is nothing to choose. */
START_TEST (one_chain_is_not_asked_about)
{
  GError *error = NULL;
  SpChain *same = sp_session_bench (session)->chain;
  ck_assert (sp_session_edit (session,
                              sp_bench_set_purpose_through (sp_session_bench (session), NOTCHED, 1, SP_PURPOSE_NOTCHED, NAN, same, &error),
                              "Same", NULL));
  settle ();
  ck_assert (!gtk_widget_get_visible (chain_page->places));
  undo_and_compare ();
  ck_assert (gtk_widget_get_visible (chain_page->places));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chains");
  TCase *t = tcase_create ("chains");
  tcase_add_checked_fixture (t, open_pocket, tear_down);
  tcase_add_test (t, one_of_notched_sweeps_is_edited);
  tcase_add_test (t, a_form_is_of_its_own_chain);
  tcase_add_test (t, the_page_follows_what_is_there);
  tcase_add_test (t, one_chain_is_not_asked_about);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
