/* rule.h - the decision rule: one ordered table, of which the first row that holds decides
 *
 * Acceptance and rejection with guard bands after JCGM 106:2012, 8.3 (acceptance interval: level <= limit - guard; rejection: level > limit + guard) and
 * ILAC-G8:09/2019, 4.2; the guard is U (guarded rule) or 0 (simple rule). What JCGM 106 takes for granted is asked first: that there is a limit, that
 * the place was swept and resolved, that the chain is calibrated there, that something could have been seen, that what was seen is the radio's.
 * Findings keep the row that decided (SpEmission.row); the workbook prints its formula from the same table.
 */
#pragma once

#include "core/judge/findings.h"

/* What the rows ask. Ends of the radio's part: the level itself where nothing else is known. */
typedef enum {
  SP_FACT_LIMIT = 1 << 0,       /* the mask gives a number there */
  SP_FACT_NEEDS_POWER = 1 << 1, /* it would, were P known */
  SP_FACT_SWEPT = 1 << 2,       /* a sweep holds the place */
  SP_FACT_RESOLVED = 1 << 3,    /* and tells it from what stands beside */
  SP_FACT_REFERRED = 1 << 4,    /* the limit does not follow P, or P is calibrated (or the meter's) */
  SP_FACT_CALIBRATED = 1 << 5,  /* the chain is, there */
  SP_FACT_GROSS = 1 << 6,       /* seen and tested, and the part's lower end is over limit + U + SP_UNCALIBRATED_EXTRA_DB */
  SP_FACT_SEEN = 1 << 7,        /* something was */
  SP_FACT_BLIND = 1 << 8,       /* nothing could have been */
  SP_FACT_FLOOR_BELOW = 1 << 9, /* floor + guard <= limit */
  SP_FACT_OVER = 1 << 10,       /* part's lower end - guard > limit */
  SP_FACT_COARSE = 1 << 11,  /* points too far apart to prove it, or only what a line may have lost between them keeps it from complying */
  SP_FACT_BELOW = 1 << 12,   /* part's upper end + guard <= limit */
  SP_FACT_AMBIENT = 1 << 13, /* origin ambient */
  SP_FACT_AMBIENT_OPEN = 1 << 14, /* what stands there unkeyed leaves it open, by more than U */
  SP_FACT_UNTESTED = 1 << 15,     /* origin untested */
  SP_FACT_RADIO = 1 << 16,        /* origin radio */
  SP_FACT_BOUND_OPEN = 1 << 17    /* read as a bound, and the limit lies between the least and the most that it may be */
} SpRuleFact;
#define SP_N_RULE_FACTS 18

typedef struct {
  SpRuleRow row;
  guint yes, no; /* facts that must hold, and must not */
  SpVerdict verdict;
} SpRuleLine;

/* The table, *n rows; the last asks nothing. (transfer none) */
const SpRuleLine *sp_rule_table (guint *n);
/* The row that decides for these facts (bits of SpRuleFact). */
const SpRuleLine *sp_rule_decide (guint facts);
