/* fields.c - the keys of one group as a form */
#include "ui/window/widgets/fields.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/quantity/text.h"
#include "core/quantity/typed.h"
#include "ui/window/widgets/entry.h"
#include "ui/words/words.h"

const char *const sp_modulation_words[] = { NULL,         N_ ("none: an unmodulated carrier"), N_ ("a tone"), N_ ("noise"), N_ ("speech"),
                                            N_ ("keying") };

#define LINES_LEAST 54 /* pixels: three lines */
#define LINES_MOST 160 /* pixels: nine, so that the whole form is in sight */

typedef struct {
  SpFormFields *form;
  const SpFormField *field;
  const SpKeySpec *spec; /* NULL: in no table */
  GPtrArray *choices;    /* of const char*, as the file spells them; NULL: an entry */
  GtkWidget *widget;     /* GtkEntry, GtkTextView or GtkDropDown */
  GtkWidget *trouble;
  char *shown;   /* the value that stands in the entry, spelled as in a file */
  gboolean busy; /* we change the widget ourselves */
} Row;

struct _SpFormFields {
  GtkGrid parent_instance;
  SpFormOwner owner;
  GPtrArray *rows; /* Row* */
};

G_DEFINE_FINAL_TYPE (SpFormFields, sp_fields, GTK_TYPE_GRID)

static void
row_free (gpointer data)
{
  Row *row = data;
  g_clear_pointer (&row->choices, g_ptr_array_unref);
  g_free (row->shown);
  g_free (row);
}

