/* pictures.h - the pictures of the bench or of a radio in its form: small, with what is said of each; taken from files or dropped, taken off */
#pragma once

#include "ui/window/widgets/dialog.h"

#define SP_TYPE_PICTURES (sp_pictures_get_type ())
G_DECLARE_FINAL_TYPE (SpPictures, sp_pictures, SP, PICTURES, GtkBox)

/* Of a template; `dialog` outlives it: the pictures are those of its condition's radio, or of the bench where it is about none. */
void sp_pictures_begin (SpPictures *self, SpDialog *dialog);
/* After the bench has changed. */
void sp_pictures_follow (SpPictures *self);
