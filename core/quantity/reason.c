/* reason.c - reasons: the table of their rows, one made, compared and listed */
#include "core/quantity/reason.h"

#include <math.h>

const char *
sp_reason_name (SpReasonCode code)
{
  static const char *const names[] = {
#define F(kind, name)
#define N(kind, name)
#define ROW(CODE, name, fields) [SP_REASON_##CODE] = name,
#include "core/quantity/reasons.inc"
#undef ROW
#undef F
#undef N
  };
  return (guint) code < SP_N_REASONS ? names[code] : NULL;
}

gboolean
sp_reason_weighs (SpReasonCode code)
{
  static const gboolean weighs[SP_N_REASONS] = {
#define F(kind, name)
#define N(kind, name)
#define ROW(CODE, name, fields)
#define WEIGHS(CODE, name, fields) [SP_REASON_##CODE] = TRUE,
#include "core/quantity/reasons.inc"
#undef ROW
#undef F
#undef N
  };
  return (guint) code < SP_N_REASONS && weighs[code];
}

const SpReasonField *
sp_reason_fields (SpReasonCode code)
{
  switch (code) {
    /* by hand: the rows' macros stand in pairs */
    /* clang-format off */
#define F(kind, name) { #name, SP_REASON_FIELD_##kind, TRUE, offsetof (Row, name) },
#define N(kind, name) { #name, SP_REASON_FIELD_##kind, FALSE, offsetof (Row, name) },
#define ROW(CODE, name, fields)                                                     \
  case SP_REASON_##CODE: {                                                          \
    typedef __typeof__ (((SpReason *) NULL)->CODE) Row G_GNUC_UNUSED;               \
    static const SpReasonField row[] = { fields { NULL, 0, FALSE, 0 } };            \
    return row;                                                                     \
  }
#include "core/quantity/reasons.inc"
#undef ROW
#undef F
#undef N
    /* clang-format on */
  case SP_N_REASONS: break;
  }
  g_return_val_if_reached (NULL);
}

SpReasonFieldKept
sp_reason_field_kept (SpReasonFieldKind kind)
{
  /* by their C types; __builtin_types_compatible_p is a constant of both compilers that we build with */
  static const SpReasonFieldKept kept[] = {
#define X(kind, type, end)                                                                                                                 \
  [SP_REASON_FIELD_##kind] = __builtin_types_compatible_p (type, double) ? SP_KEPT_NUMBER                                                  \
                             : __builtin_types_compatible_p (type, int)  ? SP_KEPT_WORD                                                    \
                                                                         : SP_KEPT_TEXT,
    SP_REASON_FIELD_KINDS (X)
#undef X
  };
  g_return_val_if_fail ((guint) kind < G_N_ELEMENTS (kept), SP_KEPT_TEXT);
  return kept[kind];
}

const char *
sp_reason_text (const SpReason *reason, const SpReasonField *field)
{
  return G_STRUCT_MEMBER (const char *, reason, field->offset);
}

double
sp_reason_number (const SpReason *reason, const SpReasonField *field)
{
  return G_STRUCT_MEMBER (double, reason, field->offset);
}

int
sp_reason_word (const SpReason *reason, const SpReasonField *field)
{
  return G_STRUCT_MEMBER (int, reason, field->offset);
}

SpReason *
sp_reason_new (const SpReason *literal)
{
  SpReason *reason = g_atomic_rc_box_dup (sizeof *literal, (gpointer) literal);
  for (const SpReasonField *f = sp_reason_fields (reason->code); f->name; f++)
    if (sp_reason_field_kept (f->kind) == SP_KEPT_TEXT)
      G_STRUCT_MEMBER (char *, reason, f->offset) = g_strdup (sp_reason_text (reason, f));
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
  for (const SpReasonField *f = sp_reason_fields (reason->code); f->name; f++)
    if (sp_reason_field_kept (f->kind) == SP_KEPT_TEXT)
      g_free (G_STRUCT_MEMBER (char *, reason, f->offset));
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
field_equal (const SpReason *a, const SpReason *b, const SpReasonField *f)
{
  double x, y;
  switch (sp_reason_field_kept (f->kind)) {
  case SP_KEPT_TEXT: return g_strcmp0 (sp_reason_text (a, f), sp_reason_text (b, f)) == 0;
  case SP_KEPT_WORD: return sp_reason_word (a, f) == sp_reason_word (b, f);
  case SP_KEPT_NUMBER: x = sp_reason_number (a, f), y = sp_reason_number (b, f); return x == y || (isnan (x) && isnan (y));
  }
  g_return_val_if_reached (FALSE);
}

gboolean
sp_reason_equal (const SpReason *a, const SpReason *b)
{
  if (a->code != b->code)
    return FALSE;
  for (const SpReasonField *f = sp_reason_fields (a->code); f->name; f++)
    if (!field_equal (a, b, f))
      return FALSE;
  return TRUE;
}

void
sp_reasons_add (GPtrArray *reasons, SpReason *reason)
{
  for (guint i = 0; i < reasons->len; i++)
    if (sp_reason_equal (reasons->pdata[i], reason)) {
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
