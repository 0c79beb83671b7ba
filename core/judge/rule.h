/* rule.h - the decision rule: one ordered table, of which the first row that holds decides
 *
 * Acceptance and rejection with guard bands after JCGM 106:2012, 8.3 (accepted: level <= limit - guard; rejected: level > limit + guard), with
 * what ILAC-G8:09/2019, 4.2 calls a guarded or a simple rule: the guard is U or 0. What JCGM 106 takes for granted is asked first: that there is
 * a limit, that the place was swept and resolved, that the chain is calibrated there, that something could have been seen, and that what was seen is
 * the radio's (core/docs/computation.md, section 13). Findings keep the row that decided; the workbook prints its formula from this table.
 */
#pragma once

#include "core/judge/findings.h"

/* What the rows ask; bits of SpEmission.facts. The part is the radio's; its ends are the level itself where nothing else is known. */
typedef enum {
  SP_FACT_LIMIT = 1 << 0,       /* the mask gives a number there */
  SP_FACT_NEEDS_POWER = 1 << 1, /* it would, were P known */
  SP_FACT_SWEPT = 1 << 2,       /* a sweep holds the place */
  SP_FACT_RESOLVED = 1 << 3,    /* and tells it from what stands beside it */
  SP_FACT_REFERRED = 1 << 4,    /* the limit does not follow P, or P is calibrated or the meter's */
  SP_FACT_CALIBRATED = 1 << 5,  /* the chain is calibrated there */
  SP_FACT_GROSS = 1 << 6,       /* seen, tested, and the part's lower end is over limit + U + SP_UNCALIBRATED_EXTRA_DB */
  SP_FACT_SEEN = 1 << 7,        /* something was seen */
  SP_FACT_BLIND = 1 << 8,       /* nothing could have been */
  SP_FACT_FLOOR_BELOW = 1 << 9, /* floor + guard <= limit */
  SP_FACT_OVER = 1 << 10,       /* the part's lower end - guard > limit */
  SP_FACT_COARSE = 1 << 11, /* points too far apart to prove it, or only what a line may have lost between them keeps it from complying */
  SP_FACT_BELOW = 1 << 12,  /* the part's upper end + guard <= limit */
  SP_FACT_LEVEL_BELOW = 1 << 13,  /* level + guard <= limit, and the analyzer or the air hides no more than U */
  SP_FACT_AMBIENT = 1 << 14,      /* origin ambient */
  SP_FACT_AMBIENT_OPEN = 1 << 15, /* what stands there unkeyed leaves it open, by more than U */
  SP_FACT_UNTESTED = 1 << 16,     /* origin untested */
  SP_FACT_RADIO = 1 << 17,        /* origin radio */
  SP_FACT_BOUND_OPEN = 1 << 18,   /* read as a bound, and the limit lies between the least and the most that it may be */
  SP_FACT_WITHIN_U = 1 << 19      /* level and limit are no further apart than U */
} SpRuleFact;
#define SP_N_RULE_FACTS 20

typedef struct {
  SpRuleRow row;
  guint yes, no; /* facts that must hold, and facts that must not */
  SpVerdict verdict;
  SpReasonCode reason;
} SpRuleLine;

/* The table, *n rows; the last asks nothing. (transfer none) */
const SpRuleLine *sp_rule_lines (guint *n);
/* The first row that holds for these facts. (transfer none) */
const SpRuleLine *sp_rule_of_facts (guint facts);
/* Not proven whatever level and limit say: the place is not resolved, or a row after the table withheld what a row of it had decided. */
gboolean sp_rule_withholds (SpRuleRow row);
