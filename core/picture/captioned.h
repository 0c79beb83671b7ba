/* captioned.h - pictures with what is said of them, and their keys: "picture=FILE caption text", more as "picture.2=", "picture.3=" ...
 *
 * Blanks in FILE are %20. A key picture.N counts by its number, and is written again without a gap.
 */
#pragma once

#include "core/picture/picture.h"
#include "core/quantity/keyfile.h"

typedef struct {
  SpPicture *picture;
  char *caption; /* up to SP_CAPTION_CHARACTERS; NULL: none */
  char *name;    /* as the file that was read calls it, decoded; NULL: put on here */
} SpCaptioned;
#define SP_CAPTION_CHARACTERS 300 /* three lines of a page (common practice, no source) */
#define SP_PICTURES_MAX 12        /* of one bench, radio or stage: two pages (common practice, no source) */
#define SP_PICTURES_ALL 200       /* different ones that one sheet names; bounds memory */

/* Arrays of SpCaptioned, which own what is in them. (transfer full) */
GArray *sp_captioned_new (void);
GArray *sp_captioned_copy (const GArray *pictures);
void sp_captioned_add (GArray *pictures, SpPicture *picture, const char *caption);
void sp_captioned_add_named (GArray *pictures, SpPicture *picture, const char *caption, const char *name);

/* Where pictures come from by their decoded names: (transfer full); NULL and an error. */
typedef struct {
  SpPicture *(*find) (gpointer data, const char *name, GError **error);
  gpointer data;
} SpPictureSource;
/* From files beside `file`. */
SpPictureSource sp_pictures_beside (SpKeyFile *file);
/* The picture that a key of `group` names as `written`. *name: decoded; (transfer full), in any case. NULL and an error. (transfer full) */
SpPicture *sp_picture_named (const SpPictureSource *source, SpKeyFile *file, SpGroup *group, const SpKey *key, const char *written,
                             char **name, GError **error);
/* *pictures left alone where the group has no such key. */
gboolean sp_captioned_read (const SpPictureSource *source, SpKeyFile *file, SpGroup *group, GArray **pictures, GError **error);
/* The key of the picture at `which`, from 0, and its value. (transfer full) */
char *sp_captioned_key (guint which);
char *sp_captioned_value (const char *name, const char *caption);