static void
row_trouble (Row *row, const char *message)
{
  gtk_label_set_text (GTK_LABEL (row->trouble), message ? message : "");
  gtk_widget_set_visible (row->trouble, message != NULL);
  if (message)
    gtk_widget_add_css_class (row->widget, "error");
  else
    gtk_widget_remove_css_class (row->widget, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (row->widget), GTK_ACCESSIBLE_STATE_INVALID,
                               message ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

static guint
choice_of (const Row *row, const char *value)
{
  guint found;
  return g_ptr_array_find_with_equal_func (row->choices, value, g_str_equal, &found) ? found : GTK_INVALID_LIST_POSITION;
}

/* What stands in the entry: the same with the person's decimal mark. (transfer full) */
static char *
for_the_entry (const Row *row)
{
  char mark = sp_words_decimal_mark ();
  if (row->field->lines)
    return sp_unfold_lines (row->shown);
  if (row->spec)
    return sp_typed_value_shown (row->spec, row->shown, mark);
  gboolean number = row->field->spelling == SP_SPELL_FREQUENCY || row->field->unit;
  return number ? sp_typed_shown (row->shown, mark) : g_strdup (row->shown);
}

static void
row_show (Row *row)
{
  g_autofree char *text = row->choices ? NULL : for_the_entry (row);
  row->busy = TRUE;
  if (row->choices)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (row->widget), choice_of (row, row->shown));
  else
    sp_entry_fill (row->widget, text);
  row->busy = FALSE;
  row_trouble (row, NULL);
}

/* (transfer full) */
static char *
spell (const Row *row, const char *value)
{
  return sp_spell_value (value, row->spec ? sp_key_spelling (row->spec) : row->field->spelling);
}

static void
row_refresh (Row *row, gboolean all)
{
  g_autofree char *value = row->form->owner.get (row->form->owner.owner, row->field->key);
  g_autofree char *spelled = value ? spell (row, value) : g_strdup ("");
  if (!all && g_strcmp0 (spelled, row->shown) == 0)
    return;
  g_free (row->shown);
  row->shown = g_steal_pointer (&spelled);
  row_show (row);
}

static Row *
row_of (SpFormFields *self, const char *key)
{
  for (guint i = 0; i < self->rows->len; i++) {
    Row *row = self->rows->pdata[i];
    if (g_strcmp0 (row->field->key, key) == 0)
      return row;
  }
  return NULL;
}

/* "[stage brick] rating_w: found..." is a file's way: below its own entry the rest says it, and of another entry of the form its label. (transfer full) */
static char *
for_people (const Row *row, const char *message)
{
  const char *key = *message == '[' ? strstr (message, "] ") : NULL, *rest = key ? strstr (key, ": ") : NULL;
  if (!rest)
    return g_strdup (message);
  g_autofree char *name = g_strndup (key + 2, (gsize) (rest - key - 2));
  if (strcmp (name, row->field->key) == 0)
    return g_strdup (rest + 2);
  const Row *other = row_of (row->form, name);
  return other ? g_strdup_printf ("%s: %s", _ (other->field->what), rest + 2) : g_strdup (message);
}

/* What was typed, as the file spells it. (transfer full); NULL: it may mean two things. */
static char *
as_the_file_has_it (const Row *row, const char *text, GError **error)
{
  char mark = sp_words_decimal_mark ();
  if (row->choices)
    return g_strdup (text);
  if (row->field->lines)
    return sp_fold_lines (text);
  if (row->spec)
    return sp_typed_value (row->spec, text, mark, error);
  if (row->field->spelling == SP_SPELL_FREQUENCY)
    return sp_typed_frequency (text, mark, error);
  return row->field->unit ? sp_typed_number (text, row->field->unit, mark, error) : g_strdup (text);
}

/* The form may go away while a value is set: an edit can remove what it shows. */
static void
row_commit (Row *row, const char *text)
{
  g_autoptr (GError) error = NULL;
  if (row->busy)
    return;
  g_autoptr (SpFormFields) form = g_object_ref (row->form);
  g_autofree char *stood = row->choices ? g_strdup (row->shown) : for_the_entry (row);
  gboolean untouched = g_strcmp0 (text, stood) == 0; /* but for blanks perhaps */
  g_autofree char *value = untouched ? g_strdup (row->shown) : as_the_file_has_it (row, text, &error);
  g_autofree char *spelled = value ? spell (row, value) : NULL;
  if (untouched || g_strcmp0 (spelled, row->shown) == 0) { /* the same, perhaps otherwise written */
    row_show (row);
    return;
  }
  gboolean done = value && form->owner.set (form->owner.owner, row->field, value, &error);
  if (!form->rows)
    return;
  if (done)
    row_refresh (row, TRUE);
  else {
    g_autofree char *says = for_people (row, error ? error->message : "");
    row_trouble (row, says);
  }
}

static void
commit_entry (Row *row)
{
  g_autofree char *text = g_strstrip (sp_entry_text (row->widget));
  row_commit (row, text);
}

static void
on_selected (GtkDropDown *drop, GParamSpec *pspec, Row *row)
{
  guint selected = gtk_drop_down_get_selected (drop);
  (void) pspec;
  if (row->busy || selected == GTK_INVALID_LIST_POSITION)
    return;
  row_commit (row, row->choices->pdata[selected]);
  if (row->form->rows && gtk_widget_get_visible (row->trouble)) { /* a refused choice is not left standing */
    row->busy = TRUE;
    gtk_drop_down_set_selected (drop, choice_of (row, row->shown));
    row->busy = FALSE;
  }
}

static gboolean
on_escape (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  Row *row = data;
  (void) widget;
  (void) arguments;
  g_autofree char *stood = for_the_entry (row), *stands = sp_entry_text (row->widget);
  if (g_strcmp0 (stands, stood) == 0)
    return FALSE; /* nothing to take back: Escape goes on to the window */
  row_show (row);
  return TRUE;
}

static gboolean
on_enter (G_GNUC_UNUSED GtkWidget *widget, G_GNUC_UNUSED GVariant *arguments, gpointer row)
{
  commit_entry (row);
  return TRUE;
}

static void
add_key (GtkEventController *keys, guint key, GdkModifierType modifiers, GtkShortcutFunc does, Row *row)
{
  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), gtk_shortcut_new (gtk_keyval_trigger_new (key, modifiers),
                                                                                          gtk_callback_action_new (does, row, NULL)));
}

/* Leaving it enters what stands there; Escape takes it back. */
static void
take_part (Row *row, GtkWidget *entry)
{
  GtkEventController *focus = gtk_event_controller_focus_new (), *keys = gtk_shortcut_controller_new ();
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (commit_entry), row);
  gtk_widget_add_controller (entry, focus);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  add_key (keys, GDK_KEY_Escape, 0, on_escape, row);
  if (row->field->lines)
    add_key (keys, GDK_KEY_Return, GDK_CONTROL_MASK, on_enter, row);
  gtk_widget_add_controller (entry, keys);
}

static GtkWidget *
new_lines (Row *row, const char *name)
{
  GtkWidget *view = sp_entry_lines_new (name);
  take_part (row, view);
  return view;
}

/* A text of several lines grows to the most and scrolls from there. */
static GtkWidget *
framed (GtkWidget *widget)
{
  if (!GTK_IS_TEXT_VIEW (widget))
    return widget;
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), widget);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_has_frame (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled), LINES_LEAST);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), LINES_MOST);
  gtk_widget_set_hexpand (scrolled, TRUE);
  return scrolled;
}

