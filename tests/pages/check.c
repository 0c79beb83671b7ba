/* check.c - the analyzer's check typed, opened, taken over and undone; its profile blank, and on the shelf */
#include "tests/pages/form-room.h"

#include "core/bench/shelf/shelf.h"
#include "ui/window/chain/shelf-dialog.h"
#include "ui/window/dialogs/analyzer-dialog.h"
#include "ui/window/run/check-form-private.h"
#include "ui/window/run/check-form.h"

static SpCheckForm *
open_check (void)
{
  sp_check_form_present (GTK_WINDOW (window), session);
  GtkWidget *form = other_window ();
  ck_assert_ptr_nonnull (form);
  return SP_CHECK_FORM (form);
}

static void
type_at (SpCheckForm *form, guint row, guint column, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (((SpFormRow *) form->table.rows->pdata[row])->cell[column]), text);
}

static void
type_fact (SpCheckForm *form, const char *key, const char *text)
{
  for (guint i = 0; i < SP_CHECK_FORM_KEYS; i++)
    if (strcmp (sp_check_form_key (i), key) == 0)
      gtk_editable_set_text (GTK_EDITABLE (form->key[i]), text);
}

static const char *
result_of (SpCheckForm *form, guint row, guint which)
{
  return says (((SpFormRow *) form->table.rows->pdata[row])->result[which]);
}

static void
type_row (SpCheckForm *form, guint row, const char *f, const char *setting, const char *level, const char *lead, const char *shows)
{
  const char *const texts[] = { f, setting, level, lead, shows };
  for (guint i = 0; i < SP_CHECK_CELLS; i++)
    type_at (form, row, i, texts[i]);
}

static gboolean
can_take_over (SpCheckForm *form)
{
  return gtk_widget_is_sensitive (find (GTK_WIDGET (form), is_button, "_Take over"));
}

static SpAnalyzer *
analyzer (void)
{
  return sp_session_bench (session)->analyzer;
}

/* Judged aside, once nobody types. */
static gboolean
effect_is_said (gpointer form)
{
  return *says (SP_CHECK_FORM (form)->effect) != '\0';
}

START_TEST (a_check_is_typed_and_taken_over)
{
  SpCheckForm *form = open_check ();
  ck_assert (!can_take_over (form) && form->result->n == 0);
  type_fact (form, "level_u_db", "0,05 dB");
  type_fact (form, "source_vswr", "1.1");
  type_row (form, 0, "145.6 MHz", "10",
            "\xe2\x88\x92"
            "10,02 dBm",
            "0.12 0.02", "-10.4");
  ck_assert_uint_eq (form->result->n, 1);
  ck_assert_str_eq (result_of (form, 0, 0), "+0.26");
  type_row (form, 1, "291.2 MHz", "10 dB", "-10", "0.2 0.02", "-10.5; -10.6");
  ck_assert_str_eq (result_of (form, 1, 0), "+0.35");
  ck_assert_uint_eq (form->table.rows->len, 3); /* one more that is empty */
  ck_assert_ptr_nonnull (find (form->budget, is_label, "mismatch of source and analyzer"));
  ck_assert_ptr_nonnull (strstr (says (form->sum), "+0.260"));
  ck_assert_str_eq (says (form->left_words[0]), "absolute accuracy");
  ck_assert (can_take_over (form));
  ck_assert (sp_comes (effect_is_said, form));
  ck_assert_ptr_nonnull (strstr (says (form->effect), "verdict"));
  press (GTK_WIDGET (form), "_Take over");
  ck_assert_ptr_null (other_window ());
  ck_assert (sp_analyzer_checked (analyzer ()));
  ck_assert_double_eq_tol (analyzer ()->amplitude_correction_db->value[0], 0.26, 1e-9);
  form = open_check (); /* its readings stand there again */
  ck_assert (form->last && !can_take_over (form) && form->table.rows->len == 3);
  ck_assert_str_eq (sp_form_row_text (form->table.rows->pdata[1], SP_CHECK_SHOWS), "-10.5; -10.6");
  ck_assert_str_eq (result_of (form, 1, 0), "+0.35");
  press (GTK_WIDGET (form), "Start a_new");
  ck_assert (!form->last && form->table.rows->len == 3);
  ck_assert_str_eq (sp_form_row_text (form->table.rows->pdata[1], SP_CHECK_SHOWS), "");
  close_window (GTK_WIDGET (form));
  expect_edit ("Check Pendrowick course analyzer against a known level");
  undo_and_compare ();
  form = open_check (); /* what was taken is undone, not what was typed */
  ck_assert (form->restored && can_take_over (form) && form->table.rows->len == 3);
  ck_assert_str_eq (sp_form_row_text (form->table.rows->pdata[1], SP_CHECK_SHOWS), "-10.5; -10.6");
  press (GTK_WIDGET (form), "Start a_new");
  close_window (GTK_WIDGET (form));
}
END_TEST

