/* captioned.c - pictures in their places, and their keys: "picture=FILE caption text", more as "picture.2=" and so on */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/picture/captioned.h"
#include "core/quantity/text.h"
#include "core/quantity/writer.h"

#define STEM "picture"

static void
clear_captioned (gpointer data)
{
  SpCaptioned *captioned = data;
  sp_picture_unref (captioned->picture);
  g_free (captioned->caption);
  g_free (captioned->name);
}

GArray *
sp_captioned_new (void)
{
  GArray *pictures = g_array_new (FALSE, FALSE, sizeof (SpCaptioned));
  g_array_set_clear_func (pictures, clear_captioned);
  return pictures;
}

void
sp_captioned_add (GArray *pictures, SpPicture *picture, const char *caption)
{
  sp_captioned_add_named (pictures, picture, caption, NULL);
}

void
sp_captioned_add_named (GArray *pictures, SpPicture *picture, const char *caption, const char *name)
{
  SpCaptioned captioned = { sp_picture_ref (picture), caption && *caption ? g_strdup (caption) : NULL, g_strdup (name) };
  g_array_append_val (pictures, captioned);
}

GArray *
sp_captioned_copy (const GArray *pictures)
{
  GArray *copy = sp_captioned_new ();
  for (guint i = 0; pictures && i < pictures->len; i++) {
    const SpCaptioned *captioned = &g_array_index (pictures, SpCaptioned, i);
    sp_captioned_add_named (copy, captioned->picture, captioned->caption, captioned->name);
  }
  return copy;
}

/* ---- keys ---- */

/* 0: not one of them; 1: "picture"; N: "picture.N". What is written otherwise (picture.02) is nobody's key. */
static guint
number_of (const char *key)
{
  gsize length = strlen (STEM);
  guint64 number = 0;
  if (strncmp (key, STEM, length) != 0)
    return 0;
  if (!key[length])
    return 1;
  gboolean good = key[length] == '.' && g_ascii_isdigit (key[length + 1]) && key[length + 1] != '0'
                  && g_ascii_string_to_unsigned (key + length + 1, 10, 2, 999, &number, NULL);
  return good ? (guint) number : 0;
}

static int
by_number (gconstpointer a, gconstpointer b)
{
  return (int) number_of ((*(SpKey *const *) a)->key) - (int) number_of ((*(SpKey *const *) b)->key);
}

static SpPicture *
find_beside (gpointer file, const char *name, GError **error)
{
  g_autofree char *path = sp_key_file_resolve (file, name);
  return sp_picture_read (path, error);
}

SpPictureSource
sp_pictures_beside (SpKeyFile *file)
{
  return (SpPictureSource){ find_beside, file };
}

SpPicture *
sp_picture_named (const SpPictureSource *source, SpKeyFile *file, SpGroup *group, const SpKey *key, const char *written, char **name,
                  GError **error)
{
  GError *cause = NULL;
  *name = sp_unescape (written);
  if (!**name) {
    sp_key_fail (file, group, key, 0, error, _ ("nothing stands here; expected a file's name, or no such key"));
    return NULL;
  }
  SpPicture *picture = source->find (source->data, *name, &cause);
  if (!picture) {
    sp_key_fail (file, group, key, 0, error, "%s", cause->message);
    g_error_free (cause);
  }
  return picture;
}

static gboolean
read_one (const SpPictureSource *source, SpKeyFile *file, SpGroup *group, SpKey *key, GArray *pictures, GError **error)
{
  const char *blank = strpbrk (key->value, " \t");
  gsize length = blank ? (gsize) (blank - key->value) : strlen (key->value);
  g_autofree char *caption = g_strstrip (g_strdup (blank ? blank : ""));
  g_autofree char *written = g_strndup (key->value, length), *name = NULL;
  glong characters = g_utf8_strlen (caption, -1);
  key->used = TRUE;
  if (characters > SP_CAPTION_CHARACTERS)
    return sp_key_fail (file, group, key, 0, error, _ ("%ld characters of caption; expected %d at most"), characters,
                        SP_CAPTION_CHARACTERS);
  if (pictures->len == SP_PICTURES_MAX)
    return sp_key_fail (file, group, key, 0, error, _ ("more than %d pictures; expected %d at most"), SP_PICTURES_MAX, SP_PICTURES_MAX);
  g_autoptr (SpPicture) picture = sp_picture_named (source, file, group, key, written, &name, error);
  if (picture)
    sp_captioned_add_named (pictures, picture, caption, name);
  return picture != NULL;
}

gboolean
sp_captioned_read (const SpPictureSource *source, SpKeyFile *file, SpGroup *group, GArray **pictures, GError **error)
{
  g_autoptr (GPtrArray) keys = g_ptr_array_new ();
  g_autoptr (GArray) read = sp_captioned_new ();
  for (guint i = 0; i < group->keys->len; i++)
    if (number_of (((const SpKey *) group->keys->pdata[i])->key) > 0)
      g_ptr_array_add (keys, group->keys->pdata[i]);
  g_ptr_array_sort (keys, by_number);
  for (guint i = 0; i < keys->len; i++)
    if (!read_one (source, file, group, keys->pdata[i], read, error))
      return FALSE;
  if (read->len > 0)
    *pictures = g_steal_pointer (&read);
  return TRUE;
}

char *
sp_captioned_key (guint which)
{
  return which ? g_strdup_printf (STEM ".%u", which + 1) : g_strdup (STEM);
}

char *
sp_captioned_value (const char *name, const char *caption)
{
  char *escaped = sp_escape (name);
  if (!caption)
    return escaped;
  g_autofree char *alone = escaped;
  return g_strconcat (alone, " ", caption, NULL);
}
