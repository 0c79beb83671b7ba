/* chain-page-places.c - which of the bench's chains the page shows: the chosen condition's, or one that sweeps of it, or others, came through */
#include <glib/gi18n-lib.h>

#include "ui/window/chain/chain-page-private.h"

gboolean
sp_chain_page_in_use (SpChainPage *self)
{
  return self->chain && self->chain == sp_chain_in_use (self->session);
}

/* Of the place that is shown among those of the list: the same chain may be used in several. */
static guint
shown (SpChainPage *self)
{
  SpChain *chain = sp_chain_at (self->session, self->place);
  for (guint i = 0; i < self->place_list->len; i++)
    if (sp_chain_at (self->session, g_array_index (self->place_list, SpChainPlace, i)) == chain)
      return i;
  return GTK_INVALID_LIST_POSITION;
}

static gboolean
same_words (GListModel *words, GPtrArray *says)
{
  if (!words || g_list_model_get_n_items (words) != says->len)
    return FALSE;
  for (guint i = 0; i < says->len; i++)
    if (strcmp (gtk_string_list_get_string (GTK_STRING_LIST (words), i), says->pdata[i]) != 0)
      return FALSE;
  return TRUE;
}

void
sp_chain_page_fill_places (SpChainPage *self)
{
  GtkDropDown *drop = GTK_DROP_DOWN (self->places);
  g_autoptr (GPtrArray) says = g_ptr_array_new_with_free_func (g_free);
  g_clear_pointer (&self->place_list, g_array_unref);
  self->place_list = sp_chain_places (self->session);
  for (guint i = 0; i < self->place_list->len; i++)
    g_ptr_array_add (says, sp_chain_place_says (self->session, g_array_index (self->place_list, SpChainPlace, i)));
  self->filling_places = TRUE;
  if (!same_words (gtk_drop_down_get_model (drop), says)) {
    g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);
    for (guint i = 0; i < says->len; i++)
      gtk_string_list_append (words, says->pdata[i]);
    gtk_drop_down_set_model (drop, G_LIST_MODEL (words));
  }
  gtk_drop_down_set_selected (drop, shown (self));
  self->filling_places = FALSE;
  gtk_widget_set_visible (self->places, says->len > 1);
}

/* A condition is chosen with its chain: levels and totals are then of what is shown. */
static void
on_selected (GtkDropDown *drop, GParamSpec *pspec, SpChainPage *self)
{
  guint selected = gtk_drop_down_get_selected (drop);
  (void) pspec;
  if (self->filling_places || selected >= self->place_list->len)
    return;
  self->place = g_array_index (self->place_list, SpChainPlace, selected);
  if (self->place.condition >= 0 && (guint) self->place.condition != sp_session_condition (self->session))
    sp_session_choose (self->session, (guint) self->place.condition, SP_DECIDING_EMISSION);
  else
    sp_chain_page_follow_chain (self);
}

/* ---- long names end in dots ---- */

static void
on_setup (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *label = gtk_label_new (NULL);
  (void) factory;
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_list_item_set_child (item, label);
}

static void
on_bind (GtkSignalListItemFactory *factory, GtkListItem *item)
{
  GtkWidget *label = gtk_list_item_get_child (item);
  const char *text = gtk_string_object_get_string (gtk_list_item_get_item (item));
  (void) factory;
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (label, text);
}

void
sp_chain_page_set_up_places (SpChainPage *self)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  g_signal_connect (factory, "setup", G_CALLBACK (on_setup), NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (on_bind), NULL);
  gtk_drop_down_set_factory (GTK_DROP_DOWN (self->places), factory);
  g_object_unref (factory);
  sp_drop_down_speak (self->places, _ ("Which chain"));
  g_signal_connect (self->places, "notify::selected", G_CALLBACK (on_selected), self);
}
