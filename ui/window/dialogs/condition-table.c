/* condition-table.c - all conditions as a table, whose chosen rows get a value together */
#include "ui/window/dialogs/condition-table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/bench/proposals/pasted.h"
#include "core/quantity/typed.h"
#include "ui/window/session/reading.h"
#include "ui/window/widgets/ask-file.h"
#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/entry.h"
#include "ui/window/widgets/table.h"
#include "ui/words/words.h"

typedef enum { RADIO, CONDITION, F0, RATED, MODE, BANDWIDTH, MASK, CHAIN, SWEEPS, N_COLUMNS } Column;
#define FIRST_SET F0

/* The columns from F0 to CHAIN can be set; their keys stand side by side, as what is pasted does. */
static const char *const keys[N_COLUMNS] = {
  [F0] = "fundamental", [RATED] = "rated_w", [MODE] = "mode", [BANDWIDTH] = "necessary_bandwidth", [MASK] = "mask", [CHAIN] = "chain"
};
static const char *const titles[N_COLUMNS] = { N_ ("radio"),     N_ ("condition"), N_ ("f0"),    N_ ("rated power"), N_ ("mode"),
                                               N_ ("bandwidth"), N_ ("mask"),      N_ ("chain"), N_ ("sweeps") };
static const int widths[N_COLUMNS] = { 136, 136, 112, 96, 72, 96, -1, -1, 64 };

#define SP_TYPE_CONDITION_TABLE (sp_condition_table_get_type ())
G_DECLARE_FINAL_TYPE (SpConditionTable, sp_condition_table, SP, CONDITION_TABLE, SpDialog)

struct _SpConditionTable {
  SpDialog parent_instance;
  GtkStringList *rows; /* of each the condition's index, as text */
  GtkMultiSelection *selection;
  GPtrArray *choices; /* of char *: what `choice` lists, as the sheet names it */
  SpBench *shown;     /* the bench of the rows; kept */
  gboolean filling;
  /* of the template */
  GtkWidget *view, *column, *value, *choice, *from_file, *set, *trouble;
};

G_DEFINE_FINAL_TYPE (SpConditionTable, sp_condition_table, SP_TYPE_DIALOG)

/* ---- rows ---- */

static char *
cell_text (const SpBench *bench, guint index, Column column)
{
  const SpCondition *condition = &bench->conditions[index];
  double width = condition->necessary_bandwidth_hz;
  switch (column) {
  case RADIO: return g_strdup (bench->radios[condition->radio].name);
  case CONDITION: return g_strdup (condition->name);
  case F0: return isnan (condition->fundamental_hz) ? g_strdup ("") : sp_words_frequency (condition->fundamental_hz, 0, SP_HAND_SCREEN);
  case RATED: return isnan (condition->rated_w) ? g_strdup ("") : sp_words_power (condition->rated_w, SP_HAND_SCREEN);
  case MODE: return g_strdup (condition->mode ? condition->mode : "");
  case BANDWIDTH: return isnan (width) ? g_strdup ("") : sp_words_frequency (width, 0, SP_HAND_SCREEN);
  case MASK: return condition->mask ? sp_words_mask (condition->mask) : g_strdup (_ ("the bench's"));
  case CHAIN: return g_strdup (!condition->chain ? _ ("the bench's") : condition->chain->name ? condition->chain->name : _ ("its own"));
  case SWEEPS: return g_strdup_printf ("%u", condition->n_sweeps);
  case N_COLUMNS: break;
  }
  g_return_val_if_reached (NULL);
}

static guint
condition_at (SpConditionTable *self, guint row)
{
  return (guint) g_ascii_strtoull (gtk_string_list_get_string (self->rows, row), NULL, 10);
}

static gboolean
is_number (Column column)
{
  return column == F0 || column == RATED || column == BANDWIDTH || column == SWEEPS;
}

static void
set_up (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  GtkWidget *label = gtk_label_new ("");
  (void) factory;
  gtk_label_set_xalign (GTK_LABEL (label), is_number (GPOINTER_TO_UINT (data)) ? 1 : 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_list_item_set_child (item, label);
}

static void
bind (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer data)
{
  GtkWidget *label = gtk_list_item_get_child (item);
  SpConditionTable *self = SP_CONDITION_TABLE (gtk_widget_get_ancestor (label, SP_TYPE_CONDITION_TABLE));
  (void) factory;
  if (!self || !self->shown)
    return;
  guint index = condition_at (self, gtk_list_item_get_position (item));
  g_autofree char *text = cell_text (self->shown, index, GPOINTER_TO_UINT (data));
  gtk_label_set_text (GTK_LABEL (label), text);
  gtk_widget_set_tooltip_text (label, text);
}

/* The conditions of the chosen rows, from above. (transfer full), of guint */
static GArray *
chosen (SpConditionTable *self)
{
  GArray *conditions = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint row = 0; row < g_list_model_get_n_items (G_LIST_MODEL (self->rows)); row++) {
    guint index = condition_at (self, row);
    if (gtk_selection_model_is_selected (GTK_SELECTION_MODEL (self->selection), row))
      g_array_append_val (conditions, index);
  }
  return conditions;
}

