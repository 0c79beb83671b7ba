/* chain.c - the chain's page */
#include "core/judge/judge.h"
#include "tests/pages/chain-room.h"

START_TEST (a_key_is_one_edit)
{
  choose_stage (1);
  SpFormFields *form = SP_FIELDS (chain_page->stage_fields);
  ck_assert_str_eq (shown_in (form, "name"), "brick");
  ck_assert_str_eq (shown_in (form, "rating_w"), "25");
  type_into (form, "rating_w", "20");
  ck_assert_double_eq (chain ()->stages[1]->rating_w, 20);
  expect_edit ("Change the rating of brick");
  undo_and_compare ();
  ck_assert_str_eq (shown_in (form, "rating_w"), "25");
}
END_TEST

START_TEST (a_wrong_key_changes_nothing)
{
  choose_stage (1);
  SpFormFields *form = SP_FIELDS (chain_page->stage_fields);
  type_into (form, "rating_w", "plenty");
  ck_assert_double_eq (chain ()->stages[1]->rating_w, 25);
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  ck_assert_ptr_nonnull (find (page, is_trouble, "plenty"));
  ck_assert_str_eq (shown_in (form, "rating_w"), "plenty"); /* still there to be corrected */
  type_into (form, "rating_w", "25");
  ck_assert_ptr_null (find (page, is_trouble, "plenty"));
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  ck_assert_uint_eq (troubles, 0);
}
END_TEST

/* What is being typed for one stage is never written into another. */
START_TEST (another_stage_shows_its_own)
{
  choose_stage (1);
  SpFormFields *form = SP_FIELDS (chain_page->stage_fields);
  type_into (form, "vswr", "nonsense");
  choose_stage (2);
  ck_assert_str_eq (shown_in (form, "name"), "thimble");
  ck_assert_str_eq (shown_in (form, "vswr"), "1.1");
  ck_assert_ptr_null (find (page, is_trouble, ""));
}
END_TEST

START_TEST (a_stage_is_renamed)
{
  choose_stage (2);
  type_into (SP_FIELDS (chain_page->stage_fields), "name", "thumb");
  ck_assert_str_eq (chain ()->stages[2]->name, "thumb");
  ck_assert_uint_eq (chain ()->n, 4);
  ck_assert_uint_eq (chain ()->stages[2]->loss->n, 9);
  expect_edit ("Rename thimble to thumb");
  type_into (SP_FIELDS (chain_page->stage_fields), "name", "brick");
  ck_assert_str_eq (chain ()->stages[2]->name, "thumb"); /* taken */
  ck_assert_ptr_nonnull (find (page, is_trouble, "brick"));
  undo_and_compare ();
}
END_TEST

static void
edit_cell (const char *from, const char *to)
{
  GtkWidget *cell = find (chain_page->points_view, is_cell, from);
  ck_assert_msg (cell != NULL, "no cell %s", from);
  gtk_editable_label_start_editing (GTK_EDITABLE_LABEL (cell));
  gtk_editable_set_text (GTK_EDITABLE (cell), to);
  gtk_editable_label_stop_editing (GTK_EDITABLE_LABEL (cell), TRUE);
  settle ();
}

START_TEST (a_point_is_one_edit)
{
  choose_stage (1);
  edit_cell ("30.09", "30.4");
  ck_assert_double_eq (chain ()->stages[1]->loss->value[4], 30.4);
  ck_assert_double_eq (chain ()->stages[1]->loss->frequency_hz[4], 150e6);
  expect_edit ("Change the loss of brick at 150 MHz");
  ck_assert_ptr_nonnull (find (chain_page->points_view, is_cell, "30.4"));
  undo_and_compare ();
  ck_assert_ptr_null (find (chain_page->points_view, is_cell, "30.4"));
}
END_TEST

