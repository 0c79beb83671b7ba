/* window-watch.c - watching a folder: begun, ended, and what its bar's buttons do */
#include "ui/window/shell/window-private.h"

#include <glib/gi18n-lib.h>

#include "ui/window/import/import.h"
#include "ui/window/import/watch-bar.h"
#include "ui/window/widgets/ask-file.h"

static void
watch_folder (GtkWidget *widget, GFile *folder)
{
  SpWindow *self = SP_WINDOW (widget);
  g_autofree char *path = g_file_get_path (folder);
  if (!path || !g_file_test (path, G_FILE_TEST_IS_DIR)) {
    g_autofree char *shown = sp_ask_file_path (folder), *what = g_strdup_printf (_ ("%s is no folder on this computer."), shown);
    g_signal_emit_by_name (self->session, "trouble", what, _ ("Choose the folder that the exports are written into."));
    return;
  }
  self->watch_bar = sp_watch_bar_new (self->session, path);
  gtk_box_insert_child_after (GTK_BOX (gtk_widget_get_parent (self->hint_bar)), self->watch_bar, self->hint_bar);
  sp_window_card_follow_watch (self);
}

/* NULL: no folder is watched. */
static SpWatch *
watch_of (SpWindow *self)
{
  return self->watch_bar ? sp_watch_bar_watch (SP_WATCH_BAR (self->watch_bar)) : NULL;
}

void
sp_window_watch (GtkWidget *widget, const char *action, GVariant *nothing)
{
  SpWindow *self = SP_WINDOW (widget);
  (void) action, (void) nothing;
  if (!self->watch_bar) {
    sp_ask_folder (widget, _ ("A folder that exports are written into"), watch_folder);
    return;
  }
  gtk_box_remove (GTK_BOX (gtk_widget_get_parent (self->watch_bar)), self->watch_bar);
  self->watch_bar = NULL;
  sp_window_card_follow_watch (self);
}

void
sp_window_watch_again (GtkWidget *widget, const char *action, GVariant *nothing)
{
  SpWatch *watch = watch_of (SP_WINDOW (widget));
  (void) action, (void) nothing;
  if (watch)
    sp_watch_set_again (watch, !sp_watch_again (watch));
}

/* What waits first; else what was taken last is taken back and asked about. */
void
sp_window_watch_look (GtkWidget *widget, const char *action, GVariant *nothing)
{
  SpWindow *self = SP_WINDOW (widget);
  SpWatch *watch = watch_of (self);
  (void) action, (void) nothing;
  if (!watch)
    return;
  g_autofree char *path = sp_watch_take_waiting (watch);
  if (!path && sp_watch_last (watch)) {
    path = g_strdup (sp_watch_last (watch));
    sp_session_undo (self->session);
  }
  if (!path)
    return;
  g_autoptr (GListStore) files = g_list_store_new (G_TYPE_FILE);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_list_store_append (files, file);
  sp_import_begin (GTK_WINDOW (self), self->session, G_LIST_MODEL (files), -1);
}
