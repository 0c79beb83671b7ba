/* form-parts.c - fields that compute as somebody types, what is wrong with one, a budget, sentences */
#include "ui/window/run/form-parts.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/quantity/typed.h"
#include "ui/window/widgets/tooltip.h"
#include "ui/words/words.h"

#define REASONS_MOST 12 /* sentences; a file of many frequencies may have one for each */

GtkWidget *
sp_form_label_new (const char *text, float xalign, const char *style)
{
  GtkWidget *label = gtk_label_new (text);
  gtk_label_set_xalign (GTK_LABEL (label), xalign);
  if (style)
    gtk_widget_add_css_class (label, style);
  return label;
}

/* ---- what is wrong with one ---- */

struct _SpFormSaid {
  GtkBox parent_instance;
  GtkWidget *label;
  guint n;
  GtkWidget *entries[SP_FORM_CELLS]; /* that it speaks of */
  char *messages[SP_FORM_CELLS];     /* NULL: nothing is wrong with that one */
};

G_DEFINE_FINAL_TYPE (SpFormSaid, sp_form_said, GTK_TYPE_BOX)

static void
sp_form_said_finalize (GObject *object)
{
  SpFormSaid *said = SP_FORM_SAID (object);
  for (guint i = 0; i < said->n; i++)
    g_free (said->messages[i]);
  G_OBJECT_CLASS (sp_form_said_parent_class)->finalize (object);
}

static void
sp_form_said_class_init (SpFormSaidClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sp_form_said_finalize;
}

static void
sp_form_said_init (SpFormSaid *said)
{
  said->label = sp_form_label_new ("", 0, "wrong");
  gtk_label_set_wrap (GTK_LABEL (said->label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (said->label), 1); /* as wide as it is given */
  gtk_widget_set_hexpand (said->label, TRUE);
  gtk_box_append (GTK_BOX (said), said->label);
  gtk_widget_set_visible (said->label, FALSE);
  gtk_widget_set_visible (GTK_WIDGET (said), FALSE);
}

SpFormSaid *
sp_form_said_new (GtkWidget *const *entries, guint n)
{
  SpFormSaid *said = g_object_new (SP_TYPE_FORM_SAID, NULL);
  said->n = n;
  for (guint i = 0; i < n; i++)
    said->entries[i] = entries[i];
  return said;
}

static void
say_below (SpFormSaid *said, GtkWidget *entry, const char *message)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < said->n; i++) {
    if (said->entries[i] == entry)
      g_free (said->messages[i]), said->messages[i] = g_strdup (message);
    if (said->messages[i])
      g_string_append_printf (text, "%s%s", text->len ? "\n" : "", said->messages[i]);
  }
  gtk_label_set_text (GTK_LABEL (said->label), text->str);
  gtk_widget_set_visible (said->label, text->len > 0);
  gtk_widget_set_visible (GTK_WIDGET (said), text->len > 0); /* without it the grid leaves a gap */
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, message ? message : "", -1);
}

void
sp_form_mark (gboolean *wrong, SpFormSaid *said, GtkWidget *entry, const char *what, const char *message)
{
  g_autofree char *named = message && what ? g_strdup_printf ("%s: %s", what, message) : g_strdup (message);
  *wrong = *wrong || message;
  if (message)
    gtk_widget_add_css_class (entry, "error");
  else
    gtk_widget_remove_css_class (entry, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID,
                               message ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  say_below (said, entry, named);
}

/* ---- fields ---- */

static GtkWidget *
new_entry (const char *tip, void (*typed) (gpointer owner), gpointer owner)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 6);
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_widget_add_css_class (entry, "plain");
  sp_tip_set (entry, tip);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (typed), owner);
  return entry;
}

