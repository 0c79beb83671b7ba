/* compare-private.h - what the files of this room share */
#pragma once

#include "core/compare/compare.h"

/* Fills `notable` and `alike` of all, and the groups. */
void sp_moves_tell_apart (SpMoves *moves);
