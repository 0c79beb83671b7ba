/* picture.c - a picture as a value */
#include "core/picture/picture.h"

#include <glib/gi18n-lib.h>

#include "core/quantity/error.h"
#include "core/quantity/file.h"

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SpPictureParts, sp_picture_parts_clear)

static SpPictureCoder coder;

void
sp_picture_set_coder (SpPictureCoder code)
{
  coder = code;
}

static SpPicture *
make (const SpPictureParts *parts, const char *name)
{
  SpPicture *picture = g_atomic_rc_box_new0 (SpPicture);
  picture->file = *name ? g_strdup (name) : NULL;
  picture->bytes = g_bytes_new (parts->kept->data, parts->kept->len);
  picture->sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, picture->bytes);
  picture->mime = parts->mime;
  picture->width = (int) parts->width;
  picture->height = (int) parts->height;
  return picture;
}

/* Whatever the coder gives is walked again: nothing but what is seen is kept. */
static SpPicture *
make_bare (const GByteArray *bytes, const char *name, GError **error)
{
  g_auto (SpPictureParts) bare = { .kept = NULL };
  return sp_picture_parts (bytes->data, bytes->len, name, &bare, error) ? make (&bare, name) : NULL;
}

SpPicture *
sp_picture_parse (GBytes *bytes, const char *name, GError **error)
{
  gsize length = 0;
  const guint8 *data = g_bytes_get_data (bytes, &length);
  g_auto (SpPictureParts) parts = { .kept = NULL };
  g_autoptr (GError) cause = NULL;
  if (!sp_picture_parts (data, length, name, &parts, error))
    return NULL;
  if (!coder) {
    sp_fail_at (error, name, 0, 0, _ ("this program reads no pictures; expected one that does"));
    return NULL;
  }
  g_autoptr (GByteArray) kept = coder (&parts, &cause);
  if (kept)
    return make_bare (kept, name, error);
  sp_fail_at (error, name, 0, 0, _ ("the picture is broken (%s); expected a whole PNG or JPEG file: copy it again"),
              cause ? cause->message : "-");
  return NULL;
}

SpPicture *
sp_picture_read (const char *path, GError **error)
{
  gsize length = 0;
  char *read = sp_file_read (path, SP_PICTURE_BYTES, &length, error);
  g_autoptr (GBytes) bytes = read ? g_bytes_new_take (read, length) : NULL;
  return bytes ? sp_picture_parse (bytes, path, error) : NULL;
}

gboolean
sp_picture_is_named (const char *name)
{
  g_autofree char *folded = g_ascii_strdown (name, -1);
  return g_str_has_suffix (folded, ".png") || g_str_has_suffix (folded, ".jpg") || g_str_has_suffix (folded, ".jpeg");
}

/* ---- the value ---- */

static void
clear (gpointer data)
{
  SpPicture *picture = data;
  g_free (picture->file);
  g_free (picture->sha256);
  g_bytes_unref (picture->bytes);
}

SpPicture *
sp_picture_ref (SpPicture *picture)
{
  return g_atomic_rc_box_acquire (picture);
}

void
sp_picture_unref (SpPicture *picture)
{
  g_atomic_rc_box_release_full (picture, clear);
}
