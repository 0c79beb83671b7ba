/* keys.c - the forms against the tables of keys: every key has its entry, its unit and its range; what is set elsewhere is named here */
#include "tests/pages/chain-room.h"

#include "ui/window/dialogs/analyzer-dialog.h"
#include "ui/window/dialogs/bench-dialog.h"
#include "ui/window/dialogs/condition-dialog.h"
#include "ui/window/dialogs/paper-words.h"
#include "ui/window/pages/compare-page.h"
#include "ui/window/run/check-form-private.h"
#include "ui/window/run/run-form-private.h"
#include "ui/window/widgets/dialog.h"

/* Keys that no form of entries edits: they have widgets of their own, or a page. */
static const char *const elsewhere[] = { "chain",    "analyzer",      "mask",       "keyed",       "unkeyed", "step", "step_chain",
                                         "notched",  "notched_chain", "superseded", "stages",      "points",  "run",  "field",
                                         "document", "letterhead",    "picture",    "second_mask", NULL };

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
    g_autoptr (GtkWidget) one = g_list_model_get_item (all, i);
    if (SP_IS_DIALOG (one))
      return SP_DIALOG (one);
  }
  return NULL;
}

/* In the forms from..to - 1 of the dialog. */
static GtkWidget *
entry_of (SpDialog *dialog, guint from, guint to, const char *key)
{
  GtkWidget *found = NULL;
  for (guint i = from; i < MIN (to, dialog->forms->len) && !found; i++)
    found = sp_fields_widget (dialog->forms->pdata[i], key);
  return found;
}

static void
expect_entry (GtkWidget *entry, const SpKeySpec *spec)
{
  gboolean listed = g_strv_contains (elsewhere, spec->key), choice = spec->kind == SP_KEY_WORD || spec->kind == SP_KEY_YES_NO;
  ck_assert_msg ((entry != NULL) != listed, "%s %s", spec->key, listed ? "has an entry now: take it off the list" : "has no entry");
  if (!entry)
    return;
  ck_assert_msg (GTK_IS_DROP_DOWN (entry) == choice, "%s is of another kind", spec->key);
  ck_assert_msg (gtk_widget_get_tooltip_text (entry) != NULL, "%s has no tip", spec->key);
}

static void
expect_all (SpDialog *dialog, guint from, guint to, const SpKeySpec *keys)
{
  for (const SpKeySpec *spec = keys; spec->key; spec++)
    expect_entry (entry_of (dialog, from, to, spec->key), spec);
}

static void
expect_tip (GtkWidget *entry, const char *end)
{
  const char *tip = gtk_widget_get_tooltip_text (entry);
  ck_assert_msg (g_str_has_suffix (tip, end), "“%s” does not end with “%s”", tip, end);
}

START_TEST (bench_keys)
{
  sp_bench_dialog_present (GTK_WINDOW (window), session);
  SpDialog *dialog = the_dialog ();
  expect_all (dialog, 0, G_MAXUINT, sp_bench_keys);
  expect_tip (entry_of (dialog, 0, 9, "temperature_c"), "From \342\210\222100 to 200 \302\260C.");
  expect_tip (entry_of (dialog, 0, 9, "radio_vswr"), "At least 1, or inf.");
  expect_tip (entry_of (dialog, 0, 9, "necessary_bandwidth"), "A frequency in Hz, kHz, MHz or GHz, up to 20\342\200\257MHz.");
  expect_tip (entry_of (dialog, 0, 9, "title"), "What reports are headed with.");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_label, "temperature, \302\260C"));
  gtk_window_destroy (GTK_WINDOW (dialog));
}
END_TEST

START_TEST (condition_keys)
{
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  expect_all (dialog, 0, 1, sp_radio_keys);
  expect_all (dialog, 1, 2, sp_condition_keys);
  expect_tip (entry_of (dialog, 0, 1, "longest_key_down_s"), "Above 0, up to 86400 s.");
  expect_tip (entry_of (dialog, 1, 2, "rated_w"), "Above 0 W.");
  gtk_window_destroy (GTK_WINDOW (dialog));
}
END_TEST

static gboolean
has_placeholder (GtkWidget *widget, const char *text)
{
  return GTK_IS_ENTRY (widget) && g_strcmp0 (gtk_entry_get_placeholder_text (GTK_ENTRY (widget)), text) == 0;
}

