/* entries.c - every entry of every form of the whole window: what the program set cannot be undone into something else, what was typed can */
#include "tests/pages/typing.h"

#include <glib/gstdio.h>

#include "core/bench/edit/edit.h"
#include "core/bench/sheet/sheet.h"
#include "ui/window/chain/chain-page-private.h"
#include "ui/window/import/import-private.h"
#include "ui/window/shell/window-private.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/theme.h"

#define ENTRIES_LEAST 316 /* that the whole walk has found; more is welcome */

static SpWindow *whole;
static char *home, *export;
static guint walked;

/* Before anybody asks where the user's data is. */
__attribute__ ((constructor)) static void
own_home (void)
{
  home = g_dir_make_tmp ("sp-home-XXXXXX", NULL);
  g_setenv ("XDG_DATA_HOME", home, TRUE);
  g_setenv ("XDG_CONFIG_HOME", home, TRUE);
}

static void
open_whole (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path ("samples/club.sheet"), *sweep = sp_test_path ("samples/raw/tulvannick.csv"), *bytes = NULL;
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  gsize length;
  sp_no_error (error);
  hash = g_strdup (bench->sha256);
  export = g_build_filename (home, "Fennoch-step10.csv", NULL);
  g_file_get_contents (sweep, &bytes, &length, &error);
  sp_no_error (error);
  g_file_set_contents (export, bytes, (gssize) length, &error); /* an action that writes belongs into writing[], below */
  sp_no_error (error);
  static gboolean started;
  if (!started)
    sp_theme_start (sp_theme_named (NULL), NULL);
  started = TRUE;
  whole = sp_window_new (NULL, sp_book_new (bench), NULL);
  window = GTK_WIDGET (whole);
  session = sp_window_session (whole);
  gtk_window_set_default_size (GTK_WINDOW (window), 1024, 640);
  gtk_window_present (GTK_WINDOW (window));
  settle ();
  gtk_test_widget_wait_for_draw (window);
  sp_session_choose (session, 1, 0);
  settle ();
}

static void
close_whole (void)
{
  gtk_window_destroy (GTK_WINDOW (window));
  settle ();
  g_unlink (export);
  g_free (export);
  g_free (hash);
}

/* ---- what holds for every entry ---- */

static void
expect_as_it_stood (GtkWidget *entry, const char *stood, const char *form, guint place, const char *after)
{
  ck_assert_msg (strcmp (text_in (entry), stood) == 0, "%s, entry %u: “%s” became “%s” by %s", form, place, stood, text_in (entry), after);
  ck_assert_msg (strcmp (sp_session_bench (session)->sha256, hash) == 0, "%s, entry %u, “%s”: the bench is another by %s", form, place,
                 stood, after);
}

static gboolean
can_redo (void)
{
  g_autofree char *label = NULL;
  g_object_get (session, "redo-label", &label, NULL);
  return label != NULL;
}

static void
leave_untouched (GtkWidget *in, GtkWidget *entry, const char *form, guint place)
{
  g_autofree char *stood = g_strdup (text_in (entry));
  enter (entry);
  press_undo (in);
  press_undo (in);
  if (!can_redo ()) /* what the test itself has undone is the book's to bring again */
    press_redo (in);
  leave (in);
  expect_as_it_stood (entry, stood, form, place, "Ctrl+Z");
}

static void
type_and_take_back (GtkWidget *in, GtkWidget *entry, const char *form, guint place)
{
  g_autofree char *stood = g_strdup (text_in (entry));
  enter (entry);
  type_over (in, strcmp (stood, "75") == 0 ? "76" : "75");
  ck_assert_msg (strcmp (text_in (entry), stood) != 0, "%s, entry %u, “%s”: nothing can be typed", form, place, stood);
  for (guint i = 0; i < 8; i++)
    press_undo (in);
  leave (in);
  expect_as_it_stood (entry, stood, form, place, "typing and Ctrl+Z");
}

static void
walk (GtkWidget *in, const char *form, gboolean type)
{
  settle ();
  g_autoptr (GPtrArray) entries = entries_in (in);
  for (guint i = 0; i < entries->len; i++) {
    if (!gtk_widget_get_mapped (entries->pdata[i])) /* of a row that another entry brought and took */
      continue;
    leave_untouched (in, entries->pdata[i], form, i);
    if (type)
      type_and_take_back (in, entries->pdata[i], form, i);
    walked++;
  }
}

/* ---- the pages ---- */

static SpChainPage *
go_to_chain (void)
{
  gtk_widget_activate_action (window, "win.page", "s", "chain");
  settle ();
  gtk_test_widget_wait_for_draw (window);
  return SP_CHAIN_PAGE (gtk_widget_get_first_child (whole->chain));
}

