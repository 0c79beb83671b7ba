/* usable-steps.c - which steps and unkeyed sweeps are usable as evidence of an emission's origin */
#include "core/judge/emission/emission-stages.h"
#include "core/judge/origin/origin-stages.h"
#include "core/judge/sweep/sweep-stages.h"

#include <math.h>

#define STEADY_DB 0.5       /* drift of a radio's power between sweeps (common practice, no source) */
#define COMPRESSED_DB 3.0   /* an overloaded input reads at most this much too low (common practice, no source) */
#define TOLD_DB 3.0         /* carriers with more possible sampling loss than this cannot be compared */
#define PAD_DB 1.0          /* difference of a pad from its nominal value (common practice, no source) */
#define STILL_KEYED_DB 20.0 /* no other signal at f0 is this close to the radio's power (common practice, no source) */

static gboolean
is_inside (const SpJudgedSweep *first, const SpJudgedSweep *s)
{
  return s->chain == first->chain;
}

/* TRUE if the two carriers can be compared and agree. A carrier that certainly changed makes the step not usable. A clipped level is
 * only a lower bound. */
static gboolean
carrier_stands (SpJudging *c, const SpJudgedSweep *first, SpJudgedSweep *s, double step_db)
{
  double noise = hypot (first->carrier_noise_u_db, s->carrier_noise_u_db), loss = first->carrier_loss_db + s->carrier_loss_db;
  double expanded = 2 * hypot (noise, sp_judging_differential_u_db (c, first, s, c->out->fundamental_hz));
  double moved = s->carrier_dbm - first->carrier_dbm, chance = expanded + loss;
  double best_dbm = c->analyzer->best_mixer_dbm, most_rise = first->mixer_dbm <= best_dbm ? STEADY_DB : COMPRESSED_DB;
  gboolean fell = moved < -(chance + STEADY_DB) && !s->carrier_clipped, rose = moved > chance + most_rise && !first->carrier_clipped;
  gboolean clipped = s->carrier_clipped || first->carrier_clipped;
  if (fell || rose) {
    s->not_usable = TRUE;
    sp_judging_warn (c,
                     sp_reason (STEP_CARRIER, .file = s->trace->file, .keyed_file = first->trace->file, .carrier_dbm = s->carrier_dbm,
                                .keyed_dbm = first->carrier_dbm, .expanded_db = chance, .step_db = is_inside (first, s) ? step_db : NAN));
  } else if (fabs (moved) > chance && !clipped) {
    s->carrier_moved_db = moved > 0 && first->mixer_dbm > best_dbm ? 0 : fabs (moved); /* 0: explained by compression */
    sp_judging_warn (c, sp_reason (COMPRESSION, .file = s->trace->file, .carrier_dbm = s->carrier_dbm, .keyed_dbm = first->carrier_dbm,
                                   .expanded_db = chance));
  }
  return !s->not_usable && !clipped && loss <= TOLD_DB;
}

/* Checks a sweep used as a step. For a pad outside, the chain's file is the evidence; for the analyzer's attenuator only the trace is:
 * the carrier, or else the noise. */
static void
check_step (SpJudging *c, SpJudgedSweep *s)
{
  const SpJudgedSweep *first = &c->sweeps[MAX (c->keyed_carrier, 0)];
  double step_db = s->attenuation_db - first->attenuation_db, at;
  if (s == first || isnan (step_db) || isnan (c->out->fundamental_hz) || (is_inside (first, s) && fabs (step_db) < SP_SAME_SETTING_DB))
    return;
  gboolean told = first->has_carrier && s->has_carrier && carrier_stands (c, first, s, step_db);
  if (told || s->not_usable || !is_inside (first, s))
    return;
  double over = sp_judging_noise_over_step_db (c, first, s, FALSE, &at);
  if (over < fabs (step_db) / 2)
    return;
  s->not_usable = TRUE;
  if (s->purpose == SP_PURPOSE_STEP) /* a keyed sweep was not taken as a test */
    sp_judging_warn (c, sp_reason (STEP_UNCHECKED, .file = s->trace->file, .step_db = step_db));
}

/* With a chain of its own the step's size comes from that chain; the sheet's number is only checked. */
static void
check_pad (SpJudging *c, const SpJudgedSweep *s)
{
  const SpJudgedSweep *first = &c->sweeps[MAX (c->keyed_carrier, 0)];
  double f0 = c->out->fundamental_hz, temperature = c->bench->temperature_c, stated = c->condition->sweeps[s->out->sweep].step_db;
  if (is_inside (first, s) || isnan (f0))
    return;
  double pad = sp_chain_loss (s->chain, f0, temperature, 0, NULL).loss_db - sp_chain_loss (first->chain, f0, temperature, 0, NULL).loss_db;
  if (fabs (pad - stated) > PAD_DB)
    sp_judging_warn (c, sp_reason (STEP_PAD, .file = s->trace->file, .step_db = stated, .chain_db = pad));
}

static void
check_unkeyed (SpJudging *c, SpJudgedSweep *s)
{
  double f0 = c->out->fundamental_hz, power = c->out->power_dbm;
  if (isnan (f0) || isnan (power) || !sp_judging_holds (s, f0))
    return;
  SpDetection detection = sp_judging_detect (c, s, f0, c->carrier_half_hz, 0);
  s->not_usable = detection.detected && detection.level_dbm > power - STILL_KEYED_DB;
  if (s->not_usable)
    sp_judging_warn (c, sp_reason (UNKEYED_CARRIER, .file = s->trace->file, .carrier_dbm = detection.level_dbm, .power_dbm = power));
}

void
sp_judging_usable_steps (SpJudging *c)
{
  for (guint k = 0; k < c->n_all && c->n > 0; k++) {
    SpJudgedSweep *s = &c->sweeps[k];
    if (s->purpose == SP_PURPOSE_STEP)
      check_pad (c, s);
    if (s->purpose == SP_PURPOSE_UNKEYED)
      check_unkeyed (c, s);
    else if (s->purpose != SP_PURPOSE_NOTCHED) /* a notch's depth is least known at f0 */
      check_step (c, s);
  }
}
