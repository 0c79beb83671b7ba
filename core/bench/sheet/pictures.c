/* pictures.c - the pictures of the bench or of a radio, as a sheet names them */
#include <glib/gi18n-lib.h>

#include "core/bench/sheet/sheet-private.h"
#include "core/quantity/error.h"
#include "core/quantity/writer.h"

static SpPicture *
find (gpointer data, const char *name, GError **error)
{
  SpSheet *sheet = data;
  if (g_hash_table_size (sheet->known[SP_RESOURCE_PICTURE]) >= SP_PICTURES_ALL) {
    sp_fail (error, SP_ERROR_LIMIT, _ ("more than %d pictures in all; expected %d at most"), SP_PICTURES_ALL, SP_PICTURES_ALL);
    return NULL;
  }
  return sp_sheet_named (sheet, SP_RESOURCE_PICTURE, name, error);
}

gboolean
sp_sheet_read_pictures (const SpKeySpec *spec, SpKeyFile *file, SpGroup *group, gpointer object, gpointer context, GError **error)
{
  const SpPictureSource source = { find, context };
  return sp_captioned_read (&source, file, group, sp_key_member (spec, object), error);
}

void
sp_sheet_write_pictures (const SpKeySpec *spec, GString *text, gconstpointer object, gconstpointer context)
{
  const SpSheetWriter *writer = context;
  GArray *const *pictures = sp_key_member (spec, object);
  for (guint i = 0; *pictures && i < (*pictures)->len; i++) {
    const SpCaptioned *captioned = &g_array_index (*pictures, SpCaptioned, i);
    g_autofree char *name = writer->name (writer->data, SP_RESOURCE_PICTURE, captioned->picture), *key = sp_captioned_key (i);
    g_autofree char *value = sp_captioned_value (name, captioned->caption);
    sp_write_text (text, key, value);
  }
}
