/* condition-sweeps.h - the sweeps of a condition: their purpose, what was read of each, the options that correct it, and the chain that step and
 * notched ones came through
 */
#pragma once

#include "ui/window/widgets/dialog.h"

#define SP_TYPE_CONDITION_SWEEPS (sp_condition_sweeps_get_type ())
G_DECLARE_FINAL_TYPE (SpConditionSweeps, sp_condition_sweeps, SP, CONDITION_SWEEPS, GtkBox)

/* Of a template; `dialog` outlives it. */
void sp_condition_sweeps_begin (SpConditionSweeps *sweeps, SpDialog *dialog);
/* After the bench has changed. */
void sp_condition_sweeps_follow (SpConditionSweeps *sweeps);
