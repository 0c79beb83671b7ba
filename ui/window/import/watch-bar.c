/* watch-bar.c - says what a watched folder brought */
#include "ui/window/import/watch-bar.h"

#include <glib/gi18n-lib.h>

#include "ui/window/widgets/tooltip.h"

struct _SpWatchBar {
  GtkBox parent_instance;
  SpWatch *watch;
  GtkWidget *says, *look, *again;
};

G_DEFINE_FINAL_TYPE (SpWatchBar, sp_watch_bar, GTK_TYPE_BOX)

static void
follow (SpWatchBar *self)
{
  g_autofree char *base = g_path_get_basename (sp_watch_folder (self->watch)), *folder = g_filename_display_name (base);
  g_autofree char *text = g_strdup_printf (_ ("Watching %s. %s%s"), folder, sp_watch_says (self->watch),
                                           sp_watch_again (self->watch) ? _ (" The next one is a re-take.") : "");
  gtk_label_set_text (GTK_LABEL (self->says), text);
  sp_tip_set (self->says, text);
  gtk_button_set_label (GTK_BUTTON (self->look),
                        sp_watch_waiting (self->watch) ? _ ("Look at it\342\200\246") : _ ("It is another's\342\200\246"));
  gtk_widget_set_visible (self->look, sp_watch_waiting (self->watch) || sp_watch_last (self->watch));
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->again), GTK_ACCESSIBLE_STATE_PRESSED,
                               sp_watch_again (self->watch) ? GTK_ACCESSIBLE_TRISTATE_TRUE : GTK_ACCESSIBLE_TRISTATE_FALSE, -1);
}

static GtkWidget *
add_button (SpWatchBar *self, const char *label, const char *action, const char *tip)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  sp_tip_set (button, tip);
  gtk_box_append (GTK_BOX (self), button);
  return button;
}

static void
sp_watch_bar_dispose (GObject *object)
{
  SpWatchBar *self = SP_WATCH_BAR (object);
  if (self->watch)
    sp_watch_stop (self->watch);
  g_clear_object (&self->watch);
  G_OBJECT_CLASS (sp_watch_bar_parent_class)->dispose (object);
}

static void
sp_watch_bar_class_init (SpWatchBarClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sp_watch_bar_dispose;
}

static void
sp_watch_bar_init (SpWatchBar *self)
{
  gtk_widget_add_css_class (GTK_WIDGET (self), "trouble");
  self->says = gtk_label_new ("");
  gtk_label_set_xalign (GTK_LABEL (self->says), 0);
  gtk_label_set_ellipsize (GTK_LABEL (self->says), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (self->says, TRUE);
  gtk_box_append (GTK_BOX (self), self->says);
  self->look = add_button (self, "", "win.watch-look",
                           _ ("Opens the import with the file, to say whose it is or what it lacks (Ctrl+Shift+T)."));
  self->again = add_button (self, _ ("Again"), "win.watch-again",
                            _ ("The next export takes the place of the earlier one for the same purpose, which is kept (Ctrl+Shift+R)."));
  add_button (self, _ ("Stop"), "win.watch", _ ("Watches the folder no more (Ctrl+Shift+W)."));
}

GtkWidget *
sp_watch_bar_new (SpSession *session, const char *folder)
{
  SpWatchBar *self = g_object_new (SP_TYPE_WATCH_BAR, NULL);
  self->watch = sp_watch_new (session, folder);
  g_signal_connect_object (self->watch, "changed", G_CALLBACK (follow), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "notify::title", G_CALLBACK (follow), self, G_CONNECT_SWAPPED); /* of any edit */
  follow (self);
  return GTK_WIDGET (self);
}

SpWatch *
sp_watch_bar_watch (SpWatchBar *self)
{
  return self->watch;
}
