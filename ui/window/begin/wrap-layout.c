/* wrap-layout.c - children in a row that goes on below where there is no room */
#include "ui/window/begin/wrap-layout.h"

#define GAP 8
#define ROW_GAP 4

static GtkSizeRequestMode
request_mode (GtkWidget *widget)
{
  (void) widget;
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

/* Places the children, or only asks how high they are together. */
static int
lay_out (GtkWidget *row, int width, gboolean place)
{
  int x = 0, y = 0, high = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (row); child; child = gtk_widget_get_next_sibling (child)) {
    GtkRequisition size;
    if (!gtk_widget_should_layout (child))
      continue;
    gtk_widget_get_preferred_size (child, NULL, &size);
    if (x > 0 && x + size.width > width) {
      x = 0;
      y += high + ROW_GAP;
      high = 0;
    }
    if (place)
      gtk_widget_size_allocate (child, &(GtkAllocation){ x, y, size.width, size.height }, -1);
    x += size.width + GAP;
    high = MAX (high, size.height);
  }
  return y + high;
}

static void
measure (GtkWidget *row, GtkOrientation orientation, int for_size, int *least, int *natural, int *least_baseline, int *natural_baseline)
{
  *least_baseline = *natural_baseline = -1;
  *least = *natural = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (row); child; child = gtk_widget_get_next_sibling (child)) {
    GtkRequisition size;
    gtk_widget_get_preferred_size (child, NULL, &size);
    *least = MAX (*least, size.width);
    *natural += size.width + (*natural ? GAP : 0);
  }
  if (orientation == GTK_ORIENTATION_VERTICAL)
    *least = *natural = lay_out (row, for_size < 0 ? *natural : for_size, FALSE);
}

static void
allocate (GtkWidget *row, int width, int height, int baseline)
{
  (void) height, (void) baseline;
  lay_out (row, width, TRUE);
}

GtkLayoutManager *
sp_wrap_layout_new (void)
{
  return gtk_custom_layout_new (request_mode, measure, allocate);
}
