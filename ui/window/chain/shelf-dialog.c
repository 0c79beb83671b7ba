/* shelf-dialog.c - chooses a stage or an analyzer from the shelf, and puts one there */
#include "ui/window/chain/shelf-dialog.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/bench/shelf/shelf.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/entry.h"

#define SP_TYPE_SHELF_DIALOG (sp_shelf_dialog_get_type ())
G_DECLARE_FINAL_TYPE (SpShelfDialog, sp_shelf_dialog, SP, SHELF_DIALOG, SpDialog)

struct _SpShelfDialog {
  SpDialog parent_instance;
  SpShelfKind kind;
  SpChainPlace place;   /* of stages */
  char *folder, *stage; /* stage: the one that is put away, by name */
  GPtrArray *items;     /* SpShelfItem*, as the list shows them; NULL: could not be read */
  char *removed;        /* path of the one that was taken away last; NULL */
  /* of the template */
  GtkWidget *put_what, *put_name, *put, *put_says, *list, *take_name, *take, *take_says, *remove, *back, *folder_says;
};

G_DEFINE_FINAL_TYPE (SpShelfDialog, sp_shelf_dialog, SP_TYPE_DIALOG)

static SpChain *
chain_of (SpShelfDialog *self)
{
  return sp_chain_at (SP_DIALOG (self)->session, self->place);
}

/* The one that is put away, and that another takes the place of: the chosen condition's, or the bench's. */
static SpAnalyzer *
analyzer_of (SpShelfDialog *self)
{
  SpDialog *dialog = SP_DIALOG (self);
  const SpCondition *condition = sp_dialog_condition (dialog);
  SpBench *bench = sp_session_bench (dialog->session);
  return condition ? sp_condition_analyzer (bench, condition) : bench->analyzer;
}

static gboolean
of_analyzers (SpShelfDialog *self)
{
  return self->kind == SP_SHELF_ANALYZERS;
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
  gboolean there = *name && sp_shelf_has (self->folder, self->kind, name);
  gboolean stage = of_analyzers (self) ? analyzer_of (self) != NULL : sp_chain_stage_named (chain_of (self), self->stage) >= 0;
  const char *taken = of_analyzers (self) ? _ ("There is an analyzer “%s” on the shelf already: replace it, or give this one another name.")
                                          : _ ("There is a stage “%s” on the shelf already: replace it, or give this one another name.");
  g_autofree char *text = there ? g_strdup_printf (taken, name) : NULL;
  gtk_button_set_label (GTK_BUTTON (self->put), there ? _ ("Replace") : _ ("Put on the shelf"));
  gtk_accessible_reset_property (GTK_ACCESSIBLE (self->put), GTK_ACCESSIBLE_PROPERTY_LABEL); /* as sp_dialog_init_template() has it */
  gtk_widget_set_sensitive (self->put, *name && stage);
  say (self->put_says, text, FALSE);
}