/* As many conditions as before: the same ones stay chosen, wherever they stand now. */
static void
show_rows (SpConditionTable *self, const GArray *keep)
{
  guint n = self->shown->n_conditions;
  g_autofree guint *order = sp_bench_table_order (self->shown);
  g_autofree gboolean *kept = g_new0 (gboolean, n + 1);
  g_autoptr (GStrvBuilder) texts = g_strv_builder_new ();
  g_autoptr (GtkBitset) selected = gtk_bitset_new_empty (), all = gtk_bitset_new_range (0, n);
  for (guint i = 0; i < keep->len; i++)
    kept[MIN (g_array_index (keep, guint, i), n)] = TRUE;
  for (guint row = 0; row < n; row++) {
    g_autofree char *text = g_strdup_printf ("%u", order[row]);
    g_strv_builder_add (texts, text);
    if (kept[order[row]])
      gtk_bitset_add (selected, row);
  }
  g_auto (GStrv) rows = g_strv_builder_end (texts);
  gtk_string_list_splice (self->rows, 0, g_list_model_get_n_items (G_LIST_MODEL (self->rows)), (const char *const *) rows);
  gtk_selection_model_set_selection (GTK_SELECTION_MODEL (self->selection), selected, all);
}

static void
say (SpConditionTable *self, const char *text)
{
  gtk_label_set_text (GTK_LABEL (self->trouble), text ? text : "");
  gtk_widget_set_visible (self->trouble, text != NULL);
}

/* ---- the column and its value ---- */

static Column
column_chosen (SpConditionTable *self)
{
  return FIRST_SET + gtk_drop_down_get_selected (GTK_DROP_DOWN (self->column));
}

static gboolean
is_choice (Column column)
{
  return column == MASK || column == CHAIN;
}

static void
add_choice (SpConditionTable *self, GtkStringList *words, const char *name, const char *word)
{
  for (guint i = 0; i < self->choices->len; i++)
    if (g_str_equal (self->choices->pdata[i], name))
      return;
  g_ptr_array_add (self->choices, g_strdup (name));
  gtk_string_list_append (words, word);
}

/* The bench's, the built-in masks, and what rows have of their own. */
static void
list_choices (SpConditionTable *self, Column column)
{
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  const char *const *names = sp_mask_names ();
  g_ptr_array_set_size (self->choices, 0);
  add_choice (self, words, "", _ ("the bench's"));
  for (guint i = 0; column == MASK && names[i]; i++) {
    g_autoptr (SpMask) mask = sp_mask_load (names[i], NULL);
    g_autofree char *word = mask ? sp_words_mask (mask) : g_strdup (names[i]);
    add_choice (self, words, names[i], word);
  }
  for (guint i = 0; i < self->shown->n_conditions; i++) {
    const SpCondition *condition = &self->shown->conditions[i];
    gconstpointer own = column == MASK ? (gconstpointer) condition->mask : (gconstpointer) condition->chain;
    if (!own || !g_hash_table_add (seen, (gpointer) own))
      continue;
    g_autofree char *name = sp_bench_get_condition (self->shown, i, keys[column]), *word = cell_text (self->shown, i, column);
    add_choice (self, words, name, word);
  }
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->choice), G_LIST_MODEL (words));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->choice), 0);
}

static void
on_column (SpConditionTable *self)
{
  Column column = column_chosen (self);
  gboolean choice = is_choice (column);
  gtk_widget_set_visible (self->value, !choice);
  gtk_widget_set_visible (self->choice, choice);
  gtk_widget_set_visible (self->from_file, choice);
  if (choice && self->shown)
    list_choices (self, column);
}

/* ---- edits ---- */

