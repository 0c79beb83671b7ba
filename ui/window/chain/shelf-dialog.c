/* shelf-dialog.c - chooses a part from the shelf */
#include "ui/window/chain/shelf-dialog.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/bench/shelf/shelf.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/tooltip.h"

#define SP_TYPE_SHELF_DIALOG (sp_shelf_dialog_get_type ())
G_DECLARE_FINAL_TYPE (SpShelfDialog, sp_shelf_dialog, SP, SHELF_DIALOG, SpDialog)

struct _SpShelfDialog {
  SpDialog parent_instance;
  SpChainPlace place;
  char *folder, *stage; /* stage: the one that is put away, by name */
  GPtrArray *items;     /* SpShelfItem*, as the list shows them; NULL: could not be read */
  char *removed;        /* path of the one that was taken away last; NULL */
  GtkWidget *put_name, *put, *put_says, *list, *take_name, *take, *take_says, *remove, *back;
};

G_DEFINE_FINAL_TYPE (SpShelfDialog, sp_shelf_dialog, SP_TYPE_DIALOG)

static SpChain *
chain_of (SpShelfDialog *self)
{
  return sp_chain_at (SP_DIALOG (self)->session, self->place);
}

char *
sp_shelf_user_folder (void)
{
  return g_build_filename (g_get_user_data_dir (), "spurproof", "shelf", NULL);
}

static SpShelfItem *
chosen_item (SpShelfDialog *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));
  guint index = row ? (guint) gtk_list_box_row_get_index (row) : G_MAXUINT;
  return self->items && index < self->items->len ? self->items->pdata[index] : NULL;
}

static char *
name_in (GtkWidget *entry)
{
  return g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
}

static void
say (GtkWidget *label, const char *text, gboolean wrong)
{
  gtk_label_set_text (GTK_LABEL (label), text ? text : "");
  gtk_widget_set_visible (label, text && *text);
  gtk_widget_remove_css_class (label, wrong ? "soft" : "wrong");
  gtk_widget_add_css_class (label, wrong ? "wrong" : "soft");
}

/* ---- what can be done now ---- */

static void
check_put (SpShelfDialog *self)
{
  g_autofree char *name = name_in (self->put_name);
  gboolean there = *name && sp_shelf_has (self->folder, name), stage = sp_chain_stage_named (chain_of (self), self->stage) >= 0;
  g_autofree char *text
      = there ? g_strdup_printf (_ ("There is a stage “%s” on the shelf already: replace it, or give this one another name."), name) : NULL;
  gtk_button_set_label (GTK_BUTTON (self->put), there ? _ ("Replace") : _ ("Put on the shelf"));
  gtk_accessible_reset_property (GTK_ACCESSIBLE (self->put), GTK_ACCESSIBLE_PROPERTY_LABEL); /* as sp_dialog_button_new() has it */
  gtk_widget_set_sensitive (self->put, *name && stage);
  say (self->put_says, text, FALSE);
}

static void
check_take (SpShelfDialog *self)
{
  SpShelfItem *item = chosen_item (self);
  SpChain *chain = chain_of (self);
  g_autofree char *name = name_in (self->take_name);
  gboolean clash = sp_chain_stage_named (chain, name) >= 0;
  g_autofree char *text = item && item->chain && clash
                              ? g_strdup_printf (_ ("The chain has a stage “%s” already: give this one another name."), name)
                              : NULL;
  gtk_widget_set_sensitive (self->take, item && item->chain && chain && *name && !clash);
  gtk_widget_set_sensitive (self->take_name, item && item->chain);
  gtk_widget_set_sensitive (self->remove, item != NULL);
  gtk_widget_set_sensitive (self->back, self->removed != NULL);
  say (self->take_says, text, FALSE);
}

/* ---- the list ---- */

static void
say_key (GString *line, const SpChain *chain, int stage, const char *key, const char *format)
{
  g_autofree char *value = sp_chain_get (chain, stage, key);
  if (!value)
    return;
  g_autofree char *text = g_strdup_printf (format, value);
  g_string_append_printf (line, " \xc2\xb7 %s", text);
}

/* "pad · label 30 dB · 25 W · by substitution · 2026-10-17" */
static char *
item_says (const SpShelfItem *item)
{
  GString *line = g_string_new (NULL);
  if (!item->chain) {
    g_string_assign (line, item->error->message);
    return g_string_free (line, FALSE);
  }
  const SpStage *stage = item->chain->stages[0];
  g_string_assign (line, _ (sp_stage_kind_name (stage->kind)));
  say_key (line, item->chain, 0, "label_db", _ ("label %s dB"));
  say_key (line, item->chain, 0, "rating_w", _ ("%s W"));
  g_string_append_printf (line, " \xc2\xb7 %s", stage->run ? _ ("by substitution") : stage->loss ? _ ("measured") : _ ("not measured"));
  g_autofree char *day = stage->run ? sp_key_text_get (stage->run->text, "run", "date") : NULL;
  if (day)
    g_string_append_printf (line, " \xc2\xb7 %s", day);
  else
    say_key (line, item->chain, isnan (stage->calibrated_day) ? -1 : 0, "calibrated", "%s");
  return g_string_free (line, FALSE);
}

