/* verdict-table.h - the decision rule as an ordered table; the first row that holds decides
 *
 * Acceptance and rejection with guard bands after JCGM 106:2012, 8.3 (accepted: level <= limit - guard; rejected: level > limit +
 * guard); the rule is guarded or simple in the sense of ILAC-G8:09/2019, 4.2: the guard is U or 0.
 * The earlier rows check the assumptions of JCGM 106: there is a limit, the frequency was swept and resolved, the chain is calibrated
 * there, an emission could have been seen, and the one seen is the radio's (core/docs/computation.md, section 13).
 * Findings keep the row that decided; the workbook prints its formula from this table.
 */
#pragma once

#include "core/findings/findings.h"

/* Facts tested by the rows: bits of SpEmission.facts. "Part" is the radio's part; both its ends are the level if no part is known. */
typedef enum {
  SP_FACT_LIMIT = 1 << 0,         /* the mask gives a number there */
  SP_FACT_NEEDS_POWER = 1 << 1,   /* the mask would give a number if P were known */
  SP_FACT_SWEPT = 1 << 2,         /* a sweep covers the frequency */
  SP_FACT_RESOLVED = 1 << 3,      /* the sweep separates it from its neighbours */
  SP_FACT_REFERRED = 1 << 4,      /* the limit does not depend on P, or P is calibrated or measured by a meter */
  SP_FACT_CALIBRATED = 1 << 5,    /* the chain is calibrated there */
  SP_FACT_GROSS = 1 << 6,         /* seen, tested, and the part's lower end is over limit + U + SP_UNCALIBRATED_EXTRA_DB */
  SP_FACT_SEEN = 1 << 7,          /* something was seen */
  SP_FACT_BLIND = 1 << 8,         /* nothing could have been seen */
  SP_FACT_FLOOR_BELOW = 1 << 9,   /* floor + guard <= limit */
  SP_FACT_OVER = 1 << 10,         /* the part's lower end - guard > limit */
  SP_FACT_COARSE = 1 << 11,       /* points too far apart to prove it, or only their sampling loss prevents compliance */
  SP_FACT_BELOW = 1 << 12,        /* the part's upper end + guard <= limit */
  SP_FACT_LEVEL_BELOW = 1 << 13,  /* level + guard <= limit, and analyzer or ambient hide no more than U */
  SP_FACT_AMBIENT = 1 << 14,      /* origin ambient */
  SP_FACT_AMBIENT_OPEN = 1 << 15, /* the ambient signal alone prevents a verdict, by more than U */
  SP_FACT_UNTESTED = 1 << 16,     /* origin untested */
  SP_FACT_RADIO = 1 << 17,        /* origin radio */
  SP_FACT_BOUND_OPEN = 1 << 18,   /* the level is a bound, and the limit lies within its possible range */
  SP_FACT_WITHIN_U = 1 << 19,     /* level and limit differ by no more than U */
  SP_FACT_BEHIND_LAST             /* stays the last: no fact */
} SpVerdictFact;
#define SP_VERDICT_FACTS_END (2u * (SP_FACT_BEHIND_LAST - 1)) /* space for every set of facts */

typedef struct {
  SpVerdictRow row;
  guint yes, no; /* facts that must hold, and facts that must not hold */
  SpVerdict verdict;
  SpReasonCode reason;
} SpVerdictEntry;

/* The table of *n rows; the last row holds always. (transfer none) */
const SpVerdictEntry *sp_verdict_table (guint *n);
/* The first row that holds for these facts. (transfer none) */
const SpVerdictEntry *sp_verdict_of_facts (guint facts);
/* TRUE if the verdict is not proven whatever level and limit are: not resolved, or a row after the table withheld the verdict. */
gboolean sp_verdict_withholds (SpVerdictRow row);
