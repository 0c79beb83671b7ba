/* calibrate.c - a stage calibrated in the window: the run's form as one types, files on a stage, the shelf, the staircase */
#include "tests/pages/form-room.h"

#include <glib/gstdio.h>

#include "core/bench/shelf/shelf.h"
#include "ui/window/chain/shelf-dialog.h"
#include "ui/window/chart/staircase.h"
#include "ui/window/session/chain-edit.h"
#include "ui/window/widgets/ask-file.h"

static void
type_number (SpRunForm *form, const char *key, double number)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  type_key (form, key, g_ascii_formatd (text, sizeof text, "%.17g", number));
}

static double
vswr_of (double reflection)
{
  return (1 + reflection) / (1 - reflection);
}

/* EA-4/02 M S7, 30 dB of incremental loss at 10 GHz: as in tests/outside/run.c, but typed. */
START_TEST (a_published_run_is_typed)
{
  const char *source = "EA-4/02 M:2022 S7 (readings: NIST TN 1900 E11), typed into the form";
  choose_stage (1);
  SpRunForm *form = open_form ();
  for (guint i = 0; i < form->table.rows->len; i++)
    type_cell (form, i, SP_RUN_FREQUENCY, "");
  type_key (form, "correction_db", "0.003");
  type_number (form, "source_vswr", vswr_of (0.03));
  type_number (form, "meter_vswr", vswr_of (0.03));
  type_number (form, "reference_vswr", vswr_of (0.05));
  type_number (form, "reference_output_vswr", vswr_of (0.01));
  type_number (form, "stage_vswr", vswr_of (0.09));
  type_number (form, "stage_output_vswr", vswr_of (0.01));
  type_number (form, "meter_linearity_db", 0.0025 * sqrt (3));
  type_number (form, "meter_resolution_db", 0.0003 * sqrt (3));
  type_number (form, "temperature_coefficient", 0.0011 / 30);
  type_key (form, "temperature_u_c", "1");
  type_key (form, "extra", "cross-talk 0.0017; zero-without 0.002; zero-with 0.002");
  type_cell (form, 0, SP_RUN_FREQUENCY, "10GHz");
  type_cell (form, 0, SP_RUN_BEFORE, "0@0");
  ck_assert (!can_take (form) && form->result->n == 0);
  type_cell (form, 0, SP_RUN_INSERTED, "-30.033@1");
  ck_assert_uint_eq (form->result->n, 1); /* with the first reading there is a loss */
  type_cell (form, 0, SP_RUN_INSERTED, "-30.033@1; -30.058@2; -30.018@3; -30.052@4");
  type_cell (form, 0, SP_RUN_AFTER, "0@5; 0@5; 0@6");
  settle ();
  sp_outside ("attenuation, dB", source, form->result->points[0].loss_db, 30.043, 5e-4);
  sp_outside ("its standard uncertainty, dB", source, form->result->points[0].sum.u_db, 0.0224, 1e-4);
  ck_assert_str_eq (says (((SpFormRow *) form->table.rows->pdata[0])->result[0]), "30.043");
  ck_assert_ptr_nonnull (strstr (says (form->sum), "30.043"));
  ck_assert_ptr_nonnull (strstr (says (form->sum), "0.045"));
  ck_assert_ptr_nonnull (find (form->budget, is_label, "mismatch of source and stage"));
  ck_assert_ptr_nonnull (find (form->budget, is_label, "zero-without"));
  press (GTK_WIDGET (form), "_Take into the stage");
  ck_assert_ptr_null (other_window ());
  ck_assert_double_eq_tol (chain ()->stages[1]->loss->value[0], 30.043, 5e-4);
  ck_assert_ptr_nonnull (chain ()->stages[1]->run);
  expect_edit ("Calibrate brick by substitution");
  undo_and_compare ();
}
END_TEST