static GtkWidget *
new_row (const SpShelfItem *item)
{
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autofree char *says = item_says (item), *name = g_strdup_printf ("%s, %s", item->name, says);
  gtk_box_append (GTK_BOX (box), sp_dialog_label_new (item->name, "strong"));
  gtk_box_append (GTK_BOX (box), sp_dialog_label_new (says, item->chain ? "soft" : "wrong"));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return row;
}

static void
propose_name (SpShelfDialog *self)
{
  SpShelfItem *item = chosen_item (self);
  SpChain *chain = chain_of (self);
  g_autofree char *name = item && item->chain ? chain ? sp_chain_free_name (chain, item->name) : g_strdup (item->name) : g_strdup ("");
  sp_entry_fill (self->take_name, name);
  check_take (self);
}

static void
fill (SpShelfDialog *self)
{
  g_autoptr (GError) error = NULL;
  for (GtkListBoxRow *row; (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0));)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  g_clear_pointer (&self->items, g_ptr_array_unref);
  self->items = sp_shelf_read (self->folder, &error);
  for (guint i = 0; self->items && i < self->items->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), new_row (self->items->pdata[i]));
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0));
  propose_name (self);
  check_put (self);
  if (error)
    say (self->take_says, error->message, TRUE);
}

/* ---- actions ---- */

static void
put (SpShelfDialog *self)
{
  g_autoptr (GError) error = NULL;
  SpChain *chain = chain_of (self);
  int stage = sp_chain_stage_named (chain, self->stage);
  g_autofree char *name = name_in (self->put_name);
  if (stage < 0 || !gtk_widget_get_sensitive (self->put))
    return;
  gboolean done = sp_shelf_put (self->folder, chain, (guint) stage, name, sp_shelf_has (self->folder, name), &error);
  fill (self);
  g_autofree char *text = done ? g_strdup_printf (_ ("%s is on the shelf."), name) : NULL;
  say (self->put_says, done ? text : error->message, !done);
}

static void
take (SpShelfDialog *self)
{
  SpShelfItem *item = chosen_item (self);
  SpChain *chain = chain_of (self);
  GError *error = NULL;
  g_autofree char *name = name_in (self->take_name);
  if (!item || !item->chain || !chain || !gtk_widget_get_sensitive (self->take))
    return;
  guint before = (guint) (sp_chain_stage_named (chain, self->stage) + 1);
  g_autofree char *label = g_strdup_printf (_ ("Take %s from the shelf"), item->name);
  SpChain *edited = sp_chain_take_stage (chain, before, item->chain, 0, name, &error);
  if (!edited) {
    say (self->take_says, error->message, TRUE);
    g_clear_error (&error);
    return;
  }
  sp_chain_edit_at (SP_DIALOG (self)->session, self->place, edited, label, NULL);
  propose_name (self);
  g_autofree char *text = g_strdup_printf (_ ("%s is in the chain."), name);
  say (self->take_says, text, FALSE);
}

static void
take_away (SpShelfDialog *self)
{
  g_autoptr (GError) error = NULL;
  SpShelfItem *item = chosen_item (self);
  if (!item)
    return;
  g_autofree char *path = g_strdup (item->path),
                  *text = g_strdup_printf (_ ("%s is off the shelf; “Put back” brings it back."), item->name);
  gboolean done = sp_shelf_remove (self->folder, item, &error);
  if (done) {
    g_free (self->removed);
    self->removed = g_steal_pointer (&path);
  }
  fill (self);
  say (self->take_says, done ? text : error->message, !done);
}

static void
put_back (SpShelfDialog *self)
{
  g_autoptr (GError) error = NULL;
  if (!self->removed)
    return;
  if (sp_shelf_put_back (self->removed, &error))
    g_clear_pointer (&self->removed, g_free);
  fill (self);
  if (error)
    say (self->take_says, error->message, TRUE);
}

static gboolean
on_delete (GtkWidget *list, GVariant *arguments, gpointer data)
{
  (void) list;
  (void) arguments;
  take_away (data);
  return TRUE;
}

/* ---- the window ---- */

static GtkWidget *
new_entry (const char *name, const char *tip, GCallback changed, GCallback activated, SpShelfDialog *self)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_widget_add_css_class (entry, "plain");
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  sp_tip_set (entry, tip);
  g_signal_connect_swapped (entry, "changed", changed, self);
  g_signal_connect_swapped (entry, "activate", activated, self);
  return entry;
}

static GtkWidget *
new_button (const char *text, const char *tip, GCallback clicked, SpShelfDialog *self)
{
  GtkWidget *button = sp_dialog_button_new (text, tip);
  g_signal_connect_swapped (button, "clicked", clicked, self);
  return button;
}

static void
add_line (SpShelfDialog *self, GtkWidget *first, ...)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  va_list rest;
  gtk_widget_add_css_class (line, "tight");
  va_start (rest, first);
  for (GtkWidget *one = first; one; one = va_arg (rest, GtkWidget *))
    gtk_box_append (GTK_BOX (line), one);
  va_end (rest);
  gtk_box_append (GTK_BOX (SP_DIALOG (self)->content), line);
}

