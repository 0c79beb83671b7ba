/* dialogs.c - bench, condition and analyzer, edited in their dialogs */
#include "tests/pages/room.h"

#include <glib/gstdio.h>

#include "core/bench/edit.h"
#include "ui/window/ask-file.h"
#include "ui/window/dialog.h"
#include "ui/window/pages.h"

static void
open_page (void)
{
  open_with (sp_compare_page_new);
}

static SpDialog *
the_dialog (void)
{
  GListModel *all = gtk_window_get_toplevels ();
  settle ();
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GtkWindow) one = g_list_model_get_item (all, i);
    SpDialog *dialog = g_object_get_data (G_OBJECT (one), "dialog");
    if (dialog) {
      gtk_test_widget_wait_for_draw (GTK_WIDGET (one));
      return dialog;
    }
  }
  return NULL;
}

static void
close_dialog (void)
{
  gtk_window_close (GTK_WINDOW (the_dialog ()->window));
  ck_assert_ptr_null (the_dialog ());
}

START_TEST (bench_dialog)
{
  sp_bench_dialog_present (GTK_WINDOW (window), session);
  SpDialog *dialog = the_dialog ();
  SpFields *bench = dialog->forms->pdata[0], *judging = dialog->forms->pdata[1];
  ck_assert_str_eq (shown_in (bench, "title"), "Course evening, six kits");
  type_into (bench, "title", "Another evening");
  ck_assert_str_eq (sp_session_bench (session)->title, "Another evening");
  sp_session_undo (session);
  settle ();
  ck_assert_str_eq (shown_in (bench, "title"), "Course evening, six kits");
  type_into (judging, "temperature_c", "30");
  expect_edit ("Change the bench's temperature");
  undo_and_compare ();
  SpFields *check = dialog->forms->pdata[2];
  type_into (check, "check_before_dbm", "-20.10");
  type_into (check, "check_after_dbm", "-20.25");
  ck_assert_double_eq_tol (sp_bench_drift_db (sp_session_bench (session)), -0.15, 1e-12);
  expect_edit ("Change the bench's check reading after");
  sp_session_undo (session);
  undo_and_compare ();
  type_into (judging, "temperature_c", "warm");
  ck_assert_ptr_nonnull (find (dialog->window, is_trouble, "warm"));
  GtkWidget *rule = sp_fields_widget (judging, "rule");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (rule), 1);
  settle ();
  ck_assert_int_eq (sp_session_bench (session)->rule, SP_RULE_SIMPLE);
  undo_and_compare ();
  ck_assert_uint_eq (gtk_drop_down_get_selected (GTK_DROP_DOWN (rule)), 0);
  close_dialog ();
}
END_TEST

START_TEST (mask_and_unkeyed_from_files)
{
  g_autofree char *mask = g_build_filename (g_get_tmp_dir (), "spurproof-pages.mask", NULL), *sweep = sp_test_path ("samples/raw/tulvannick.csv");
  g_assert_true (g_file_set_contents (mask, "[mask]\nname=Pages limit\n[rule 1]\nemission=1MHz 3GHz\nceiling_dbm=-30\n", -1, NULL));
  sp_bench_dialog_present (GTK_WINDOW (window), session);
  SpDialog *dialog = the_dialog ();
  sp_ask_file_answer (g_file_new_for_path (mask));
  g_signal_emit_by_name (find (dialog->window, is_button, "From a file\xe2\x80\xa6"), "clicked");
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->mask->title, "Pages limit");
  expect_edit ("Take a mask from a file");
  undo_and_compare ();
  sp_ask_file_answer (g_file_new_for_path (sweep));
  g_signal_emit_by_name (find (dialog->window, is_button, "Choose\xe2\x80\xa6"), "clicked");
  settle ();
  ck_assert_ptr_nonnull (sp_session_bench (session)->unkeyed);
  ck_assert_ptr_nonnull (find (dialog->window, is_label, "tulvannick.csv"));
  g_signal_emit_by_name (find (dialog->window, is_button, "Remove"), "clicked");
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  sp_ask_file_answer (g_file_new_for_path ("/nowhere/at.all"));
  g_signal_emit_by_name (find (dialog->window, is_button, "Choose\xe2\x80\xa6"), "clicked");
  settle ();
  ck_assert_uint_eq (troubles, 1);
  close_dialog ();
  g_unlink (mask);
}
END_TEST

