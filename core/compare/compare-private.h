/* compare-private.h - declarations shared by the files of this folder */
#pragma once

#include "core/compare/compare.h"

/* Sets `notable` and `alike` of all moves, and the groups. */
void sp_moves_tell_apart (SpMoves *moves);
