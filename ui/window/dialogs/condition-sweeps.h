/* condition-sweeps.h - the sweeps of a condition: their purpose, what was read of each, the options that correct it, and the chain that step and
 * notched ones came through
 */
#pragma once

#include "ui/window/widgets/dialog.h"

/* Puts them at the end of the dialog's content. */
void sp_condition_sweeps_add (SpDialog *dialog);
/* After the bench has changed. */
void sp_condition_sweeps_follow (SpDialog *dialog);
