/* room.h - the pages and dialogs of the window in a real window on the sample: edits go through the widgets, the bench is looked at, and undo brings
 * the same hash back. Every GTK warning is fatal. Skipped where there is no display. */
#pragma once

#include "tests/wait.h"

#include "core/bench/sheet/sheet.h"
#include "ui/window/session/reading.h"
#include "ui/window/session/session.h"
#include "ui/window/widgets/fields.h"

#include <string.h>

static SpSession *session;
static GtkWidget *window, *page;
static const char *opened_sheet = "samples/club.sheet";
static char *hash; /* of the bench as it was opened */
static guint troubles;

/* ---- waiting and finding ---- */

static inline gboolean
is_judged (void)
{
  return !sp_session_judging (session);
}

static inline gboolean
is_quiet (gpointer data)
{
  (void) data;
  return is_judged () && sp_readings_under_way () == 0;
}

static inline void
settle (void)
{
  do {
    while (g_main_context_pending (NULL))
      g_main_context_iteration (NULL, FALSE);
    ck_assert_msg (sp_comes (is_quiet, NULL), "waited in vain");
  } while (g_main_context_pending (NULL));
}

typedef gboolean (*Match) (GtkWidget *widget, const char *text);

static inline GtkWidget *
find (GtkWidget *widget, Match match, const char *text)
{
  if (match (widget, text))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = gtk_widget_get_next_sibling (child)) {
    GtkWidget *found = find (child, match, text);
    if (found)
      return found;
  }
  return NULL;
}

static inline gboolean
is_cell (GtkWidget *widget, const char *text)
{
  return GTK_IS_EDITABLE_LABEL (widget) && gtk_widget_get_mapped (widget)
         && strcmp (gtk_editable_get_text (GTK_EDITABLE (widget)), text) == 0;
}

static inline gboolean
is_label (GtkWidget *widget, const char *text)
{
  return GTK_IS_LABEL (widget) && gtk_widget_get_mapped (widget) && strstr (gtk_label_get_text (GTK_LABEL (widget)), text) != NULL;
}

static inline gboolean
is_button (GtkWidget *widget, const char *text)
{
  return GTK_IS_BUTTON (widget) && gtk_widget_get_mapped (widget) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (widget)), text) == 0;
}

static inline gboolean
is_entry_of (GtkWidget *widget, const char *text)
{
  return GTK_IS_ENTRY (widget) && g_strcmp0 (gtk_entry_get_placeholder_text (GTK_ENTRY (widget)), text) == 0;
}

static inline gboolean
is_trouble (GtkWidget *widget, const char *text)
{
  return GTK_IS_LABEL (widget) && gtk_widget_has_css_class (widget, "wrong") && gtk_widget_get_visible (widget)
         && strstr (gtk_label_get_text (GTK_LABEL (widget)), text) != NULL;
}

static inline char *
undo_label (void)
{
  char *label;
  g_object_get (session, "undo-label", &label, NULL);
  return label;
}

static inline void
expect_edit (const char *label)
{
  g_autofree char *got = undo_label ();
  ck_assert_str_eq (got, label);
  ck_assert_str_ne (sp_session_bench (session)->sha256, hash);
}

static inline void
undo_and_compare (void)
{
  sp_session_undo (session);
  settle ();
  g_autofree char *got = undo_label ();
  ck_assert_ptr_null (got);
  ck_assert_str_eq (sp_session_bench (session)->sha256, hash);
}

static inline void
type_into (SpFormFields *form, const char *key, const char *text)
{
  GtkWidget *entry = sp_fields_widget (form, key);
  ck_assert_ptr_nonnull (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "activate");
  settle ();
}

static inline const char *
shown_in (SpFormFields *form, const char *key)
{
  return gtk_editable_get_text (GTK_EDITABLE (sp_fields_widget (form, key)));
}

/* ---- opening ---- */

static inline void
on_trouble (void)
{
  troubles++;
}

static inline void
open_with (GtkWidget *(*make) (SpSession *) )
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = sp_test_path (opened_sheet);
  g_autoptr (SpBench) bench = sp_bench_read (path, &error);
  sp_no_error (error);
  hash = g_strdup (bench->sha256);
  troubles = 0;
  session = sp_session_new (sp_book_new (bench));
  g_signal_connect (session, "trouble", G_CALLBACK (on_trouble), NULL);
  page = make (session);
  window = gtk_window_new ();
  gtk_window_set_decorated (GTK_WINDOW (window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (window), 1024, 584);
  gtk_window_set_child (GTK_WINDOW (window), page);
  gtk_window_present (GTK_WINDOW (window));
  settle ();
  gtk_test_widget_wait_for_draw (window);
  settle ();
}

static inline void
tear_down (void)
{
  gtk_window_destroy (GTK_WINDOW (window));
  settle ();
  g_object_unref (session);
  g_free (hash);
}

static inline void
act (const char *name)
{
  ck_assert_msg (gtk_widget_activate_action (page, name, NULL), "%s", name);
  settle ();
}

/* GTK 4.8 does not stop a tooltip's timer when its window closes, and then asks no surface where the pointer is: nothing of ours, and without effect. */
static inline gboolean
room_is_fatal (const char *domain, G_GNUC_UNUSED GLogLevelFlags level, const char *message, G_GNUC_UNUSED gpointer data)
{
  return !(g_strcmp0 (domain, "Gdk") == 0 && strstr (message, "gdk_surface_get_device_position: assertion 'GDK_IS_SURFACE (surface)'"));
}

#define PAGES_MAIN(suite_function)                                                                                                         \
  int main (void)                                                                                                                          \
  {                                                                                                                                        \
    if (!gtk_init_check ())                                                                                                                \
      return 77;                                                                                                                           \
    g_log_set_always_fatal (G_LOG_LEVEL_ERROR | G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);                                               \
    g_test_log_set_fatal_handler (room_is_fatal, NULL);                                                                                    \
    SRunner *runner = srunner_create (suite_function ());                                                                                  \
    srunner_run_all (runner, CK_ENV);                                                                                                      \
    int failed = srunner_ntests_failed (runner);                                                                                           \
    srunner_free (runner);                                                                                                                 \
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;                                                                                           \
  }