START_TEST (what_cannot_be_read_is_said)
{
  choose_stage (2);
  SpRunForm *form = open_form ();
  type_cell (form, 0, SP_RUN_BEFORE, "0.01");
  type_cell (form, 0, SP_RUN_INSERTED, "-9.97; -9.98");
  ck_assert (can_take (form));
  type_key (form, "temperature_c", "warm");
  ck_assert (!can_take (form) && gtk_widget_has_css_class (entry_of (form, "temperature_c"), "error"));
  ck_assert_ptr_nonnull (find (GTK_WIDGET (form), is_trouble, "warm"));
  type_key (form, "temperature_c", "21");
  ck_assert (can_take (form) && !gtk_widget_has_css_class (entry_of (form, "temperature_c"), "error"));
  type_cell (form, 0, SP_RUN_INSERTED, "-9,97");
  ck_assert (can_take (form));
  type_cell (form, 0, SP_RUN_INSERTED, "-9,,97");
  ck_assert (!can_take (form));
  ck_assert_ptr_nonnull (find (GTK_WIDGET (form), is_trouble, "-9,,97"));
  type_cell (form, 0, SP_RUN_INSERTED, "9.97"); /* exchanged: a loss that no stage has */
  ck_assert (!can_take (form) && form->result->missing->len == 1);
  type_cell (form, 0, SP_RUN_INSERTED, "-9.97@3");
  ck_assert (!can_take (form)); /* some timed, others not */
  type_cell (form, 0, SP_RUN_BEFORE, "0.01@1");
  ck_assert (can_take (form));
  ck_assert_ptr_nonnull (find (form->reasons, is_label, "VSWR"));
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  close_window (GTK_WIDGET (form));
}
END_TEST

START_TEST (closing_loses_nothing)
{
  choose_stage (2);
  SpRunForm *form = open_form ();
  guint rows = form->table.rows->len;
  type_key (form, "note", "half done");
  type_cell (form, 1, SP_RUN_BEFORE, "0.01@0");
  close_window (GTK_WIDGET (form));
  choose_stage (1);
  form = open_form ();
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), ""); /* another stage has its own */
  close_window (GTK_WIDGET (form));
  choose_stage (2);
  form = open_form ();
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), "half done");
  ck_assert_str_eq (shown_cell (form, 1, SP_RUN_BEFORE), "0.01@0");
  ck_assert_uint_eq (form->table.rows->len, rows);
  press (GTK_WIDGET (form), "Start a_new");
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), "");
  close_window (GTK_WIDGET (form));
}
END_TEST

static char *
text_of_run (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpRun) run = sp_run_read (path, &error);
  sp_no_error (error);
  return g_strdup (run->text);
}

START_TEST (a_file_is_opened_and_saved)
{
  g_autofree char *sample = sp_test_path ("samples/thimble.run"), *saved = g_build_filename (home, "saved.run", NULL);
  choose_stage (2);
  SpRunForm *form = open_form ();
  sp_ask_file_answer (g_file_new_for_path (sample));
  press (GTK_WIDGET (form), "_Open a run\xe2\x80\xa6");
  ck_assert_uint_eq (form->result->n, 3);
  ck_assert_uint_eq (form->table.rows->len, 4);
  sp_ask_file_answer (g_file_new_for_path (saved));
  press (GTK_WIDGET (form), "_Save as a file\xe2\x80\xa6");
  g_autofree char *was = text_of_run (sample), *is = text_of_run (saved);
  ck_assert_str_eq (is, was);
  press (GTK_WIDGET (form), "_Take into the stage");
  ck_assert_str_eq (chain ()->stages[2]->run->text, was);
  form = open_form (); /* the stage's own now */
  ck_assert_str_eq (shown_cell (form, 0, SP_RUN_FREQUENCY), "50MHz");
  ck_assert (!can_take (form)); /* nothing that the stage has not */
  close_window (GTK_WIDGET (form));
  undo_and_compare ();
  ck_assert_int_eq (g_unlink (saved), 0);
}
END_TEST