static void
choose_stage (SpChainPage *chain, int stage)
{
  gtk_list_box_select_row (GTK_LIST_BOX (chain->list), gtk_list_box_get_row_at_index (GTK_LIST_BOX (chain->list), stage));
  settle ();
  gtk_test_widget_wait_for_draw (window);
}

/* Each stage's form is filled after another's, with the same number of points and with other ones. */
START_TEST (stages)
{
  static const int order[] = { 0, 1, 3, 1 };
  SpChainPage *chain = go_to_chain ();
  for (guint i = 0; i < G_N_ELEMENTS (order); i++) {
    choose_stage (chain, order[i]);
    walk (window, chain->chain->stages[order[i]]->name, i == 1);
  }
}
END_TEST

/* tail, then brick, Ctrl+Z twice, Tab: brick was rated tail's 60 W, and headroom said there was room. */
START_TEST (burnt_input)
{
  SpChainPage *chain = go_to_chain ();
  choose_stage (chain, 0);
  choose_stage (chain, 1);
  GtkWidget *rating = sp_fields_widget (SP_FIELDS (chain->stage_fields), "rating_w");
  for (guint times = 1; times < 6; times++) {
    gtk_widget_grab_focus (rating);
    for (guint i = 0; i < times; i++)
      press_undo (window);
    leave (window);
    ck_assert_str_eq (text_in (rating), "25");
    ck_assert_double_eq (sp_session_bench (session)->chain->stages[1]->rating_w, 25);
  }
}
END_TEST

static void
start_cell (SpChainPage *chain, const char *text)
{
  GtkWidget *cell = find (chain->points_view, is_cell, text);
  ck_assert_msg (cell != NULL, "no cell %s", text);
  enter (cell);
}

/* A cell that is being edited shows what the book's undo made of its point: left alone, it does not write the old value back. */
START_TEST (undo_under_a_cell)
{
  SpChainPage *chain = go_to_chain ();
  choose_stage (chain, 1);
  start_cell (chain, "30.09");
  type_over (window, "30.4");
  leave (window);
  expect_edit ("Change the loss of brick at 150 MHz");
  start_cell (chain, "30.4");
  press_undo (window);
  settle ();
  leave (window);
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  ck_assert_ptr_nonnull (find (chain->points_view, is_cell, "30.09"));
  g_autofree char *left = undo_label ();
  ck_assert_ptr_null (left);
}
END_TEST

/* ---- whose key it is ---- */

START_TEST (keys_are_the_books_where_nothing_is_typed)
{
  SpChainPage *chain = go_to_chain ();
  choose_stage (chain, 1);
  GtkWidget *rating = sp_fields_widget (SP_FIELDS (chain->stage_fields), "rating_w"),
            *label = sp_fields_widget (SP_FIELDS (chain->stage_fields), "label_db");
  enter (rating);
  type_over (window, "20");
  g_signal_emit_by_name (rating, "activate");
  settle ();
  g_autofree char *edited = g_strdup (sp_session_bench (session)->sha256);
  ck_assert_str_ne (edited, hash);
  enter (label); /* another entry, never touched */
  press_undo (window);
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  ck_assert_str_eq (text_in (rating), "25");
  press_redo (window);
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, edited);
  type_over (window, "31"); /* first the typing, then the edit; and the other way round */
  press_undo (window), press_undo (window), press_undo (window), press_undo (window);
  settle ();
  ck_assert_str_eq (text_in (label), "30");
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  press_redo (window);
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, edited);
  ck_assert_str_eq (text_in (label), "30");
  press_undo (window);
  leave (window);
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}
END_TEST

/* What is typed and not entered is never written into what a redo brings in its place. */
START_TEST (redo_does_not_reach_past_typing)
{
  SpChainPage *chain = go_to_chain ();
  choose_stage (chain, 1);
  gtk_widget_activate_action (GTK_WIDGET (chain), "chain.down", NULL);
  settle ();
  sp_session_undo (session);
  settle ();
  choose_stage (chain, 1);
  enter (sp_fields_widget (SP_FIELDS (chain->stage_fields), "label_db"));
  type_over (window, "31");
  press_redo (window);
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}
END_TEST

/* ---- everything that opens ---- */

static GtkWidget *
other_window (void)
{
  GListModel *all = gtk_window_get_toplevels ();
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GtkWidget) one = g_list_model_get_item (all, i);
    if (one != window)
      return one;
  }
  return NULL;
}

static gboolean
is_still_read (GtkWidget *one)
{
  return G_TYPE_CHECK_INSTANCE_TYPE (one, SP_TYPE_IMPORT_WINDOW)
         && (SP_IMPORT_WINDOW (one)->cancellable || SP_IMPORT_WINDOW (one)->settle_source);
}

