/* fields.c - what somebody wrote beside a radio or a condition under names of his own: "field.firmware=2.14" */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/bench/sheet/sheet-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

static void
clear_field (gpointer field)
{
  g_free (((SpNamedField *) field)->name);
  g_free (((SpNamedField *) field)->value);
}

static gboolean
is_name (const char *name)
{
  glong length = g_utf8_strlen (name, -1);
  gunichar first = g_utf8_get_char (name);
  for (const char *p = name; *p; p = g_utf8_next_char (p))
    if (!g_unichar_isalnum (g_utf8_get_char (p)) && !strchr (" -_./+()", *p))
      return FALSE;
  return length >= 1 && length <= SP_FIELD_NAME_CHARACTERS && g_unichar_isalnum (first);
}

/* `key`: KEY.NAME; `name` is what stands behind the dot. */
static gboolean
check_field (SpKeyFile *file, const SpGroup *group, const SpKey *key, const char *name, GError **error)
{
  glong length = g_utf8_strlen (key->value, -1);
  g_autofree char *found = sp_excerpt (name);
  if (!is_name (name))
    return sp_key_fail (file, group, key, 0, error,
                        _ ("found the name “%s”; expected 1 to %d letters, digits, blanks and - _ . / + ( ), a letter or a digit first, "
                           "such as field.firmware=2.14"),
                        found, SP_FIELD_NAME_CHARACTERS);
  if (length < 1)
    return sp_key_fail (file, group, key, 0, error, _ ("nothing stands here; expected a value, or no such key"));
  return length <= SP_FIELD_CHARACTERS
         || sp_key_fail (file, group, key, 0, error, _ ("%ld characters; expected %d at most; what is longer fits in note="), length,
                         SP_FIELD_CHARACTERS);
}

gboolean
sp_sheet_read_fields (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, G_GNUC_UNUSED gpointer context,
                      GError **error)
{
  GArray **fields = sp_key_member (spec, object);
  gsize length = strlen (spec->key);
  g_autoptr (GArray) read = g_array_new (FALSE, FALSE, sizeof (SpNamedField));
  g_array_set_clear_func (read, clear_field);
  for (guint i = 0; i < group->keys->len; i++) {
    SpKey *key = group->keys->pdata[i];
    if (key->used || strncmp (key->key, spec->key, length) != 0 || key->key[length] != '.')
      continue; /* used: the radio has it, whose group this is */
    key->used = TRUE;
    SpNamedField field = { g_strdup (key->key + length + 1), g_strdup (key->value) };
    g_array_append_val (read, field);
    if (!check_field (file, group, key, field.name, error))
      return FALSE;
    if (read->len > SP_FIELDS_MAX)
      return sp_key_fail (file, group, key, 0, error, _ ("more than %d fields; expected %d at most"), SP_FIELDS_MAX, SP_FIELDS_MAX);
  }
  if (read->len > 0)
    *fields = g_steal_pointer (&read);
  return TRUE;
}

void
sp_sheet_write_fields (const SpKeySpec *spec, GString *text, gconstpointer object, G_GNUC_UNUSED gconstpointer context)
{
  GArray *const *fields = sp_key_member (spec, object);
  for (guint i = 0; *fields && i < (*fields)->len; i++) {
    const SpNamedField *field = &g_array_index (*fields, SpNamedField, i);
    g_autofree char *key = g_strdup_printf ("%s.%s", spec->key, field->name);
    sp_write_text (text, key, field->value);
  }
}
