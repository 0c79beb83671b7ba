/* popover.c - what is shown above a place for as long as it is looked at */
#include "ui/window/widgets/popover.h"

static void
on_closed (GtkWidget *popover, gpointer kept)
{
  (void) kept;
  gtk_widget_unparent (popover);
}

static void
let_go (gpointer kept, GClosure *closure)
{
  (void) closure;
  g_clear_object ((GObject **) &kept);
}

void
sp_popover_show (GtkWidget *relative, GtkWidget *content, const char *name, int y, GObject *kept)
{
  g_return_if_fail (!GTK_IS_STACK (relative));
  GtkWidget *popover = gtk_popover_new ();
  gtk_accessible_update_property (GTK_ACCESSIBLE (popover), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_popover_set_child (GTK_POPOVER (popover), content);
  gtk_widget_set_parent (popover, relative);
  gtk_popover_set_position (GTK_POPOVER (popover), GTK_POS_TOP);
  gtk_popover_set_has_arrow (GTK_POPOVER (popover), FALSE);
  gtk_popover_set_pointing_to (GTK_POPOVER (popover), &(GdkRectangle){ gtk_widget_get_width (relative) / 2, y, 1, 1 });
  g_signal_connect_data (popover, "closed", G_CALLBACK (on_closed), kept, let_go, 0);
  g_signal_connect_object (relative, "destroy", G_CALLBACK (gtk_widget_unparent), popover,
                           G_CONNECT_SWAPPED); /* the window may close with it open */
  gtk_popover_popup (GTK_POPOVER (popover));
}
