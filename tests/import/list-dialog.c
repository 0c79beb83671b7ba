/* The form of the evening's list in a display: typed, understood, refused with its place, taken in one edit; and radios of an earlier bench. */
#include "tests/pages/room.h"

#include "ui/window/import/list-dialog.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/dialog.h"

static SpDialog *dialog;

static gpointer
part (const char *name)
{
  return gtk_widget_get_template_child (GTK_WIDGET (dialog), G_OBJECT_TYPE (dialog), name);
}

static GtkWidget *
nothing_below (SpSession *any)
{
  (void) any;
  return gtk_label_new (NULL);
}

static void
open_list (void)
{
  opened_sheet = "samples/blank.sheet";
  open_with (nothing_below);
  sp_list_dialog_present (GTK_WINDOW (window), session);
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  for (GList *l = windows; l; l = l->next)
    if (SP_IS_DIALOG (l->data))
      dialog = l->data;
  g_object_add_weak_pointer (G_OBJECT (dialog), (gpointer *) &dialog);
  settle ();
}

static gboolean
is_lines (GtkWidget *widget, const char *text)
{
  (void) text;
  return GTK_IS_TEXT_VIEW (widget);
}

static void
type (const char *text)
{
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (find (GTK_WIDGET (dialog), is_lines, ""))), text, -1);
  settle ();
}

static const char *
says (const char *name)
{
  return gtk_widget_get_visible (part (name)) ? gtk_label_get_text (GTK_LABEL (part (name))) : "";
}

START_TEST (a_list_is_typed_and_taken)
{
  open_list ();
  ck_assert (!gtk_widget_get_sensitive (part ("take")));
  type ("Mirrick;4711;Ola Berg;0,5\nAskerby;;;many\n");
  ck_assert_msg (strstr (says ("wrong"), ":2:11: "), "%s", says ("wrong"));
  ck_assert (!gtk_widget_get_sensitive (part ("take")));
  type ("Mirrick;4711;Ola Berg;0,5\nAskerby;;;5;6 m\n");
  gtk_editable_set_text (GTK_EDITABLE (part ("planned")), "2 m high, 70 cm high");
  settle ();
  ck_assert_str_eq (says ("wrong"), "");
  ck_assert_ptr_nonnull (strstr (says ("understood"), "Mirrick: 2 m high, 70 cm high"));
  gtk_window_close (GTK_WINDOW (dialog)); /* what stands there is not dropped at once */
  settle ();
  ck_assert_ptr_nonnull (dialog);
  ck_assert (gtk_widget_get_visible (dialog->not_taken));
  gtk_widget_activate_action (GTK_WIDGET (dialog), "list.take", NULL);
  settle ();
  ck_assert_ptr_null (dialog);
  const SpBench *bench = sp_session_bench (session);
  ck_assert_uint_eq (bench->n_radios, 2);
  ck_assert_uint_eq (bench->n_conditions, 3);
  ck_assert_double_eq (bench->conditions[1].rated_w, 0.5);
  sp_session_undo (session); /* one edit */
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  tear_down ();
}
END_TEST

START_TEST (a_list_comes_from_a_file)
{
  g_autofree char *path = sp_test_path ("samples/evening-list.csv");
  open_list ();
  sp_ask_file_answer (g_file_new_for_path (path));
  g_signal_emit_by_name (part ("from_file"), "clicked");
  settle ();
  ck_assert_str_eq (says ("wrong"), "");
  ck_assert (gtk_widget_get_sensitive (part ("take")));
  g_signal_emit_by_name (part ("take"), "clicked");
  settle ();
  ck_assert_ptr_null (dialog);
  ck_assert_uint_ge (sp_session_bench (session)->n_radios, 3);
  tear_down ();
}
END_TEST

/* GTK's own, whatever it asks. */
static GtkDialog *
question (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  for (GList *l = windows; l; l = l->next)
    if (GTK_IS_MESSAGE_DIALOG (l->data))
      return l->data;
  ck_abort_msg ("nothing is asked");
  return NULL;
}

START_TEST (radios_come_from_an_earlier_bench)
{
  g_autofree char *path = sp_test_path ("samples/club.sheet"), *table = sp_test_path ("samples/evening-list.csv");
  open_list ();
  sp_ask_file_answer (g_file_new_for_path (table));
  g_signal_emit_by_name (part ("from_earlier"), "clicked");
  settle ();
  ck_assert_ptr_nonnull (strstr (says ("wrong"), "expected one of these"));
  sp_ask_file_answer (g_file_new_for_path (path));
  g_signal_emit_by_name (part ("from_earlier"), "clicked");
  settle ();
  gtk_dialog_response (question (), GTK_RESPONSE_ACCEPT);
  settle ();
  ck_assert_uint_eq (sp_session_bench (session)->n_radios, 6);
  for (guint i = 0; i < sp_session_bench (session)->n_conditions; i++)
    ck_assert_uint_eq (sp_session_bench (session)->conditions[i].n_sweeps, 0);
  undo_and_compare ();
  gtk_window_close (GTK_WINDOW (dialog));
  tear_down ();
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("import/list-dialog");
  TCase *t = tcase_create ("list-dialog");
  tcase_add_test (t, a_list_is_typed_and_taken);
  tcase_add_test (t, a_list_comes_from_a_file);
  tcase_add_test (t, radios_come_from_an_earlier_bench);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
