/* picture-parts.c - walks the parts of a PNG or JPEG file: which hold what is seen, and how large it is */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/picture/picture.h"
#include "core/quantity/error.h"

#define SIDE_MOST 65500  /* libjpeg's JPEG_MAX_DIMENSION; bounds memory */
#define SCANS_MOST 100   /* of a progressive JPEG, which is decoded anew for each; bounds time */
#define PARTS_MOST 20000 /* bounds time */

static const guint8 png_signature[] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n' };

typedef struct {
  const guint8 *bytes;
  gsize length, at;
  const char *name;
  SpPictureParts *parts;
  GError **error;
} Walk;

static guint
two (const guint8 *at)
{
  return (guint) at[0] << 8 | at[1];
}

static guint
four (const guint8 *at)
{
  return two (at) << 16 | two (at + 2);
}

static gboolean
cut_short (const Walk *walk)
{
  return sp_fail_at (walk->error, walk->name, 0, 0,
                     _ ("the picture ends before it is whole, or is broken at byte %zu; expected a whole PNG or JPEG file: copy it again"),
                     walk->at);
}

static gboolean
take_size (const Walk *walk, guint width, guint height)
{
  if (width == 0 || height == 0)
    return cut_short (walk);
  if (width > SIDE_MOST || height > SIDE_MOST || (guint64) width * height > SP_PICTURE_PIXELS)
    return sp_fail (walk->error, SP_ERROR_LIMIT,
                    _ ("%s: the picture says that it is %u by %u pixels; expected %d million at most: make it smaller first"), walk->name,
                    width, height, SP_PICTURE_PIXELS / 1000000);
  walk->parts->width = width;
  walk->parts->height = height;
  return TRUE;
}

static void
keep (const Walk *walk, gsize length)
{
  g_byte_array_append (walk->parts->kept, walk->bytes + walk->at, (guint) length);
  g_byte_array_append (walk->parts->upright, walk->bytes + walk->at, (guint) length);
}

/* ---- JPEG (ITU-T T.81, annex B): FF, a code, two bytes of length that count themselves ---- */

/* SOF0 to SOF2: what libjpeg reads, of 8 bits. */
static gboolean
take_frame (const Walk *walk, const guint8 *segment, gsize length)
{
  if (length < 10)
    return cut_short (walk);
  if (walk->parts->width > 0 || segment[1] > 0xc2 || segment[4] != 8)
    return sp_fail_at (walk->error, walk->name, 0, 0, _ ("this kind of JPEG is not read; expected a usual one, baseline or progressive"));
  walk->parts->four_inks = segment[9] == 4;
  return take_size (walk, two (segment + 7), two (segment + 5));
}

static gboolean
is_frame (guint8 code)
{
  return code >= 0xc0 && code <= 0xcf && code != 0xc4 && code != 0xc8 && code != 0xcc;
}

/* Tables, frames, scans, and the two application segments that tell how colours are coded: JFIF without its small picture, and Adobe. */
static gboolean
is_seen (const guint8 *segment, gsize length)
{
  guint8 code = segment[1];
  if (code == 0xe0)
    return length == 18 && memcmp (segment + 4, "JFIF", 5) == 0 && segment[16] == 0 && segment[17] == 0;
  if (code == 0xee)
    return length == 16 && memcmp (segment + 4, "Adobe", 5) == 0;
  return code == 0xc4 || code == 0xdb || code == 0xdd || code == 0xda || is_frame (code);
}

static gboolean
is_exif (const guint8 *segment, gsize length)
{
  return segment[1] == 0xe1 && length > 10 && memcmp (segment + 4, "Exif\0", 6) == 0;
}

/* The coded pixels behind a scan's head: up to the next code that is no stuffed byte (FF 00) and no restart (FF D0 to D7). */
static gsize
scan_end (const Walk *walk, gsize at)
{
  while (at + 1 < walk->length
         && !(walk->bytes[at] == 0xff && walk->bytes[at + 1] != 0 && walk->bytes[at + 1] != 0xff && (walk->bytes[at + 1] & 0xf8) != 0xd0))
    at++;
  return at;
}

