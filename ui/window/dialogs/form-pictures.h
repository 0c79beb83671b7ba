/* form-pictures.h - the pictures that a form shows: of its condition's radio, or of the bench where it is about none */
#pragma once

#include "ui/window/widgets/dialog.h"
#include "ui/window/widgets/pictures.h"

/* `dialog` outlives it. */
void sp_form_pictures_begin (SpPictures *pictures, SpDialog *dialog);