START_TEST (what_is_wrong_is_said_and_kept)
{
  SpCheckForm *form = open_check ();
  type_row (form, 0, "145.6 MHz", "10", "-10", "", "-9");
  ck_assert_ptr_nonnull (find (form->reasons, is_label, "beyond the"));
  ck_assert (gtk_widget_has_css_class (((SpFormRow *) form->table.rows->pdata[0])->result[0], "wrong"));
  type_at (form, 0, SP_CHECK_SHOWS, "loud");
  ck_assert (!can_take_over (form) && gtk_widget_has_css_class (((SpFormRow *) form->table.rows->pdata[0])->cell[SP_CHECK_SHOWS], "error"));
  ck_assert_ptr_nonnull (find (form->readings, is_trouble, "shows, dBm: "));
  type_at (form, 0, SP_CHECK_FREQUENCY, "145.6");                           /* of what? */
  ck_assert_ptr_nonnull (find (form->readings, is_trouble, "frequency: ")); /* both below their row, each in its field's words */
  ck_assert_ptr_nonnull (find (form->readings, is_trouble, "shows, dBm: "));
  type_at (form, 0, SP_CHECK_ATTENUATION, "-10");
  ck_assert_ptr_nonnull (find (form->readings, is_trouble, "att., dB: found"));
  type_at (form, 0, SP_CHECK_ATTENUATION, "10");
  ck_assert_ptr_null (find (form->readings, is_trouble, "att., dB: found"));
  type_fact (form, "temperature_c", "warm");
  ck_assert_ptr_nonnull (find (form->keys, is_trouble, "warm"));
  ck_assert_ptr_null (find (form->readings, is_trouble, "warm"));
  type_fact (form, "temperature_c", "");
  ck_assert_ptr_null (find (form->keys, is_trouble, ""));
  type_row (form, 1, "1 GHz", "10", "-10", "0.1", "-10");
  type_row (form, 2, "1 GHz", "20", "-10", "0.2", "-10");
  ck_assert (gtk_widget_has_css_class (((SpFormRow *) form->table.rows->pdata[1])->cell[SP_CHECK_LEAD], "error")); /* two leads there */
  close_window (GTK_WIDGET (form));
  form = open_check ();
  ck_assert (form->restored && form->table.rows->len == 4);
  ck_assert_str_eq (sp_form_row_text (form->table.rows->pdata[0], SP_CHECK_SHOWS), "loud");
  press (GTK_WIDGET (form), "Start a_new");
  ck_assert (!form->restored && form->table.rows->len == 1);
  close_window (GTK_WIDGET (form));
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}
END_TEST