static gboolean
walk_segment (Walk *walk, guint *scans)
{
  const guint8 *segment = walk->bytes + walk->at;
  gsize left = walk->length - walk->at, length = left < 4 ? 0 : (gsize) two (segment + 2) + 2;
  if (length < 4 || length > left || segment[0] != 0xff || segment[1] < 0xc0 || (segment[1] >= 0xd0 && segment[1] <= 0xd9))
    return cut_short (walk);
  if (is_frame (segment[1]) && !take_frame (walk, segment, length))
    return FALSE;
  if (segment[1] == 0xda) {
    if (walk->parts->width == 0 || ++*scans > SCANS_MOST)
      return cut_short (walk);
    length = scan_end (walk, walk->at + length) - walk->at;
  }
  if (is_seen (segment, length) || segment[1] == 0xda)
    keep (walk, length);
  else if (is_exif (segment, length))
    g_byte_array_append (walk->parts->upright, segment, (guint) length);
  walk->at += length;
  return TRUE;
}

/* What stands behind the end is no part of the picture. */
static gboolean
walk_jpeg (Walk *walk)
{
  guint scans = 0;
  walk->parts->mime = "image/jpeg";
  keep (walk, 2);
  walk->at = 2;
  for (guint n = 0; n < PARTS_MOST; n++) {
    while (walk->at + 1 < walk->length && walk->bytes[walk->at] == 0xff && walk->bytes[walk->at + 1] == 0xff)
      walk->at++;
    if (walk->at + 2 <= walk->length && scans > 0 && walk->bytes[walk->at] == 0xff && walk->bytes[walk->at + 1] == 0xd9) {
      keep (walk, 2);
      return TRUE;
    }
    if (!walk_segment (walk, &scans))
      return FALSE;
  }
  return cut_short (walk);
}

/* ---- PNG (W3C, Portable Network Graphics, 5): four bytes of length, four letters, data, four bytes of checksum ---- */

static gboolean
walk_chunk (Walk *walk, gboolean *pixels, gboolean *end)
{
  static const char *const seen[] = { "IHDR", "PLTE", "tRNS", "gAMA", "sRGB", "sBIT", "pHYs", "IDAT", "IEND", NULL };
  gsize left = walk->length - walk->at;
  const guint8 *chunk = walk->bytes + walk->at;
  gsize length = left < 12 ? 0 : (gsize) four (chunk) + 12;
  if (length == 0 || length > left)
    return cut_short (walk);
  g_autofree char *name = g_strndup ((const char *) chunk + 4, 4);
  gboolean head = strcmp (name, "IHDR") == 0;
  if (head != (walk->parts->width == 0) || (head && length != 25))
    return cut_short (walk);
  if (head && !take_size (walk, four (chunk + 8), four (chunk + 12)))
    return FALSE;
  walk->parts->transparent |= (head && (chunk[17] & 4)) || strcmp (name, "tRNS") == 0;
  *pixels |= strcmp (name, "IDAT") == 0;
  *end = strcmp (name, "IEND") == 0;
  if (g_strv_contains (seen, name))
    keep (walk, length);
  else if (g_ascii_isupper (name[0]))
    return cut_short (walk); /* a part without which it cannot be shown, and nobody knows */
  walk->at += length;
  return TRUE;
}

static gboolean
walk_png (Walk *walk)
{
  gboolean pixels = FALSE, end = FALSE;
  walk->parts->mime = "image/png";
  keep (walk, sizeof png_signature);
  walk->at = sizeof png_signature;
  for (guint n = 0; n < PARTS_MOST && !end; n++)
    if (!walk_chunk (walk, &pixels, &end))
      return FALSE;
  return (pixels && end) || cut_short (walk);
}

gboolean
sp_picture_parts (const guint8 *bytes, gsize length, const char *name, SpPictureParts *parts, GError **error)
{
  Walk walk = { bytes, length, 0, name, parts, error };
  *parts = (SpPictureParts){ .kept = g_byte_array_new (), .upright = g_byte_array_new () };
  if (length > SP_PICTURE_BYTES)
    return sp_fail (error, SP_ERROR_LIMIT, _ ("%s: %zu bytes; expected a picture of %d MiB at most: make it smaller first"), name, length,
                    SP_PICTURE_BYTES >> 20);
  if (length > sizeof png_signature && memcmp (bytes, png_signature, sizeof png_signature) == 0)
    return walk_png (&walk);
  if (length > 3 && bytes[0] == 0xff && bytes[1] == 0xd8 && bytes[2] == 0xff)
    return walk_jpeg (&walk);
  return sp_fail_at (error, name, 0, 0, _ ("this is no picture that can be taken; expected a PNG or a JPEG file"));
}

void
sp_picture_parts_clear (SpPictureParts *parts)
{
  g_clear_pointer (&parts->kept, g_byte_array_unref);
  g_clear_pointer (&parts->upright, g_byte_array_unref);
}
