/* bar.c - a bar below the title: a sentence and a button */
#include "ui/window/widgets/bar.h"

#define LEAST_WIDTH 160 /* of the sentence */
#define GAP 12

static int
width_of (GtkWidget *widget)
{
  int natural;
  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  return natural;
}

static int
height_of (GtkWidget *widget, int width)
{
  int least;
  gtk_widget_measure (widget, GTK_ORIENTATION_VERTICAL, width, &least, NULL, NULL, NULL);
  return least;
}

static GtkSizeRequestMode
request_mode (GtkWidget *widget)
{
  (void) widget;
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
measure (GtkWidget *bar, GtkOrientation orientation, int for_size, int *least, int *natural, int *least_baseline, int *natural_baseline)
{
  GtkWidget *sentence = gtk_widget_get_first_child (bar), *button = gtk_widget_get_last_child (bar);
  int beside = width_of (button) + GAP;
  *least_baseline = *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *least = *natural = LEAST_WIDTH + beside;
  else
    *least = *natural = MAX (height_of (sentence, MAX (LEAST_WIDTH, for_size - beside)), height_of (button, -1));
}

static void
allocate (GtkWidget *bar, int width, int height, int baseline)
{
  GtkWidget *sentence = gtk_widget_get_first_child (bar), *button = gtk_widget_get_last_child (bar);
  int taken = width_of (button);
  (void) baseline;
  gtk_widget_size_allocate (sentence, &(GtkAllocation){ 0, 0, MAX (LEAST_WIDTH, width - taken - GAP), height }, -1);
  gtk_widget_size_allocate (button, &(GtkAllocation){ width - taken, 0, taken, height }, -1);
}

GtkLayoutManager *
sp_bar_layout_new (void)
{
  return gtk_custom_layout_new (request_mode, measure, allocate);
}