static gboolean
is_removal (GtkWidget *widget, const char *text)
{
  return GTK_IS_BUTTON (widget) && g_strcmp0 (gtk_widget_get_tooltip_text (widget), text) == 0;
}

/* Added, shown in a row of its own, offered again, taken out; the first of both tables is the radio's. */
START_TEST (named_fields)
{
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  GtkWidget *dialog = GTK_WIDGET (the_dialog ());
  GtkWidget *name = find (dialog, has_placeholder, "a field, such as firmware"),
            *value = find (dialog, has_placeholder, "its value, such as 2.14");
  ck_assert (name && value);
  gtk_editable_set_text (GTK_EDITABLE (name), "a;b");
  gtk_editable_set_text (GTK_EDITABLE (value), "2.14");
  g_signal_emit_by_name (value, "activate");
  settle ();
  ck_assert_ptr_nonnull (find (dialog, is_label, "expected 1 to 24 letters"));
  gtk_editable_set_text (GTK_EDITABLE (name), "firmware");
  g_signal_emit_by_name (value, "activate");
  settle ();
  const SpBench *bench = sp_session_bench (session);
  const SpRadio *radio = &bench->radios[bench->conditions[1].radio];
  ck_assert (radio->fields && radio->fields->len == 1);
  ck_assert_str_eq (g_array_index (radio->fields, SpNamedField, 0).value, "2.14");
  GtkComboBox *list = GTK_COMBO_BOX (gtk_widget_get_ancestor (name, GTK_TYPE_COMBO_BOX));
  ck_assert_int_eq (gtk_tree_model_iter_n_children (gtk_combo_box_get_model (list), NULL), 1);
  GtkWidget *remove = find (dialog, is_removal, "Remove the field firmware");
  ck_assert_ptr_nonnull (remove);
  g_signal_emit_by_name (remove, "clicked");
  settle ();
  bench = sp_session_bench (session);
  ck_assert_ptr_null (bench->radios[bench->conditions[1].radio].fields);
  ck_assert_ptr_null (find (dialog, is_removal, "Remove the field firmware"));
  sp_session_undo (session);
  settle ();
  ck_assert_ptr_nonnull (find (dialog, is_removal, "Remove the field firmware"));
  gtk_window_destroy (GTK_WINDOW (dialog));
}
END_TEST

/* A text of several lines counts when it is left. */
static void
type_lines (SpFormFields *form, const char *key, const char *text)
{
  GtkWidget *view = sp_fields_widget (form, key);
  ck_assert (GTK_IS_TEXT_VIEW (view));
  gtk_widget_grab_focus (view);
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (view)), text, -1);
  gtk_window_set_focus (GTK_WINDOW (gtk_widget_get_root (view)), NULL);
  settle ();
}

/* Each word is an edit of its own; the remark is the chosen radio's, and goes with its group. */
START_TEST (words_of_the_paper)
{
  sp_paper_words_present (GTK_WINDOW (window), session);
  SpDialog *dialog = the_dialog ();
  expect_all (dialog, 0, 1, sp_document_keys);
  expect_all (dialog, 1, 2, sp_remark_keys);
  type_into (dialog->forms->pdata[0], "title", "An evening");
  type_into (dialog->forms->pdata[0], "parts", "front; files");
  type_lines (dialog->forms->pdata[1], "text", "Its lid was open.\nTwice; a back\\slash.");
  const SpBench *bench = sp_session_bench (session);
  const char *radio = bench->radios[bench->conditions[dialog->condition].radio].name;
  ck_assert (bench->document && bench->document->parts->len == 2);
  ck_assert_str_eq (bench->document->title, "An evening");
  ck_assert_str_eq (sp_document_remark (bench->document, radio), "Its lid was open.\nTwice; a back\\slash.");
  type_into (dialog->forms->pdata[0], "parts", "verse");
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_label, "found “verse”; expected some of front"));
  ck_assert_uint_eq (sp_session_bench (session)->document->parts->len, 2);
  type_lines (dialog->forms->pdata[1], "text", "");
  ck_assert_uint_eq (sp_session_bench (session)->document->remarks->len, 0);
  for (guint i = 0; i < 4; i++)
    sp_session_undo (session);
  ck_assert_ptr_null (sp_session_bench (session)->document);
  gtk_window_destroy (GTK_WINDOW (dialog));
}
END_TEST

