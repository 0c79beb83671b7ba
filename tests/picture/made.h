/* made.h - pictures that tests make: a gradient, coded by the library, with what cameras put beside it */
#pragma once

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <string.h>

#include "core/picture/picture.h"
#include "tests/suite.h"

#define PLACE "N 47 12 33.5 E 8 31 12.25"

/* `format` "jpeg" or "png"; `noisy`: no two pixels alike, so that it does not become small. (transfer full) */
G_GNUC_UNUSED static GByteArray *
picture_bytes (int width, int height, const char *format, gboolean transparent, gboolean noisy)
{
  g_autoptr (GdkPixbuf) pixels = gdk_pixbuf_new (GDK_COLORSPACE_RGB, transparent, 8, width, height);
  int stride = gdk_pixbuf_get_rowstride (pixels), n = gdk_pixbuf_get_n_channels (pixels);
  guint32 state = 1;
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      for (int c = 0; c < n; c++) {
        state = state * 1664525u + 1013904223u; /* Numerical Recipes' "quick and dirty" generator, from memory */
        guint8 value = noisy ? (guint8) (state >> 24) : (guint8) (c == 0 ? x * 255 / width : c == 1 ? y * 255 / height : 128);
        gdk_pixbuf_get_pixels (pixels)[y * stride + x * n + c] = value;
      }
  char *bytes = NULL;
  gsize length = 0;
  ck_assert (gdk_pixbuf_save_to_buffer (pixels, &bytes, &length, format, NULL, NULL));
  return g_byte_array_new_take ((guint8 *) bytes, length);
}

static inline void
put_in (GByteArray *bytes, guint at, const void *data, guint length)
{
  guint behind = bytes->len - at;
  g_byte_array_set_size (bytes, bytes->len + length);
  memmove (bytes->data + at + length, bytes->data + at, behind);
  memcpy (bytes->data + at, data, length);
}

/* A segment behind a JPEG's first two bytes. */
static inline void
put_segment (GByteArray *jpeg, guint8 code, const void *data, guint length)
{
  const guint8 head[] = { 0xff, code, (guint8) ((length + 2) >> 8), (guint8) (length + 2) };
  put_in (jpeg, 2, data, length);
  put_in (jpeg, 2, head, sizeof head);
}

/* An Exif segment (CIPA DC-008, 4.6, from memory): the way up, and the tags of a place and a camera with their words behind. */
G_GNUC_UNUSED static void
put_exif (GByteArray *jpeg, guint8 way_up)
{
  const guint8 head[] = { 'E',  'x',  'i', 'f', 0,  0, 'I', 'I', 42,     0, 8, 0, 0, 0, 3, 0, /* little-endian; three entries */
                          0x0f, 0x01, 2,   0,   26, 0, 0,   0,   50,     0, 0, 0,             /* maker: text, behind */
                          0x12, 0x01, 3,   0,   1,  0, 0,   0,   way_up, 0, 0, 0,             /* orientation */
                          0x25, 0x88, 4,   0,   1,  0, 0,   0,   76,     0, 0, 0,             /* where the place's entries stand */
                          0,    0,    0,   0 };
  g_autoptr (GByteArray) exif = g_byte_array_append (g_byte_array_new (), head, sizeof head);
  g_byte_array_append (exif, (const guint8 *) PLACE, sizeof PLACE);
  const guint8 place[] = { 1, 0, 1, 0, 2, 0, 2, 0, 0, 0, 'N', 0, 0, 0, 0, 0, 0, 0 };
  g_byte_array_append (exif, place, sizeof place);
  put_segment (jpeg, 0xe1, exif->data, exif->len);
}

static inline guint32
checksum (const guint8 *bytes, gsize length) /* PNG, annex D (CRC-32 of ISO 3309), from memory */
{
  guint32 sum = 0xffffffffu;
  for (gsize i = 0; i < length; i++) {
    sum ^= bytes[i];
    for (guint k = 0; k < 8; k++)
      sum = sum & 1 ? 0xedb88320u ^ sum >> 1 : sum >> 1;
  }
  return ~sum;
}

/* A chunk behind a PNG's head. */
G_GNUC_UNUSED static void
put_chunk (GByteArray *png, const char *name, const void *data, guint length)
{
  g_autoptr (GByteArray) chunk = g_byte_array_new ();
  guint32 big = GUINT32_TO_BE (length);
  g_byte_array_append (chunk, (const guint8 *) &big, 4);
  g_byte_array_append (chunk, (const guint8 *) name, 4);
  g_byte_array_append (chunk, data, length);
  big = GUINT32_TO_BE (checksum (chunk->data + 4, length + 4));
  g_byte_array_append (chunk, (const guint8 *) &big, 4);
  put_in (png, 33, chunk->data, chunk->len);
}

/* A PNG's head says another size, rightly sealed. */
G_GNUC_UNUSED static void
claim_size (GByteArray *png, guint32 width, guint32 height)
{
  guint32 big[] = { GUINT32_TO_BE (width), GUINT32_TO_BE (height) };
  memcpy (png->data + 16, big, sizeof big);
  guint32 sum = GUINT32_TO_BE (checksum (png->data + 12, 17));
  memcpy (png->data + 29, &sum, 4);
}

G_GNUC_UNUSED static gboolean
has_words (gconstpointer bytes, gsize length, const char *words)
{
  return memmem (bytes, length, words, strlen (words)) != NULL;
}
