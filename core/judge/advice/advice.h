/* advice.h - what would prove what is not proven (private to judging) */
#pragma once

#include "core/judge/sweep/judging.h"

/* advice.c: would_prove of every emission, by its index, after all verdicts (transfer full). The row that left the verdict open gives the first answer; other
 * settings, a notch, or the planned sweep (if nothing was keyed) may give a better one. */
SpReason **sp_judging_prove (const SpJudging *c);

/* advice-row.c: the advice that e->row implies; NULL: settled, or no sweep would help. (transfer full) */
SpReason *sp_judging_prove_by_row (const SpJudging *c, const SpEmission *e);

/* advice-ahead.c: the plan of the whole sweep if nothing was keyed yet but power and frequency are stated; else NULL. (transfer full) */
typedef struct _SpAhead SpAhead;
SpAhead *sp_judging_plan_ahead (const SpJudging *c);
void sp_ahead_free (SpAhead *ahead);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpAhead, sp_ahead_free)
/* The plan's advice for a harmonic that the row wants swept; NULL: none. (transfer full) */
SpReason *sp_judging_prove_ahead (const SpAhead *ahead, const SpEmission *e, const SpReason *by_row);

/* advice-step.c: the attenuation step that would separate radio from analyzer for a seen emission, among the analyzer's steps and the
 * pads at hand: PROVE_STEP, PROVE_STEP_PAD, PROVE_STEP_NOISE. (transfer full) */
SpReason *sp_judging_prove_step (const SpJudging *c, const SpEmission *e);
/* For an emission whose steps show an analyzer product: the upper end of the radio's part, fitted with one more reading at `step_db`
 * more attenuation, if the radio emitted nothing. A line is seen down to detection_dbm. INFINITY: no fit. */
double sp_judging_foreseen_part_dbm (const SpJudging *c, const SpEmission *e, double step_db, double detection_dbm);

/* advice-gap.c: would_close of every gap, by its index (transfer full). Only of the widest: how many are left is a warning. */
SpReason **sp_judging_prove_gaps (const SpJudging *c, GPtrArray *warnings);
