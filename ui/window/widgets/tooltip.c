/* tooltip.c - a tooltip that is made when somebody asks for it */
#include "ui/window/widgets/tooltip.h"

#include "core/quantity/clean.h"

static gboolean
asked (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip, const char *text)
{
  (void) widget, (void) x, (void) y, (void) keyboard;
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

static void
free_text (gpointer text, GClosure *closure)
{
  (void) closure;
  g_free (text);
}

/* The handler owns the text, and the widget owns the handler. */
void
sp_tip_set (GtkWidget *widget, const char *text)
{
  gboolean there = text && *text;
  g_autofree char *shown = sp_utf8 (text); /* a path is what the file system holds: GTK crashes on what is no UTF-8 */
  g_signal_handlers_disconnect_matched (widget, G_SIGNAL_MATCH_FUNC, 0, 0, NULL, (gpointer) (guintptr) asked, NULL);
  gtk_widget_set_has_tooltip (widget, there);
  if (!there) {
    gtk_accessible_reset_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION);
    return;
  }
  g_signal_connect_data (widget, "query-tooltip", G_CALLBACK (asked), g_strdup (shown), free_text, 0);
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, shown, -1);
}
