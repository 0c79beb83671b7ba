/* chain-page-cells.c - the rows and cells of the table of points: a cell is edited in place */
#include <glib/gi18n-lib.h>

#include "core/quantity/typed.h"
#include "ui/window/chain/chain-page-private.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/table.h"
#include "ui/words/words.h"

/* ---- a row ---- */

G_DEFINE_FINAL_TYPE (SpPoint, sp_point, G_TYPE_OBJECT)

static void
sp_point_finalize (GObject *object)
{
  SpPoint *self = SP_POINT (object);
  for (guint i = 0; i < SP_POINT_TEXTS; i++)
    g_free (self->text[i]);
  g_free (self->off_label);
  G_OBJECT_CLASS (sp_point_parent_class)->finalize (object);
}

static void
sp_point_class_init (SpPointClass *klass)
{
  g_signal_new ("changed", SP_TYPE_POINT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  G_OBJECT_CLASS (klass)->finalize = sp_point_finalize;
}

static void
sp_point_init (SpPoint *self)
{
  (void) self;
}

/* ---- a cell ---- */

#define SP_TYPE_POINT_CELL (sp_point_cell_get_type ())
G_DECLARE_FINAL_TYPE (SpPointCell, sp_point_cell, SP, POINT_CELL, GtkWidget)

struct _SpPointCell {
  GtkWidget parent_instance;
  SpChainPage *page;
  guint column;
  GtkListItem *item; /* whose child it is; NULL: no more */
  char *shown;       /* the text, and of which point it is */
  GtkWidget *label;  /* GtkEditableLabel */
};

G_DEFINE_FINAL_TYPE (SpPointCell, sp_point_cell, GTK_TYPE_WIDGET)

static char *
shown_of (const SpPoint *point, guint column)
{
  return g_strconcat (point->text[SP_POINT_FREQUENCY], " ", point->text[column], NULL);
}

/* With the person's decimal mark. (transfer full) */
static char *
cell_text (const SpPoint *point, guint column)
{
  return sp_typed_shown (point->text[column], sp_words_decimal_mark ());
}

static void
restore (SpPointCell *self, const SpPoint *point)
{
  g_autofree char *text = cell_text (point, self->column);
  g_free (self->shown);
  self->shown = shown_of (point, self->column);
  sp_entry_fill (self->label, text);
}

static void
on_editing (SpPointCell *self)
{
  SpPoint *point = self->item ? gtk_list_item_get_item (self->item) : NULL;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->label));
  if (gtk_editable_label_get_editing (GTK_EDITABLE_LABEL (self->label))) { /* its text was set into its entry by GTK */
    sp_entry_fill (self->label, text);
    return;
  }
  g_autofree char *stood = point ? cell_text (point, self->column) : NULL;
  if (point && g_strcmp0 (text, stood) != 0
      && !sp_chain_page_edit_point (self->page, gtk_list_item_get_position (self->item), self->column, text))
    restore (self, point);
}

/* GTK 4.8: leaving by the Tab key moves the focus but leaves the label in editing. */
static void
on_leave (SpPointCell *self)
{
  g_autoptr (GtkEditableLabel) held = g_object_ref (GTK_EDITABLE_LABEL (self->label)); /* an edit may take its row away */
  gtk_editable_label_stop_editing (held, TRUE);
}

/* GTK 4.8: a tenth of a second after the focus has left, the label looks at itself once more, even where it is gone by then. on_leave() has done all there
 * is to do, so it is not told. */
static void
spare_second_look (GtkWidget *label)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (label);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++) {
    g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);
    if (GTK_IS_EVENT_CONTROLLER_FOCUS (controller))
      g_signal_handlers_disconnect_by_data (controller, label);
  }
}

static void
show_cell (SpPointCell *self, SpPoint *point)
{
  static const char *const what[] = { N_ ("frequency"), N_ ("loss in dB"), N_ ("standard uncertainty in dB") };
  g_autofree char *name = g_strdup_printf (_ ("%s at %s"), _ (what[self->column]), point->text[SP_POINT_FREQUENCY]),
                  *now = shown_of (point, self->column);
  if (!gtk_editable_label_get_editing (GTK_EDITABLE_LABEL (self->label))
      || g_strcmp0 (now, self->shown) != 0) /* else what is being typed stays */
    restore (self, point);
  gtk_editable_set_editable (GTK_EDITABLE (self->label), sp_chain_page_has_points (self->page));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->label), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