void
sp_form_add_fields (GtkWidget *grid, const SpKeySpec *keys, const SpFormField *fields, guint n, GtkWidget **entries,
                    void (*typed) (gpointer owner), gpointer owner)
{
  for (guint i = 0; i < n; i++) {
    const SpKeySpec *spec = sp_keys_find (keys, fields[i].key);
    g_autofree char *name = sp_field_label (&fields[i], spec), *tip = sp_field_tip (&fields[i], spec);
    GtkWidget *label = sp_form_label_new (name, 0, "soft");
    entries[i] = new_entry (tip, typed, owner);
    gtk_label_set_mnemonic_widget (GTK_LABEL (label), entries[i]);
    sp_tip_set (label, tip);
    gtk_grid_attach (GTK_GRID (grid), label, 0, 2 * (int) i, 1, 1);
    gtk_grid_attach (GTK_GRID (grid), entries[i], 1, 2 * (int) i, 1, 1);
    gtk_grid_attach (GTK_GRID (grid), GTK_WIDGET (sp_form_said_new (&entries[i], 1)), 0, 2 * (int) i + 1, 2, 1);
  }
}

void
sp_form_read_fields (const SpKeySpec *keys, const SpFormField *fields, guint n, GtkWidget *const *entries, SpFormSet set, gpointer object,
                     gboolean *wrong)
{
  for (guint i = 0; i < n; i++) {
    g_autoptr (GError) error = NULL;
    const SpKeySpec *spec = sp_keys_find (keys, fields[i].key);
    g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entries[i]))));
    g_autofree char *value = sp_typed_value (spec, text, sp_words_decimal_mark (), &error);
    gboolean good = value && set (object, fields[i].key, value, &error);
    GtkWidget *said = gtk_grid_get_child_at (GTK_GRID (gtk_widget_get_parent (entries[i])), 0, 2 * (int) i + 1);
    sp_form_mark (wrong, SP_FORM_SAID (said), entries[i], NULL, good ? NULL : error->message);
  }
}

/* ---- the budget ---- */

static void
put (GtkWidget *grid, int column, int line, const char *text, const char *style)
{
  gtk_grid_attach (GTK_GRID (grid), sp_form_label_new (text, column == 0 || column == 3 ? 0 : 1, style), column, line, 1, 1);
}

char *
sp_form_dof (double dof)
{
  return isinf (dof) ? g_strdup ("\xe2\x88\x9e") : sp_words_number (sp_run_whole_dof (dof), 0, SP_HAND_SCREEN);
}

static void
put_line (GtkWidget *grid, int line, const char *name, double u_db, double dof, const char *shape, const char *style)
{
  g_autofree char *u = sp_words_number (u_db, 4, SP_HAND_SCREEN), *degrees = sp_form_dof (dof);
  put (grid, 0, line, name, style);
  put (grid, 1, line, u, style);
  put (grid, 2, line, degrees, style);
  put (grid, 3, line, shape, "soft");
}

void
sp_form_show_budget (GtkWidget *grid, const SpRunSum *sum, const char *(*words) (const char *name))
{
  for (GtkWidget *child; (child = gtk_widget_get_first_child (grid));)
    gtk_grid_remove (GTK_GRID (grid), child);
  gtk_widget_set_visible (grid, sum != NULL);
  if (!sum)
    return;
  put (grid, 0, 0, _ ("what its uncertainty is made of"), "soft");
  put (grid, 1, 0, _ ("u, dB"), "soft");
  put (grid, 2, 0, _ ("degrees of freedom"), "soft");
  put (grid, 3, 0, _ ("distribution"), "soft");
  for (guint i = 0; i < sum->n_terms; i++)
    put_line (grid, (int) i + 1, words (sum->terms[i].name), sum->terms[i].u_db, sum->terms[i].dof,
              sp_words_distribution (sum->terms[i].distribution), NULL);
  put_line (grid, (int) sum->n_terms + 1, _ ("together"), sum->u_db, sum->dof, "", "strong");
}

/* ---- sentences ---- */

void
sp_form_clear_box (GtkWidget *box)
{
  for (GtkWidget *child; (child = gtk_widget_get_first_child (box));)
    gtk_box_remove (GTK_BOX (box), child);
}

void
sp_form_add_reasons (GtkWidget *box, const GPtrArray *reasons, const char *style)
{
  guint n = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (box); child; child = gtk_widget_get_next_sibling (child))
    n++;
  for (guint i = 0; i < reasons->len && n < REASONS_MOST; i++, n++) {
    g_autofree char *text = sp_words_reason (reasons->pdata[i], SP_HAND_SCREEN);
    GtkWidget *label = sp_form_label_new (text, 0, style);
    gtk_label_set_wrap (GTK_LABEL (label), TRUE);
    gtk_box_append (GTK_BOX (box), label);
  }
}
