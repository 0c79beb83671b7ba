/* picture.h - a photograph or a drawing that belongs to a bench, as it is kept: small, and with nothing in it but what is seen
 *
 * PNG and JPEG. What a camera puts beside the pixels (place, day, serial number, a smaller picture, words, colour profiles) is taken out when a
 * file is read; the way up that it states is applied first. A picture whose longer side has more than SP_PICTURE_SIDE pixels is made smaller,
 * and one without transparency whose PNG would be large becomes a JPEG; any other keeps its coded pixels as they are. Read again, a kept picture
 * is the same bytes. Immutable, reference counted. Nothing is judged by it.
 *
 * Files come from strangers: their parts are walked here before a library decodes any, and pixels are only asked for once their number is known.
 */
#pragma once

#include <glib.h>

#define SP_PICTURE_SIDE 1600       /* 240 to an inch over a page's text, 169.3 mm; calculated */
#define SP_PICTURE_BYTES 33554432  /* of a file; bounds memory */
#define SP_PICTURE_PIXELS 50000000 /* of a file: 8165 by 6124; bounds memory */

typedef struct {
  char *file;       /* what it was called; NULL: nothing */
  GBytes *bytes;    /* the kept file */
  char *sha256;     /* of these */
  const char *mime; /* "image/jpeg" "image/png" */
  int width, height;
} SpPicture;

/* Errors begin with the file's name: broken, cut short, of another kind (SP_ERROR_INPUT), too large (SP_ERROR_LIMIT). (transfer full) */
SpPicture *sp_picture_read (const char *path, GError **error);
SpPicture *sp_picture_parse (GBytes *bytes, const char *name, GError **error);
/* By the ending of a file's name. */
gboolean sp_picture_is_named (const char *name);
SpPicture *sp_picture_ref (SpPicture *picture);
void sp_picture_unref (SpPicture *picture);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpPicture, sp_picture_unref)

/* ---- reading ---- */

/* The parts of a file that hold what is seen, and what they say of it. */
typedef struct {
  const char *mime;
  guint width, height;
  gboolean transparent, four_inks; /* PNG: may be; JPEG: as for a printing press */
  GByteArray *kept;                /* those parts alone */
  GByteArray *upright;             /* the same with what states the way up */
} SpPictureParts;
gboolean sp_picture_parts (const guint8 *bytes, gsize length, const char *name, SpPictureParts *parts, GError **error);
void sp_picture_parts_clear (SpPictureParts *parts);

/* Who decodes pixels (ui/picture): the bytes to be kept, which may be parts->kept where all pixels are there, the way up is right and the size fits;
 * NULL and an error. (transfer full) Set before anything is read; without it nothing is. */
typedef GByteArray *(*SpPictureCoder) (const SpPictureParts *parts, GError **error);
void sp_picture_set_coder (SpPictureCoder code);
#define SP_PICTURE_KEPT                                                                                                                    \
  8388608 /* of what is kept as it is: more than the pixels of SP_PICTURE_SIDE squared take raw, 7.7 MB; bounds memory */
