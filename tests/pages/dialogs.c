/* dialogs.c - bench, condition and analyzer, edited in their dialogs */
#include "tests/pages/room.h"

#include <glib/gstdio.h>
#include <math.h>

#include "core/bench/edit/edit.h"
#include "core/trace/read/read.h"
#include "ui/window/dialogs/analyzer-dialog.h"
#include "ui/window/dialogs/bench-dialog.h"
#include "ui/window/dialogs/condition-dialog.h"
#include "ui/window/pages/compare-page.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/dialog.h"

static void
open_page (void)
{
  open_with (sp_compare_page_new);
}

static SpDialog *
the_dialog_now (void)
{
  GListModel *all = gtk_window_get_toplevels ();
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GObject) one = g_list_model_get_item (all, i);
    if (SP_IS_DIALOG (one))
      return SP_DIALOG (one);
  }
  return NULL;
}

static SpDialog *
the_dialog (void)
{
  settle ();
  SpDialog *dialog = the_dialog_now ();
  if (dialog)
    gtk_test_widget_wait_for_draw (GTK_WIDGET (dialog));
  return dialog;
}

static gboolean
is_read (gpointer dialog)
{
  return find (dialog, is_label, "being read") == NULL;
}

/* Read in threads: nothing is pending on the main loop meanwhile. */
static void
wait_for_reading (SpDialog *dialog)
{
  ck_assert_msg (sp_comes (is_read, dialog), "read in vain");
  settle ();
}

static void
close_dialog (void)
{
  gtk_window_close (GTK_WINDOW (the_dialog ()));
  ck_assert_ptr_null (the_dialog ());
}

/* Over a value that was refused: at once it is told and stays. */
static void
close_over (const char *refused)
{
  SpDialog *dialog = the_dialog ();
  gtk_window_close (GTK_WINDOW (dialog));
  ck_assert_ptr_eq (the_dialog (), dialog);
  ck_assert (gtk_widget_get_mapped (dialog->not_taken));
  ck_assert_ptr_nonnull (strstr (gtk_label_get_text (GTK_LABEL (dialog->not_taken)), refused));
  close_dialog ();
}

START_TEST (bench_dialog)
{
  sp_bench_dialog_present (GTK_WINDOW (window), session);
  SpDialog *dialog = the_dialog ();
  SpFormFields *bench = dialog->forms->pdata[0], *judging = dialog->forms->pdata[1];
  ck_assert_str_eq (shown_in (bench, "title"), "Course evening, six kits");
  type_into (bench, "title", "Another evening");
  ck_assert_str_eq (sp_session_bench (session)->title, "Another evening");
  sp_session_undo (session);
  settle ();
  ck_assert_str_eq (shown_in (bench, "title"), "Course evening, six kits");
  type_into (judging, "temperature_c", "30");
  expect_edit ("Change the bench's temperature");
  undo_and_compare ();
  SpFormFields *check = dialog->forms->pdata[2];
  type_into (check, "check_before_dbm", "-20.10");
  type_into (check, "check_after_dbm", "-20.25");
  ck_assert_double_eq_tol (sp_bench_drift_db (sp_session_bench (session)), -0.15, 1e-12);
  expect_edit ("Change the bench's check reading after");
  sp_session_undo (session);
  undo_and_compare ();
  type_into (judging, "temperature_c", "warm");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "warm"));
  GtkWidget *rule = sp_fields_widget (judging, "rule");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (rule), 1);
  settle ();
  ck_assert_int_eq (sp_session_bench (session)->decision_rule, SP_DECISION_RULE_SIMPLE);
  undo_and_compare ();
  ck_assert_uint_eq (gtk_drop_down_get_selected (GTK_DROP_DOWN (rule)), 0);
  close_over ("warm");
}
END_TEST

