/* mask-private.h - what the files of this folder share */
#pragma once

#include "core/mask/mask.h"

/* The mask as a file's text: canonical, with the keys and groups of `file` that nobody asked for. (transfer full) */
char *sp_mask_text (const SpMask *mask, SpKeyFile *file);
