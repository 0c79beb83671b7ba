/* reason.h - what the core has to say, as a code and its named fields
 *
 * Core holds no prose: ui/words turns a reason into a sentence, in any language, for window, report and JSON alike. Each code and its fields are one
 * row of reasons.inc. A reason is written by its fields, all of them (tests/house holds every call to it):
 *   sp_reason (STEP_SPAN, .file = trace->file, .at_hz = f)
 * and read by them: reason->STEP_SPAN.at_hz, where reason->code is SP_REASON_STEP_SPAN.
 */
#pragma once

#include <glib.h>

#define SP_NO_WORD (-1) /* in place of an enumeration's value: none, or as it is */

/* X (kind, C type, how its fields' names end): a field's kind tells how it is kept, written in JSON and said. A word is an int: a value of an
 * enumeration, which a folder above may own, or SP_NO_WORD. */
#define SP_REASON_FIELD_KINDS(X)                                                                                                           \
  X (TEXT, const char *, "") /* NULL: not known */                                                                                         \
  X (RULE, const char *, "") /* the name of a mask's rule; NULL: none */                                                                   \
  X (HZ, double, "_hz")      /* numbers: NaN where not known */                                                                            \
  X (DB, double, "_db")                                                                                                                    \
  X (SETTING, double, "_db") /* what a knob or a part is set to: whole decibels as a rule */                                               \
  X (DBM, double, "_dbm")                                                                                                                  \
  X (WATT, double, "_w")                                                                                                                   \
  X (VOLTS, double, "_v")                                                                                                                  \
  X (SECONDS, double, "_s")                                                                                                                \
  X (METRES, double, "_m")                                                                                                                 \
  X (DAYS, double, "_days")                                                                                                                \
  X (PERCENT, double, "_percent")                                                                                                          \
  X (RATIO, double, "")                                                                                                                    \
  X (COUNT, double, "")                                                                                                                    \
  X (YES, gboolean, "")                                                                                                                    \
  X (KEY_HOME, int, "")   /* SpKeyHome */                                                                                                  \
  X (MODULATION, int, "") /* SpModulation */                                                                                               \
  X (PURPOSE, int, "")    /* SpPurpose */                                                                                                  \
  X (FAULT, int, "")      /* SpFaultKind */                                                                                                \
  X (CAUSE, int, "")      /* SpFloorCause */                                                                                               \
  X (DETECTOR, int, "")   /* SpDetector */                                                                                                 \
  X (AVERAGE, int, "")    /* SpAverage */                                                                                                  \
  X (TIME_BASIS, int, "") /* SpTimeBasis */                                                                                                \
  X (OBSTACLE, int, "")   /* SpObstacle */                                                                                                 \
  X (GAP, int, "")        /* SpReasonCode of SpGap.why */                                                                                  \
  X (TERM, int, "")       /* SpTermKind */

typedef enum {
#define X(kind, type, end) SP_REASON_FIELD_##kind,
  SP_REASON_FIELD_KINDS (X)
#undef X
} SpReasonFieldKind;

#define X(kind, type, end) typedef type SpReasonFieldOf_##kind;
SP_REASON_FIELD_KINDS (X)
#undef X

typedef enum {
#define F(kind, name)
#define N(kind, name)
#define ROW(CODE, name, fields) SP_REASON_##CODE,
#include "core/quantity/reasons.inc"
#undef ROW
  SP_N_REASONS
} SpReasonCode;
#undef F
#undef N

/* Every row begins with its code, so `code` may always be read; and rows whose fields begin alike may be read as either. */
typedef union {
  SpReasonCode code;
#define F(kind, name) SpReasonFieldOf_##kind name;
#define N(kind, name) SpReasonFieldOf_##kind name;
#define ROW(CODE, name, fields)                                                                                                            \
  struct {                                                                                                                                 \
    SpReasonCode code;                                                                                                                     \
    fields                                                                                                                                 \
  } CODE;
#include "core/quantity/reasons.inc"
#undef ROW
#undef F
#undef N
} SpReason;

typedef struct {
  const char *name; /* as in JSON: "at_hz" */
  SpReasonFieldKind kind;
  gboolean said; /* a sentence says it, or goes by it */
  gsize offset;  /* in SpReason */
} SpReasonField;

typedef enum { SP_KEY_OF_NOBODY, SP_KEY_OF_BENCH, SP_KEY_OF_RADIO, SP_KEY_OF_CONDITION } SpKeyHome;

/* The stable name, e.g. "label-used". */
const char *sp_reason_name (SpReasonCode code);
/* TRUE of a warning that can change a verdict. */
gboolean sp_reason_weighs (SpReasonCode code);
/* The fields of a code, in the row's order; behind the last stands one whose name is NULL. (transfer none) */
const SpReasonField *sp_reason_fields (SpReasonCode code);

/* How a kind is kept, and the field of a reason by the table's row of it. */
typedef enum { SP_KEPT_TEXT, SP_KEPT_NUMBER, SP_KEPT_WORD } SpReasonFieldKept;
SpReasonFieldKept sp_reason_field_kept (SpReasonFieldKind kind);
const char *sp_reason_text (const SpReason *reason, const SpReasonField *field); /* NULL where not known (transfer none) */
double sp_reason_number (const SpReason *reason, const SpReasonField *field);
int sp_reason_word (const SpReason *reason, const SpReasonField *field); /* also a YES */

/* Reference counted and immutable; texts are copied. (transfer full) */
#define sp_reason(CODE, ...) sp_reason_new (&(SpReason){ .CODE = { SP_REASON_##CODE, __VA_ARGS__ } })
#define sp_reason_bare(CODE) sp_reason_new (&(SpReason){ .code = SP_REASON_##CODE }) /* of a row without fields */
SpReason *sp_reason_new (const SpReason *literal);
SpReason *sp_reason_ref (const SpReason *reason);
void sp_reason_unref (SpReason *reason);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpReason, sp_reason_unref)
/* By code and all fields; NaN equals NaN. */
gboolean sp_reason_equal (const SpReason *a, const SpReason *b);

/* A list of SpReason* that frees them. (transfer full) */
GPtrArray *sp_reasons_new (void);
/* Takes `reason`; one equal in code and fields that is there already is not repeated. */
void sp_reasons_add (GPtrArray *reasons, SpReason *reason);
/* Adds references to all of `more` that are not there yet. */
void sp_reasons_extend (GPtrArray *reasons, GPtrArray *more);
gboolean sp_reasons_have (GPtrArray *reasons, SpReasonCode code);
