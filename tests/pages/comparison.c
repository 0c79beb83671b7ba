/* comparison.c - the conditions side by side */
#include "tests/pages/room.h"

#include "core/bench/edit/edit.h"
#include "ui/window/pages/compare-page.h"

static void
open_compare (void)
{
  open_with (sp_compare_page_new);
}

static gboolean
is_view (GtkWidget *widget, const char *text)
{
  (void) text;
  return GTK_IS_COLUMN_VIEW (widget);
}

START_TEST (comparison_and_session_choose_together)
{
  GtkColumnView *view = GTK_COLUMN_VIEW (find (page, is_view, NULL));
  GtkSingleSelection *selection = GTK_SINGLE_SELECTION (gtk_column_view_get_model (view));
  ck_assert_uint_eq (g_list_model_get_n_items (G_LIST_MODEL (selection)), 7);
  sp_session_choose (session, 3, -1);
  ck_assert_uint_eq (gtk_single_selection_get_selected (selection), 3);
  gtk_single_selection_set_selected (selection, 5);
  ck_assert_uint_eq (sp_session_condition (session), 5);
  /* by margin, the worst first: Brundlow's floor lies above its limit */
  GtkColumnViewColumn *margin = g_list_model_get_item (gtk_column_view_get_columns (view), 5);
  gtk_column_view_sort_by_column (view, margin, GTK_SORT_ASCENDING);
  g_object_unref (margin);
  settle ();
  gtk_single_selection_set_selected (selection, 0);
  ck_assert_uint_eq (sp_session_condition (session), 3);
  sp_session_choose (session, 6, -1); /* no limit, so no margin: last */
  ck_assert_uint_eq (gtk_single_selection_get_selected (selection), 6);
}
END_TEST

static char *copied;
static gboolean copying;

static void
on_text (GObject *source, GAsyncResult *result, gpointer data)
{
  (void) data;
  copied = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);
  copying = FALSE;
}

static void
copy (void)
{
  act ("compare.copy");
  copying = TRUE;
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (page), NULL, on_text, NULL);
  while (copying)
    g_main_context_iteration (NULL, TRUE);
}

START_TEST (comparison_is_copied)
{
  copy ();
  ck_assert_ptr_nonnull (strstr (copied, "Larquedon"));
  ck_assert_ptr_nonnull (strstr (copied, "inconclusive"));
  g_free (copied);
}
END_TEST

static int
deciding (void)
{
  return sp_session_found (session)->worst_emission;
}

START_TEST (what_decides_is_chosen_until_another_is)
{
  ck_assert_int_ge (deciding (), 0);
  ck_assert_int_eq (sp_session_emission (session), deciding ()); /* at the start */
  GtkColumnView *view = GTK_COLUMN_VIEW (find (page, is_view, NULL));
  gtk_single_selection_set_selected (GTK_SINGLE_SELECTION (gtk_column_view_get_model (view)), 5);
  ck_assert_uint_eq (sp_session_condition (session), 5);
  ck_assert_int_eq (sp_session_emission (session), deciding ());
  int other = deciding () == 0 ? 1 : 0;
  sp_session_choose (session, 5, other);
  sp_session_edit (session, sp_bench_move_condition (sp_session_bench (session), 0, 1), "move", NULL);
  settle ();
  ck_assert_int_eq (sp_session_emission (session), other);
  sp_session_choose (session, 4, SP_DECIDING_EMISSION);
  sp_session_edit (session, sp_bench_move_condition (sp_session_bench (session), 4, 2), "move", NULL);
  settle ();
  ck_assert_int_eq (sp_session_emission (session), deciding ()); /* of the one that stands there now */
}
END_TEST

static gboolean
is_charts (GtkWidget *widget, const char *text)
{
  (void) text;
  return GTK_IS_DRAWING_AREA (widget) && gtk_widget_get_focusable (widget) && gtk_widget_get_mapped (widget);
}

static gboolean
is_choice (GtkWidget *widget, const char *text)
{
  return GTK_IS_DROP_DOWN (widget)
         && g_str_has_prefix (gtk_string_object_get_string (gtk_drop_down_get_selected_item (GTK_DROP_DOWN (widget))), text);
}

static GtkWidget *
open_charts (void)
{
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find (page, is_button, "Small charts")), TRUE);
  settle ();
  gtk_test_widget_wait_for_draw (window);
  settle ();
  return find (page, is_charts, NULL);
}

static void
press (GtkWidget *widget, guint key)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (widget);
  gboolean taken = FALSE;
  for (guint i = 0; i < g_list_model_get_n_items (all) && !taken; i++) {
    g_autoptr (GObject) controller = g_list_model_get_item (all, i);
    if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
      g_signal_emit_by_name (controller, "key-pressed", key, 0, 0, &taken);
  }
  ck_assert (taken);
}

