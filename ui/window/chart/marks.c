/* marks.c - the key to the chart's marks, in a popover */
#include "ui/window/chart/marks.h"

#include <glib/gi18n-lib.h>

#include "ui/figure/marks.h"
#include "ui/window/widgets/drawing-area.h"

#define WIDTH 860
#define EDGE 10

static void
draw (SpPen *pen, const SpRect *rect, gpointer owner)
{
  (void) owner;
  sp_marks_draw (pen, rect);
}

void
sp_marks_popup (GtkWidget *relative)
{
  GtkWidget *popover = gtk_popover_new (), *paper = sp_paper_new (draw, NULL);
  g_autofree char *says = sp_marks_says ();
  gtk_widget_set_size_request (paper, MIN (WIDTH, MAX (1, gtk_widget_get_width (relative) - 4 * EDGE)), (int) sp_marks_height ());
  gtk_widget_set_margin_start (paper, EDGE);
  gtk_widget_set_margin_end (paper, EDGE);
  gtk_widget_set_focusable (paper, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (paper), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("The chart's marks"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, says, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (popover), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Key to the marks"), -1);
  gtk_popover_set_child (GTK_POPOVER (popover), paper);
  gtk_widget_set_parent (popover, relative);
  gtk_popover_set_position (GTK_POPOVER (popover), GTK_POS_TOP);
  gtk_popover_set_has_arrow (GTK_POPOVER (popover), FALSE);
  gtk_popover_set_pointing_to (GTK_POPOVER (popover),
                               &(GdkRectangle){ gtk_widget_get_width (relative) / 2, gtk_widget_get_height (relative), 1, 1 });
  g_signal_connect (popover, "closed", G_CALLBACK (gtk_widget_unparent), NULL);
  g_signal_connect_object (relative, "destroy", G_CALLBACK (gtk_widget_unparent), popover,
                           G_CONNECT_SWAPPED); /* the window may close with it open */
  gtk_popover_popup (GTK_POPOVER (popover));
}