START_TEST (mask_and_unkeyed_from_files)
{
  g_autofree char *mask = g_build_filename (g_get_tmp_dir (), "spurproof-pages.mask", NULL),
                  *sweep = sp_test_path ("samples/raw/tulvannick.csv");
  g_assert_true (g_file_set_contents (mask, "[mask]\nname=Pages limit\n[rule 1]\nemission=1MHz 3GHz\nceiling_dbm=-30\n", -1, NULL));
  sp_bench_dialog_present (GTK_WINDOW (window), session);
  SpDialog *dialog = the_dialog ();
  sp_ask_file_answer (g_file_new_for_path (mask));
  g_signal_emit_by_name (find (GTK_WIDGET (dialog), is_button, "From a file\xe2\x80\xa6"), "clicked");
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->mask->title, "Pages limit");
  expect_edit ("Take a mask from a file");
  undo_and_compare ();
  sp_ask_file_answer (g_file_new_for_path (sweep));
  g_signal_emit_by_name (find (GTK_WIDGET (dialog), is_button, "Choose\xe2\x80\xa6"), "clicked");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_label, "being read"));
  wait_for_reading (dialog);
  ck_assert_ptr_nonnull (sp_session_bench (session)->unkeyed);
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_label, "tulvannick.csv"));
  g_signal_emit_by_name (find (GTK_WIDGET (dialog), is_button, "Remove"), "clicked");
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  sp_ask_file_answer (g_file_new_for_path ("/nowhere/at.all"));
  g_signal_emit_by_name (find (GTK_WIDGET (dialog), is_button, "Choose\xe2\x80\xa6"), "clicked");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_label, "being read"));
  wait_for_reading (dialog);
  ck_assert_uint_eq (troubles, 1);
  sp_ask_file_answer (g_file_new_for_path (sweep));
  g_signal_emit_by_name (find (GTK_WIDGET (dialog), is_button, "Choose\xe2\x80\xa6"), "clicked");
  gtk_window_destroy (GTK_WINDOW (dialog)); /* while it is read: nothing comes of it */
  ck_assert_ptr_null (the_dialog ());
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  g_unlink (mask);
}
END_TEST

START_TEST (condition_dialog)
{
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  SpFormFields *radio = dialog->forms->pdata[0], *condition = dialog->forms->pdata[1];
  ck_assert_str_eq (shown_in (radio, "name"), "Tulvannick");
  ck_assert_str_eq (shown_in (condition, "fundamental"), "146.46MHz");
  type_into (radio, "name", "Fennoch");
  ck_assert_str_eq (sp_session_bench (session)->radios[1].name, "Fennoch");
  expect_edit ("Rename Tulvannick to Fennoch");
  undo_and_compare ();
  type_into (radio, "longest_key_down_s", "30");
  ck_assert_double_eq (sp_session_bench (session)->radios[1].longest_key_down_s, 30);
  undo_and_compare ();
  type_into (condition, "meter_dbm", "36.5");
  ck_assert_double_eq (sp_session_bench (session)->conditions[1].meter_dbm, 36.5);
  undo_and_compare ();
  type_into (condition, "meter_dbm", "36,5 dBm");
  ck_assert_double_eq (sp_session_bench (session)->conditions[1].meter_dbm, 36.5);
  undo_and_compare ();
  type_into (condition, "rated_w", "500 mW");
  ck_assert_double_eq (sp_session_bench (session)->conditions[1].rated_w, 0.5);
  undo_and_compare ();
  type_into (condition, "fundamental", "150");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "found “150” without a unit; write 150 MHz, 150 kHz or 150 Hz"));
  type_into (condition, "fundamental", "146,46 MHz");
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  type_into (condition, "clocks", "26 MHz; 19,2 MHz");
  ck_assert_uint_eq (sp_session_bench (session)->conditions[1].clocks_hz->len, 2);
  undo_and_compare ();
  type_into (condition, "duty", "2");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "found “2”; expected a number greater than 0 and at most 1"));
  ck_assert_ptr_null (find (GTK_WIDGET (dialog), is_trouble, "[condition")); /* it stands below its entry, which has a label */
  ck_assert_ptr_null (find (GTK_WIDGET (dialog), is_trouble, "duty:"));
  type_into (condition, "duty", "");
  close_dialog ();
}
END_TEST

static const SpCondition *
second (void)
{
  return &sp_session_bench (session)->conditions[1];
}

static char *
put_file (const char *name, const char *text)
{
  char *path = g_build_filename (g_get_tmp_dir (), name, NULL);
  g_assert_true (g_file_set_contents (path, text, -1, NULL));
  return path;
}

/* The button of a line is found by the label that is read aloud: three are called the same. */
static gboolean
is_named (GtkWidget *widget, const char *text)
{
  g_autofree char *label = GTK_IS_BUTTON (widget)
                               ? gtk_test_accessible_check_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, text)
                               : NULL;
  return GTK_IS_BUTTON (widget) && gtk_widget_get_mapped (widget) && !label;
}

static void
press (SpDialog *dialog, Match match, const char *text)
{
  GtkWidget *button = find (GTK_WIDGET (dialog), match, text);
  ck_assert_msg (button != NULL, "no button %s", text);
  g_signal_emit_by_name (button, "clicked");
  settle ();
}

static void
press_with (SpDialog *dialog, Match match, const char *text, const char *path)
{
  sp_ask_file_answer (g_file_new_for_path (path));
  press (dialog, match, text);
}

