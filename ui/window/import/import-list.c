/* import-list.c - the files on their way in, a row for each sweep of them: what it is taken for, or why not */
#include "ui/window/import/import-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "ui/words/words.h"

#define SP_TYPE_ARRIVAL_ROW (sp_arrival_row_get_type ())
G_DECLARE_FINAL_TYPE (SpArrivalRow, sp_arrival_row, SP, ARRIVAL_ROW, GtkGrid)

struct _SpArrivalRow {
  GtkGrid parent_instance;
  SpArrivalItem *item; /* bound now; NULL */
  gulong handler;
  gboolean busy; /* the button is being set: what it says is not the user's */
  /* of the template */
  GtkWidget *take, *name, *state;
};

G_DEFINE_FINAL_TYPE (SpArrivalRow, sp_arrival_row, GTK_TYPE_GRID)

char *
sp_import_target_name (const SpProposal *to)
{
  if (*to->radio == '\0')
    return g_strdup (to->purpose == SP_PURPOSE_UNKEYED ? _ ("all radios") : _ ("no radio yet"));
  return *to->condition ? g_strdup_printf ("%s, %s", to->radio, to->condition) : g_strdup (to->radio);
}

char *
sp_import_target_words (const SpProposal *to)
{
  g_autofree char *target = sp_import_target_name (to), *step = sp_words_signed (to->step_db, 0, SP_HAND_SCREEN);
  g_autofree char *purpose = to->purpose != SP_PURPOSE_STEP || isnan (to->step_db) ? g_strdup (sp_words_purpose (to->purpose))
                                                                                   : g_strdup_printf (_ ("step, %s\342\200\257dB"), step);
  return g_strdup_printf ("%s \302\267 %s%s", target, purpose, to->retake ? _ (", in place of the earlier") : "");
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
  g_autofree char *taken = sp_import_target_words (&item->to);
  if (!item->meanings || item->meanings->len < 2)
    return g_steal_pointer (&taken);
  g_autofree char *other = sp_import_target_name (item->meanings->pdata[1]);
  return g_strdup_printf (_ ("%s; or %s?"), taken, other);
}

static void
show_row (SpArrivalRow *row)
{
  const SpArrivalItem *item = row->item;
  gboolean wrong = item->error && !item->reading;
  g_autofree char *state = state_of (item), *name = sp_arrival_item_title (item), *said = g_strdup_printf (_ ("Take %s: %s"), name, state);
  row->busy = TRUE;
  gtk_label_set_text (GTK_LABEL (row->name), name);
  gtk_label_set_text (GTK_LABEL (row->state), state);
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
on_toggled (GtkCheckButton *button, SpArrivalRow *row)
{
  if (row->busy || !row->item || !row->item->trace)
    return;
  row->item->take = gtk_check_button_get_active (button);
  sp_arrival_item_changed (row->item);
}

/* Asked for, and not set on each change: for a thousand files that took a fifth of a second. */
static gboolean
on_tooltip (GtkWidget *state, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  (void) x, (void) y, (void) keyboard;
  gtk_tooltip_set_text (tooltip, gtk_label_get_text (GTK_LABEL (state)));
  return TRUE;
}

static void
sp_arrival_row_class_init (SpArrivalRowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/window/arrival-row.ui");
  gtk_widget_class_bind_template_child (widget, SpArrivalRow, take);
  gtk_widget_class_bind_template_child (widget, SpArrivalRow, name);
  gtk_widget_class_bind_template_child (widget, SpArrivalRow, state);
  gtk_widget_class_bind_template_callback (widget, on_toggled);
}

static void
sp_arrival_row_init (SpArrivalRow *row)
{
  gtk_widget_init_template (GTK_WIDGET (row));
  gtk_widget_set_has_tooltip (row->state, TRUE);
  g_signal_connect (row->state, "query-tooltip", G_CALLBACK (on_tooltip), NULL);
}

/* ---- the list ---- */

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *list_item)
{
  (void) factory;
  gtk_list_item_set_child (list_item, g_object_new (SP_TYPE_ARRIVAL_ROW, NULL));
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *list_item)
{
  SpArrivalRow *row = SP_ARRIVAL_ROW (gtk_list_item_get_child (list_item));
  (void) factory;
  row->item = gtk_list_item_get_item (list_item);
  row->handler = g_signal_connect_swapped (row->item, "changed", G_CALLBACK (show_row), row);
  show_row (row);
}

static void
unbind (GtkSignalListItemFactory *factory, GtkListItem *list_item)
{
  SpArrivalRow *row = SP_ARRIVAL_ROW (gtk_list_item_get_child (list_item));
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
