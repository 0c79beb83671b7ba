/* radios.c - the list at the left: bands, order, search, and what the chart shows */
#include "tests/pages/room.h"

#include "core/bench/edit/edit.h"
#include "ui/window/pages/radio-move.h"
#include "ui/window/pages/radio-row.h"
#include "ui/window/pages/radios.h"

static void
open_radios (void)
{
  open_with (sp_radios_new);
}

static gboolean
is_view (GtkWidget *widget, const char *text)
{
  (void) text;
  return GTK_IS_LIST_VIEW (widget);
}

static GListModel *
rows (void)
{
  return G_LIST_MODEL (gtk_list_view_get_model (GTK_LIST_VIEW (find (page, is_view, NULL))));
}

/* "[2 m]" for the head of a band, else the condition's whole name, of every row. */
static char *
listed (void)
{
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < g_list_model_get_n_items (rows ()); i++) {
    g_autoptr (GObject) item = g_list_model_get_item (rows (), i);
    if (SP_IS_BAND_ITEM (item))
      g_string_append_printf (text, "[%s] ", sp_band_item_waveband (SP_BAND_ITEM (item))->name);
    else
      g_string_append_printf (text, "%s ", sp_found_item_found (SP_FOUND_ITEM (item))->name);
  }
  return g_string_free (text, FALSE);
}

static void
expect_listed (const char *wanted)
{
  g_autofree char *text = listed ();
  ck_assert_str_eq (g_strstrip (text), wanted);
}

#define IN_BANDS "[20 m] Vaskerry [6 m] Zelbridor [2 m] Tulvannick Larquedon Brundlow Dornimel/2 m [70 cm] Dornimel/70 cm"

START_TEST (bands_stand_together_and_fold)
{
  expect_listed (IN_BANDS);
  g_signal_emit_by_name (find (page, is_view, NULL), "activate", 4); /* 2 m */
  expect_listed ("[20 m] Vaskerry [6 m] Zelbridor [2 m] [70 cm] Dornimel/70 cm");
  g_signal_emit_by_name (find (page, is_view, NULL), "activate", 4);
  expect_listed (IN_BANDS);
  sp_session_set_by_band (session, FALSE);
  expect_listed ("Zelbridor Tulvannick Larquedon Brundlow Vaskerry Dornimel/2 m Dornimel/70 cm");
  ck_assert_uint_eq (sp_session_rows (session)[4], 5);
}
END_TEST

START_TEST (worst_first_and_by_name_within_a_band)
{
  sp_session_set_order (session, SP_ORDER_WORST);
  expect_listed ("[20 m] Vaskerry [6 m] Zelbridor [2 m] Tulvannick Larquedon Brundlow Dornimel/2 m [70 cm] Dornimel/70 cm");
  sp_session_set_order (session, SP_ORDER_NAME);
  expect_listed ("[20 m] Vaskerry [6 m] Zelbridor [2 m] Brundlow Dornimel/2 m Larquedon Tulvannick [70 cm] Dornimel/70 cm");
  ck_assert_uint_eq (sp_session_rows (session)[3], 3); /* Brundlow, the fourth of the book */
  sp_session_choose (session, 3, SP_DECIDING_EMISSION);
  ck_assert_uint_eq (gtk_single_selection_get_selected (GTK_SINGLE_SELECTION (rows ())), 5); /* after three heads and two rows */
}
END_TEST

static guint
n_shown (void)
{
  guint n;
  g_object_get (session, "shown", &n, NULL);
  return n;
}

START_TEST (only_this_its_band_and_all_again)
{
  ck_assert_uint_eq (n_shown (), 7);
  sp_session_show_only (session, 2);
  ck_assert (n_shown () == 1 && sp_session_shows (session, 2) && !sp_session_shows (session, 0));
  sp_session_show_only (session, 2);
  ck_assert_uint_eq (n_shown (), 7);
  const SpWaveband *its = sp_compare_waveband (sp_session_findings (session), 2);
  sp_session_show_only_waveband (session, its);
  ck_assert (n_shown () == 4 && sp_session_shows (session, 5) && !sp_session_shows (session, 6));
  sp_session_show_only_waveband (session, its);
  ck_assert_uint_eq (n_shown (), 7);
}
END_TEST

