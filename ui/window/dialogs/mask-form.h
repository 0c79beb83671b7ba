/* mask-form.h - the choice of a mask: the built-in ones, and the file's that is there now
 */
#pragma once

#include "ui/window/widgets/fields.h"

/* A form with the one key "mask". `present`: what the key holds (NULL: nothing); `none`: what is read for no mask at all, NULL where there must be
 * one. Made anew where the bench has another file's mask. (transfer floating) */
GtkWidget *sp_mask_form_new (const SpFormOwner *owner, const char *present, const char *none);
