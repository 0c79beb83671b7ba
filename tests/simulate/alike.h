/* alike.h - what two judgings of nearly the same bench have in common, and how a failure is told */
#pragma once

#include "core/findings/findings.h"

/* Nothing listed is as good as all that is listed complying. */
SpVerdict sim_rank (const SpConditionFindings *found);
/* The finding that is this one in another judging: its order's, else the nearest within reach_hz and the bands' own width. NULL. */
const SpEmission *sim_same_emission (const SpConditionFindings *in, const SpEmission *e, double reach_hz);
/* Just over its threshold: with other noise, or a floor that is another by floor_db, it may not be seen. */
gboolean sim_at_threshold (const SpEmission *e, double floor_db);

/* The same verdict, and each emission of `a` in `b`, as far as they may differ: levels seen, floors (0: to the last bit; then verdicts at
 * an edge count too). What lies within reach_hz of cut_hz is not asked. What differs is appended to `why`. */
typedef struct {
  double seen_db, floor_db, cut_hz, reach_hz;
} SimLeave;
gboolean sim_alike (const SpConditionFindings *a, const SpConditionFindings *b, const SimLeave *leave, GString *why);

void sim_tell_emission (GString *why, const char *when, const SpEmission *e); /* NULL: not listed */
void sim_tell_gaps (GString *why, const char *when, const SpConditionFindings *found);