START_TEST (what_is_hidden_is_no_part_of_the_book_and_stays_so)
{
  sp_session_show (session, 1, FALSE);
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
  sp_session_edit (session, sp_bench_move_condition (sp_session_bench (session), 0, 1), "move", NULL);
  settle ();
  ck_assert (!sp_session_shows (session, 0) && sp_session_shows (session, 1)); /* Tulvannick is the first now */
  sp_session_undo (session);
  settle ();
  ck_assert (sp_session_shows (session, 0) && !sp_session_shows (session, 1));
}
END_TEST

static gboolean
is_tick (GtkWidget *widget, const char *text)
{
  (void) text;
  GtkWidget *parent = gtk_widget_get_parent (widget);
  return GTK_IS_CHECK_BUTTON (widget) && gtk_widget_get_mapped (widget) && SP_IS_RADIO_ROW (parent);
}

START_TEST (a_tick_shows_and_hides)
{
  GtkWidget *tick = find (page, is_tick, NULL); /* of the first row: Vaskerry */
  ck_assert (gtk_check_button_get_active (GTK_CHECK_BUTTON (tick)));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (tick), FALSE);
  ck_assert (!sp_session_shows (session, 4) && n_shown () == 6);
  sp_session_show (session, 4, TRUE);
  ck_assert (gtk_check_button_get_active (GTK_CHECK_BUTTON (tick)));
}
END_TEST

static gboolean
press (guint key)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (find (page, is_view, NULL));
  gboolean taken = FALSE;
  for (guint i = 0; i < g_list_model_get_n_items (all) && !taken; i++) {
    g_autoptr (GObject) controller = g_list_model_get_item (all, i);
    if (GTK_IS_EVENT_CONTROLLER_KEY (controller))
      g_signal_emit_by_name (controller, "key-pressed", key, 0, 0, &taken);
  }
  return taken;
}

START_TEST (the_space_bar_hides_the_chosen_one)
{
  sp_session_choose (session, 5, SP_DECIDING_EMISSION);
  ck_assert (press (GDK_KEY_space) && !sp_session_shows (session, 5) && n_shown () == 6);
  ck_assert (press (GDK_KEY_space) && n_shown () == 7);
  ck_assert (!press (GDK_KEY_Left)); /* no band has the focus */
}
END_TEST

static gboolean
is_row (GtkWidget *widget, const char *lead)
{
  GtkWidget *names = SP_IS_RADIO_ROW (widget) && gtk_widget_get_mapped (widget) ? gtk_grid_get_child_at (GTK_GRID (widget), 2, 0) : NULL;
  return names && strcmp (gtk_label_get_text (GTK_LABEL (gtk_widget_get_first_child (names))), lead) == 0;
}

/* The chosen one stands below two heads and another radio. */
START_TEST (the_chosen_row_has_the_focus_at_the_start)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (page));
  ck_assert_uint_eq (sp_session_condition (session), 0);
  ck_assert_ptr_eq (focus, gtk_widget_get_parent (find (page, is_row, "Zelbridor")));
}
END_TEST