static GtkWidget *
new_entry (Row *row)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 8);
  if (row->field->hint)
    gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _ (row->field->hint));
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_widget_add_css_class (entry, "plain");
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (commit_entry), row);
  take_part (row, entry);
  return entry;
}

static void
speak_choice (GtkWidget *drop, GParamSpec *pspec, const char *what)
{
  gpointer chosen = gtk_drop_down_get_selected_item (GTK_DROP_DOWN (drop));
  const char *word = chosen ? gtk_string_object_get_string (chosen) : "";
  (void) pspec;
  g_autofree char *said = *word ? g_strdup_printf ("%s: %s", what, word) : g_strdup (what);
  gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_widget_get_first_child (drop)), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
}

static void
free_what (gpointer what, GClosure *closure)
{
  (void) closure;
  g_free (what);
}

void
sp_drop_down_speak (GtkWidget *drop, const char *what)
{
  g_signal_connect_data (drop, "notify::selected-item", G_CALLBACK (speak_choice), g_strdup (what), free_what, 0);
  speak_choice (drop, NULL, what);
}

/* What may be chosen, by the table or by the field; NULL: an entry. */
static const char *const *
values_of (const Row *row)
{
  static const char *const yes_no[] = { "yes", "no", NULL };
  if (!row->spec)
    return row->field->choices;
  return row->spec->kind == SP_KEY_YES_NO ? yes_no : row->spec->kind == SP_KEY_WORD ? row->spec->words : NULL;
}

/* What is read for the i-th of the values. */
static const char *
word_of (const SpFormField *field, const char *const *values, guint i)
{
  if (!field->words)
    return values[i];
  return field->context ? g_dpgettext2 (GETTEXT_PACKAGE, field->context, field->words[i]) : _ (field->words[i]);
}

static GtkWidget *
new_drop_down (Row *row, const char *const *values)
{
  GtkStringList *words = gtk_string_list_new (NULL);
  const SpFormField *field = row->field;
  row->choices = g_ptr_array_new ();
  if (field->left_out) {
    g_ptr_array_add (row->choices, (gpointer) "");
    gtk_string_list_append (words, _ (field->left_out));
  }
  for (guint i = 0; values[i]; i++)
    if (!field->words || field->words[i]) {
      g_ptr_array_add (row->choices, (gpointer) values[i]);
      gtk_string_list_append (words, word_of (field, values, i));
    }
  GtkWidget *drop = gtk_drop_down_new (G_LIST_MODEL (words), NULL);
  row->busy = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), GTK_INVALID_LIST_POSITION);
  row->busy = FALSE;
  gtk_widget_set_hexpand (drop, TRUE);
  g_signal_connect (drop, "notify::selected", G_CALLBACK (on_selected), row);
  return drop;
}

char *
sp_field_label (const SpFormField *field, const SpKeySpec *spec)
{
  const char *unit = spec ? spec->unit : field->unit;
  return unit ? g_strdup_printf ("%s, %s", _ (field->what), _ (unit)) : g_strdup (_ (field->what));
}

char *
sp_field_tip (const SpFormField *field, const SpKeySpec *spec)
{
  g_autofree char *range = spec ? sp_words_key_range (spec) : NULL;
  return range ? g_strdup_printf ("%s %s", _ (field->tip), range) : g_strdup (_ (field->tip));
}

static GtkWidget *
new_label (const Row *row, const char *text, guint column)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), row->widget);
  if (row->field->lines) /* beside the first */
    gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_widget_add_css_class (label, "soft");
  gtk_widget_set_margin_start (label, column ? 16 : 0);
  return label;
}

static GtkWidget *
new_trouble (void)
{
  GtkWidget *trouble = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (trouble), 0);
  gtk_label_set_wrap (GTK_LABEL (trouble), TRUE);
  gtk_label_set_width_chars (GTK_LABEL (trouble), 16);
  gtk_label_set_max_width_chars (GTK_LABEL (trouble), 40);
  gtk_widget_add_css_class (trouble, "wrong");
  gtk_widget_set_visible (trouble, FALSE);
  return trouble;
}

