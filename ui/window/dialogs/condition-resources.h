/* condition-resources.h - the chain, analyzer and mask that a condition has instead of the bench's: a line each */
#pragma once

#include "ui/window/widgets/dialog.h"

#define SP_TYPE_CONDITION_RESOURCES (sp_condition_resources_get_type ())
G_DECLARE_FINAL_TYPE (SpConditionResources, sp_condition_resources, SP, CONDITION_RESOURCES, GtkGrid)

/* Of a template; `dialog` outlives it. */
void sp_condition_resources_begin (SpConditionResources *resources, SpDialog *dialog);
/* After the bench has changed. */
void sp_condition_resources_follow (SpConditionResources *resources);