static gboolean
enabled (const char *action)
{
  return g_action_get_enabled (g_action_map_lookup_action (chain_page->actions, action));
}

static void
take_file (const char *path)
{
  sp_ask_file_answer (g_file_new_for_path (path));
  act ("chain.take-file"); /* until the file is an edit, or trouble */
}

/* What was read for a chain that is no more is not put into another. */
START_TEST (a_file_read_for_an_older_chain_is_told)
{
  g_autofree char *sample = sp_test_path ("samples/thimble.run");
  g_autoptr (GFile) file = g_file_new_for_path (sample);
  guint before = troubles;
  SpChainPlace in_use = sp_chain_place_in_use (session);
  ck_assert (sp_chain_take_file_at (session, in_use, 2, file));
  ck_assert (sp_chain_move_at (session, in_use, 0, 1)); /* while it is read: no turn of the main loop between */
  const SpBench *moved = sp_session_bench (session);
  settle ();
  ck_assert_uint_eq (troubles, before + 1);
  ck_assert_ptr_eq (sp_session_bench (session), moved);
  undo_and_compare ();
}
END_TEST

START_TEST (points_of_a_run_are_its_own)
{
  g_autofree char *sample = sp_test_path ("samples/thimble.run");
  choose_stage (2);
  ck_assert (enabled ("add-point") && !enabled ("keep-points"));
  take_file (sample);
  expect_edit ("Take the loss of thimble from a file");
  ck_assert (!enabled ("add-point") && !enabled ("remove-point") && !enabled ("paste-points") && enabled ("keep-points"));
  GtkWidget *cell = find (chain_page->points_view, is_cell, "9.980");
  ck_assert_ptr_nonnull (cell);
  ck_assert (!gtk_editable_get_editable (GTK_EDITABLE (cell)));
  act ("chain.keep-points");
  ck_assert (!chain ()->stages[2]->run && chain ()->stages[2]->loss->n == 3 && enabled ("add-point"));
  expect_edit ("Keep only the points of thimble");
  sp_session_undo (session);
  undo_and_compare ();
}
END_TEST

START_TEST (files_on_a_stage)
{
  g_autofree char *table = g_build_filename (home, "loss.csv", NULL), *ports = g_build_filename (home, "ports.s2p", NULL);
  ck_assert (g_file_set_contents (table, "MHz,dB,u\n50,0.31,0.02\n150,0.42,0.02\n", -1, NULL));
  ck_assert (g_file_set_contents (ports, "# MHz S DB R 50\n100 -30 0 -0.3 10 -0.3 10 -30 0\n400 -30 0 -0.4 20 -0.4 20 -30 0\n", -1, NULL));
  choose_stage (3);
  take_file (table);
  ck_assert_uint_eq (chain ()->stages[3]->loss->n, 2);
  ck_assert_ptr_nonnull (find (chain_page->points_view, is_cell, "0.42"));
  take_file (ports);
  ck_assert_ptr_nonnull (chain ()->stages[3]->two_port);
  ck_assert_uint_eq (troubles, 0);
  ck_assert (g_file_set_contents (table, "a letter to a friend\nhow are you\n", -1, NULL));
  take_file (table);
  ck_assert_uint_eq (troubles, 1);
  ck_assert_ptr_nonnull (chain ()->stages[3]->two_port);
  sp_session_undo (session);
  undo_and_compare ();
}
END_TEST

START_TEST (the_next_stage_begins_with_the_same_meter)
{
  g_autofree char *sample = sp_test_path ("samples/thimble.run");
  choose_stage (2);
  take_file (sample);
  ck_assert (gtk_widget_activate_action (page, "chain.add", "i", (int) SP_STAGE_PAD));
  settle ();
  SpRunForm *form = open_form ();
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "meter_vswr"))), "1.12");
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "meter_floor_dbm"))), "-45");
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "stage_vswr"))), ""); /* not the other stage's */
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry_of (form, "note"))), "");
  ck_assert_str_eq (shown_cell (form, 2, SP_RUN_FREQUENCY), "450MHz");
  ck_assert_str_eq (shown_cell (form, 2, SP_RUN_BEFORE), "");
  close_window (GTK_WIDGET (form));
  sp_session_undo (session);
  undo_and_compare ();
}
END_TEST

