/* pictures.h - the pictures of the bench, of a radio or of a stage in its form: small, with what is said of each; taken from files or dropped, taken off */
#pragma once

#include <gtk/gtk.h>

#include "core/picture/captioned.h"

#define SP_TYPE_PICTURES (sp_pictures_get_type ())
G_DECLARE_FINAL_TYPE (SpPictures, sp_pictures, SP, PICTURES, GtkBox)

/* Whose they are. */
typedef struct {
  /* NULL: none, or what they are of is gone. (transfer none) */
  const GArray *(*get) (gpointer owner);
  /* One undoable edit. FALSE and an error: nothing has changed. */
  gboolean (*set) (gpointer owner, const GArray *pictures, const char *label, GError **error);
  /* A file that was chosen or dropped: read aside, and put behind the others. */
  void (*take) (gpointer owner, GFile *file);
  /* What is wrong with an edit that no entry can say. Takes the error. */
  void (*tell) (gpointer owner, GError *error);
  gpointer owner;
} SpPicturesOwner;

#define SP_PICTURE_PATTERN "*.png *.jpg *.jpeg *.PNG *.JPG *.JPEG" /* for whoever asks for one */

/* Of a template; what the owner points at outlives it. */
void sp_pictures_begin (SpPictures *self, const SpPicturesOwner *owner);
/* After the bench has changed, or another thing is shown. */
void sp_pictures_follow (SpPictures *self);
/* The entry with the words of the picture at `which`, for tests; NULL: there is none. (transfer none) */
GtkWidget *sp_pictures_entry (SpPictures *self, guint which);