/* What is opened comes to the same as the file read by itself. */
START_TEST (a_file_is_opened)
{
  g_autofree char *path = sp_test_path ("samples/pocket-check.run");
  g_autoptr (SpCheck) check = sp_check_read (path, NULL);
  g_autoptr (SpCheckResult) result = sp_check_result (check, analyzer (), NAN);
  SpCheckForm *form = open_check ();
  sp_check_form_show (form, check, TRUE);
  ck_assert (!form->wrong && form->result->n == result->n && result->n == 15);
  for (guint i = 0; i < result->n; i++) {
    ck_assert_double_eq_tol (form->result->points[i].correction_db, result->points[i].correction_db, 1e-12);
    ck_assert_double_eq_tol (form->result->points[i].sum.u_db, result->points[i].sum.u_db, 1e-12);
  }
  close_window (GTK_WIDGET (form));
  remove_drafts ();
}
END_TEST

static gboolean
is_list (GtkWidget *widget, const char *text)
{
  (void) text;
  return GTK_IS_LIST_BOX (widget);
}

static void
choose_row (GtkWidget *within, int index)
{
  GtkListBox *list = GTK_LIST_BOX (find (within, is_list, NULL));
  gtk_list_box_select_row (list, gtk_list_box_get_row_at_index (list, index));
}

START_TEST (analyzers_on_the_shelf)
{
  g_autofree char *folder = sp_shelf_user_folder ();
  sp_shelf_dialog_present_analyzers (GTK_WINDOW (window), session);
  GtkWidget *shelf = other_window ();
  ck_assert_ptr_nonnull (find (shelf, is_label, "a blank analyzer"));
  ck_assert (!gtk_widget_is_sensitive (find (shelf, is_button, "Take _off the shelf"))); /* it is always at hand */
  press (shelf, "Put on the shelf");
  ck_assert (sp_shelf_has (folder, SP_SHELF_ANALYZERS, "Pendrowick course analyzer"));
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  choose_row (shelf, 1);
  press (shelf, "_Take onto the bench");
  ck_assert_str_eq (analyzer ()->name, "My analyzer");
  ck_assert (analyzer ()->accuracy.assumed && !analyzer ()->danl_dbm_hz);
  expect_edit ("Take a blank analyzer from the shelf");
  undo_and_compare ();
  choose_row (shelf, 0);
  press (shelf, "Take _off the shelf");
  ck_assert (!sp_shelf_has (folder, SP_SHELF_ANALYZERS, "Pendrowick course analyzer"));
  close_window (shelf);
}
END_TEST

/* F2 of the analyzer: an empty field says what it stands for. */
START_TEST (empty_fields_say_what_is_assumed)
{
  SpBench *bench = sp_session_bench (session);
  g_autoptr (SpAnalyzer) blank = sp_analyzer_blank ("My analyzer");
  sp_session_edit (session, sp_bench_replace_analyzer (bench, bench->analyzer, blank), "blank", NULL);
  sp_analyzer_dialog_present (GTK_WINDOW (window), session);
  SpDialog *dialog = SP_DIALOG (other_window ());
  GtkWidget *accuracy = sp_fields_widget (dialog->forms->pdata[0], "accuracy_db"),
            *danl = sp_fields_widget (dialog->forms->pdata[0], "danl_dbm_hz");
  ck_assert_str_eq (gtk_entry_get_placeholder_text (GTK_ENTRY (accuracy)), "1.5 assumed");
  ck_assert_ptr_nonnull (strstr (gtk_entry_get_placeholder_text (GTK_ENTRY (danl)), "no floor is foretold"));
  ck_assert_ptr_nonnull (find (GTK_WIDGET (dialog), is_button, "_Check against a known level…"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  undo_and_compare ();
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("page of check");
  TCase *t = tcase_create ("check");
  tcase_add_checked_fixture (t, open_without_drafts, tear_down);
  tcase_add_test (t, a_check_is_typed_and_taken_over);
  tcase_add_test (t, what_is_wrong_is_said_and_kept);
  tcase_add_test (t, a_file_is_opened);
  tcase_add_test (t, analyzers_on_the_shelf);
  tcase_add_test (t, empty_fields_say_what_is_assumed);
  tcase_set_timeout (t, 60);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