static void
take_back_edits (void)
{
  for (char *label; (label = undo_label ()); g_free (label)) {
    sp_session_undo (session);
    settle ();
  }
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}

static void
walk_what_opened (const char *action)
{
  for (GtkWidget *one; (one = other_window ());) {
    while (is_still_read (one))
      g_main_context_iteration (NULL, TRUE);
    gtk_test_widget_wait_for_draw (one);
    walk (one, action, TRUE);
    gtk_window_destroy (GTK_WINDOW (one));
    settle ();
  }
}

/* Every action of the window that asks for nothing: what it opens is walked. Questions for files are answered with an export. */
START_TEST (every_window)
{
  static const char *const writing[] = { "win.save-as", "win.spreadsheet", "win.spreadsheet-sweeps", "win.picture", "win.figures", NULL };
  GtkWidgetClass *klass = GTK_WIDGET_GET_CLASS (window);
  const GVariantType *asks;
  const char *name, *property;
  GType owner;
  guint n = 0;
  for (guint i = 0; gtk_widget_class_query_action (klass, i, &owner, &name, &asks, &property); i++) {
    if (asks || !g_str_has_prefix (name, "win.") || g_strv_contains (writing, name))
      continue;
    sp_ask_file_answer (g_file_new_for_path (export));
    gtk_widget_activate_action (window, name, NULL);
    settle ();
    sp_ask_file_answer (NULL);
    take_back_edits ();
    walk (window, name, TRUE); /* a popover is part of it */
    walk_what_opened (name);
    n++;
  }
  ck_assert_uint_gt (n, 15);
}
END_TEST

