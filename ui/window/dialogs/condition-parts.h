/* condition-parts.h - the chain, analyzer and mask that a condition has instead of the bench's: a line each */
#pragma once

#include "ui/window/widgets/dialog.h"

void sp_condition_parts_add (SpDialog *dialog);
/* After the bench has changed. */
void sp_condition_parts_follow (SpDialog *dialog);