static void
add_put (SpShelfDialog *self)
{
  g_autofree char *what = g_strdup_printf (_ ("%s, as"), self->stage);
  self->put_name = new_entry (_ ("name on the shelf"), _ ("What the stage is called on the shelf."), G_CALLBACK (check_put),
                              G_CALLBACK (put), self);
  self->put = new_button (_ ("Put on the shelf"), _ ("Keeps the stage with its loss, ratings and calibration for the next bench (Enter)."),
                          G_CALLBACK (put), self);
  self->put_says = sp_dialog_label_new ("", "soft");
  add_line (self, sp_dialog_label_new (what, "soft"), self->put_name, self->put, NULL);
  gtk_box_append (GTK_BOX (SP_DIALOG (self)->content), self->put_says);
}

static void
add_list (SpShelfDialog *self)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_BROWSE);
  gtk_list_box_set_placeholder (GTK_LIST_BOX (self->list), sp_dialog_label_new (_ ("Nothing is on the shelf yet."), "soft"));
  gtk_widget_add_css_class (self->list, "rows");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Stages on the shelf"), -1);
  g_signal_connect_swapped (self->list, "row-selected", G_CALLBACK (propose_name), self);
  g_signal_connect_swapped (self->list, "row-activated", G_CALLBACK (take), self);
  gtk_list_box_set_activate_on_single_click (GTK_LIST_BOX (self->list), FALSE);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Delete, 0),
                                                                                          gtk_callback_action_new (on_delete, self, NULL)));
  gtk_widget_add_controller (self->list, keys);
  gtk_box_append (GTK_BOX (SP_DIALOG (self)->content), self->list);
}

static void
add_take (SpShelfDialog *self)
{
  self->take_name = new_entry (_ ("name in the chain"), _ ("What the stage is called in this chain."), G_CALLBACK (check_take),
                               G_CALLBACK (take), self);
  self->take = new_button (_ ("_Take into the chain"), _ ("Puts the chosen stage behind the one that the page has chosen (Enter)."),
                           G_CALLBACK (take), self);
  self->remove = new_button (_ ("Take _off the shelf"), _ ("Takes the chosen stage off the shelf (Delete)."), G_CALLBACK (take_away), self);
  self->back = new_button (_ ("Put _back"), _ ("Brings back what was taken off the shelf last."), G_CALLBACK (put_back), self);
  self->take_says = sp_dialog_label_new ("", "soft");
  add_line (self, sp_dialog_label_new (_ ("as"), "soft"), self->take_name, self->take, self->remove, self->back, NULL);
  gtk_box_append (GTK_BOX (SP_DIALOG (self)->content), self->take_says);
}

static void
follow (SpDialog *dialog)
{
  check_put (SP_SHELF_DIALOG (dialog));
  check_take (SP_SHELF_DIALOG (dialog));
}

static void
sp_shelf_dialog_dispose (GObject *object)
{
  SpShelfDialog *self = SP_SHELF_DIALOG (object);
  if (self->list)
    g_signal_handlers_disconnect_by_data (self->list, self); /* rows that go are not chosen any more */
  self->list = NULL;
  G_OBJECT_CLASS (sp_shelf_dialog_parent_class)->dispose (object);
}

static void
sp_shelf_dialog_finalize (GObject *object)
{
  SpShelfDialog *self = SP_SHELF_DIALOG (object);
  g_clear_pointer (&self->items, g_ptr_array_unref);
  g_free (self->folder);
  g_free (self->stage);
  g_free (self->removed);
  G_OBJECT_CLASS (sp_shelf_dialog_parent_class)->finalize (object);
}

static void
sp_shelf_dialog_class_init (SpShelfDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sp_shelf_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_shelf_dialog_finalize;
  SP_DIALOG_CLASS (klass)->follow = follow;
}

static void
sp_shelf_dialog_init (SpShelfDialog *self)
{
  SP_DIALOG (self)->keeps_typing = TRUE; /* names, for its buttons */
  self->folder = sp_shelf_user_folder ();
}

void
sp_shelf_dialog_present (GtkWindow *parent, SpSession *session, SpChainPlace place, guint stage)
{
  const SpChain *chain = sp_chain_at (session, place);
  SpShelfDialog *self = sp_dialog_new (SP_TYPE_SHELF_DIALOG, parent, session, _ ("Shelf"), 640, 480);
  SpDialog *dialog = SP_DIALOG (self);
  self->place = place;
  self->stage = g_strdup (chain && stage < chain->n ? chain->stages[stage]->name : "");
  sp_dialog_add_heading (dialog, _ ("Put on the shelf"));
  add_put (self);
  sp_dialog_add_heading (dialog, _ ("On the shelf"));
  add_list (self);
  add_take (self);
  gtk_box_append (GTK_BOX (dialog->content), sp_dialog_label_new (self->folder, "soft"));
  sp_entry_fill (self->put_name, self->stage);
  fill (self);
  sp_dialog_present (dialog);
}