/* A long sentence stands on as many lines as the width leaves, whatever the height: else the window grows past the screen. */
START_TEST (width_comes_first)
{
  int least_height, least, of_low;
  go_to_chain (); /* a page counts once it is made */
  gtk_widget_measure (window, GTK_ORIENTATION_VERTICAL, -1, &least_height, NULL, NULL, NULL);
  gtk_widget_measure (window, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  gtk_widget_measure (window, GTK_ORIENTATION_HORIZONTAL, least_height, &of_low, NULL, NULL, NULL);
  ck_assert_int_eq (of_low, least);
}
END_TEST

/* What belongs to a stage: the run's form, the shelf, what else there will be. */
START_TEST (every_window_of_a_stage)
{
  SpChainPage *chain = go_to_chain ();
  g_auto (GStrv) names = g_action_group_list_actions (G_ACTION_GROUP (chain->actions));
  for (guint i = 0; names[i]; i++) {
    if (g_action_group_get_action_parameter_type (G_ACTION_GROUP (chain->actions), names[i]))
      continue;
    choose_stage (chain, 1);
    sp_ask_file_answer (g_file_new_for_path (export));
    g_action_group_activate_action (G_ACTION_GROUP (chain->actions), names[i], NULL);
    settle ();
    sp_ask_file_answer (NULL);
    take_back_edits ();
    walk_what_opened (names[i]);
  }
}
END_TEST

/* ---- closing over what was not taken ---- */

static SpDialog *
open_dialog (const char *action)
{
  gtk_widget_activate_action (window, action, NULL);
  settle ();
  gtk_test_widget_wait_for_draw (other_window ());
  return SP_DIALOG (other_window ());
}

static void
expect_told (SpDialog *dialog, GtkWidget *entry, const char *text)
{
  settle ();
  ck_assert_ptr_eq (other_window (), GTK_WIDGET (dialog));
  ck_assert (gtk_widget_get_mapped (dialog->not_taken));
  ck_assert_ptr_nonnull (strstr (gtk_label_get_text (GTK_LABEL (dialog->not_taken)), text));
  ck_assert_ptr_eq (gtk_widget_get_parent (gtk_window_get_focus (GTK_WINDOW (dialog))), entry);
}

/* Escape: told at first; then in the entry, as ever, what stood there is back; then the dialog closes. By its button: told, and closed. */
START_TEST (a_refused_value_is_told_before_its_dialog_closes)
{
  SpDialog *dialog = open_dialog ("win.edit-bench");
  GtkWidget *entry = sp_fields_widget (dialog->forms->pdata[1], "temperature_c");
  g_autofree char *stood = g_strdup (text_in (entry));
  enter (entry);
  type_over (GTK_WIDGET (dialog), "warm");
  leave (GTK_WIDGET (dialog));
  press_key (GTK_WIDGET (dialog), GDK_KEY_Escape, 0);
  expect_told (dialog, entry, "warm");
  press_key (GTK_WIDGET (dialog), GDK_KEY_Escape, 0);
  ck_assert_str_eq (text_in (entry), stood);
  ck_assert (!gtk_widget_get_visible (dialog->not_taken));
  press_key (GTK_WIDGET (dialog), GDK_KEY_Escape, 0);
  settle ();
  ck_assert_ptr_null (other_window ());
  dialog = open_dialog ("win.edit-bench");
  entry = sp_fields_widget (dialog->forms->pdata[1], "temperature_c");
  enter (entry);
  type_over (GTK_WIDGET (dialog), "warm");
  gtk_window_close (GTK_WINDOW (dialog));
  expect_told (dialog, entry, "warm");
  gtk_window_close (GTK_WINDOW (dialog));
  settle ();
  ck_assert_ptr_null (other_window ());
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}
END_TEST

/* Settings of a sweep are taken by Enter alone; an edit beside them does not take them away. */
START_TEST (what_was_not_entered_is_told_too)
{
  SpDialog *dialog = open_dialog ("win.edit-condition");
  GtkWidget *entry = find (GTK_WIDGET (dialog), is_entry_of, "settings to correct, such as rbw=10kHz&attenuation=20");
  enter (entry);
  type_over (GTK_WIDGET (dialog), "rbw=30kHz");
  leave (GTK_WIDGET (dialog));
  type_into (dialog->forms->pdata[0], "owner", "somebody");
  ck_assert_str_eq (text_in (entry), "rbw=30kHz");
  gtk_window_close (GTK_WINDOW (dialog));
  expect_told (dialog, entry, "rbw=30kHz");
  gtk_window_close (GTK_WINDOW (dialog));
  settle ();
  ck_assert_ptr_null (other_window ());
}
END_TEST

START_TEST (a_text_of_several_lines_is_told_too)
{
  SpDialog *dialog = open_dialog ("win.edit-bench");
  GtkWidget *lines = sp_entry_lines_new ("several");
  gtk_box_prepend (GTK_BOX (dialog->content), lines);
  enter (lines);
  type_over (GTK_WIDGET (dialog), "one");
  gtk_window_close (GTK_WINDOW (dialog));
  ck_assert (gtk_widget_get_visible (dialog->not_taken));
  type_over (GTK_WIDGET (dialog), "two");
  ck_assert (!gtk_widget_get_visible (dialog->not_taken));
}
END_TEST

START_TEST (the_window_itself_does_not_close_over_it)
{
  SpChainPage *chain = go_to_chain ();
  choose_stage (chain, 1);
  enter (sp_fields_widget (SP_FIELDS (chain->stage_fields), "rating_w"));
  type_over (window, "plenty");
  gtk_window_close (GTK_WINDOW (window));
  settle ();
  ck_assert (gtk_widget_get_mapped (window) && gtk_widget_get_mapped (whole->trouble_text));
  ck_assert_ptr_nonnull (strstr (gtk_label_get_text (GTK_LABEL (whole->trouble_text)), "plenty"));
}
END_TEST

START_TEST (every_page)
{
  static const char *const pages[] = { "spectrum", "range", "compare" };
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++) {
    gtk_widget_activate_action (window, "win.page", "s", pages[i]);
    settle ();
    gtk_test_widget_wait_for_draw (window);
    walk (window, pages[i], TRUE);
  }
}
END_TEST

START_TEST (the_walk_was_not_empty)
{
  ck_assert_uint_ge (walked, ENTRIES_LEAST);
}
END_TEST

static Suite *
entries_suite (void)
{
  Suite *suite = suite_create ("entries");
  TCase *tests = tcase_create ("whole window"), *count = tcase_create ("count");
  tcase_set_timeout (tests, 0);
  tcase_add_checked_fixture (tests, open_whole, close_whole);
  tcase_add_test (tests, burnt_input);
  tcase_add_test (tests, stages);
  tcase_add_test (tests, undo_under_a_cell);
  tcase_add_test (tests, keys_are_the_books_where_nothing_is_typed);
  tcase_add_test (tests, redo_does_not_reach_past_typing);
  tcase_add_test (tests, a_refused_value_is_told_before_its_dialog_closes);
  tcase_add_test (tests, what_was_not_entered_is_told_too);
  tcase_add_test (tests, a_text_of_several_lines_is_told_too);
  tcase_add_test (tests, the_window_itself_does_not_close_over_it);
  tcase_add_test (tests, every_window);
  tcase_add_test (tests, width_comes_first);
  tcase_add_test (tests, every_window_of_a_stage);
  tcase_add_test (tests, every_page);
  tcase_add_test (count, the_walk_was_not_empty);
  suite_add_tcase (suite, tests);
  suite_add_tcase (suite, count);
  return suite;
}

PAGES_MAIN (entries_suite)