static void
add_row (SpFormFields *self, const SpFormField *field, const SpKeySpec *spec, guint column, guint line)
{
  Row *row = g_new0 (Row, 1);
  row->form = self;
  row->field = field;
  row->spec = spec;
  row->shown = g_strdup ("");
  const char *const *values = values_of (row);
  g_autofree char *text = sp_field_label (field, spec), *tip = sp_field_tip (field, spec);
  row->widget = values ? new_drop_down (row, values) : field->lines ? new_lines (row, text) : new_entry (row);
  GtkWidget *label = new_label (row, text, column);
  row->trouble = new_trouble ();
  gtk_widget_set_tooltip_text (row->widget, tip);
  gtk_widget_set_tooltip_text (label, tip);
  if (values)
    sp_drop_down_speak (row->widget, text);
  gtk_grid_attach (GTK_GRID (self), label, (int) column * 2, (int) line * 2, 1, 1);
  gtk_grid_attach (GTK_GRID (self), framed (row->widget), (int) column * 2 + 1, (int) line * 2, 1, 1);
  gtk_grid_attach (GTK_GRID (self), row->trouble, (int) column * 2, (int) line * 2 + 1, 2, 1);
  g_ptr_array_add (self->rows, row);
}

void
sp_fields_fill (SpFormFields *self, const SpKeySpec *keys, const SpFormField *fields, guint n, guint columns, const SpFormOwner *owner)
{
  guint lines = (n + columns - 1) / columns;
  self->owner = *owner;
  for (guint i = 0; i < n; i++)
    add_row (self, &fields[i], keys ? sp_keys_find (keys, fields[i].key) : NULL, i / lines, i % lines);
}

GtkWidget *
sp_fields_new (const SpKeySpec *keys, const SpFormField *fields, guint n, guint columns, const SpFormOwner *owner)
{
  SpFormFields *self = g_object_new (SP_TYPE_FIELDS, NULL);
  sp_fields_fill (self, keys, fields, n, columns, owner);
  return GTK_WIDGET (self);
}

void
sp_fields_refresh (SpFormFields *self, gboolean all)
{
  for (guint i = 0; i < self->rows->len; i++)
    row_refresh (self->rows->pdata[i], all);
}

void
sp_fields_tell (SpFormFields *self, const char *key, const char *message)
{
  Row *row = row_of (self, key);
  if (row)
    row_trouble (row, message);
}

GtkWidget *
sp_fields_widget (SpFormFields *self, const char *key)
{
  Row *row = row_of (self, key);
  return row ? row->widget : NULL;
}

/* Tab goes down the fields as they are read, a column after the other; GTK's own goes across. */
static gboolean
sp_fields_focus (GtkWidget *widget, GtkDirectionType direction)
{
  SpFormFields *self = SP_FIELDS (widget);
  GtkWidget *at = gtk_widget_get_focus_child (widget);
  int by = direction == GTK_DIR_TAB_BACKWARD ? -1 : 1, i = by > 0 ? 0 : (int) self->rows->len - 1;
  if (direction != GTK_DIR_TAB_FORWARD && direction != GTK_DIR_TAB_BACKWARD)
    return GTK_WIDGET_CLASS (sp_fields_parent_class)->focus (widget, direction);
  for (guint k = 0; at && k < self->rows->len; k++)
    if (((Row *) self->rows->pdata[k])->widget == at || gtk_widget_is_ancestor (((Row *) self->rows->pdata[k])->widget, at))
      i = (int) k;
  for (; i >= 0 && i < (int) self->rows->len; i += by)
    if (gtk_widget_child_focus (((Row *) self->rows->pdata[i])->widget, direction))
      return TRUE;
  return FALSE;
}

/* Rows live as long as the widgets that call back with them. */
static void
sp_fields_dispose (GObject *object)
{
  SpFormFields *self = SP_FIELDS (object);
  for (guint i = 0; self->rows && i < self->rows->len; i++) {
    Row *row = self->rows->pdata[i];
    row->busy = TRUE;
    g_signal_handlers_disconnect_by_data (row->widget, row);
  }
  for (GtkWidget *child; (child = gtk_widget_get_first_child (GTK_WIDGET (self)));)
    gtk_grid_remove (GTK_GRID (self), child);
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  G_OBJECT_CLASS (sp_fields_parent_class)->dispose (object);
}

static void
sp_fields_class_init (SpFormFieldsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sp_fields_dispose;
  GTK_WIDGET_CLASS (klass)->focus = sp_fields_focus;
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "fields");
}

static void
sp_fields_init (SpFormFields *self)
{
  self->rows = g_ptr_array_new_with_free_func (row_free);
  gtk_grid_set_column_spacing (GTK_GRID (self), 8);
  gtk_grid_set_row_spacing (GTK_GRID (self), 2);
}
