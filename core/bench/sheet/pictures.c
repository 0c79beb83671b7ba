/* pictures.c - the pictures of the bench or of a radio: "picture=FILE caption text", more as "picture.2=" and so on */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/bench/sheet/sheet-private.h"
#include "core/quantity/error.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

/* 0: not one of them; 1: "picture"; N: "picture.N". What is written otherwise (picture.02) is nobody's key. */
static guint
number_of (const SpKeySpec *spec, const SpKey *key)
{
  gsize length = strlen (spec->key);
  guint64 number = 0;
  if (strncmp (key->key, spec->key, length) != 0)
    return 0;
  if (!key->key[length])
    return 1;
  gboolean good = key->key[length] == '.' && g_ascii_isdigit (key->key[length + 1]) && key->key[length + 1] != '0'
                  && g_ascii_string_to_unsigned (key->key + length + 1, 10, 2, 999, &number, NULL);
  return good ? (guint) number : 0;
}

static int
by_number (gconstpointer a, gconstpointer b, gpointer spec)
{
  return (int) number_of (spec, *(SpKey *const *) a) - (int) number_of (spec, *(SpKey *const *) b);
}

static gboolean
read_one (SpSheet *sheet, SpGroup *group, const SpKey *key, GArray *pictures, GError **error)
{
  const char *blank = strpbrk (key->value, " \t");
  g_autofree char *caption = g_strstrip (g_strdup (blank ? blank : ""));
  glong length = g_utf8_strlen (caption, -1);
  gboolean good;
  if (length > SP_CAPTION_CHARACTERS)
    return sp_key_fail (sheet->file, group, key, 0, error, _ ("%ld characters of caption; expected %d at most"), length,
                        SP_CAPTION_CHARACTERS);
  if (pictures->len == SP_PICTURES_MAX)
    return sp_key_fail (sheet->file, group, key, 0, error, _ ("more than %d pictures; expected %d at most"), SP_PICTURES_MAX,
                        SP_PICTURES_MAX);
  if (g_hash_table_size (sheet->known[SP_RESOURCE_PICTURE]) >= SP_PICTURES_ALL)
    return sp_key_fail (sheet->file, group, key, 0, error, _ ("more than %d pictures in all; expected %d at most"), SP_PICTURES_ALL,
                        SP_PICTURES_ALL);
  g_autoptr (SpPicture) picture = sp_sheet_resource (sheet, group, key->key, SP_RESOURCE_PICTURE, &good, error);
  if (picture)
    sp_captioned_add (pictures, picture, caption);
  return good;
}

gboolean
sp_sheet_read_pictures (const SpKeySpec *spec, G_GNUC_UNUSED SpKeyFile *file, SpGroup *group, gpointer object, gpointer context,
                        GError **error)
{
  GArray **pictures = sp_key_member (spec, object);
  g_autoptr (GPtrArray) keys = g_ptr_array_new ();
  g_autoptr (GArray) read = sp_captioned_new ();
  for (guint i = 0; i < group->keys->len; i++)
    if (number_of (spec, group->keys->pdata[i]) > 0)
      g_ptr_array_add (keys, group->keys->pdata[i]);
  g_ptr_array_sort_with_data (keys, by_number, (gpointer) spec);
  for (guint i = 0; i < keys->len; i++)
    if (!read_one (context, group, keys->pdata[i], read, error))
      return FALSE;
  if (read->len > 0)
    *pictures = g_steal_pointer (&read);
  return TRUE;
}

void
sp_sheet_write_pictures (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context)
{
  const SpSheetWriter *writer = context;
  GArray *const *pictures = sp_key_member (spec, object);
  for (guint i = 0; *pictures && i < (*pictures)->len; i++) {
    const SpCaptioned *captioned = &g_array_index (*pictures, SpCaptioned, i);
    g_autofree char *name = writer->name (writer->data, SP_RESOURCE_PICTURE, captioned->picture), *escaped = sp_escape (name);
    g_autofree char *key = i ? g_strdup_printf ("%s.%u", spec->key, i + 1) : g_strdup (spec->key);
    g_autofree char *value = captioned->caption ? g_strconcat (escaped, " ", captioned->caption, NULL) : g_steal_pointer (&escaped);
    sp_write_text (text, key, value);
  }
}
