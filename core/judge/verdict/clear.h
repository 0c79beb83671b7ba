/* clear.h - the ranges of a sweep that are clear, above the limit, or not visible, and why */
#pragma once

#include "core/judge/sweep/judging.h"

/* Not a reason: nothing is above the limit there, and any such emission would have been seen */
#define SP_CLEAR SP_N_REASONS

/* A range of a sweep in which all points have the same state. */
typedef struct {
  double from_hz, to_hz;                 /* ends halfway to the next points outside */
  gboolean above;                        /* a point of it is above the limit */
  SpReasonCode why;                      /* SP_CLEAR, or the obstacle, as SpGap.why */
  double floor_dbm, guard_db, limit_dbm; /* at its worst point; NaN: the obstacle is not a level */
} SpStretch;

/* The stretches of sweep k, ascending, wherever the limit is numeric. A harmonic's window counts as clear: it has its own verdict.
 * (transfer full) of SpStretch.
 * The floor is that of a spur anywhere in the sweep, or of a band as wide as the carrier's modulation or the rule's reference
 * bandwidth. The guard is the U of a level at the floor (JCGM 106, guarded; 0 by the simple rule). */
GArray *sp_judging_stretches (const SpJudging *c, guint k);
