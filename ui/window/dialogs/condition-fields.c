/* condition-fields.c - the named fields of a radio or of a condition: a row each, and one to add another */
#include "ui/window/dialogs/condition-fields.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "ui/window/session/preferences.h"
#include "ui/window/widgets/entry.h"

#define USED_KEY "fields_used" /* of the preferences: names divided by ;, the last first */
#define USED_MOST 12           /* a list that is read at a glance (common practice, no source) */

typedef struct {
  char *key; /* "field.firmware" */
  SpFormField field;
  GtkWidget *row, *form;
} Row;

struct _SpConditionFields {
  GtkBox parent_instance;
  SpDialog *dialog;
  gboolean of_radio;
  SpFormOwner owner;
  GPtrArray *shown; /* of Row */
  /* of the template */
  GtkWidget *rows, *name, *value, *add, *trouble;
};

G_DEFINE_FINAL_TYPE (SpConditionFields, sp_condition_fields, GTK_TYPE_BOX)

static void
row_free (gpointer data)
{
  Row *row = data;
  g_free (row->key);
  g_free ((char *) row->field.what);
  g_free (row);
}

/* NULL: none, or what they are of is gone. */
static const GArray *
fields_of (SpConditionFields *self)
{
  const SpCondition *condition = sp_dialog_condition (self->dialog);
  const SpBench *bench = sp_session_bench (self->dialog->session);
  return !condition ? NULL : self->of_radio ? bench->radios[condition->radio].fields : condition->fields;
}

static GtkEntry *
name_entry (SpConditionFields *self)
{
  return GTK_ENTRY (gtk_combo_box_get_child (GTK_COMBO_BOX (self->name)));
}

/* ---- the names used last ---- */

static void
offer_names (SpConditionFields *self)
{
  g_autofree char *kept = sp_preferences_get (USED_KEY);
  g_auto (GStrv) names = g_strsplit (kept ? kept : "", ";", -1);
  gtk_combo_box_text_remove_all (GTK_COMBO_BOX_TEXT (self->name));
  for (guint i = 0; names[i]; i++)
    if (*names[i])
      gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (self->name), names[i]);
}

static void
note_name (const char *name)
{
  g_autofree char *kept = sp_preferences_get (USED_KEY);
  g_auto (GStrv) names = g_strsplit (kept ? kept : "", ";", -1);
  g_autoptr (GString) now = g_string_new (name);
  for (guint i = 0, n = 1; names[i] && n < USED_MOST; i++)
    if (*names[i] && strcmp (names[i], name) != 0) {
      g_string_append_printf (now, ";%s", names[i]);
      n++;
    }
  sp_preferences_set (USED_KEY, now->str);
}

/* ---- edits ---- */

/* NULL: nothing is wrong. Gives back whether something is. */
static gboolean
tell (SpConditionFields *self, const char *message)
{
  gtk_label_set_text (GTK_LABEL (self->trouble), message ? message : "");
  gtk_widget_set_visible (self->trouble, message != NULL);
  return message != NULL;
}

/* FALSE: refused, and told why. */
static gboolean
add_field (SpConditionFields *self, const char *name, const char *value)
{
  g_autofree char *key = g_strconcat ("field.", name, NULL), *old = self->owner.get (self->owner.owner, key);
  g_autoptr (GError) error = NULL;
  SpFormField field = { .key = key, .what = name };
  if (!*name || !*value)
    return !tell (self, _ ("Expected a name and its value, such as firmware and 2.14."));
  if (old)
    return !tell (self, _ ("There is a field of this name already: change its value in its row."));
  gboolean done = self->owner.set (self->owner.owner, &field, value, &error);
  tell (self, error ? error->message : NULL);
  return done;
}

static void
on_add (SpConditionFields *self)
{
  GtkEntry *entry = name_entry (self);
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry)))),
                  *value = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->value))));
  if (!add_field (self, name, value))
    return;
  note_name (name);
  sp_entry_fill (GTK_WIDGET (entry), "");
  sp_entry_fill (self->value, "");
  offer_names (self);
  gtk_widget_grab_focus (GTK_WIDGET (entry));
}

static void
on_remove (GtkWidget *button, SpConditionFields *self)
{
  for (guint i = 0; i < self->shown->len; i++) {
    const Row *row = self->shown->pdata[i];
    g_autoptr (GError) error = NULL;
    if (!gtk_widget_is_ancestor (button, row->row))
      continue;
    gtk_widget_grab_focus (self->value); /* the button goes with its row */
    self->owner.set (self->owner.owner, &row->field, "", &error);
    tell (self, error ? error->message : NULL);
  }
}

