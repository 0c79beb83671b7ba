/* kept-dialog.h - the books that were kept without a name (kept.h): opened again, or put away */
#pragma once

#include "ui/window/session/kept.h"
#include "ui/window/shell/window.h"

/* What is there and may be opened again, in a sentence; some of SpKept. (transfer full) */
char *sp_kept_sentence (const GPtrArray *kept);
/* A modal window over `window`, which opens what is chosen. */
void sp_kept_dialog_present (SpWindow *window);
