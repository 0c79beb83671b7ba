/* mask-form.h - the choice of a mask: the built-in ones, and the file's that is there now */
#pragma once

#include "core/mask/mask.h"
#include "ui/window/widgets/fields.h"

#define SP_TYPE_MASK_FORM (sp_mask_form_get_type ())
G_DECLARE_FINAL_TYPE (SpMaskForm, sp_mask_form, SP, MASK_FORM, GtkBox)

/* A form with the one key `key`, "mask" or "second_mask", which a template made. `none`: what is read for no mask at all, NULL where there must be one; it outlives the form. */
void sp_mask_form_begin (SpMaskForm *form, const SpFormOwner *owner, const char *key, const char *none);
/* Shows what the key holds now, which is `mask` (NULL: none), and lists the choices again if that has changed. */
void sp_mask_form_follow (SpMaskForm *form, SpMask *mask);
