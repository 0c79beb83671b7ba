/* advice-stages.h - what would prove what is not proven (private to judging)
 */
#pragma once

#include "core/judge/judging.h"

/* advice.c: e->would_prove of every emission, once all have their verdicts: by the row that left it open, or better by other settings, a notch, or the
 * whole sweep where nothing was keyed yet. */
void sp_judging_prove (SpJudging *c);

/* advice-row.c: as far as e->row tells; NULL: settled, or nothing that a sweep could do. (transfer full) */
SpReason *sp_judging_row_proof (const SpJudging *c, const SpEmission *e);

/* advice-ahead.c: the plan of the whole sweep where nothing was keyed yet, but power and frequency are stated; else NULL. (transfer full) */
typedef struct _SpAhead SpAhead;
SpAhead *sp_judging_plan_ahead (const SpJudging *c);
void sp_ahead_free (SpAhead *ahead);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpAhead, sp_ahead_free)
/* What it says of a harmonic that the row wants swept; NULL: nothing. (transfer full) */
SpReason *sp_judging_prove_ahead (const SpAhead *ahead, const SpEmission *e, const SpReason *by_row);

/* advice-step.c: the step of attenuation that would tell whose a seen emission is, of those that the analyzer or the pads at hand have: PROVE_STEP,
 * PROVE_STEP_PAD, PROVE_STEP_NOISE. (transfer full) */
SpReason *sp_judging_prove_step (const SpJudging *c, const SpEmission *e);
/* Of one whose steps show the analyzer's own: the upper end of the radio's part by the fit with one more reading, `step_db` more attenuation, where a
 * line is found down to detection_dbm, were the radio to emit nothing there. INFINITY: no fit. */
double sp_judging_foreseen_part_dbm (const SpJudging *c, const SpEmission *e, double step_db, double detection_dbm);

/* advice-gap.c: what would close them; gap->would_close. */
void sp_judging_prove_gaps (SpJudging *c);
