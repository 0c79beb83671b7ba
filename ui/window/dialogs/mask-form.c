/* mask-form.c - the choice of a mask */
#include "ui/window/dialogs/mask-form.h"

#include <glib/gi18n-lib.h>

#include "core/mask/mask.h"

/* The choices of the moment live as long as the form that shows them. */
GtkWidget *
sp_mask_form_new (const SpFormOwner *owner, const char *present, const char *none)
{
  g_autoptr (GStrvBuilder) choices = g_strv_builder_new (), words = g_strv_builder_new ();
  const char *const *names = sp_mask_names ();
  if (none)
    g_strv_builder_add (choices, ""), g_strv_builder_add (words, none);
  g_strv_builder_addv (choices, (const char **) names);
  g_strv_builder_addv (words, (const char **) names);
  if (present && *present && !g_strv_contains (names, present))
    g_strv_builder_add (choices, present), g_strv_builder_add (words, present);
  char **values = g_strv_builder_end (choices), **read = g_strv_builder_end (words);
  SpFormField *field = g_new (SpFormField, 1);
  *field = (SpFormField){ .key = "mask",
                          .what = N_ ("mask"),
                          .tip = N_ ("The limit that the radios are held to; a condition may have its own."),
                          .words = (const char *const *) read,
                          .choices = (const char *const *) values };
  GtkWidget *form = sp_fields_new (NULL, field, 1, 1, owner);
  g_object_set_data_full (G_OBJECT (form), "choices", values, (GDestroyNotify) g_strfreev);
  g_object_set_data_full (G_OBJECT (form), "words", read, (GDestroyNotify) g_strfreev);
  g_object_set_data_full (G_OBJECT (form), "field", field, g_free);
  gtk_widget_set_hexpand (form, TRUE);
  sp_fields_refresh (SP_FIELDS (form), TRUE);
  return form;
}