/* GTK 4.8 looks at a cell once more 0.1 s after the focus has left it: here the program stands still until that is long due, and the cell is gone. */
START_TEST (a_cell_that_is_gone_is_left_alone)
{
  choose_stage (1);
  GtkWidget *cell = find (chain_page->points_view, is_cell, "30.09");
  gtk_editable_label_start_editing (GTK_EDITABLE_LABEL (cell));
  settle ();
  gtk_widget_grab_focus (chain_page->list);
  settle ();
  choose_stage (0);
  gtk_window_set_child (GTK_WINDOW (window), NULL);
  g_usleep (400 * 1000);
  settle ();
}
END_TEST

/* A frequency moves its row to where it belongs. */
START_TEST (points_stay_in_order)
{
  choose_stage (1);
  edit_cell ("1 MHz", "75 MHz");
  const SpCurve *loss = chain ()->stages[1]->loss;
  ck_assert_uint_eq (loss->n, 9);
  for (guint i = 1; i < loss->n; i++)
    ck_assert_double_gt (loss->frequency_hz[i], loss->frequency_hz[i - 1]);
  ck_assert_double_eq (loss->frequency_hz[2], 75e6);
  undo_and_compare ();
}
END_TEST

START_TEST (a_wrong_point_changes_nothing)
{
  choose_stage (1);
  edit_cell ("30.09", "much");
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  ck_assert_ptr_nonnull (find (page, is_trouble, "much"));
  ck_assert_ptr_nonnull (find (chain_page->points_view, is_cell, "30.09"));
  edit_cell ("150 MHz", "100 MHz"); /* there already */
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  edit_cell ("150 MHz", "");
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}
END_TEST

START_TEST (stages_are_moved_doubled_removed)
{
  choose_stage (1);
  act ("chain.down");
  ck_assert_str_eq (chain ()->stages[2]->name, "brick");
  expect_edit ("Move brick");
  ck_assert_str_eq (shown_in (SP_FIELDS (chain_page->stage_fields), "name"), "brick"); /* the choice went along */
  act ("chain.up");
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  sp_session_undo (session);
  undo_and_compare ();
  act ("chain.duplicate");
  ck_assert_uint_eq (chain ()->n, 5);
  ck_assert_str_eq (chain ()->stages[2]->name, "brick 2");
  ck_assert_str_eq (shown_in (SP_FIELDS (chain_page->stage_fields), "name"), "brick 2");
  act ("chain.remove");
  ck_assert_uint_eq (chain ()->n, 4);
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}
END_TEST

START_TEST (stages_are_added_and_the_last_one_stays)
{
  choose_stage (0);
  ck_assert (gtk_widget_activate_action (page, "chain.add", "i", (int) SP_STAGE_NOTCH));
  settle ();
  ck_assert_uint_eq (chain ()->n, 5);
  ck_assert_int_eq (chain ()->stages[1]->kind, SP_STAGE_NOTCH);
  expect_edit ("Add notch");
  ck_assert_uint_eq (g_list_model_get_n_items (G_LIST_MODEL (chain_page->points)), 0);
  undo_and_compare ();
  for (guint i = 0; i < 3; i++)
    act ("chain.remove");
  ck_assert_uint_eq (chain ()->n, 1);
  GAction *remove = g_action_map_lookup_action (chain_page->actions, "remove");
  ck_assert (!g_action_get_enabled (remove));
  ck_assert_uint_eq (troubles, 0);
}
END_TEST

START_TEST (points_are_added_and_removed)
{
  choose_stage (1);
  gtk_single_selection_set_selected (chain_page->points_selection, 4);
  act ("chain.add-point");
  const SpCurve *loss = chain ()->stages[1]->loss;
  ck_assert_uint_eq (loss->n, 10);
  ck_assert_double_eq (loss->frequency_hz[5], 212e6); /* half way from 150 to 300 MHz over log f, to three digits */
  ck_assert_double_eq_tol (loss->value[5], 30.105, 0.0051);
  sp_session_undo (session);
  settle ();
  gtk_single_selection_set_selected (chain_page->points_selection, 0);
  act ("chain.remove-point");
  ck_assert_uint_eq (chain ()->stages[1]->loss->n, 8);
  expect_edit ("Remove a point of brick at 1 MHz");
  undo_and_compare ();
}
END_TEST

