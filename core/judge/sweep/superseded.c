/* superseded.c - levels of sweeps that a re-take superseded */
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* A superseded sweep is not judged: no noise, no floor. */
SpCorrected
sp_judging_superseded (const SpJudging *c, guint sweep)
{
  const SpSweep *old = &c->condition->sweeps[sweep];
  double shift_db = c->keyed_carrier >= 0 ? c->sweeps[c->keyed_carrier].shift_db : 0;
  SpCorrected out = { .sweep = sweep };
  sp_judging_correct_levels (c, old->chain ? old->chain : c->chain, old->trace, &out);
  for (guint64 i = 0; shift_db != 0 && i < out.n; i++)
    out.level_dbm[i] += shift_db;
  out.threshold_db = out.detection_db = out.loss_between_db = NAN;
  return out;
}