START_TEST (own_parts_of_a_condition)
{
  g_autofree char *chain = put_file (
      "spurproof-own.chain", "[chain]\nname=Own shelf\nstages=pad\n[stage pad]\nkind=pad\nrating_w=10\npoints=1MHz 40 0.1; 3GHz 40 0.1\n");
  g_autofree char *bad = put_file ("spurproof-bad.chain", "[chain]\nstages=pad\n[stage pad]\nkind=teapot\n");
  g_autofree char *analyzer = put_file ("spurproof-own.analyzer", "[analyzer]\nname=Own analyzer\ndamage_dbm=20\n");
  g_autofree char *mask = put_file ("spurproof-own.mask", "[mask]\nname=Own limit\n[rule 1]\nemission=1MHz 3GHz\nceiling_dbm=-30\n");
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  press_with (dialog, is_named, "chain: From a file\xe2\x80\xa6", chain);
  ck_assert_str_eq (second ()->chain->name, "Own shelf");
  expect_edit ("Give Tulvannick a chain of its own");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_label, "Own shelf"));
  press_with (dialog, is_named, "chain: From a file\xe2\x80\xa6", bad);
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "spurproof-bad.chain:4:"));
  ck_assert_str_eq (second ()->chain->name, "Own shelf");
  press (dialog, is_named, "chain: The bench's");
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  sp_session_undo (session);
  undo_and_compare ();
  press_with (dialog, is_named, "analyzer: From a file\xe2\x80\xa6", analyzer);
  ck_assert_str_eq (second ()->analyzer->name, "Own analyzer");
  undo_and_compare ();
  press_with (dialog, is_named, "mask: From a file\xe2\x80\xa6", mask);
  ck_assert_str_eq (second ()->mask->title, "Own limit");
  expect_edit ("Give Tulvannick a mask of its own");
  undo_and_compare ();
  press_with (dialog, is_named, "mask: From a file\xe2\x80\xa6", "/nowhere/at.mask");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "/nowhere/at.mask"));
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  ck_assert_uint_eq (troubles, 0); /* all is said in the dialog */
  close_dialog ();
  g_unlink (chain), g_unlink (bad), g_unlink (analyzer), g_unlink (mask);
}
END_TEST

/* Of a form's key, or called so by its template. */
static gboolean
is_drop_down (GtkWidget *widget, const char *name)
{
  GtkWidget *form = gtk_widget_get_parent (widget);
  if (!GTK_IS_DROP_DOWN (widget) || !gtk_widget_get_mapped (widget))
    return FALSE;
  return SP_IS_FIELDS (form) ? sp_fields_widget (SP_FIELDS (form), name) == widget
                             : g_strcmp0 (gtk_buildable_get_buildable_id (GTK_BUILDABLE (widget)), name) == 0;
}

START_TEST (a_built_in_mask_of_its_own)
{
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  GtkDropDown *mask = GTK_DROP_DOWN (find (GTK_WIDGET (dialog), is_drop_down, "mask"));
  ck_assert_uint_eq (gtk_drop_down_get_selected (mask), 0); /* the bench's */
  guint frs = 0;
  while (strcmp (sp_mask_names ()[frs], "us-frs") != 0)
    frs++;
  gtk_drop_down_set_selected (mask, frs + 1);
  settle ();
  ck_assert_str_eq (second ()->mask->name, "us-frs");
  press (dialog, is_named, "mask: The bench's");
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  mask = GTK_DROP_DOWN (find (GTK_WIDGET (dialog), is_drop_down, "mask"));
  ck_assert_uint_eq (gtk_drop_down_get_selected (mask), 0);
  close_dialog ();
}
END_TEST

/* A notched pass with what there is in the dialog: purpose, then the loss of the notch alone; and back. */
START_TEST (a_notched_sweep_gets_its_chain)
{
  g_autofree char *notch = put_file ("spurproof-notch.csv",
                                     "frequency,loss,u\n1 MHz,0.3,0.05\n146.46 MHz,40,1\n293 MHz,0.4,0.05\n3 GHz,1,0.1\n");
  g_autofree char *none = put_file ("spurproof-notch-bad.csv", "frequency,loss\n1 MHz,much\n");
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  guint stages = sp_session_bench (session)->chain->n;
  ck_assert_ptr_null (find (GTK_WIDGET (dialog), is_button, "Its chain\xe2\x80\xa6")); /* a keyed sweep has none */
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find (GTK_WIDGET (dialog), is_drop_down, "purpose")), SP_PURPOSE_NOTCHED);
  settle ();
  ck_assert_int_eq (second ()->sweeps[0].purpose, SP_PURPOSE_NOTCHED);
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_label, "not used before it has a chain"));
  press_with (dialog, is_button, "Its chain\xe2\x80\xa6", none);
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "spurproof-notch-bad.csv:"));
  press_with (dialog, is_button, "Its chain\xe2\x80\xa6", notch);
  ck_assert_ptr_nonnull (second ()->sweeps[0].chain);
  ck_assert_uint_eq (second ()->sweeps[0].chain->n, stages + 1);
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_label, "+ notch"));
  expect_edit ("Change the chain of tulvannick.csv");
  press (dialog, is_button, "The condition's");
  ck_assert_ptr_null (second ()->sweeps[0].chain);
  close_dialog ();
  g_unlink (notch), g_unlink (none);
}
END_TEST