/* Takes `bench` and `error`. */
static gboolean
edit (SpConditionTable *self, SpBench *bench, Column column, GError *error)
{
  g_autoptr (GError) why = error;
  g_autofree char *label = g_strdup_printf (_ ("Set the %s of several conditions"), _ (titles[column]));
  say (self, why ? why->message : NULL);
  return bench && sp_session_edit (SP_DIALOG (self)->session, bench, label, NULL);
}

static void
paste (SpConditionTable *self, const char *text, guint from, gboolean one_line)
{
  g_autoptr (GArray) rows = chosen (self);
  GError *error = NULL;
  const char *columns[N_COLUMNS + 1] = { NULL };
  for (guint i = 0; keys[from + i] && (!one_line || i == 0); i++)
    columns[i] = keys[from + i];
  if (rows->len == 0) {
    say (self, _ ("no row is chosen; expected one or more, with Shift and the arrows, or Ctrl+A"));
    return;
  }
  SpBench *bench = sp_bench_with_pasted (sp_session_bench (SP_DIALOG (self)->session), text, (const guint *) (gpointer) rows->data,
                                         rows->len, columns, sp_words_decimal_mark (), &error);
  edit (self, bench, from, error);
}

static void
set_rows (SpConditionTable *self)
{
  Column column = column_chosen (self);
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice));
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->value));
  const char *text = !is_choice (column) ? typed : i < self->choices->len ? self->choices->pdata[i] : "";
  g_autoptr (GString) doubled = g_string_new (text);
  g_string_replace (doubled, "\"", "\"\"", 0);
  g_autofree char *line = g_strdup_printf ("\"%s\"\n", doubled->str); /* as one field of one line */
  paste (self, line, column, TRUE);
  if (!gtk_widget_get_visible (self->trouble))
    sp_entry_fill (self->value, typed);
}

static void
on_set (GtkWidget *widget, const char *name, GVariant *argument)
{
  (void) name, (void) argument;
  set_rows (SP_CONDITION_TABLE (widget));
}

static void
on_clipboard (GObject *clipboard, GAsyncResult *result, gpointer data)
{
  g_autoptr (SpConditionTable) self = data;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (clipboard), result, NULL);
  if (text && gtk_widget_get_mapped (GTK_WIDGET (self)))
    paste (self, text, column_chosen (self), FALSE);
  else if (!text)
    say (self, _ ("no text is on the clipboard; expected cells that were copied from a table"));
}

static void
on_paste (GtkWidget *widget, const char *name, GVariant *argument)
{
  (void) name, (void) argument;
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (widget), NULL, on_clipboard, g_object_ref (widget));
}

/* ---- from a file ---- */

typedef struct {
  Column column;
  GArray *rows;
} Asked;

static void
asked_free (gpointer data)
{
  g_array_unref (((Asked *) data)->rows);
  g_free (data);
}

static SpResourceKind
kind_of (Column column)
{
  return column == MASK ? SP_RESOURCE_MASK : SP_RESOURCE_CHAIN;
}

static gpointer
read_resource (const char *path, gpointer asked, GError **error)
{
  return sp_resource_read (kind_of (((const Asked *) asked)->column), path, error);
}

static void
on_read (gpointer owner, gpointer data, gpointer value, GError *why)
{
  SpConditionTable *self = SP_CONDITION_TABLE (owner);
  const Asked *asked = data;
  SpResourceKind kind = kind_of (asked->column);
  GError *error = why;
  SpBench *bench = value ? sp_bench_set_own_of (sp_session_bench (SP_DIALOG (self)->session), (const guint *) (gpointer) asked->rows->data,
                                                asked->rows->len, kind, value, &error)
                         : NULL;
  edit (self, bench, asked->column, error);
  if (value)
    sp_resource_unref (kind, value);
}

static void
file_chosen (GtkWidget *owner, GFile *file)
{
  static const SpFileReading chain = { read_resource, (GDestroyNotify) sp_chain_unref, on_read, asked_free },
                             mask = { read_resource, (GDestroyNotify) sp_mask_unref, on_read, asked_free };
  SpConditionTable *self = SP_CONDITION_TABLE (owner);
  Asked *asked = g_new (Asked, 1);
  *asked = (Asked){ column_chosen (self), chosen (self) };
  sp_reading_begin (owner, file, asked->column == MASK ? &mask : &chain, asked);
}

static void
on_from_file (SpConditionTable *self)
{
  gboolean mask = column_chosen (self) == MASK;
  sp_ask_file (GTK_WIDGET (self), mask ? _ ("A mask for the chosen rows") : _ ("A chain for the chosen rows"), mask ? "*.mask" : "*.chain",
               file_chosen);
}

/* ---- the window ---- */

