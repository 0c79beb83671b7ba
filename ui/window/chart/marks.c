/* marks.c - the key to the chart's marks, in a popover */
#include "ui/window/chart/marks.h"

#include <glib/gi18n-lib.h>

#include "ui/figure/marks.h"
#include "ui/window/widgets/drawing-area.h"
#include "ui/window/widgets/popover.h"

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
  GtkWidget *paper = sp_paper_new (draw, NULL);
  g_autofree char *says = sp_marks_says ();
  gtk_widget_set_size_request (paper, MIN (WIDTH, MAX (1, gtk_widget_get_width (relative) - 4 * EDGE)), (int) sp_marks_height ());
  gtk_widget_set_margin_start (paper, EDGE);
  gtk_widget_set_margin_end (paper, EDGE);
  gtk_widget_set_focusable (paper, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (paper), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("The chart's marks"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, says, -1);
  sp_popover_show (relative, paper, _ ("Key to the marks"), gtk_widget_get_height (relative), NULL);
}