/* ---- the shelf ---- */

static GtkWidget *
entry_named (GtkWidget *widget, guint *skip)
{
  if (GTK_IS_ENTRY (widget) && (*skip)-- == 0)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = gtk_widget_get_next_sibling (child)) {
    GtkWidget *found = entry_named (child, skip);
    if (found)
      return found;
  }
  return NULL;
}

static GtkWidget *
shelf_entry (GtkWidget *shelf, guint index)
{
  return entry_named (shelf, &index);
}

START_TEST (the_shelf)
{
  g_autofree char *folder = sp_shelf_user_folder (), *bad = g_build_filename (folder, "bad.chain", NULL);
  choose_stage (1);
  act ("chain.shelf");
  GtkWidget *shelf = other_window ();
  ck_assert_ptr_nonnull (find (shelf, is_label, "Nothing is on the shelf yet"));
  ck_assert (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (shelf)), shelf_entry (shelf, 0)));
  press (shelf, "Put on the shelf");
  ck_assert (sp_shelf_has (folder, SP_SHELF_STAGES, "brick"));
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (shelf_entry (shelf, 1))), "brick 2"); /* the chain has a brick */
  gtk_editable_set_text (GTK_EDITABLE (shelf_entry (shelf, 1)), "thimble");
  ck_assert_ptr_nonnull (find (shelf, is_label, "has a stage “thimble” already"));
  ck_assert (!gtk_widget_is_sensitive (find (shelf, is_button, "_Take into the chain")));
  gtk_editable_set_text (GTK_EDITABLE (shelf_entry (shelf, 1)), "spare brick");
  press (shelf, "_Take into the chain");
  ck_assert_uint_eq (chain ()->n, 5);
  ck_assert_str_eq (chain ()->stages[2]->name, "spare brick");
  ck_assert_uint_eq (chain ()->stages[2]->loss->n, 9);
  expect_edit ("Take brick from the shelf");
  undo_and_compare ();
  gtk_editable_set_text (GTK_EDITABLE (shelf_entry (shelf, 0)), "brick");
  ck_assert_ptr_nonnull (find (shelf, is_button, "Replace")); /* said before it is done */
  press (shelf, "Take _off the shelf");
  ck_assert (!sp_shelf_has (folder, SP_SHELF_STAGES, "brick"));
  press (shelf, "Put _back");
  ck_assert (sp_shelf_has (folder, SP_SHELF_STAGES, "brick"));
  close_window (shelf);
  ck_assert (g_file_set_contents (bad, "[chain]\nstages=x\n", -1, NULL));
  act ("chain.shelf");
  shelf = other_window ();
  ck_assert_ptr_nonnull (find (shelf, is_trouble, "bad.chain:2"));
  ck_assert (!gtk_widget_is_sensitive (find (shelf, is_button, "_Take into the chain"))); /* the bad one is first, and chosen */
  close_window (shelf);
}
END_TEST

/* ---- the staircase ---- */

static void
open_staircase (void)
{
  open_with (sp_staircase_new);
}

static gpointer
controller (GType type, guint skip)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (page);
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GObject) one = g_list_model_get_item (all, i);
    if (G_TYPE_CHECK_INSTANCE_TYPE (one, type) && skip-- == 0)
      return one;
  }
  ck_abort_msg ("no %s", g_type_name (type));
  return NULL;
}