static void
check_take (SpShelfDialog *self)
{
  SpShelfItem *item = chosen_item (self);
  SpChain *chain = of_analyzers (self) ? NULL : chain_of (self);
  g_autofree char *name = name_in (self->take_name);
  gboolean clash = chain && sp_chain_stage_named (chain, name) >= 0, good = item && (item->chain || item->analyzer);
  gboolean place = of_analyzers (self) ? analyzer_of (self) != NULL : chain != NULL;
  g_autofree char *text = item && item->chain && clash
                              ? g_strdup_printf (_ ("The chain has a stage “%s” already: give this one another name."), name)
                              : NULL;
  gtk_widget_set_sensitive (self->take, good && place && *name && !clash);
  gtk_widget_set_sensitive (self->take_name, good);
  gtk_widget_set_sensitive (self->remove, item && item->path);
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

static void
say_key_of (GString *line, const SpAnalyzer *analyzer, const char *key, const char *format)
{
  g_autofree char *value = sp_analyzer_get (analyzer, key);
  g_autofree char *text = value ? g_strdup_printf (format, value) : NULL;
  if (text)
    g_string_append_printf (line, "%s%s", line->len ? " \xc2\xb7 " : "", text);
}

/* "accuracy 1 dB · flatness 0.8 dB · damage level 13 dBm · checked 2026-10-18" */
static char *
analyzer_says (const SpAnalyzer *analyzer)
{
  GString *line = g_string_new (NULL);
  say_key_of (line, analyzer, "accuracy_db", _ ("accuracy %s dB"));
  say_key_of (line, analyzer, "flatness_db", _ ("flatness %s dB"));
  say_key_of (line, analyzer, "damage_dbm", _ ("damage level %s dBm"));
  say_key_of (line, analyzer, "checked", _ ("checked %s"));
  if (!line->len)
    g_string_assign (line, _ ("nothing stated: wide errors are assumed, and said"));
  return g_string_free (line, FALSE);
}

/* "pad · label 30 dB · 25 W · by substitution · 2026-10-17" */
static char *
item_says (const SpShelfItem *item)
{
  GString *line = g_string_new (NULL);
  if (item->analyzer) {
    g_string_free (line, TRUE);
    return analyzer_says (item->analyzer);
  }
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
  g_autofree char *says = item_says (item);
  return sp_dialog_row_new (item->name, says, item->error != NULL);
}

static void
propose_name (SpShelfDialog *self)
{
  SpShelfItem *item = chosen_item (self);
  SpChain *chain = of_analyzers (self) ? NULL : chain_of (self);
  g_autofree char *name = item && item->analyzer ? g_strdup (item->analyzer->name)
                          : item && item->chain  ? chain ? sp_chain_free_name (chain, item->name) : g_strdup (item->name)
                                                 : g_strdup ("");
  sp_entry_fill (self->take_name, name);
  check_take (self);
}

/* Always at hand, below those that were put there. */
static void
add_blank (GPtrArray *items)
{
  SpShelfItem *item = g_new0 (SpShelfItem, 1);
  item->name = g_strdup (_ ("a blank analyzer"));
  item->analyzer = sp_analyzer_blank (_ ("My analyzer"));
  g_ptr_array_add (items, item);
}

static void
fill (SpShelfDialog *self)
{
  g_autoptr (GError) error = NULL;
  for (GtkListBoxRow *row; (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0));)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  g_clear_pointer (&self->items, g_ptr_array_unref);
  self->items = sp_shelf_read (self->folder, self->kind, &error);
  if (self->items && of_analyzers (self))
    add_blank (self->items);
  for (guint i = 0; self->items && i < self->items->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), new_row (self->items->pdata[i]));
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0));
  propose_name (self);
  check_put (self);
  if (error)
    say (self->take_says, error->message, TRUE);
}

/* ---- actions ---- */

static gboolean
put (SpShelfDialog *self, const char *name, GError **error)
{
  gboolean replace = sp_shelf_has (self->folder, self->kind, name);
  if (of_analyzers (self))
    return sp_shelf_put_analyzer (self->folder, analyzer_of (self), name, replace, error);
  SpChain *chain = chain_of (self);
  return sp_shelf_put (self->folder, chain, (guint) sp_chain_stage_named (chain, self->stage), name, replace, error);
}

static void
on_put (SpShelfDialog *self)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *name = name_in (self->put_name);
  if (!gtk_widget_get_sensitive (self->put))
    return;
  gboolean done = put (self, name, &error);
  fill (self);
  g_autofree char *text = done ? g_strdup_printf (_ ("%s is on the shelf."), name) : NULL;
  say (self->put_says, done ? text : error->message, !done);
}

static gboolean
take_stage (SpShelfDialog *self, const SpShelfItem *item, const char *name, const char *label, GError **error)
{
  SpChain *chain = chain_of (self);
  guint before = (guint) (sp_chain_stage_named (chain, self->stage) + 1);
  SpChain *edited = sp_chain_take_stage (chain, before, item->chain, 0, name, error);
  return edited && sp_chain_edit_at (SP_DIALOG (self)->session, self->place, edited, label, NULL);
}

static gboolean
take_analyzer (SpShelfDialog *self, const SpShelfItem *item, const char *name, const char *label, GError **error)
{
  SpSession *session = SP_DIALOG (self)->session;
  g_autoptr (SpAnalyzer) named = sp_analyzer_set (item->analyzer, "name", name, error);
  return named && sp_session_edit (session, sp_bench_replace_analyzer (sp_session_bench (session), analyzer_of (self), named), label, NULL);
}

