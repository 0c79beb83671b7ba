/* toast.c - a sentence on what was just done, with one button, for some seconds */
#include "ui/window/widgets/toast.h"

#include "ui/window/widgets/drawing-area.h"

#define STAYS_S 8

struct _SpToast {
  GtkWidget parent_instance;
  guint source; /* hides it */
  /* of the template */
  GtkWidget *whole, *what, *button;
};

G_DEFINE_FINAL_TYPE (SpToast, sp_toast, GTK_TYPE_WIDGET)

static gboolean
is_looked_at (SpToast *self)
{
  const GtkStateFlags looked = GTK_STATE_FLAG_PRELIGHT | GTK_STATE_FLAG_FOCUS_WITHIN;
  return (gtk_widget_get_state_flags (self->whole) & looked) != 0;
}

static gboolean
leave (void *data)
{
  SpToast *self = data;
  if (is_looked_at (self))
    return G_SOURCE_CONTINUE;
  self->source = 0;
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  return G_SOURCE_REMOVE;
}

void
sp_toast_hide (SpToast *self)
{
  g_clear_handle_id (&self->source, g_source_remove);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

void
sp_toast_stay (SpToast *self, const char *what, const char *button, const char *action, GVariant *target)
{
  gtk_label_set_text (GTK_LABEL (self->what), what);
  gtk_button_set_label (GTK_BUTTON (self->button), button);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->button), NULL); /* the last one's may want another target */
  gtk_actionable_set_action_target_value (GTK_ACTIONABLE (self->button), target);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (self->button), action);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, what, -1);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  g_clear_handle_id (&self->source, g_source_remove);
}

void
sp_toast_show (SpToast *self, const char *what, const char *button, const char *action, GVariant *target)
{
  sp_toast_stay (self, what, button, action, target);
  self->source = g_timeout_add_seconds (STAYS_S, leave, self);
}

static void
sp_toast_dispose (GObject *object)
{
  SpToast *self = SP_TOAST (object);
  g_clear_handle_id (&self->source, g_source_remove);
  gtk_widget_dispose_template (GTK_WIDGET (self), SP_TYPE_TOAST);
  G_OBJECT_CLASS (sp_toast_parent_class)->dispose (object);
}

static void
sp_toast_class_init (SpToastClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  sp_pages_style ();
  G_OBJECT_CLASS (klass)->dispose = sp_toast_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/toast.ui");
  gtk_widget_class_bind_template_child (widget, SpToast, whole);
  gtk_widget_class_bind_template_child (widget, SpToast, what);
  gtk_widget_class_bind_template_child (widget, SpToast, button);
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget, GTK_ACCESSIBLE_ROLE_STATUS);
}

static void
sp_toast_init (SpToast *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_swapped (self->button, "clicked", G_CALLBACK (sp_toast_hide), self);
}
