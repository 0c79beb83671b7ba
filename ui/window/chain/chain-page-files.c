/* chain-page-files.c - what a stage takes from elsewhere: the run's form, a file, the shelf; with keys for the whole page */
#include <glib/gi18n-lib.h>

#include "ui/window/chain/chain-page-private.h"
#include "ui/window/chain/shelf-dialog.h"
#include "ui/window/run/run-form.h"
#include "ui/window/widgets/ask-file.h"

static GtkWindow *
window_of (SpChainPage *self)
{
  return GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)));
}

static void
on_calibrate (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SpChainPage *self = data;
  (void) action;
  (void) parameter;
  if (sp_chain_page_stage (self))
    sp_run_form_present (window_of (self), self->session, self->place, self->stage);
}

static void
on_keep_points (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SpChainPage *self = data;
  const SpStage *stage = sp_chain_page_stage (self);
  GError *error = NULL;
  (void) action;
  (void) parameter;
  if (!stage)
    return;
  g_autofree char *label = g_strdup_printf (_ ("Keep only the points of %s"), stage->name);
  SpChain *edited = sp_chain_keep_points (self->chain, self->stage, &error);
  sp_chain_edit_at (self->session, self->place, edited, label, error);
}

static void
on_file (GtkWidget *page, GFile *file)
{
  SpChainPage *self = SP_CHAIN_PAGE (page);
  if (sp_chain_page_stage (self))
    sp_chain_take_file_at (self->session, self->place, self->stage, file);
}

static void
on_take_file (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  (void) action;
  (void) parameter;
  sp_ask_file (data, _ ("A table of losses, a two-port, a run or a picture"), "*.csv *.txt *.dat *.s2p *.ts *.run " SP_PICTURE_PATTERN,
               on_file);
}

static void
on_shelf (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  SpChainPage *self = data;
  (void) action;
  (void) parameter;
  sp_shelf_dialog_present (window_of (self), self->session, self->place, self->stage);
}

/* Everywhere on the page, as long as it is the one that is seen. */
static gboolean
on_key (GtkWidget *page, GVariant *arguments, gpointer data)
{
  SpChainPage *self = SP_CHAIN_PAGE (page);
  const char *name = g_variant_get_string (arguments, NULL);
  (void) data;
  if (!gtk_widget_get_mapped (page))
    return FALSE;
  g_action_group_activate_action (G_ACTION_GROUP (self->actions), name, NULL);
  return TRUE;
}

void
sp_chain_page_set_up_files (SpChainPage *self)
{
  static const GActionEntry entries[] = {
    { "calibrate", on_calibrate, NULL, NULL, NULL, { 0 } },
    { "keep-points", on_keep_points, NULL, NULL, NULL, { 0 } },
    { "take-file", on_take_file, NULL, NULL, NULL, { 0 } },
    { "shelf", on_shelf, NULL, NULL, NULL, { 0 } },
  };
  static const struct {
    guint key;
    const char *action;
  } keys[] = {
    { GDK_KEY_F6, "calibrate" },
    { GDK_KEY_F7, "shelf" },
    { GDK_KEY_F8, "take-file" },
    { GDK_KEY_F9, "keep-points" },
  };
  GtkEventController *shortcuts = gtk_shortcut_controller_new ();
  g_action_map_add_action_entries (self->actions, entries, G_N_ELEMENTS (entries), self);
  gtk_shortcut_controller_set_scope (GTK_SHORTCUT_CONTROLLER (shortcuts), GTK_SHORTCUT_SCOPE_GLOBAL);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++) {
    GtkShortcut *shortcut = gtk_shortcut_new (gtk_keyval_trigger_new (keys[i].key, 0), gtk_callback_action_new (on_key, NULL, NULL));
    gtk_shortcut_set_arguments (shortcut, g_variant_new_string (keys[i].action));
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (shortcuts), shortcut);
  }
  gtk_widget_add_controller (GTK_WIDGET (self), shortcuts);
}
