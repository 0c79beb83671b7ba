/* mask-form.c - the choice of a mask */
#include "ui/window/dialogs/mask-form.h"

#include <glib/gi18n-lib.h>

#include "ui/words/words.h"

struct _SpMaskForm {
  GtkBox parent_instance;
  SpFormOwner owner;
  const char *key, *none;
  char *present; /* what is shown, as the field has it, and itself; NULL: nothing */
  SpMask *mask;
  char **choices, **words; /* of the moment, as the field has them */
  SpFormField field;
  GtkWidget *fields; /* SpFormFields; NULL: none yet */
};

G_DEFINE_FINAL_TYPE (SpMaskForm, sp_mask_form, GTK_TYPE_BOX)

/* The fields go first: they point into the choices. */
static void
clear (SpMaskForm *self)
{
  if (self->fields)
    gtk_box_remove (GTK_BOX (self), self->fields);
  self->fields = NULL;
  g_clear_pointer (&self->present, g_free);
  g_clear_pointer (&self->mask, sp_mask_unref);
  g_clear_pointer (&self->choices, g_strfreev);
  g_clear_pointer (&self->words, g_strfreev);
}

/* By title and clause; its name alone says little. */
static void
add_built_in (GStrvBuilder *words, const char *name)
{
  g_autoptr (SpMask) mask = sp_mask_load (name, NULL);
  g_autofree char *said = mask ? sp_words_mask (mask) : g_strdup (name);
  g_strv_builder_add (words, said);
}

static void
list_masks (SpMaskForm *self)
{
  g_autoptr (GStrvBuilder) choices = g_strv_builder_new (), words = g_strv_builder_new ();
  const char *const *names = sp_mask_names ();
  if (self->none)
    g_strv_builder_add (choices, ""), g_strv_builder_add (words, self->none);
  g_strv_builder_addv (choices, (const char **) names);
  for (guint i = 0; names[i]; i++)
    add_built_in (words, names[i]);
  if (self->present && *self->present
      && !g_strv_contains (names, self->present)) { /* of a file, whose path says no more than a built-in one's name */
    g_autofree char *said = self->mask ? sp_words_mask (self->mask) : g_strdup (self->present);
    g_strv_builder_add (choices, self->present), g_strv_builder_add (words, said);
  }
  self->choices = g_strv_builder_end (choices);
  self->words = g_strv_builder_end (words);
}

void
sp_mask_form_follow (SpMaskForm *self, SpMask *mask)
{
  g_autofree char *present = self->owner.get (self->owner.owner, self->key);
  if (self->fields && g_strcmp0 (present, self->present) == 0 && mask == self->mask)
    return;
  clear (self);
  self->present = g_steal_pointer (&present);
  self->mask = mask ? sp_mask_ref (mask) : NULL;
  list_masks (self);
  gboolean second = g_str_equal (self->key, "second_mask");
  self->field = (SpFormField){ .key = self->key,
                               .what = second ? N_ ("second mask") : N_ ("mask"),
                               .tip = second ? N_ (
                                          "Another limit: what it would have is said beside each verdict, which the mask alone decides.")
                                             : N_ ("The limit that the radios are held to; a condition may have its own."),
                               .words = (const char *const *) self->words,
                               .choices = (const char *const *) self->choices };
  self->fields = sp_fields_new (NULL, &self->field, 1, 1, &self->owner);
  gtk_widget_set_hexpand (self->fields, TRUE);
  sp_fields_refresh (SP_FIELDS (self->fields), TRUE);
  gtk_box_append (GTK_BOX (self), self->fields);
}

static void
sp_mask_form_dispose (GObject *object)
{
  clear (SP_MASK_FORM (object));
  G_OBJECT_CLASS (sp_mask_form_parent_class)->dispose (object);
}

static void
sp_mask_form_class_init (SpMaskFormClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sp_mask_form_dispose;
}

static void
sp_mask_form_init (SpMaskForm *self)
{
  (void) self;
}

void
sp_mask_form_begin (SpMaskForm *self, const SpFormOwner *owner, const char *key, const char *none)
{
  self->key = key;
  self->owner = *owner;
  self->none = none;
}
