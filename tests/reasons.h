/* reasons.h - a reason looked at by the table of its row */
#pragma once

#include "core/quantity/reason.h"

/* Does one of its texts end so? */
static inline gboolean
reason_says (const SpReason *reason, const char *text)
{
  for (const SpReasonField *f = sp_reason_fields (reason->code); f->name; f++) {
    const char *said = sp_reason_field_kept (f->kind) == SP_KEPT_TEXT ? sp_reason_text (reason, f) : NULL;
    if (said && g_str_has_suffix (said, text))
      return TRUE;
  }
  return FALSE;
}
