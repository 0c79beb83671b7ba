#include "ui/window/import.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "ui/window/import-private.h"
#include "window-resources.h"

G_DEFINE_FINAL_TYPE (SpImportWindow, sp_import_window, GTK_TYPE_WINDOW)

SpArrivalItem *
sp_import_window_chosen (SpImportWindow *self)
{
  return gtk_single_selection_get_selected_item (self->selection);
}

/* ---- rows ---- */

typedef struct {
  GtkWidget *take, *name, *state;
  SpArrivalItem *item;
  gulong handler;
} Row;

static char *
state_of (const SpArrivalItem *item)
{
  if (item->reading)
    return g_strdup (_("reading…"));
  if (item->error)
    return g_strdup (item->error);
  const char *radio = *item->to.radio ? item->to.radio : _("for all radios");
  return g_strdup_printf ("%s%s%s · %s", radio, *item->to.condition ? ", " : "", item->to.condition, _(sp_purpose_name (item->to.purpose)));
}

static void
show_row (Row *row)
{
  g_autofree char *state = state_of (row->item), *name = NULL;
  gboolean one_of_many = row->item->trace && strstr (row->item->options, "column=");
  name = one_of_many ? g_strdup_printf ("%s · %s", row->item->name, row->item->trace->column) : g_strdup (row->item->name);
  gtk_label_set_text (GTK_LABEL (row->name), name);
  gtk_label_set_text (GTK_LABEL (row->state), state);
  gtk_widget_set_tooltip_text (row->state, state);
  gtk_widget_set_sensitive (row->take, row->item->trace != NULL);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (row->take), row->item->take && row->item->trace);
  if (row->item->error)
    gtk_widget_add_css_class (row->state, "wrong");
  else
    gtk_widget_remove_css_class (row->state, "wrong");
  g_autofree char *said = g_strdup_printf (_("Take %s"), name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->take), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
}

static void
toggled (GtkCheckButton *button, Row *row)
{
  if (!row->item || !row->item->trace)
    return;
  row->item->take = gtk_check_button_get_active (button);
  sp_import_window_refresh (SP_IMPORT_WINDOW (gtk_widget_get_root (GTK_WIDGET (button))));
}

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  (void) factory;
  Row *row = g_new0 (Row, 1);
  GtkWidget *grid = gtk_grid_new ();
  row->take = gtk_check_button_new ();
  row->name = gtk_label_new ("");
  row->state = gtk_label_new ("");
  gtk_widget_add_css_class (row->name, "strong");
  gtk_widget_add_css_class (row->state, "small");
  gtk_label_set_xalign (GTK_LABEL (row->name), 0);
  gtk_label_set_xalign (GTK_LABEL (row->state), 0);
  gtk_label_set_ellipsize (GTK_LABEL (row->name), PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_ellipsize (GTK_LABEL (row->state), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (row->name, TRUE);
  gtk_grid_attach (GTK_GRID (grid), row->take, 0, 0, 1, 2);
  gtk_grid_attach (GTK_GRID (grid), row->name, 1, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), row->state, 1, 1, 1, 1);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 8);
  gtk_widget_set_margin_start (grid, 8);
  gtk_widget_set_margin_top (grid, 4);
  gtk_widget_set_margin_bottom (grid, 4);
  g_signal_connect (row->take, "toggled", G_CALLBACK (toggled), row);
  g_object_set_data_full (G_OBJECT (grid), "row", row, g_free);
  gtk_list_item_set_child (item, grid);
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *list_item)
{
  (void) factory;
  Row *row = g_object_get_data (G_OBJECT (gtk_list_item_get_child (list_item)), "row");
  row->item = gtk_list_item_get_item (list_item);
  row->handler = g_signal_connect_swapped (row->item, "changed", G_CALLBACK (show_row), row);
  show_row (row);
}

static void
unbind (GtkSignalListItemFactory *factory, GtkListItem *list_item)
{
  (void) factory;
  Row *row = g_object_get_data (G_OBJECT (gtk_list_item_get_child (list_item)), "row");
  g_clear_signal_handler (&row->handler, row->item);
  row->item = NULL;
}

/* ---- arrivals ---- */

static guint
taken (SpImportWindow *self)
{
  guint n = 0;
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->items)); i++) {
    g_autoptr (SpArrivalItem) item = g_list_model_get_item (G_LIST_MODEL (self->items), i);
    n += item->take && item->trace;
  }
  return n;
}

