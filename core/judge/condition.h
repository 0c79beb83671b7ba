/* condition.h - one condition at work: what the functions of judging see of it, and where judge.c and sweeps.c put what they find (private to both) */
#pragma once

#include "core/judge/sweep/judging.h"

typedef struct {
  SpJudging judging;        /* all that they get */
  SpConditionFindings *out; /* the same as seen.out, to be filled */
  SpJudgedSweep *sweeps;    /* likewise */
  GArray *climbs;
  SpReason *no_carrier;
  guint8 *warned; /* for each sweep: a warning told why it tested no emission */
} SpConditionWork;

/* sweeps.c: takes the condition's sweeps in, and each through the functions of core/judge/sweep. Fills the findings up to their emissions. */
void sp_condition_take_sweeps (SpConditionWork *w);
void sp_condition_find_power (SpConditionWork *w);
void sp_condition_find_floors (SpConditionWork *w);
void sp_condition_work_free (SpConditionWork *w);
