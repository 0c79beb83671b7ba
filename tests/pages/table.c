/* table.c - the table of conditions: rows chosen, a value, a mask or a chain for all of them, cells pasted, each one edit */
#include "tests/pages/typing.h"

#include "ui/window/dialogs/condition-table.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/dialog.h"

static GtkWidget *table;

static gpointer
part (const char *name)
{
  return gtk_widget_get_template_child (table, G_OBJECT_TYPE (table), name);
}

static GtkWidget *
nothing_below (SpSession *any)
{
  (void) any;
  return gtk_label_new (NULL);
}

static void
open_table (void)
{
  open_with (nothing_below);
  sp_condition_table_present (GTK_WINDOW (window), session);
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  for (GList *l = windows; l; l = l->next)
    if (SP_IS_DIALOG (l->data))
      table = l->data;
  settle ();
}

static GtkSelectionModel *
rows (void)
{
  return gtk_column_view_get_model (GTK_COLUMN_VIEW (part ("view")));
}

/* Rows by radio: Brundlow, Dornimel twice, Larquedon, Tulvannick, Vaskerry, Zelbridor. */
static void
choose_rows (guint from, guint n)
{
  gtk_selection_model_unselect_all (rows ());
  gtk_selection_model_select_range (rows (), from, n, TRUE);
}

static void
set_column (guint column, const char *value)
{
  gtk_drop_down_set_selected (GTK_DROP_DOWN (part ("column")), column);
  gtk_editable_set_text (GTK_EDITABLE (part ("value")), value);
  gtk_widget_activate_action (table, "table.set", NULL);
  settle ();
}

/* The condition of that radio and name. */
static const SpCondition *
condition (const char *radio, const char *name)
{
  const SpBench *bench = sp_session_bench (session);
  for (guint i = 0; i < bench->n_conditions; i++)
    if (g_str_equal (bench->radios[bench->conditions[i].radio].name, radio) && g_str_equal (bench->conditions[i].name, name))
      return &bench->conditions[i];
  ck_abort_msg ("no %s, %s", radio, name);
  return NULL;
}

static const char *
trouble (void)
{
  return gtk_widget_get_visible (part ("trouble")) ? gtk_label_get_text (GTK_LABEL (part ("trouble"))) : "";
}

static void
undo_is_one_edit (void)
{
  sp_session_undo (session);
  settle ();
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash); /* it was one edit */
}

/* Rows, then the column, its value, the button. */
START_TEST (the_rows_are_left_by_one_key)
{
  open_table ();
  gtk_widget_grab_focus (part ("view"));
  press_key (table, GDK_KEY_Tab, 0);
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (table));
  ck_assert (focus == part ("column") || gtk_widget_is_ancestor (focus, part ("column")));
  tear_down ();
}
END_TEST

START_TEST (a_column_is_filled)
{
  open_table ();
  ck_assert_uint_eq (g_list_model_get_n_items (G_LIST_MODEL (rows ())), 7);
  choose_rows (1, 2);
  set_column (1, "7 W");
  ck_assert_str_eq (trouble (), "");
  ck_assert_double_eq (condition ("Dornimel", "2 m")->rated_w, 7);
  ck_assert_double_eq (condition ("Dornimel", "70 cm")->rated_w, 7);
  ck_assert_double_eq (condition ("Brundlow", "2 m")->rated_w, 5);
  ck_assert (gtk_selection_model_is_selected (rows (), 1) && gtk_selection_model_is_selected (rows (), 2)); /* they stay chosen */
  undo_is_one_edit ();
  set_column (0, "much");
  ck_assert_msg (*trouble () != 0, "refused without a word");
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  choose_rows (0, 0);
  set_column (1, "5");
  ck_assert_ptr_nonnull (strstr (trouble (), "no row"));
  tear_down ();
}
END_TEST

static gboolean
is_pasted (gpointer data)
{
  (void) data;
  return *trouble () || !g_str_equal (sp_session_bench (session)->sha256, hash);
}

START_TEST (cells_are_pasted)
{
  open_table ();
  choose_rows (1, 2);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (part ("column")), 1);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (table), "3\tCW\n4\tAM\n");
  gtk_widget_activate_action (table, "table.paste", NULL);
  ck_assert (sp_comes (is_pasted, NULL));
  settle ();
  ck_assert_str_eq (trouble (), "");
  ck_assert_double_eq (condition ("Dornimel", "2 m")->rated_w, 3);
  ck_assert_str_eq (condition ("Dornimel", "70 cm")->mode, "AM");
  undo_is_one_edit ();
  gdk_clipboard_set_text (gtk_widget_get_clipboard (table), "3\n4\n5\n");
  gtk_widget_activate_action (table, "table.paste", NULL);
  ck_assert (sp_comes (is_pasted, NULL));
  ck_assert_msg (strstr (trouble (), ":3:1: ") != NULL, "%s", trouble ());
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  tear_down ();
}
END_TEST

START_TEST (rows_get_a_mask_or_a_chain_together)
{
  g_autofree char *path = sp_test_path ("samples/club.chain");
  open_table ();
  choose_rows (0, 3);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (part ("column")), 4);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (part ("choice")), 1); /* the first built-in one */
  gtk_widget_activate_action (table, "table.set", NULL);
  settle ();
  ck_assert_str_eq (trouble (), "");
  ck_assert_str_eq (condition ("Brundlow", "2 m")->mask->name, sp_mask_names ()[0]);
  ck_assert_ptr_nonnull (condition ("Dornimel", "70 cm")->mask);
  ck_assert_ptr_null (condition ("Larquedon", "2 m")->mask);
  undo_is_one_edit ();
  choose_rows (0, 2);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (part ("column")), 5);
  sp_ask_file_answer (g_file_new_for_path (path));
  g_signal_emit_by_name (part ("from_file"), "clicked");
  settle ();
  ck_assert_ptr_nonnull (condition ("Brundlow", "2 m")->chain);
  ck_assert_ptr_eq (condition ("Brundlow", "2 m")->chain, condition ("Dornimel", "2 m")->chain);
  choose_rows (1, 1);
  gtk_widget_activate_action (table, "table.set", NULL); /* the bench's again */
  settle ();
  ck_assert_ptr_null (condition ("Dornimel", "2 m")->chain);
  ck_assert_ptr_nonnull (condition ("Brundlow", "2 m")->chain);
  tear_down ();
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("pages/table");
  TCase *t = tcase_create ("table");
  tcase_add_test (t, the_rows_are_left_by_one_key);
  tcase_add_test (t, a_column_is_filled);
  tcase_add_test (t, cells_are_pasted);
  tcase_add_test (t, rows_get_a_mask_or_a_chain_together);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
