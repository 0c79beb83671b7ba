/* window-recent.c - the main menu, and in it the books that were open last */
#include "ui/window/shell/window-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "ui/window/session/recent.h"

/* "Course evening, six kits (evening.benchbook)", where an underline is no key. (transfer full) */
static char *
label_of (const SpRecent *recent)
{
  g_autofree char *base = g_path_get_basename (recent->path), *file = g_filename_display_name (base);
  g_autoptr (GString) label = g_string_new (*recent->title ? recent->title : file);
  if (*recent->title)
    g_string_append_printf (label, " (%s)", file);
  g_string_replace (label, "_", "__", 0);
  return g_string_free (g_steal_pointer (&label), FALSE);
}

/* The book that is open is not offered. */
static void
offer_recent (SpWindow *self)
{
  g_autoptr (GPtrArray) recents = sp_recent_read ();
  const char *own = sp_book_path (sp_session_book (self->session));
  g_autofree char *open = own ? g_canonicalize_filename (own, NULL) : NULL;
  g_menu_remove_all (self->recent);
  for (guint i = 0; i < recents->len; i++) {
    const SpRecent *recent = recents->pdata[i];
    if (g_strcmp0 (recent->path, open) == 0)
      continue;
    g_autofree char *label = label_of (recent);
    g_autoptr (GMenuItem) item = g_menu_item_new (label, NULL);
    g_menu_item_set_action_and_target (item, "win.open-path", "s", recent->path);
    g_menu_append_item (self->recent, item);
  }
  if (g_menu_model_get_n_items (G_MENU_MODEL (self->recent)) == 0)
    g_menu_append (self->recent, _ ("None yet"), "win.nothing"); /* no such action: it cannot be chosen */
}

void
sp_window_open_menu (GtkMenuButton *button, gpointer window)
{
  SpWindow *self = window;
  offer_recent (self);
  if (!gtk_menu_button_get_menu_model (button)) /* its widgets are made when it is opened first */
    gtk_menu_button_set_menu_model (button, self->menu);
}
