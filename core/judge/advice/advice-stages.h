/* advice-stages.h - what would prove what is not proven (private to judging)
 */
#pragma once

#include "core/judge/judging.h"

/* advice.c: what of other settings, or a notch, would prove, where one was not proven. */
void sp_judging_prove (SpJudging *c);

/* advice-ahead.c: the whole sweep where nothing was keyed yet, but power and frequency are stated. */
void sp_judging_prove_ahead (SpJudging *c);

/* advice-step.c: the step of attenuation that would tell whose a seen emission is, of those that the analyzer or the pads at hand have: PROVE_STEP,
 * PROVE_STEP_PAD, PROVE_STEP_NOISE. (transfer full) */
SpReason *sp_judging_prove_step (const SpJudging *c, const SpEmission *e);
/* Of one whose steps show the analyzer's own: the upper end of the radio's part by the fit with one more reading, `step_db` more attenuation, where a
 * line is found down to detection_dbm, were the radio to emit nothing there. INFINITY: no fit. */
double sp_judging_foreseen_part_dbm (const SpJudging *c, const SpEmission *e, double step_db, double detection_dbm);

/* advice-gap.c: what would close them; gap->would_close. */
void sp_judging_prove_gaps (SpJudging *c);
