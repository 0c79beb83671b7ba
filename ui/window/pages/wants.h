/* wants.h - what a condition still wants */
#pragma once

#include "core/findings/findings.h"

/* The sweeps that would close its first gaps, then what would prove its open emissions, the deciding one's first; "" where there is nothing. (transfer
 * full) */
char *sp_wants_text (const SpConditionFindings *found);
