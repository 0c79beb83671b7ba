/* reason.c - reasons: a code and its values */
#include "core/quantity/reason.h"

#include <math.h>
#include <stdarg.h>

const char *
sp_reason_name (SpReasonCode code)
{
  static const char *const names[] = {
#define X(name, text) [SP_REASON_##name] = text,
    SP_REASON_LIST (X)
#undef X
  };
  return (guint) code < SP_N_REASONS ? names[code] : NULL;
}

SpReason *
sp_reason_new (SpReasonCode code, const char *text0, const char *text1, const char *text2, guint n_values, ...)
{
  SpReason *reason = g_atomic_rc_box_new0 (SpReason);
  va_list values;

  g_assert (n_values <= SP_REASON_VALUES);
  reason->code = code;
  reason->text[0] = g_strdup (text0);
  reason->text[1] = g_strdup (text1);
  reason->text[2] = g_strdup (text2);
  va_start (values, n_values);
  for (guint i = 0; i < SP_REASON_VALUES; i++)
    reason->value[i] = i < n_values ? va_arg (values, double) : NAN;
  va_end (values);
  return reason;
}

SpReason *
sp_reason_ref (const SpReason *reason)
{
  return g_atomic_rc_box_acquire ((SpReason *) reason);
}

static void
clear (gpointer data)
{
  SpReason *reason = data;
  for (guint i = 0; i < SP_REASON_TEXTS; i++)
    g_free (reason->text[i]);
}

void
sp_reason_unref (SpReason *reason)
{
  g_atomic_rc_box_release_full (reason, clear);
}

GPtrArray *
sp_reasons_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) sp_reason_unref);
}

static gboolean
equal (const SpReason *a, const SpReason *b)
{
  if (a->code != b->code)
    return FALSE;
  for (guint i = 0; i < SP_REASON_TEXTS; i++)
    if (g_strcmp0 (a->text[i], b->text[i]) != 0)
      return FALSE;
  for (guint i = 0; i < SP_REASON_VALUES; i++)
    if (!(a->value[i] == b->value[i] || (isnan (a->value[i]) && isnan (b->value[i]))))
      return FALSE;
  return TRUE;
}

void
sp_reasons_add (GPtrArray *reasons, SpReason *reason)
{
  for (guint i = 0; i < reasons->len; i++)
    if (equal (reasons->pdata[i], reason)) {
      sp_reason_unref (reason);
      return;
    }
  g_ptr_array_add (reasons, reason);
}

void
sp_reasons_extend (GPtrArray *reasons, GPtrArray *more)
{
  for (guint i = 0; i < more->len; i++)
    sp_reasons_add (reasons, sp_reason_ref (more->pdata[i]));
}

gboolean
sp_reasons_have (GPtrArray *reasons, SpReasonCode code)
{
  for (guint i = 0; i < reasons->len; i++)
    if (((SpReason *) reasons->pdata[i])->code == code)
      return TRUE;
  return FALSE;
}