START_TEST (a_step_by_an_outside_pad)
{
  g_autofree char *pad = put_file ("spurproof-pad.csv", "frequency,loss,u\n1 MHz,10,0.05\n3 GHz,10.2,0.1\n"),
                  *again = sp_test_path ("samples/raw/tulvannick.csv");
  GError *error = NULL;
  g_autoptr (SpTrace) trace = sp_trace_read_file (again, NULL, &error);
  sp_no_error (error);
  sp_session_edit (session, sp_bench_add_sweep (sp_session_bench (session), 1, SP_PURPOSE_KEYED, trace, NAN, &error), "Add", NULL);
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  GtkWidget *entry = find (GTK_WIDGET (dialog), is_entry_of, "dB more");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find (GTK_WIDGET (dialog), is_drop_down, "purpose")), SP_PURPOSE_STEP);
  settle ();
  press_with (dialog, is_button, "Its chain\xe2\x80\xa6", pad); /* by how much is missing */
  ck_assert_int_eq (second ()->sweeps[0].purpose, SP_PURPOSE_KEYED);
  gtk_editable_set_text (GTK_EDITABLE (entry), "10");
  g_signal_emit_by_name (entry, "activate"); /* without its chain it contradicts the file */
  settle ();
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "attenuation"));
  press_with (dialog, is_button, "Its chain\xe2\x80\xa6", pad);
  guint step = second ()->sweeps[0].purpose == SP_PURPOSE_STEP ? 0 : 1;
  ck_assert_int_eq (second ()->sweeps[step].purpose, SP_PURPOSE_STEP);
  ck_assert_double_eq (second ()->sweeps[step].step_db, 10);
  ck_assert_ptr_nonnull (second ()->sweeps[step].chain);
  close_dialog ();
  g_unlink (pad);
}
END_TEST

START_TEST (sweeps_of_a_condition)
{
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  const char *options = "settings to correct, such as rbw=10kHz&attenuation=20";
  GtkWidget *entry = find (GTK_WIDGET (dialog), is_entry_of, options);
  gtk_editable_set_text (GTK_EDITABLE (entry), "rbw=30kHz");
  g_signal_emit_by_name (entry, "activate");
  settle ();
  ck_assert_double_eq (sp_session_bench (session)->conditions[1].sweeps[0].trace->settings.rbw_hz, 30e3);
  expect_edit ("Read tulvannick.csv with other settings");
  undo_and_compare ();
  entry = find (GTK_WIDGET (dialog), is_entry_of, options);
  gtk_editable_set_text (GTK_EDITABLE (entry), "rbw=wide");
  g_signal_emit_by_name (entry, "activate");
  settle ();
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "rbw"));
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  g_signal_emit_by_name (find (GTK_WIDGET (dialog), is_button, "Supersede"), "clicked");
  settle ();
  ck_assert_int_eq (sp_session_bench (session)->conditions[1].sweeps[0].purpose, SP_PURPOSE_SUPERSEDED);
  undo_and_compare ();
  g_signal_emit_by_name (find (GTK_WIDGET (dialog), is_button, "Remove"), "clicked");
  settle ();
  ck_assert_uint_eq (sp_session_bench (session)->conditions[1].n_sweeps, 0);
  expect_edit ("Remove tulvannick.csv");
  undo_and_compare ();
  close_dialog ();
}
END_TEST

/* Not settled between: the file is being read when its dialog goes. */
static void
press_and_close (Match match, const char *text, const char *path)
{
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  GtkWidget *button = find (GTK_WIDGET (dialog), match, text);
  ck_assert_msg (button != NULL, "no button %s", text);
  sp_ask_file_answer (g_file_new_for_path (path));
  g_signal_emit_by_name (button, "clicked");
  ck_assert_uint_eq (sp_readings_under_way (), 1); /* not here and now */
  ck_assert (!gtk_widget_get_sensitive (button));
  gtk_window_destroy (GTK_WINDOW (dialog));
  ck_assert_ptr_null (the_dialog ());
}

