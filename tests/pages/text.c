/* text.c - the desktop's text size and its high contrast are followed */
#include "tests/pages/room.h"

#include "ui/window/dialogs/bench-dialog.h"
#include "ui/window/pages/range-page.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/theme.h"

static void
open_styled (void)
{
  static gboolean started;
  if (!started)
    sp_theme_start (SP_THEME_LIGHT, NULL);
  started = TRUE;
  open_with (sp_range_page_new);
}

static GtkWidget *
open_dialog (void)
{
  GListModel *all = gtk_window_get_toplevels ();
  sp_bench_dialog_present (GTK_WINDOW (window), session);
  settle ();
  for (guint i = 0; i < g_list_model_get_n_items (all); i++) {
    g_autoptr (GtkWidget) one = g_list_model_get_item (all, i);
    if (SP_IS_DIALOG (one))
      return one;
  }
  return NULL;
}

static int
height_of (GtkWidget *widget)
{
  int height;
  gtk_widget_measure (widget, GTK_ORIENTATION_VERTICAL, -1, NULL, &height, NULL, NULL);
  return height;
}

static void
set (const char *setting, int number, const char *text)
{
  GtkSettings *settings = gtk_settings_get_default ();
  if (text)
    g_object_set (settings, setting, text, NULL);
  else
    g_object_set (settings, setting, number, NULL);
  settle ();
}

START_TEST (text_size_is_followed)
{
  set ("gtk-xft-dpi", 96 * 1024, NULL);
  GtkWidget *dialog = open_dialog (), *title = find (dialog, is_label, "Judging");
  int width, wide, high, height = height_of (title), whole = height_of (SP_DIALOG (dialog)->content);
  gtk_window_get_default_size (GTK_WINDOW (dialog), &width, &high);
  set ("gtk-xft-dpi", 144 * 1024, NULL);
  ck_assert_int_eq (sp_theme_text_px (100), 150);
  ck_assert_int_eq (sp_theme_text_px (-1), -1); /* what is left of a table */
  /* margins stay as they are */
  ck_assert_int_ge (height_of (title) * 10, height * 12);
  ck_assert_int_ge (height_of (SP_DIALOG (dialog)->content) * 10, whole * 12);
  gtk_window_destroy (GTK_WINDOW (dialog));
  dialog = open_dialog ();
  gtk_window_get_default_size (GTK_WINDOW (dialog), &wide, &high);
  ck_assert_int_eq (wide, width * 3 / 2);
  gtk_window_destroy (GTK_WINDOW (dialog));
  set ("gtk-xft-dpi", 96 * 1024, NULL);
}
END_TEST

static GdkRGBA
colour_of (GtkWidget *widget)
{
  GdkRGBA colour;
  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &colour);
  return colour;
}

START_TEST (high_contrast_is_followed)
{
  g_autofree char *name = NULL;
  g_object_get (gtk_settings_get_default (), "gtk-theme-name", &name, NULL);
  GtkWidget *dialog = open_dialog (), *soft = find (dialog, is_label, "unkeyed sweep for all");
  GdkRGBA ink = colour_of (dialog), before = colour_of (soft);
  ck_assert (!gdk_rgba_equal (&before, &ink));
  set ("gtk-theme-name", 0, "Default-hc");
  GdkRGBA strong = colour_of (soft);
  ck_assert (gdk_rgba_equal (&strong, &ink));
  set ("gtk-theme-name", 0, name);
  GdkRGBA after = colour_of (soft);
  ck_assert (gdk_rgba_equal (&after, &before));
  gtk_window_destroy (GTK_WINDOW (dialog));
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("text");
  TCase *t = tcase_create ("text");
  tcase_add_checked_fixture (t, open_styled, tear_down);
  tcase_add_test (t, text_size_is_followed);
  tcase_add_test (t, high_contrast_is_followed);
  suite_add_tcase (s, t);
  return s;
}

PAGES_MAIN (suite)