static void
on_take (SpShelfDialog *self)
{
  SpShelfItem *item = chosen_item (self);
  g_autoptr (GError) error = NULL;
  g_autofree char *name = name_in (self->take_name);
  if (!gtk_widget_get_sensitive (self->take))
    return;
  g_autofree char *label = g_strdup_printf (_ ("Take %s from the shelf"), item->name);
  gboolean done = of_analyzers (self) ? take_analyzer (self, item, name, label, &error) : take_stage (self, item, name, label, &error);
  if (error) {
    say (self->take_says, error->message, TRUE);
    return;
  }
  if (!done)
    return;
  propose_name (self);
  g_autofree char *text = g_strdup_printf (of_analyzers (self) ? _ ("%s is the analyzer now.") : _ ("%s is in the chain."), name);
  say (self->take_says, text, FALSE);
}

static void
on_take_away (SpShelfDialog *self)
{
  g_autoptr (GError) error = NULL;
  SpShelfItem *item = chosen_item (self);
  if (!item || !item->path)
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
on_put_back (SpShelfDialog *self)
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
on_list_key (SpShelfDialog *self, guint key)
{
  if (key != GDK_KEY_Delete)
    return FALSE;
  on_take_away (self);
  return TRUE;
}

/* ---- the window ---- */

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
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = sp_shelf_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = sp_shelf_dialog_finalize;
  SP_DIALOG_CLASS (klass)->follow = follow;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/shelf-dialog.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpShelfDialog, name)
  PART (put_what), PART (put_name), PART (put), PART (put_says), PART (list), PART (take_name), PART (take), PART (take_says);
  PART (remove), PART (back), PART (folder_says);
#undef PART
#define DOES(name) gtk_widget_class_bind_template_callback (widget, name)
  DOES (check_put), DOES (check_take), DOES (propose_name), DOES (on_list_key);
  DOES (on_put), DOES (on_take), DOES (on_take_away), DOES (on_put_back);
#undef DOES
}

static void
sp_shelf_dialog_init (SpShelfDialog *self)
{
  SP_DIALOG (self)->keeps_typing = TRUE; /* names, for its buttons */
  self->folder = sp_shelf_user_folder ();
  sp_dialog_init_template (SP_DIALOG (self));
  gtk_label_set_text (GTK_LABEL (self->folder_says), self->folder);
}

static void
present (SpShelfDialog *self, const char *put_away)
{
  g_autofree char *what = g_strdup_printf (_ ("%s, as"), put_away);
  gtk_label_set_text (GTK_LABEL (self->put_what), what);
  sp_entry_fill (self->put_name, put_away);
  fill (self);
  sp_dialog_present (SP_DIALOG (self));
}

void
sp_shelf_dialog_present (GtkWindow *parent, SpSession *session, SpChainPlace place, guint stage)
{
  const SpChain *chain = sp_chain_at (session, place);
  SpShelfDialog *self = sp_dialog_new (SP_TYPE_SHELF_DIALOG, parent, session);
  self->place = place;
  self->stage = g_strdup (chain && stage < chain->n ? chain->stages[stage]->name : "");
  present (self, self->stage);
}

/* The template's words are those of stages. */
static void
speak_of_analyzers (SpShelfDialog *self)
{
  gtk_window_set_title (GTK_WINDOW (self), _ ("Shelf of analyzers"));
  gtk_widget_set_tooltip_text (self->put_name, _ ("What the analyzer is called on the shelf."));
  gtk_widget_set_tooltip_text (self->put, _ ("Keeps the analyzer with its errors, correction and ratings for the next bench (Enter)."));
  gtk_widget_set_tooltip_text (self->take_name, _ ("What the analyzer is called on this bench."));
  gtk_widget_set_tooltip_text (self->take, _ ("Puts the chosen analyzer in place of the bench's (Enter)."));
  gtk_widget_set_tooltip_text (self->remove, _ ("Takes the chosen analyzer off the shelf (Delete)."));
  gtk_button_set_label (GTK_BUTTON (self->take), _ ("_Take onto the bench"));
  gtk_accessible_reset_property (GTK_ACCESSIBLE (self->take), GTK_ACCESSIBLE_PROPERTY_LABEL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->take_name), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("name on this bench"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Analyzers on the shelf"), -1);
}

void
sp_shelf_dialog_present_analyzers (GtkWindow *parent, SpSession *session)
{
  SpShelfDialog *self = sp_dialog_new (SP_TYPE_SHELF_DIALOG, parent, session);
  SP_DIALOG (self)->condition = sp_session_bench (session)->n_conditions ? (int) sp_session_condition (session) : -1;
  self->kind = SP_SHELF_ANALYZERS;
  const SpAnalyzer *analyzer = analyzer_of (self);
  speak_of_analyzers (self);
  present (self, analyzer ? analyzer->name : "");
}
