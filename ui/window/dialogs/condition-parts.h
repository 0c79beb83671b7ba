/* condition-parts.h - the chain, analyzer and mask that a condition has instead of the bench's: a line each */
#pragma once

#include "ui/window/widgets/dialog.h"

#define SP_TYPE_CONDITION_PARTS (sp_condition_parts_get_type ())
G_DECLARE_FINAL_TYPE (SpConditionParts, sp_condition_parts, SP, CONDITION_PARTS, GtkGrid)

/* Of a template; `dialog` outlives it. */
void sp_condition_parts_begin (SpConditionParts *parts, SpDialog *dialog);
/* After the bench has changed. */
void sp_condition_parts_follow (SpConditionParts *parts);
