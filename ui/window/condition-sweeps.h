/* condition-sweeps.h - the sweeps of a condition: their purpose, what was read of each, the options that correct it
 */
#pragma once

#include "ui/window/dialog.h"

/* Puts them at the end of the dialog's content and follows the bench. */
void sp_condition_sweeps_add (SpDialog *dialog);
