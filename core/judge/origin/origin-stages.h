/* origin-stages.h - whose an emission is, by steps, the unkeyed sweep and the profile (private to judging)
 */
#pragma once

#include "core/judge/judging.h"

/* usable-steps.c: which steps and unkeyed sweeps bear witness: `not_usable`, `carrier_moved_db`, and why not, as warnings. The carrier is the radio's whatever
 * the attenuation. A step that shows less of it, by more than U and what a radio drifts, was none of the analyzer's attenuation (a pad outside
 * whose chain nobody gave, or the radio's power changed) and tests nothing; one that shows up to 3 dB more may mean that the keyed
 * sweep was compressed, unless its mixer level is known to be at its best or below. Where the carriers cannot be compared, the analyzer's own noise must have risen with the step. An unkeyed sweep
 * that shows the carrier was taken with the radio keyed. */
void sp_judging_usable_steps (SpJudging *c);

/* evidence.c: what the steps and the unkeyed sweep say; NULL: nothing. (transfer full) */
SpEvidence *sp_judging_evidence (SpJudging *c, const SpEmission *e);
/* Warnings: of an emission whose verdict is open and that no step tested, why each of them did not. */
void sp_judging_untested_steps (SpJudging *c, const SpEmission *e);

/* carry.c: of an emission that is seen, untested, and whose order the profile has no intercept of: q_high by the step test of another condition, once all
 * have their evidence (hence the second walk of sp_judge). That counts where the analyzer is the same, the fundamental within 10 %, no less signal
 * was at the mixer there, no more than recommended, and no more attenuation before it: an effective intercept. PRODUCT_CARRIED, whose product_dbm it
 * is; NULL: none says anything here. (transfer full) */
SpReason *sp_judging_carry (const SpJudging *c, const SpFindings *all, const SpEmission *e);
/* Once all have their verdicts: a PROVE_STEP that would settle other conditions too names the condition whose step settles most. */
void sp_judgings_share_steps (SpFindings *all, SpJudging *const *judgings);

/* origin.c: whose it is, on what basis, and the radio's part (NaN: no interval), from evidence and prediction. */
typedef struct {
  SpOrigin origin;
  SpOriginBasis basis;
  double radio_low_dbm, radio_high_dbm;
} SpWhose;
SpWhose sp_judging_origin (const SpEmission *e);
/* What stands at an emission's place without the radio leaves of it, where one was seen: amplitude difference and sum, see by_ambient(). FALSE: none. */
gboolean sp_judging_less_ambient (const SpEmission *e, double *low_dbm, double *high_dbm);