/* What the toolkit does when a row is let go over another. */
static gboolean
drop_on (const char *lead, guint condition)
{
  g_autoptr (GListModel) all = gtk_widget_observe_controllers (find (page, is_row, lead));
  g_autoptr (SpFoundItem) item = sp_found_item_new (sp_session_findings (session), condition, -1);
  g_auto (GValue) value = G_VALUE_INIT;
  gboolean taken = FALSE;
  g_value_init (&value, SP_TYPE_FOUND_ITEM);
  g_value_set_object (&value, item);
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GObject) controller = g_list_model_get_item (all, i);
    GdkContentFormats *formats = GTK_IS_DROP_TARGET (controller) ? gtk_drop_target_get_formats (GTK_DROP_TARGET (controller)) : NULL;
    if (formats && gdk_content_formats_contain_gtype (formats, SP_TYPE_FOUND_ITEM))
      g_signal_emit_by_name (controller, "drop", &value, 1.0, 1.0, &taken);
  }
  return taken;
}

START_TEST (a_row_is_dragged_and_moved_by_keys)
{
  ck_assert (drop_on ("Tulvannick", 3)); /* Brundlow takes its place */
  settle ();
  expect_listed ("[20 m] Vaskerry [6 m] Zelbridor [2 m] Brundlow Tulvannick Larquedon Dornimel/2 m [70 cm] Dornimel/70 cm");
  ck_assert_uint_eq (sp_session_condition (session), 1);
  sp_radio_move_chosen (session, 1);
  settle ();
  expect_listed ("[20 m] Vaskerry [6 m] Zelbridor [2 m] Tulvannick Brundlow Larquedon Dornimel/2 m [70 cm] Dornimel/70 cm");
  ck_assert (!drop_on ("Tulvannick", 0)); /* of another band */
  sp_session_undo (session);
  sp_session_undo (session);
  settle ();
  expect_listed (IN_BANDS);
  ck_assert_str_eq (sp_session_found (session)->name, "Brundlow"); /* whoever was chosen still is */
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}
END_TEST

static gboolean
is_search (GtkWidget *widget, const char *text)
{
  (void) text;
  return GTK_IS_ENTRY (widget);
}

static void
seek (const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (find (page, is_search, NULL)), text);
}

START_TEST (from_ten_on_there_is_a_search)
{
  ck_assert (!gtk_widget_get_visible (find (page, is_search, NULL)));
  for (guint i = 0; i < 3; i++) {
    g_autofree char *name = g_strdup_printf ("again %u", i);
    sp_session_edit (session, sp_bench_duplicate_condition (sp_session_bench (session), 0, name, NULL), "more", NULL);
    settle ();
  }
  ck_assert (gtk_widget_get_visible (find (page, is_search, NULL)));
  seek ("LARQ");
  expect_listed ("[2 m] Larquedon");
  seek ("70 cm");
  expect_listed ("[70 cm] Dornimel/70 cm");
  seek ("nobody");
  expect_listed ("");
  seek ("");
  ck_assert_uint_eq (g_list_model_get_n_items (rows ()), 14);
}
END_TEST

/* Asked for, it is there for few radios too, and letters are typed into it. */
START_TEST (the_search_is_there_when_it_is_asked_for)
{
  sp_radios_find (SP_RADIOS (page));
  settle ();
  ck_assert (gtk_widget_get_visible (find (page, is_search, NULL)));
  seek ("LARQ");
  expect_listed ("[2 m] Larquedon");
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("radios");
  TCase *t = tcase_create ("radios");
  tcase_add_checked_fixture (t, open_radios, tear_down);
  tcase_add_test (t, bands_stand_together_and_fold);
  tcase_add_test (t, worst_first_and_by_name_within_a_band);
  tcase_add_test (t, only_this_its_band_and_all_again);
  tcase_add_test (t, what_is_hidden_is_no_part_of_the_book_and_stays_so);
  tcase_add_test (t, a_tick_shows_and_hides);
  tcase_add_test (t, the_space_bar_hides_the_chosen_one);
  tcase_add_test (t, a_row_is_dragged_and_moved_by_keys);
  tcase_add_test (t, from_ten_on_there_is_a_search);
  tcase_add_test (t, the_chosen_row_has_the_focus_at_the_start);
  tcase_add_test (t, the_search_is_there_when_it_is_asked_for);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