/* Those over the drawing, one for each chart that is shown. */
static guint
n_told (GtkWidget *charts)
{
  guint n = 0;
  for (GtkWidget *one = gtk_widget_get_next_sibling (charts); one; one = gtk_widget_get_next_sibling (one)) {
    ck_assert (gtk_test_accessible_has_property (GTK_ACCESSIBLE (one), GTK_ACCESSIBLE_PROPERTY_LABEL)
               && gtk_test_accessible_has_property (GTK_ACCESSIBLE (one), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION));
    ck_assert_int_gt (gtk_widget_get_width (one), 100);
    n++;
  }
  return n;
}

START_TEST (small_charts_the_worst_first)
{
  GtkWidget *charts = open_charts ();
  ck_assert_ptr_nonnull (charts);
  ck_assert_uint_eq (n_told (charts), 7);
  sp_session_choose (session, 1, SP_DECIDING_EMISSION); /* Tulvannick exceeds: the first chart */
  press (charts, GDK_KEY_Left);
  ck_assert_uint_eq (sp_session_condition (session), 1); /* none before it */
  press (charts, GDK_KEY_Right);
  ck_assert_uint_eq (sp_session_condition (session), 2); /* Larquedon is inconclusive */
  int all = gtk_drawing_area_get_content_height (GTK_DRAWING_AREA (charts));
  GtkDropDown *bands = GTK_DROP_DOWN (find (page, is_choice, "all bands"));
  ck_assert_uint_eq (g_list_model_get_n_items (gtk_drop_down_get_model (bands)), 5); /* and four bands */
  gtk_drop_down_set_selected (bands, 1);                                             /* 20 m: one condition */
  settle ();
  ck_assert_int_lt (gtk_drawing_area_get_content_height (GTK_DRAWING_AREA (charts)), all);
  ck_assert_uint_eq (n_told (charts), 1);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find (page, is_choice, "against")), 2);
  settle ();
  gtk_test_widget_wait_for_draw (window);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (find (page, is_button, "Small charts")), FALSE);
  ck_assert (gtk_widget_get_mapped (find (page, is_view, NULL)));
}
END_TEST

static gboolean
chooses (GtkWidget *widget, const char *text)
{
  const char *action = GTK_IS_BUTTON (widget) ? gtk_actionable_get_action_name (GTK_ACTIONABLE (widget)) : NULL;
  return g_strcmp0 (action, "pivot.choose") == 0 && g_str_has_prefix (gtk_widget_get_tooltip_text (widget), text);
}

/* Only Dornimel has two conditions. */
START_TEST (by_band_and_power)
{
  GtkWidget *charts = find (page, is_button, "Small charts");
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (charts), TRUE);
  act ("compare.pivot");
  ck_assert (!gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (charts)));
  GtkWidget *cell = find (page, chooses, "Dornimel/2 m");
  ck_assert_ptr_nonnull (strstr (gtk_widget_get_tooltip_text (cell), "7.7 2nd harmonic, complies"));
  g_signal_emit_by_name (cell, "clicked");
  settle ();
  ck_assert_str_eq (sp_session_found (session)->name, "Dornimel/2 m");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find (page, is_choice, "room")), 1);
  settle ();
  ck_assert_ptr_nonnull (find (page, is_label, "Dornimel: harmonic 2 in dBc, by band and power"));
  copy ();
  ck_assert_ptr_nonnull (strstr (copied, "Dornimel: harmonic 2 in dBc"));
  g_free (copied);
  act ("compare.pivot");
  ck_assert (gtk_widget_get_mapped (find (page, is_view, NULL)));
}
END_TEST

static void
open_pocket (void)
{
  opened_sheet = "samples/pocket.sheet";
  open_compare ();
}

static void
close_pocket (void)
{
  tear_down ();
  opened_sheet = "samples/club.sheet";
}

START_TEST (the_table_says_whose_a_reading_is)
{
  ck_assert_ptr_nonnull (find (page, is_label, "analyzer"));
  ck_assert_ptr_nonnull (find (page, is_label, "mixed"));
  ck_assert_ptr_null (find (page, is_label, "radio's")); /* the radio's own needs no word */
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("comparison");
  TCase *t = tcase_create ("comparison");
  tcase_add_checked_fixture (t, open_compare, tear_down);
  tcase_add_test (t, comparison_and_session_choose_together);
  tcase_add_test (t, comparison_is_copied);
  tcase_add_test (t, what_decides_is_chosen_until_another_is);
  tcase_add_test (t, small_charts_the_worst_first);
  tcase_add_test (t, by_band_and_power);
  suite_add_tcase (s, t);
  TCase *whose = tcase_create ("whose");
  tcase_add_checked_fixture (whose, open_pocket, close_pocket);
  tcase_add_test (whose, the_table_says_whose_a_reading_is);
  suite_add_tcase (s, whose);
  return s;
}

PAGES_MAIN (suite)