/* The key as the widget's own shortcuts have it. */
static void
key (const char *name)
{
  GListModel *shortcuts = controller (GTK_TYPE_SHORTCUT_CONTROLLER, 0);
  for (guint i = 0; i < g_list_model_get_n_items (shortcuts); i++) {
    g_autoptr (GtkShortcut) one = g_list_model_get_item (shortcuts, i);
    g_autofree char *trigger = gtk_shortcut_trigger_to_string (gtk_shortcut_get_trigger (one));
    if (strcmp (trigger, name) == 0) {
      ck_assert (gtk_shortcut_action_activate (gtk_shortcut_get_action (one), 0, page, gtk_shortcut_get_arguments (one)));
      settle ();
      return;
    }
  }
  ck_abort_msg ("no key %s", name);
}

START_TEST (treads_are_moved_by_keys)
{
  ck_assert_int_eq (sp_staircase_chosen (SP_STAIRCASE (page)), 0);
  key ("Left");
  ck_assert_int_eq (sp_staircase_chosen (SP_STAIRCASE (page)), 0);
  key ("Right");
  key ("<Shift>Right");
  ck_assert_str_eq (chain ()->stages[2]->name, "brick");
  ck_assert_int_eq (sp_staircase_chosen (SP_STAIRCASE (page)), 2); /* the choice went along */
  expect_edit ("Move brick");
  key ("<Shift>Left");
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  for (guint i = 0; i < 6; i++)
    key ("<Shift>Right"); /* not beyond the end */
  ck_assert_str_eq (chain ()->stages[3]->name, "brick");
  ck_assert_uint_eq (troubles, 0);
}
END_TEST

static gboolean
drop (const GValue *value, double place)
{
  gboolean taken = FALSE;
  double width = gtk_widget_get_width (page) - 32 - 46; /* radio, four stages, analyzer stand in it */
  g_signal_emit_by_name (controller (GTK_TYPE_DROP_TARGET, 0), "drop", value, 16 + 46 + width * place / 6, 60.0, &taken);
  settle ();
  return taken;
}

START_TEST (treads_are_dragged_and_take_files)
{
  g_auto (GValue) from = G_VALUE_INIT, files = G_VALUE_INIT;
  g_autofree char *sample = sp_test_path ("samples/thimble.run");
  g_autoptr (GFile) file = g_file_new_for_path (sample);
  g_value_init (&from, G_TYPE_INT);
  g_value_set_int (&from, 1);
  ck_assert (drop (&from, 3.5));
  ck_assert_str_eq (chain ()->stages[2]->name, "brick");
  expect_edit ("Move brick");
  undo_and_compare ();
  ck_assert (!drop (&from, 0.5)); /* the radio's place */
  ck_assert (!drop (&from, 5.5)); /* the analyzer's */
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  g_value_init (&files, GDK_TYPE_FILE_LIST);
  g_value_take_boxed (&files, gdk_file_list_new_from_array (&file, 1));
  ck_assert (drop (&files, 3.5));
  settle ();
  ck_assert_ptr_nonnull (chain ()->stages[2]->run);
  expect_edit ("Take the loss of thimble from a file");
  undo_and_compare ();
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("calibrate");
  TCase *t = tcase_create ("chain page"), *stairs = tcase_create ("staircase");
  tcase_add_checked_fixture (t, open_without_drafts, tear_down);
  tcase_add_test (t, a_published_run_is_typed);
  tcase_add_test (t, what_cannot_be_read_is_said);
  tcase_add_test (t, closing_loses_nothing);
  tcase_add_test (t, a_file_is_opened_and_saved);
  tcase_add_test (t, points_of_a_run_are_its_own);
  tcase_add_test (t, files_on_a_stage);
  tcase_add_test (t, a_file_read_for_an_older_chain_is_told);
  tcase_add_test (t, the_next_stage_begins_with_the_same_meter);
  tcase_add_test (t, the_shelf);
  tcase_add_checked_fixture (stairs, open_staircase, tear_down);
  tcase_add_test (stairs, treads_are_moved_by_keys);
  tcase_add_test (stairs, treads_are_dragged_and_take_files);
  suite_add_tcase (s, t);
  suite_add_tcase (s, stairs);
  return s;
}

PAGES_MAIN (suite)
