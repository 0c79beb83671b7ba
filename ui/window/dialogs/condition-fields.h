/* condition-fields.h - what somebody wants to have beside a radio or a condition under names of his own: a small table of name and value */
#pragma once

#include "ui/window/widgets/dialog.h"

#define SP_TYPE_CONDITION_FIELDS (sp_condition_fields_get_type ())
G_DECLARE_FINAL_TYPE (SpConditionFields, sp_condition_fields, SP, CONDITION_FIELDS, GtkBox)

/* Of a template; `dialog` outlives it. `owner` gets and sets keys as the dialog's form of the same group does; `of_radio`: the radio's, else the
 * condition's. */
void sp_condition_fields_begin (SpConditionFields *self, SpDialog *dialog, gboolean of_radio, const SpFormOwner *owner);
/* After the bench has changed. */
void sp_condition_fields_follow (SpConditionFields *self);