sp_point_cell_dispose (GObject *object)
{
  SpPointCell *self = SP_POINT_CELL (object);
  if (self->label)
    gtk_widget_unparent (self->label); /* it may be left by that, and ends its editing */
  self->label = NULL;
  g_clear_pointer (&self->shown, g_free);
  G_OBJECT_CLASS (sp_point_cell_parent_class)->dispose (object);
}

static void
sp_point_cell_class_init (SpPointCellClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sp_point_cell_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

/* Made by hand: a table has hundreds of cells, and a template is read for each. */
static void
sp_point_cell_init (SpPointCell *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();
  self->label = gtk_editable_label_new ("");
  gtk_editable_set_alignment (GTK_EDITABLE (self->label), 1);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->label), 6);
  spare_second_look (self->label);
  g_signal_connect_object (self->label, "notify::editing", G_CALLBACK (on_editing), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (focus, "leave", G_CALLBACK (on_leave), self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (self->label, focus);
  gtk_widget_set_parent (self->label, GTK_WIDGET (self));
}

/* ---- columns ---- */

#define OFF_LABEL SP_POINT_TEXTS /* stands behind the texts, and is not edited */

/* A column's factory tells this to its cells. */
typedef struct {
  SpChainPage *page;
  guint column;
} PointColumn;

static void
column_free (gpointer column, GClosure *closure)
{
  (void) closure;
  g_free (column);
}

static void
set_up_cell (GtkSignalListItemFactory *factory, GtkListItem *item, const PointColumn *column)
{
  SpPointCell *cell = g_object_new (SP_TYPE_POINT_CELL, NULL);
  (void) factory;
  cell->page = column->page;
  cell->column = column->column;
  cell->item = item;
  gtk_list_item_set_child (item, GTK_WIDGET (cell));
}

static void
tear_down_cell (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  SpPointCell *cell = SP_POINT_CELL (gtk_list_item_get_child (item));
  (void) factory;
  if (cell)
    cell->item = NULL;
}

static void
bind_cell (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  SpPointCell *cell = SP_POINT_CELL (gtk_list_item_get_child (item));
  SpPoint *point = gtk_list_item_get_item (item);
  (void) factory;
  g_clear_pointer (&cell->shown, g_free);
  show_cell (cell, point);
  g_signal_connect_swapped (point, "changed", G_CALLBACK (show_cell), cell);
}

static void
set_up_off_label (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *label = gtk_label_new ("");
  (void) factory;
  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_widget_add_css_class (label, "soft");
  gtk_list_item_set_child (item, label);
}

static void
show_off_label (GtkLabel *label, SpPoint *point)
{
  gtk_label_set_text (label, point->off_label);
}

static void
bind_off_label (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  GtkLabel *label = GTK_LABEL (gtk_list_item_get_child (item));
  (void) factory;
  show_off_label (label, gtk_list_item_get_item (item));
  g_signal_connect_swapped (gtk_list_item_get_item (item), "changed", G_CALLBACK (show_off_label), label);
}

static void
unbind (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  (void) factory;
  g_signal_handlers_disconnect_by_data (gtk_list_item_get_item (item), gtk_list_item_get_child (item));
}

static void
add_column (SpChainPage *self, const char *title, guint column)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  PointColumn *told = g_new (PointColumn, 1);
  *told = (PointColumn){ self, column };
  g_signal_connect_data (factory, "setup", column == OFF_LABEL ? G_CALLBACK (set_up_off_label) : G_CALLBACK (set_up_cell), told,
                         column_free, 0);
  if (column != OFF_LABEL)
    g_signal_connect (factory, "teardown", G_CALLBACK (tear_down_cell), NULL);
  g_signal_connect (factory, "bind", column == OFF_LABEL ? G_CALLBACK (bind_off_label) : G_CALLBACK (bind_cell), NULL);
  g_signal_connect (factory, "unbind", G_CALLBACK (unbind), NULL);
  g_autoptr (GtkColumnViewColumn) made = gtk_column_view_column_new (title, factory);
  gtk_column_view_column_set_expand (made, TRUE);
  gtk_column_view_append_column (GTK_COLUMN_VIEW (self->points_view), made);
}

void
sp_chain_page_add_point_columns (SpChainPage *self)
{
  add_column (self, _ ("frequency"), SP_POINT_FREQUENCY);
  add_column (self, _ ("loss, dB"), SP_POINT_LOSS);
  add_column (self, _ ("u, dB"), SP_POINT_U);
  add_column (self, _ ("off label, dB"), OFF_LABEL);
  sp_table_align_titles (GTK_COLUMN_VIEW (self->points_view), "rrrr");
  sp_table_name (GTK_COLUMN_VIEW (self->points_view), _ ("Measured points of the stage"));
}