/* ---- rows ---- */

static void
add_row (SpConditionFields *self, const char *name)
{
  Row *row = g_new0 (Row, 1);
  row->key = g_strconcat ("field.", name, NULL);
  row->field = (SpFormField){ .key = row->key, .what = g_strdup (name), .tip = N_ ("Shown on the slip and in the report, not judged.") };
  row->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  row->form = g_object_new (SP_TYPE_FIELDS, "hexpand", TRUE, NULL);
  sp_dialog_fill (self->dialog, SP_FIELDS (row->form), NULL, &row->field, 1, 1, &self->owner);
  sp_fields_refresh (SP_FIELDS (row->form), TRUE);
  GtkWidget *remove = gtk_button_new_with_label (_ ("Remove"));
  g_autofree char *spoken = g_strdup_printf (_ ("Remove the field %s"), name);
  gtk_button_set_has_frame (GTK_BUTTON (remove), FALSE);
  gtk_widget_set_valign (remove, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (remove, spoken);
  gtk_accessible_update_property (GTK_ACCESSIBLE (remove), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_signal_connect (remove, "clicked", G_CALLBACK (on_remove), self);
  gtk_box_append (GTK_BOX (row->row), row->form);
  gtk_box_append (GTK_BOX (row->row), remove);
  gtk_box_append (GTK_BOX (self->rows), row->row);
  g_ptr_array_add (self->shown, row);
}

static gboolean
is_shown (SpConditionFields *self, const GArray *fields)
{
  guint n = fields ? fields->len : 0;
  gboolean same = n == self->shown->len;
  for (guint i = 0; i < n && same; i++)
    same = strcmp (((const Row *) self->shown->pdata[i])->field.what, g_array_index (fields, SpNamedField, i).name) == 0;
  return same;
}

void
sp_condition_fields_follow (SpConditionFields *self)
{
  const GArray *fields = fields_of (self);
  if (is_shown (self, fields))
    return; /* the forms follow by themselves */
  for (guint i = 0; i < self->shown->len; i++) {
    Row *row = self->shown->pdata[i];
    g_ptr_array_remove (self->dialog->forms, row->form);
    gtk_box_remove (GTK_BOX (self->rows), row->row);
  }
  g_ptr_array_set_size (self->shown, 0);
  for (guint i = 0; fields && i < fields->len; i++)
    add_row (self, g_array_index (fields, SpNamedField, i).name);
}

/* The button that opens the list, which GTK leaves without a name. */
static void
name_button (GtkWidget *widget, const char *spoken)
{
  if (GTK_IS_TOGGLE_BUTTON (widget))
    gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = gtk_widget_get_next_sibling (child))
    name_button (child, spoken);
}

void
sp_condition_fields_begin (SpConditionFields *self, SpDialog *dialog, gboolean of_radio, const SpFormOwner *owner)
{
  self->dialog = dialog;
  self->of_radio = of_radio;
  self->owner = *owner;
  gtk_accessible_update_property (GTK_ACCESSIBLE (name_entry (self)), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  of_radio ? _ ("Name of a new field of the radio") : _ ("Name of a new field of the condition"), -1);
  name_button (self->name, _ ("Names used last"));
  gtk_entry_set_placeholder_text (name_entry (self), _ ("a field, such as firmware"));
  offer_names (self);
}

static void
sp_condition_fields_finalize (GObject *object)
{
  g_ptr_array_unref (SP_CONDITION_FIELDS (object)->shown);
  G_OBJECT_CLASS (sp_condition_fields_parent_class)->finalize (object);
}

static void
sp_condition_fields_class_init (SpConditionFieldsClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->finalize = sp_condition_fields_finalize;
  gtk_widget_class_set_template_from_resource (widget, "/spurproof/pages/condition-fields.ui");
#define PART(name) gtk_widget_class_bind_template_child (widget, SpConditionFields, name)
  PART (rows), PART (name), PART (value), PART (add), PART (trouble);
#undef PART
  gtk_widget_class_bind_template_callback (widget, on_add);
}

static void
sp_condition_fields_init (SpConditionFields *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->shown = g_ptr_array_new_with_free_func (row_free);
}