static void
follow (SpDialog *dialog)
{
  SpConditionTable *self = SP_CONDITION_TABLE (dialog);
  SpBench *bench = sp_session_bench (dialog->session);
  if (bench == self->shown)
    return;
  g_autoptr (GArray) keep = self->shown ? chosen (self) : g_array_new (FALSE, FALSE, sizeof (guint));
  guint first = sp_session_condition (dialog->session);
  if (!self->shown)
    g_array_append_val (keep, first);
  g_clear_pointer (&self->shown, sp_bench_unref);
  self->shown = sp_bench_ref (bench);
  show_rows (self, keep);
  on_column (self);
}

static void
sp_condition_table_finalize (GObject *object)
{
  SpConditionTable *self = SP_CONDITION_TABLE (object);
  g_clear_object (&self->selection);
  g_clear_object (&self->rows);
  g_clear_pointer (&self->choices, g_ptr_array_unref);
  g_clear_pointer (&self->shown, sp_bench_unref);
  G_OBJECT_CLASS (sp_condition_table_parent_class)->finalize (object);
}

static void
sp_condition_table_class_init (SpConditionTableClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->finalize = sp_condition_table_finalize;
  SP_DIALOG_CLASS (klass)->follow = follow;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/condition-table.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpConditionTable, name)
  PART (view), PART (column), PART (value), PART (choice), PART (from_file), PART (set), PART (trouble);
#undef PART
  gtk_widget_class_install_action (widget, "table.set", NULL, on_set);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_Return, GDK_CONTROL_MASK, "table.set", NULL);
  gtk_widget_class_install_action (widget, "table.paste", NULL, on_paste); /* an entry with the focus takes the key for itself */
  gtk_widget_class_add_binding_action (widget, GDK_KEY_v, GDK_CONTROL_MASK, "table.paste", NULL);
}

static gboolean
leave_rows (GtkWidget *view, GVariant *arguments, gpointer self)
{
  (void) view, (void) arguments;
  return gtk_widget_grab_focus (SP_CONDITION_TABLE (self)->column);
}

/* GTK 4.8 goes from row to row by Tab: the way out of a thousand rows would be long. */
static void
add_way_out (SpConditionTable *self)
{
  GtkEventController *shortcuts = gtk_shortcut_controller_new ();
  gtk_event_controller_set_propagation_phase (shortcuts, GTK_PHASE_CAPTURE);
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (shortcuts),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Tab, 0),
                                                          gtk_callback_action_new (leave_rows, self, NULL)));
  gtk_widget_add_controller (self->view, shortcuts);
}

static void
sp_condition_table_init (SpConditionTable *self)
{
  static const SpTableCells cells = { set_up, bind, NULL };
  g_autoptr (GtkStringList) columns = gtk_string_list_new (NULL);
  GtkColumnView *view;
  sp_dialog_init_template (SP_DIALOG (self));
  view = GTK_COLUMN_VIEW (self->view);
  self->choices = g_ptr_array_new_with_free_func (g_free);
  self->rows = gtk_string_list_new (NULL);
  self->selection = gtk_multi_selection_new (G_LIST_MODEL (g_object_ref (self->rows)));
  for (guint column = 0; column < N_COLUMNS; column++) {
    sp_table_add_column (view, _ (titles[column]), widths[column], &cells, column);
    if (keys[column])
      gtk_string_list_append (columns, _ (titles[column]));
  }
  gtk_column_view_set_model (view, GTK_SELECTION_MODEL (self->selection));
  sp_table_align_titles (view, "llrrlrllr");
  sp_table_name (view, _ ("table of conditions"));
  add_way_out (self);
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->column), G_LIST_MODEL (columns));
  sp_drop_down_speak (self->column, _ ("column"));
  sp_drop_down_speak (self->choice, _ ("mask or chain for the chosen rows"));
  g_signal_connect_swapped (self->column, "notify::selected", G_CALLBACK (on_column), self);
  g_signal_connect_swapped (self->value, "activate", G_CALLBACK (set_rows), self);
  g_signal_connect_swapped (self->set, "clicked", G_CALLBACK (set_rows), self);
  g_signal_connect_swapped (self->from_file, "clicked", G_CALLBACK (on_from_file), self);
}

void
sp_condition_table_present (GtkWindow *parent, SpSession *session)
{
  SpConditionTable *self = sp_dialog_new (SP_TYPE_CONDITION_TABLE, parent, session);
  sp_dialog_present (SP_DIALOG (self));
  gtk_widget_grab_focus (self->view);
}