START_TEST (a_dialog_is_closed_while_its_file_is_read)
{
  g_autofree char *chain = sp_test_path ("samples/stub.chain"), *analyzer = sp_test_path ("samples/pocket.analyzer");
  g_autofree char *mask = put_file ("spurproof-closed.mask", "[mask]\nname=Own limit\n[rule 1]\nemission=1MHz 3GHz\nceiling_dbm=-30\n");
  press_and_close (is_named, "chain: From a file\xe2\x80\xa6", chain);
  press_and_close (is_named, "analyzer: From a file\xe2\x80\xa6", analyzer);
  press_and_close (is_named, "mask: From a file\xe2\x80\xa6", mask);
  press_and_close (is_named, "chain: From a file\xe2\x80\xa6", "/nowhere/at.chain");
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  GtkWidget *entry = find (GTK_WIDGET (dialog), is_entry_of, "settings to correct, such as rbw=10kHz&attenuation=20");
  gtk_editable_set_text (GTK_EDITABLE (entry), "rbw=30kHz");
  g_signal_emit_by_name (entry, "activate");
  ck_assert_uint_eq (sp_readings_under_way (), 1);
  gtk_window_destroy (GTK_WINDOW (dialog));
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  sp_bench_dialog_present (GTK_WINDOW (window), session);
  sp_ask_file_answer (g_file_new_for_path (mask));
  g_signal_emit_by_name (find (GTK_WIDGET (the_dialog ()), is_button, "From a file\xe2\x80\xa6"), "clicked");
  gtk_window_destroy (GTK_WINDOW (the_dialog_now ()));
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  ck_assert_uint_eq (troubles, 0);
  g_unlink (mask);
}
END_TEST

/* What is elsewhere is told, and what was edited while a sweep was read is not overwritten. */
START_TEST (what_cannot_be_read_is_told)
{
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  sp_ask_file_answer (g_file_new_for_uri ("http://nowhere.invalid/own.chain"));
  press (dialog, is_named, "chain: From a file\xe2\x80\xa6");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "not on this computer"));
  GtkWidget *entry = find (GTK_WIDGET (dialog), is_entry_of, "settings to correct, such as rbw=10kHz&attenuation=20");
  gtk_editable_set_text (GTK_EDITABLE (entry), "rbw=30kHz");
  g_signal_emit_by_name (entry, "activate");
  type_into (dialog->forms->pdata[0], "owner", "somebody"); /* settles: the sweep is read by now */
  ck_assert_str_eq (sp_session_bench (session)->radios[1].owner, "somebody");
  ck_assert_double_eq (second ()->sweeps[0].trace->settings.rbw_hz, 10e3);
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "press Enter once more"));
  entry = find (GTK_WIDGET (dialog), is_entry_of, "settings to correct, such as rbw=10kHz&attenuation=20");
  ck_assert_str_eq (gtk_editable_get_text (GTK_EDITABLE (entry)), "rbw=30kHz");
  undo_and_compare ();
  close_over ("rbw=30kHz");
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
  SpFormFields *first = dialog->forms->pdata[0], *noise = dialog->forms->pdata[2];
  ck_assert_ptr_nonnull (strstr (shown_in (first, "danl_dbm_hz"), "10MHz -154"));
  ck_assert_ptr_nonnull (strstr (shown_in (noise, "phase_noise_dbc_hz"), "10kHz -105"));
  type_into (first, "damage_dbm", "20");
  ck_assert_double_eq (sp_session_bench (session)->analyzer->damage_dbm, 20);
  expect_edit ("Change the damage level of Pendrowick course analyzer");
  undo_and_compare ();
  type_into (first, "damage_dbm", "high");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_trouble, "high"));
  close_over ("high"); /* what was refused is not written on closing either */
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
  tcase_add_test (t, own_parts_of_a_condition);
  tcase_add_test (t, a_built_in_mask_of_its_own);
  tcase_add_test (t, a_notched_sweep_gets_its_chain);
  tcase_add_test (t, a_step_by_an_outside_pad);
  tcase_add_test (t, sweeps_of_a_condition);
  tcase_add_test (t, a_dialog_is_closed_while_its_file_is_read);
  tcase_add_test (t, what_cannot_be_read_is_told);
  tcase_add_test (t, a_dialog_goes_with_its_condition);
  tcase_add_test (t, analyzer_dialog);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