START_TEST (condition_dialog)
{
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  SpFields *radio = dialog->forms->pdata[0], *condition = dialog->forms->pdata[1];
  ck_assert_str_eq (shown_in (radio, "name"), "Tulvannick");
  ck_assert_str_eq (shown_in (condition, "fundamental"), "146.46MHz");
  type_into (radio, "name", "Fennoch");
  ck_assert_str_eq (sp_session_bench (session)->radios[1].name, "Fennoch");
  expect_edit ("Rename Tulvannick to Fennoch");
  undo_and_compare ();
  type_into (condition, "meter_dbm", "36.5");
  ck_assert_double_eq (sp_session_bench (session)->conditions[1].meter_dbm, 36.5);
  undo_and_compare ();
  type_into (condition, "mask", "us-frs");
  ck_assert_str_eq (sp_session_bench (session)->conditions[1].mask->name, "us-frs");
  undo_and_compare ();
  type_into (condition, "mask", "no-such-mask");
  ck_assert_ptr_nonnull (find (dialog->window, is_trouble, "no-such-mask"));
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  type_into (condition, "mask", "");
  close_dialog ();
}
END_TEST

START_TEST (sweeps_of_a_condition)
{
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  const char *options = "settings to correct, such as rbw=10kHz&attenuation=20";
  GtkWidget *entry = find (dialog->window, is_entry_of, options);
  gtk_editable_set_text (GTK_EDITABLE (entry), "rbw=30kHz");
  g_signal_emit_by_name (entry, "activate");
  settle ();
  ck_assert_double_eq (sp_session_bench (session)->conditions[1].sweeps[0].trace->settings.rbw_hz, 30e3);
  expect_edit ("Read tulvannick.csv with other settings");
  undo_and_compare ();
  entry = find (dialog->window, is_entry_of, options);
  gtk_editable_set_text (GTK_EDITABLE (entry), "rbw=wide");
  g_signal_emit_by_name (entry, "activate");
  settle ();
  ck_assert_ptr_nonnull (find (dialog->window, is_trouble, "rbw"));
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  g_signal_emit_by_name (find (dialog->window, is_button, "Supersede"), "clicked");
  settle ();
  ck_assert_int_eq (sp_session_bench (session)->conditions[1].sweeps[0].purpose, SP_PURPOSE_SUPERSEDED);
  undo_and_compare ();
  g_signal_emit_by_name (find (dialog->window, is_button, "Remove"), "clicked");
  settle ();
  ck_assert_uint_eq (sp_session_bench (session)->conditions[1].n_sweeps, 0);
  expect_edit ("Remove tulvannick.csv");
  undo_and_compare ();
  close_dialog ();
}
END_TEST

START_TEST (a_dialog_goes_with_its_condition)
{
  g_autoptr (GError) error = NULL;
  sp_session_edit (session, sp_bench_add_radio_named (sp_session_bench (session), "Ummerdale", &error), "Add Ummerdale", NULL);
  sp_condition_dialog_present (GTK_WINDOW (window), session, 7);
  ck_assert_ptr_nonnull (the_dialog ());
  sp_session_undo (session);
  ck_assert_ptr_null (the_dialog ());
}
END_TEST

START_TEST (analyzer_dialog)
{
  sp_analyzer_dialog_present (GTK_WINDOW (window), session);
  SpDialog *dialog = the_dialog ();
  SpFields *input = dialog->forms->pdata[0], *noise = dialog->forms->pdata[1];
  ck_assert_ptr_nonnull (strstr (shown_in (noise, "danl_dbm_hz"), "10MHz -154"));
  type_into (input, "damage_dbm", "20");
  ck_assert_double_eq (sp_session_bench (session)->analyzer->damage_dbm, 20);
  expect_edit ("Change the damage level of Pendrowick course analyzer");
  undo_and_compare ();
  type_into (input, "damage_dbm", "high");
  ck_assert_ptr_nonnull (find (dialog->window, is_trouble, "high"));
  close_dialog (); /* what was refused is not written on closing either */
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("dialogs");
  TCase *t = tcase_create ("dialogs");
  tcase_add_checked_fixture (t, open_page, tear_down);
  tcase_add_test (t, bench_dialog);
  tcase_add_test (t, mask_and_unkeyed_from_files);
  tcase_add_test (t, condition_dialog);
  tcase_add_test (t, sweeps_of_a_condition);
  tcase_add_test (t, a_dialog_goes_with_its_condition);
  tcase_add_test (t, analyzer_dialog);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
