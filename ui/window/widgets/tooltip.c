/* tooltip.c - a tooltip that is made when somebody asks for it */
#include "ui/window/widgets/tooltip.h"

static gboolean
asked (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip, gpointer data)
{
  (void) x, (void) y, (void) keyboard, (void) data;
  const char *text = g_object_get_data (G_OBJECT (widget), "tip");
  if (text)
    gtk_tooltip_set_text (tooltip, text);
  return text != NULL;
}

void
sp_tip_set (GtkWidget *widget, const char *text)
{
  if (!g_object_get_data (G_OBJECT (widget), "has-tip")) {
    g_object_set_data (G_OBJECT (widget), "has-tip", widget);
    g_signal_connect (widget, "query-tooltip", G_CALLBACK (asked), NULL);
  }
  g_object_set_data_full (G_OBJECT (widget), "tip", text && *text ? g_strdup (text) : NULL, g_free);
  gtk_widget_set_has_tooltip (widget, text && *text);
  if (text && *text)
    gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
  else
    gtk_accessible_reset_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION);
}