START_TEST (analyzer_keys)
{
  sp_analyzer_dialog_present (GTK_WINDOW (window), session);
  SpDialog *dialog = the_dialog ();
  expect_all (dialog, 0, G_MAXUINT, sp_analyzer_keys);
  expect_tip (entry_of (dialog, 0, 9, "points_max"), "At least 2.");
  gtk_window_destroy (GTK_WINDOW (dialog));
}
END_TEST

START_TEST (chain_keys)
{
  SpFormFields *chain = SP_FIELDS (chain_page->chain_fields), *stage = SP_FIELDS (chain_page->stage_fields);
  for (const SpKeySpec *spec = sp_chain_keys; spec->key; spec++)
    expect_entry (sp_fields_widget (chain, spec->key), spec);
  for (const SpKeySpec *spec = sp_stage_keys; spec->key; spec++)
    expect_entry (sp_fields_widget (stage, spec->key), spec);
  expect_tip (sp_fields_widget (stage, "label_db"), "From \342\210\2220.5 to 300 dB.");
  expect_tip (sp_fields_widget (chain, "interval_days"), "From 1 to 100000 days.");
}
END_TEST

/* Beside the stage, which the form is opened for. */
START_TEST (run_keys)
{
  guint n = 0;
  for (const SpKeySpec *spec = sp_run_keys; spec->key; spec++) {
    gboolean there = FALSE;
    for (guint i = 0; i < SP_RUN_FORM_KEYS; i++)
      there |= strcmp (sp_run_form_key (i), spec->key) == 0;
    ck_assert_msg (there == (strcmp (spec->key, "stage") != 0), "%s", spec->key);
    n += there;
  }
  ck_assert_uint_eq (n, SP_RUN_FORM_KEYS);
}
END_TEST

/* Beside the analyzer, which the form is opened for, and the lead, which has a column. */
START_TEST (check_keys)
{
  for (const SpKeySpec *spec = sp_check_keys; spec->key; spec++) {
    gboolean there = FALSE, beside = strcmp (spec->key, "analyzer") == 0 || strcmp (spec->key, "lead_loss") == 0;
    for (guint i = 0; i < SP_CHECK_FORM_KEYS; i++)
      there |= strcmp (sp_check_form_key (i), spec->key) == 0;
    ck_assert_msg (there != beside, "%s", spec->key);
  }
}
END_TEST

/* Tab goes down the fields, a column after the other, and Shift+Tab back. */
START_TEST (tab_goes_as_fields_are_read)
{
  static const char *const order[] = { "name", "owner", "serial", "installed", "longest_key_down_s", "note" };
  sp_condition_dialog_present (GTK_WINDOW (window), session, 1);
  SpDialog *dialog = the_dialog ();
  gtk_test_widget_wait_for_draw (GTK_WIDGET (dialog));
  gtk_widget_grab_focus (sp_fields_widget (dialog->forms->pdata[0], order[0]));
  for (guint i = 0; i < G_N_ELEMENTS (order); i++, gtk_widget_child_focus (GTK_WIDGET (dialog), GTK_DIR_TAB_FORWARD))
    ck_assert_ptr_eq (gtk_widget_get_parent (gtk_window_get_focus (GTK_WINDOW (dialog))),
                      sp_fields_widget (dialog->forms->pdata[0], order[i]));
  for (guint i = G_N_ELEMENTS (order); i > 0; i--) {
    gtk_widget_child_focus (GTK_WIDGET (dialog), GTK_DIR_TAB_BACKWARD);
    ck_assert_ptr_eq (gtk_widget_get_parent (gtk_window_get_focus (GTK_WINDOW (dialog))),
                      sp_fields_widget (dialog->forms->pdata[0], order[i - 1]));
  }
  gtk_window_destroy (GTK_WINDOW (dialog));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("keys of the forms");
  TCase *t = tcase_create ("forms");
  tcase_add_checked_fixture (t, open_page, tear_down);
  tcase_add_test (t, bench_keys);
  tcase_add_test (t, condition_keys);
  tcase_add_test (t, named_fields);
  tcase_add_test (t, tab_goes_as_fields_are_read);
  tcase_add_test (t, words_of_the_paper);
  tcase_add_test (t, analyzer_keys);
  suite_add_tcase (s, t);
  t = tcase_create ("chain");
  tcase_add_checked_fixture (t, open_chain, tear_down);
  tcase_add_test (t, chain_keys);
  tcase_add_test (t, run_keys);
  tcase_add_test (t, check_keys);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
