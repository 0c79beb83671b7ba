/* cells-layout.c - cells of one width in rows */
#include "ui/window/begin/cells-layout.h"

#include "ui/window/widgets/theme.h"

#define FOUR_FROM 1200 /* width of the whole, in the desktop's text size */
#define LEAST 240      /* of a cell */
#define GAP 24
#define MARGIN 16
#define MORE 70 /* that a row is stretched by at most */

static int
columns_of (int width)
{
  return width >= sp_theme_text_px (FOUR_FROM) ? 4 : 2;
}

static int
cell_width (int width)
{
  int columns = columns_of (width);
  return MAX (sp_theme_text_px (LEAST), (width - 2 * MARGIN - (columns - 1) * GAP) / columns);
}

/* Of the row that begins with `cell`; its end is left in *cell. */
static int
row_height (GtkWidget **cell, int columns, int width)
{
  int height = 0;
  for (int i = 0; i < columns && *cell; i++, *cell = gtk_widget_get_next_sibling (*cell)) {
    int least;
    gtk_widget_measure (*cell, GTK_ORIENTATION_VERTICAL, width, &least, NULL, NULL, NULL);
    height = MAX (height, least);
  }
  return height;
}

static GtkSizeRequestMode
request_mode (GtkWidget *widget)
{
  (void) widget;
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
measure (GtkWidget *cells, GtkOrientation orientation, int for_size, int *least, int *natural, int *least_baseline, int *natural_baseline)
{
  *least_baseline = *natural_baseline = -1;
  *least = *natural = 2 * MARGIN + 2 * sp_theme_text_px (LEAST) + GAP;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    return;
  int width = MAX (for_size, *least);
  *least = *natural = MARGIN;
  for (GtkWidget *cell = gtk_widget_get_first_child (cells); cell;)
    *natural = *least += row_height (&cell, columns_of (width), cell_width (width)) + GAP;
}

/* What is left over goes to the rows alike, up to a point. */
static int
more_for_each (GtkWidget *cells, int width, int height)
{
  int least, rows = 0, in_row = 0;
  gtk_widget_measure (cells, GTK_ORIENTATION_VERTICAL, width, &least, NULL, NULL, NULL);
  for (GtkWidget *cell = gtk_widget_get_first_child (cells); cell; cell = gtk_widget_get_next_sibling (cell))
    rows += in_row++ % columns_of (width) == 0;
  return rows ? CLAMP ((height - least) / rows, 0, MORE) : 0;
}

static void
allocate (GtkWidget *cells, int width, int height, int baseline)
{
  int columns = columns_of (width), wide = cell_width (width), y = MARGIN, more = more_for_each (cells, width, height);
  (void) baseline;
  for (GtkWidget *cell = gtk_widget_get_first_child (cells); cell;) {
    GtkWidget *end = cell;
    int high = row_height (&end, columns, wide) + more;
    for (int x = MARGIN; cell != end; cell = gtk_widget_get_next_sibling (cell), x += wide + GAP)
      gtk_widget_size_allocate (cell, &(GtkAllocation){ x, y, wide, high }, -1);
    y += high + GAP;
  }
}

GtkLayoutManager *
sp_cells_layout_new (void)
{
  return gtk_custom_layout_new (request_mode, measure, allocate);
}
