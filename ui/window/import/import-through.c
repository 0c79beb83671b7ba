/* import-through.c - the chain that a step or a notched sweep came through, its own reference; all of that purpose in a condition have it in common */
#include "ui/window/import/import-private.h"

#include <glib/gi18n-lib.h>

#include "core/bench/edit/edit.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/words/words.h"

typedef struct {
  SpArrivalItem *item;
  SpChain *behind; /* the condition's; NULL */
  SpPurpose purpose;
} Asked;

static void
asked_free (gpointer data)
{
  Asked *asked = data;
  g_clear_object (&asked->item);
  g_clear_pointer (&asked->behind, sp_chain_unref);
  g_free (asked);
}

/* `chain` NULL: the condition's. */
static void
set_chain (SpImportWindow *self, const SpProposal *to, SpChain *chain)
{
  for (guint i = 0; i < sp_import_window_count (self); i++) {
    SpArrivalItem *item = sp_import_window_item (self, i);
    if (!sp_proposals_share_chain (&item->to, to))
      continue;
    g_clear_pointer (&item->to.chain, sp_chain_unref);
    item->to.chain = chain ? sp_chain_ref (chain) : NULL;
    sp_arrival_item_changed (item);
  }
}

/* ---- from a file, read off the main thread ---- */

static gpointer
read_chain (const char *path, gpointer data, GError **error)
{
  const Asked *asked = data;
  return sp_chain_for_sweep (asked->behind, asked->purpose, path, error);
}

static void
on_read (gpointer owner, gpointer data, gpointer value, GError *error)
{
  SpImportWindow *self = SP_IMPORT_WINDOW (owner);
  const Asked *asked = data;
  g_autoptr (GError) why = error;
  g_autoptr (SpChain) chain = value;
  self->chains_read--;
  sp_import_window_trouble (self, why ? why->message : NULL);
  if (chain && asked->item->to.purpose == asked->purpose)
    set_chain (self, &asked->item->to, chain);
  sp_import_window_refresh (self);
}

static void
on_file (GtkWidget *window, GFile *file)
{
  static const SpFileReading reading = { read_chain, (GDestroyNotify) sp_chain_unref, on_read, asked_free };
  SpImportWindow *self = SP_IMPORT_WINDOW (window);
  SpArrivalItem *item = self->asked;
  if (self->closed || !item)
    return;
  Asked *asked = g_new (Asked, 1);
  SpChain *behind = sp_proposal_target_chain (sp_session_bench (self->session), &item->to);
  *asked = (Asked){ g_object_ref (item), behind ? sp_chain_ref (behind) : NULL, item->to.purpose };
  self->chains_read++;
  sp_reading_begin (self, file, &reading, asked);
  sp_import_window_refresh (self);
}

static void
on_ask (SpImportWindow *self)
{
  g_set_object (&self->asked, sp_import_window_chosen (self));
  if (self->asked)
    sp_ask_file (GTK_WIDGET (self), _ ("A chain, or the loss of the notch or pad alone"), "*.chain *.s2p *.ts *.csv *.txt *.run", on_file);
}

static void
on_common (SpImportWindow *self)
{
  SpArrivalItem *item = sp_import_window_chosen (self);
  if (item)
    set_chain (self, &item->to, NULL);
}

/* ---- the line ---- */

void
sp_import_through_fill (SpImportWindow *self, const SpArrivalItem *item)
{
  g_autofree char *through = sp_words_through (item->to.purpose, sp_proposal_sweep_chain (sp_session_bench (self->session), &item->to));
  gtk_widget_set_visible (self->through, item->trace && sp_purpose_has_chain (item->to.purpose));
  gtk_label_set_text (GTK_LABEL (self->through_name), through);
  gtk_widget_set_visible (self->through_common, item->to.chain != NULL);
}

void
sp_import_through_set_up (SpImportWindow *self)
{
  g_signal_connect_swapped (self->through_ask, "clicked", G_CALLBACK (on_ask), self);
  g_signal_connect_swapped (self->through_common, "clicked", G_CALLBACK (on_common), self);
}