void
sp_import_window_refresh (SpImportWindow *self)
{
  guint n = taken (self);
  gboolean reading = self->cancellable != NULL;
  g_autofree char *text = g_strdup_printf (ngettext ("Import %u sweep", "Import %u sweeps", n), n);
  g_autofree char *progress = g_strdup_printf (_("%u of %u files"), self->read, self->of);
  gtk_button_set_label (GTK_BUTTON (self->accept), text);
  gtk_widget_set_sensitive (self->accept, n > 0 && !reading);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), self->of ? (double) self->read / self->of : 1);
  gtk_label_set_text (GTK_LABEL (self->progress_text), progress);
  gtk_widget_set_visible (self->progress, reading);
}

static void
item_changed (SpImportWindow *self, SpArrivalItem *item)
{
  if (item == sp_import_window_chosen (self) && !self->typing)
    sp_import_details_fill (self);
  sp_import_window_refresh (self);
}

/* Dropped on a row of the list: for that radio, whatever the file's name says of one. */
static void
aim (SpImportWindow *self, SpArrivalItem *item)
{
  const SpBench *bench = sp_session_bench (self->session);
  if (self->condition < 0 || (guint) self->condition >= bench->n_conditions)
    return;
  const SpCondition *condition = &bench->conditions[self->condition];
  g_free (item->to.radio);
  g_free (item->to.condition);
  item->to.radio = g_strdup (bench->radios[condition->radio].name);
  item->to.condition = g_strdup (condition->name);
}

static void
propose (SpImportWindow *self, SpArrivalItem *item)
{
  sp_proposal_clear (&item->to);
  sp_propose (item->name, gtk_editable_get_text (GTK_EDITABLE (self->pattern)), &item->to);
  aim (self, item);
}

/* What one sweep is depends on the others too: more attenuation than another of the same radio makes a step. */
static void
propose_steps (SpImportWindow *self)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->items)), used = 0;
  g_autofree SpArrival *arrivals = g_new0 (SpArrival, n + 1);
  g_autofree SpArrivalItem **items = g_new0 (SpArrivalItem *, n + 1);
  for (guint i = 0; i < n; i++) {
    g_autoptr (SpArrivalItem) item = g_list_model_get_item (G_LIST_MODEL (self->items), i);
    if (!item->trace)
      continue;
    arrivals[used] = (SpArrival) { item->trace, item->to };
    items[used++] = item; /* the store keeps it */
  }
  g_autofree gboolean *said = g_new0 (gboolean, n + 1);
  sp_propose_steps (sp_session_bench (self->session), arrivals, said, used);
  for (guint i = 0; i < used; i++) {
    items[i]->to.purpose = arrivals[i].to.purpose;
    items[i]->to.step_db = arrivals[i].to.step_db;
    sp_arrival_item_changed (items[i]);
  }
}

static void
propose_all (SpImportWindow *self)
{
  for (guint i = 0; i < g_list_model_get_n_items (G_LIST_MODEL (self->items)); i++) {
    g_autoptr (SpArrivalItem) item = g_list_model_get_item (G_LIST_MODEL (self->items), i);
    propose (self, item);
  }
  propose_steps (self);
}

static void
file_done (GPtrArray *items, guint of, gpointer data)
{
  SpImportWindow *self = data;
  self->read++;
  self->of = of;
  for (guint i = 0; i < items->len; i++) {
    SpArrivalItem *item = g_ptr_array_index (items, i);
    propose (self, item);
    if (item->trace && sp_bench_has_trace (sp_session_bench (self->session), item->trace)) {
      item->known = TRUE;
      item->take = FALSE;
    }
    g_signal_connect_object (item, "changed", G_CALLBACK (item_changed), self, G_CONNECT_SWAPPED);
    g_list_store_append (self->items, item);
  }
  g_ptr_array_unref (items);
  sp_import_window_refresh (self);
}

static void
all_done (gpointer data)
{
  SpImportWindow *self = data;
  if (self->cancellable) { /* not closed meanwhile */
    g_clear_object (&self->cancellable);
    propose_steps (self);
    sp_import_details_fill (self);
    sp_import_window_refresh (self);
  }
  g_object_unref (self);
}