static void
paste (const char *text)
{
  gdk_clipboard_set_text (gtk_widget_get_clipboard (page), text);
  act ("chain.paste-points");
  settle ();
}

START_TEST (points_are_pasted)
{
  choose_stage (3);
  paste ("# frequency loss u\n150 MHz\t0.31\t0.02\r\n50MHz 0.18, 0.02\n\n1.5e9 1.0\n");
  const SpCurve *loss = chain ()->stages[3]->loss;
  ck_assert_uint_eq (loss->n, 3);
  ck_assert_double_eq (loss->frequency_hz[0], 50e6);
  ck_assert_double_eq (loss->value[1], 0.31);
  ck_assert_double_eq (loss->u[1], 0.02);
  ck_assert (isnan (loss->u[2]));
  expect_edit ("Paste the points of lead");
  paste ("this is a letter to a friend");
  ck_assert_uint_eq (chain ()->stages[3]->loss->n, 3);
  ck_assert_ptr_nonnull (find (page, is_trouble, "line 1"));
  paste ("150MHz 0,31 0,02");
  ck_assert_uint_eq (chain ()->stages[3]->loss->n, 3);
  ck_assert_ptr_nonnull (find (page, is_trouble, "0,31"));
  undo_and_compare ();
}
END_TEST

START_TEST (pasted_lines)
{
  static const struct {
    const char *lines, *value;
  } cases[] = {
    { "2GHz 1 .1\n1GHz 0.5", "1GHz 0.5; 2GHz 1 .1" },
    { "150 MHz 3", "150MHz 3" },
    { "  7 8 9 \n", "7 8 9" },
    { "1MHz 2; 2MHz 3", "1MHz 2; 2MHz 3" },
    { "150MHz,3,.1", "150MHz 3 .1" },
    { "150MHz 3,25", "150MHz 3,25" /* the reader refuses it, the comma is not lost */ },
    { "150MHz 3 4 5", NULL },
    { "150MHz,3,4,5", NULL },
    { "", NULL },
    { "\n\n", NULL },
    { "150MHz", NULL },
    { "150 MHz", NULL },
    { "loss 3", NULL },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++) {
    g_autoptr (GError) error = NULL;
    g_autofree char *value = sp_points_from_lines (cases[i].lines, &error);
    if (cases[i].value)
      ck_assert_msg (g_strcmp0 (value, cases[i].value) == 0, "%s: %s", cases[i].lines, value);
    else
      ck_assert_msg (!value && error, "%s", cases[i].lines);
  }
}
END_TEST

/* The whole chain's loss stands under the curve: what findings say at the fundamental. */
START_TEST (totals_are_the_findings)
{
  const SpFindings *findings = sp_session_findings (session);
  SpAt at = sp_findings_at (findings, 0, findings->conditions[0].fundamental_hz);
  char text[16];
  g_snprintf (text, sizeof text, "%.2f", at.loss_db);
  ck_assert_ptr_nonnull (find (chain_page->totals, is_label, text));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("chain page");
  TCase *t = tcase_create ("chain page");
  tcase_add_checked_fixture (t, open_chain, tear_down);
  tcase_add_test (t, a_key_is_one_edit);
  tcase_add_test (t, a_wrong_key_changes_nothing);
  tcase_add_test (t, another_stage_shows_its_own);
  tcase_add_test (t, a_stage_is_renamed);
  tcase_add_test (t, a_point_is_one_edit);
  tcase_add_test (t, a_cell_that_is_gone_is_left_alone);
  tcase_add_test (t, points_stay_in_order);
  tcase_add_test (t, a_wrong_point_changes_nothing);
  tcase_add_test (t, stages_are_moved_doubled_removed);
  tcase_add_test (t, stages_are_added_and_the_last_one_stays);
  tcase_add_test (t, points_are_added_and_removed);
  tcase_add_test (t, points_are_pasted);
  tcase_add_test (t, pasted_lines);
  tcase_add_test (t, totals_are_the_findings);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
