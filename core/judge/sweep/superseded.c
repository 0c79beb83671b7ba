/* superseded.c - levels of sweeps that a re-take superseded */
#include "core/judge/sweep/sweep-stages.h"

#include <math.h>

/* A superseded sweep is kept for display beside the others, so it gets their shift (warm stages, anchoring): that of the sweep P is
 * based on. It is not judged: no noise, no floor. */
static void
correct_old (const SpJudging *c, const SpSweep *sweep, SpCorrected *out)
{
  double shift_db = c->keyed_carrier >= 0 ? c->sweeps[c->keyed_carrier].shift_db : 0;
  sp_judging_correct_levels (c, sweep->chain ? sweep->chain : c->chain, sweep->trace, out);
  for (guint64 i = 0; shift_db != 0 && i < out->n; i++)
    out->level_dbm[i] += shift_db;
  out->threshold_db = out->detection_db = out->loss_between_db = NAN;
}

void
sp_judging_superseded (SpJudging *c)
{
  const SpCondition *condition = c->condition;
  SpConditionFindings *out = c->out;
  out->superseded = g_new0 (SpCorrected, condition->n_sweeps + 1);
  for (guint i = 0; i < condition->n_sweeps; i++)
    if (condition->sweeps[i].purpose == SP_PURPOSE_SUPERSEDED) {
      out->superseded[out->n_superseded].sweep = i;
      correct_old (c, &condition->sweeps[i], &out->superseded[out->n_superseded++]);
    }
}