/* One undoable edit with all that is ticked, or none of it and a sentence. */
static void
accept (SpImportWindow *self)
{
  guint n = g_list_model_get_n_items (G_LIST_MODEL (self->items)), used = 0, count = taken (self);
  g_autofree SpArrival *arrivals = g_new0 (SpArrival, n + 1);
  g_autoptr (GError) error = NULL;
  if (count == 0 || self->cancellable)
    return;
  for (guint i = 0; i < n; i++) {
    g_autoptr (SpArrivalItem) item = g_list_model_get_item (G_LIST_MODEL (self->items), i);
    if (item->take && item->trace)
      arrivals[used++] = (SpArrival) { item->trace, item->to };
  }
  SpBench *bench = sp_bench_with_arrivals (sp_session_bench (self->session), arrivals, used, NULL, &error);
  if (!bench) {
    gtk_label_set_text (GTK_LABEL (self->trouble), error->message);
    return;
  }
  g_autofree char *label = g_strdup_printf (ngettext ("Import %u sweep", "Import %u sweeps", count), count);
  sp_session_edit (self->session, bench, label, NULL);
  gtk_window_close (GTK_WINDOW (self));
}

/* ---- the window ---- */

static gboolean
sp_import_window_close_request (GtkWindow *window)
{
  SpImportWindow *self = SP_IMPORT_WINDOW (window);
  if (self->cancellable)
    g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  return GTK_WINDOW_CLASS (sp_import_window_parent_class)->close_request (window);
}

static void
sp_import_window_dispose (GObject *object)
{
  SpImportWindow *self = SP_IMPORT_WINDOW (object);
  g_clear_object (&self->session);
  g_clear_object (&self->items);
  G_OBJECT_CLASS (sp_import_window_parent_class)->dispose (object);
}

static void
sp_import_window_class_init (SpImportWindowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  g_resources_register (sp_window_get_resource ());
  G_OBJECT_CLASS (klass)->dispose = sp_import_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = sp_import_window_close_request;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/window/import-window.ui");
  gtk_widget_class_bind_template_child (widget, SpImportWindow, pattern);
  gtk_widget_class_bind_template_child (widget, SpImportWindow, progress);
  gtk_widget_class_bind_template_child (widget, SpImportWindow, progress_text);
  gtk_widget_class_bind_template_child (widget, SpImportWindow, list);
  gtk_widget_class_bind_template_child (widget, SpImportWindow, details);
  gtk_widget_class_bind_template_child (widget, SpImportWindow, trouble);
  gtk_widget_class_bind_template_child (widget, SpImportWindow, accept);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Escape, 0, "window.close", NULL);
}

static void
sp_import_window_init (SpImportWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_signal_connect (factory, "setup", G_CALLBACK (set_up), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind), NULL);
  g_signal_connect (factory, "unbind", G_CALLBACK (unbind), NULL);
  self->items = g_list_store_new (SP_TYPE_ARRIVAL_ITEM);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (g_object_ref (self->items)));
  gtk_list_view_set_factory (GTK_LIST_VIEW (self->list), factory);
  g_object_unref (factory);
  gtk_list_view_set_model (GTK_LIST_VIEW (self->list), GTK_SELECTION_MODEL (self->selection));
  g_object_unref (self->selection); /* the list keeps it */
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Files"), -1);
  sp_import_details_build (self);
  gtk_window_set_default_widget (GTK_WINDOW (self), self->accept);
  g_signal_connect_swapped (self->selection, "notify::selected-item", G_CALLBACK (sp_import_details_fill), self);
  g_signal_connect_swapped (self->pattern, "changed", G_CALLBACK (propose_all), self);
  g_signal_connect_swapped (self->accept, "clicked", G_CALLBACK (accept), self);
}

void
sp_import_begin (GtkWindow *parent, SpSession *session, GListModel *files, int condition)
{
  SpImportWindow *self = g_object_new (SP_TYPE_IMPORT_WINDOW, "transient-for", parent, NULL);
  self->session = g_object_ref (session);
  self->condition = condition;
  self->cancellable = g_cancellable_new ();
  sp_import_window_refresh (self);
  sp_import_details_fill (self);
  gtk_window_present (GTK_WINDOW (self));
  sp_arrivals_read (files, self->cancellable, file_done, all_done, g_object_ref (self));
}
