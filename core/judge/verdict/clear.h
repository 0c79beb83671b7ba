/* clear.h - where a sweep was able to show that nothing stands above the limit, and where not, and why
 */
#pragma once

#include "core/judge/judging.h"

#define SP_CLEAR SP_N_REASONS /* in place of a reason: nothing there stands above the limit, and anything that did would have been seen */

/* A stretch of a sweep within which all points tell the same. */
typedef struct {
  double from_hz, to_hz;                 /* halfway to the points beyond */
  gboolean above;                        /* the trace stands above the limit somewhere in it */
  SpReasonCode why;                      /* SP_CLEAR; or what stands in the way, as SpGap.why */
  double floor_dbm, guard_db, limit_dbm; /* where it misses most; NaN: not a question of levels */
} SpStretch;

/* Of sweep k, wherever the limit has a number, ascending. What belongs to a harmonic is clear: it has a verdict of its own. The floor is that of a spur
 * anywhere in the sweep, and of a band as wide as the carrier's modulation, or as the rule's reference bandwidth. The guard is the U that a level at the
 * floor would have there (JCGM 106, guarded; 0 by the simple rule). (transfer full) of SpStretch. */
GArray *sp_judging_stretches (SpJudging *c, guint k);
