/* import-list.c - the files on their way in, a row for each sweep of them: what it is taken for, or why not */
#include "ui/window/import/import-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "ui/words/words.h"

typedef struct {
  GtkWidget *take, *name, *state;
  SpArrivalItem *item;
  gulong handler;
  gboolean busy;
} Row;

char *
sp_import_target_name (const SpProposal *to)
{
  if (*to->radio == '\0')
    return g_strdup (to->purpose == SP_PURPOSE_UNKEYED ? _ ("all radios") : _ ("no radio yet"));
  return *to->condition ? g_strdup_printf ("%s, %s", to->radio, to->condition) : g_strdup (to->radio);
}

static char *
state_of (const SpArrivalItem *item)
{
  if (item->reading)
    return g_strdup (_ ("being read\342\200\246"));
  if (item->error)
    return g_strdup_printf (_ ("left out: %s"), item->error);
  if (item->known && !item->take)
    return g_strdup (item->known);
  g_autofree char *target = sp_import_target_name (&item->to);
  if (item->to.purpose != SP_PURPOSE_STEP || isnan (item->to.step_db))
    return g_strdup_printf ("%s \302\267 %s", target, sp_words_purpose (item->to.purpose));
  g_autofree char *step = sp_words_signed (item->to.step_db, 0, SP_HAND_SCREEN);
  return g_strdup_printf (_ ("%s \302\267 step, %s\342\200\257dB"), target, step);
}

static void
show_row (Row *row)
{
  const SpArrivalItem *item = row->item;
  gboolean wrong = item->error && !item->reading;
  g_autofree char *state = state_of (item), *name = sp_arrival_item_title (item), *said = g_strdup_printf (_ ("Take %s: %s"), name, state);
  row->busy = TRUE;
  gtk_label_set_text (GTK_LABEL (row->name), name);
  gtk_label_set_text (GTK_LABEL (row->state), state);
  gtk_widget_set_tooltip_text (row->state, state);
  gtk_widget_set_sensitive (row->take, item->trace != NULL);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (row->take), item->take && item->trace);
  if (wrong)
    gtk_widget_add_css_class (row->state, "wrong");
  else
    gtk_widget_remove_css_class (row->state, "wrong");
  gtk_accessible_update_property (GTK_ACCESSIBLE (row->take), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
  row->busy = FALSE;
}

static void
on_toggled (GtkCheckButton *button, Row *row)
{
  if (row->busy || !row->item || !row->item->trace)
    return;
  row->item->take = gtk_check_button_get_active (button);
  sp_arrival_item_changed (row->item);
}

static GtkWidget *
new_label (const char *class, PangoEllipsizeMode ellipsize)
{
  GtkWidget *label = gtk_label_new (NULL);
  gtk_widget_add_css_class (label, class);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), ellipsize);
  gtk_widget_set_hexpand (label, TRUE);
  return label;
}

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *list_item)
{
  GtkWidget *grid = gtk_grid_new ();
  Row *row = g_new0 (Row, 1);
  (void) factory;
  row->take = gtk_check_button_new ();
  row->name = new_label ("strong", PANGO_ELLIPSIZE_MIDDLE);
  row->state = new_label ("soft", PANGO_ELLIPSIZE_END);
  gtk_widget_set_tooltip_text (row->take, _ ("Takes this sweep into the bench, or leaves it out."));
  gtk_grid_attach (GTK_GRID (grid), row->take, 0, 0, 1, 2);
  gtk_grid_attach (GTK_GRID (grid), row->name, 1, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), row->state, 1, 1, 1, 1);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 8);
  gtk_widget_set_margin_start (grid, 4);
  gtk_widget_set_margin_end (grid, 4);
  gtk_widget_set_margin_top (grid, 4);
  gtk_widget_set_margin_bottom (grid, 4);
  g_signal_connect (row->take, "toggled", G_CALLBACK (on_toggled), row);
  g_object_set_data_full (G_OBJECT (grid), "row", row, g_free);
  gtk_list_item_set_child (list_item, grid);
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *list_item)
{
  Row *row = g_object_get_data (G_OBJECT (gtk_list_item_get_child (list_item)), "row");
  (void) factory;
  row->item = gtk_list_item_get_item (list_item);
  row->handler = g_signal_connect_swapped (row->item, "changed", G_CALLBACK (show_row), row);
  show_row (row);
}

static void
unbind (GtkSignalListItemFactory *factory, GtkListItem *list_item)
{
  Row *row = g_object_get_data (G_OBJECT (gtk_list_item_get_child (list_item)), "row");
  (void) factory;
  g_clear_signal_handler (&row->handler, row->item);
  row->item = NULL;
}

static void
on_activate (SpImportWindow *self)
{
  gtk_widget_activate (self->accept);
}

void
sp_import_list_set_up (SpImportWindow *self)
{
  g_autoptr (GtkListItemFactory) factory = gtk_signal_list_item_factory_new ();
  g_signal_connect (factory, "setup", G_CALLBACK (set_up), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind), NULL);
  g_signal_connect (factory, "unbind", G_CALLBACK (unbind), NULL);
  gtk_list_view_set_factory (GTK_LIST_VIEW (self->list), factory);
  gtk_list_view_set_model (GTK_LIST_VIEW (self->list), GTK_SELECTION_MODEL (self->selection));
  g_signal_connect_swapped (self->list, "activate", G_CALLBACK (on_activate), self);
}
