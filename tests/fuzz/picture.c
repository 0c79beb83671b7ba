/* picture.c - any bytes as a picture: kept bare and small, the same when read again, or refused with a reason */
#include "tests/fuzz/fuzz.h"
#include "ui/picture/coder.h"

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  static gboolean started;
  g_autoptr (GError) error = NULL;
  if (!started)
    sp_picture_start ();
  started = TRUE;
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (SpPicture) picture = sp_picture_parse (bytes, "file", &error);

  FUZZ_MUST_ANSWER (picture, error);
  if (!picture)
    return 0;
  FUZZ_MUST (picture->width > 0 && picture->height > 0 && MAX (picture->width, picture->height) <= SP_PICTURE_SIDE);
  g_autoptr (SpPicture) again = sp_picture_parse (picture->bytes, "file", NULL);
  FUZZ_MUST (again && strcmp (again->sha256, picture->sha256) == 0);
  return 0;
}
