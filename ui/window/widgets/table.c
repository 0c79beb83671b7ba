/* table.c - what the column views of the pages share */
#include "ui/window/widgets/table.h"

#include "ui/window/widgets/theme.h"
#include "ui/window/widgets/tooltip.h"

static GtkWidget *
find_label (GtkWidget *widget)
{
  if (GTK_IS_LABEL (widget))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = gtk_widget_get_next_sibling (child)) {
    GtkWidget *label = find_label (child);
    if (label)
      return label;
  }
  return NULL;
}

/* GTK 4.8 calls each row by the name of its own type. */
static void
name_row (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  (void) factory, (void) data;
  GtkWidget *cell = gtk_widget_get_parent (gtk_list_item_get_child (item)), *row = gtk_widget_get_parent (cell),
            *label = find_label (gtk_list_item_get_child (item));
  if (row && label)
    gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, gtk_label_get_text (GTK_LABEL (label)), -1);
}

GtkColumnViewColumn *
sp_table_add_column (GtkColumnView *view, const char *title, int width, const SpTableCells *cells, guint column)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_signal_connect (factory, "setup", G_CALLBACK (cells->set_up), GUINT_TO_POINTER (column));
  g_signal_connect (factory, "bind", G_CALLBACK (cells->bind), GUINT_TO_POINTER (column));
  if (column == 0)
    g_signal_connect (factory, "bind", G_CALLBACK (name_row), NULL);
  if (cells->unbind)
    g_signal_connect (factory, "unbind", G_CALLBACK (cells->unbind), GUINT_TO_POINTER (column));
  g_autoptr (GtkColumnViewColumn) added = gtk_column_view_column_new (title, factory);
  if (width > 0)
    gtk_column_view_column_set_fixed_width (added, sp_theme_text_px (width));
  gtk_column_view_column_set_expand (added, width < 0);
  gtk_column_view_append_column (view, added);
  return added;
}

void
sp_table_align_titles (GtkColumnView *view, const char *alignment)
{
  GtkWidget *header = gtk_widget_get_first_child (GTK_WIDGET (view));
  GtkWidget *title = header ? gtk_widget_get_first_child (header) : NULL;
  for (; title && *alignment; title = gtk_widget_get_next_sibling (title), alignment++) {
    GtkWidget *label = find_label (title);
    if (!label || *alignment != 'r')
      continue;
    gtk_widget_set_hexpand (label, TRUE);
    gtk_label_set_xalign (GTK_LABEL (label), 1);
  }
}

void
sp_table_explain_title (GtkColumnView *view, guint column, const char *sentence)
{
  GtkWidget *header = gtk_widget_get_first_child (GTK_WIDGET (view));
  GtkWidget *title = header ? gtk_widget_get_first_child (header) : NULL;
  for (; title && column > 0; column--)
    title = gtk_widget_get_next_sibling (title);
  if (title)
    sp_tip_set (title, sentence);
}

void
sp_table_name (GtkColumnView *view, const char *name)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (view)); child; child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_LIST_BASE (child))
      gtk_accessible_update_property (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}
