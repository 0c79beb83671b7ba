/* origin.h - the origin of an emission, from steps, the unkeyed sweep and the profile (private to judging) */
#pragma once

#include "core/judge/sweep/judging.h"

/* usable-steps.c: the use of one sweep as evidence. Needs a keyed sweep. The carrier, at the socket, must not depend on the attenuation.
 * - It fell by more than U + drift: not usable (a pad without a chain, or the radio's power changed).
 * - It rose by up to 3 dB: the keyed sweep may have been compressed, unless its mixer level is known to be at its best or below;
 * usable. It rose by more: not usable.
 * - Carriers not comparable: usable only if the analyzer's own noise followed the step by more than half.
 * - An unkeyed sweep that shows the carrier was taken with the radio keyed: not usable. */
SpUsability sp_judging_usability (const SpJudging *c, const SpJudgedSweep *s, GPtrArray *warnings);

/* evidence.c: result of the steps and the unkeyed sweep; NULL: none. (transfer full) */
SpEvidence *sp_judging_evidence (const SpJudging *c, const SpEmission *e, GPtrArray *warnings);
/* For an emission with an open verdict and no step test: adds a warning for each step that did not test it, once a step: told[k] is set for
 * sweep k. */
void sp_judging_untested_steps (const SpJudging *c, const SpEmission *e, guint8 *told, GPtrArray *warnings);

/* carry.c: q_high from another condition's step test, for a seen, untested emission whose order the profile has no intercept for.
 * Needs all evidence (hence the second loop of sp_judge).
 * Conditions: the same analyzer; the fundamental within 10 %; in that test no less signal at the mixer, no more than recommended, and
 * no more attenuation before it. The result is an effective intercept: PRODUCT_CARRIED, which holds product_dbm.
 * NULL: no test applies. (transfer full) */
SpReason *sp_judging_carry (const SpJudging *c, const SpFindings *all, const SpEmission *e);
/* After all verdicts: where a PROVE_STEP would settle other conditions too, the advice that names the condition whose step settles most.
 * (transfer full) of SpSharedStep */
typedef struct {
  guint condition, emission;
  SpReason *would_prove; /* (transfer full) */
} SpSharedStep;
GArray *sp_judgings_share_steps (const SpFindings *all, const SpJudging *const *judgings);

/* origin.c: the origin, its basis, and the radio's part (NaN: no interval), from evidence and prediction. */
typedef struct {
  SpOrigin origin;
  SpOriginBasis basis;
  double radio_low_dbm, radio_high_dbm;
} SpWhose;
SpWhose sp_judging_origin (const SpEmission *e);
/* The emission without the ambient signal, if one was seen: amplitude difference and sum, see with_ambient(). FALSE: none was seen. */
gboolean sp_judging_less_ambient (const SpEmission *e, double *low_dbm, double *high_dbm);
