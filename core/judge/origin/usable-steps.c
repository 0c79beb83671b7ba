/* usable-steps.c - which steps and unkeyed sweeps are usable as evidence of an emission's origin */
#include "core/judge/emission/emission.h"
#include "core/judge/origin/origin.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

#define STEADY_DB 0.5       /* drift of a radio's power between sweeps (common practice, no source) */
#define COMPRESSED_DB 3.0   /* an overloaded input reads at most this much too low (common practice, no source) */
#define TOLD_DB 3.0         /* carriers with more possible sampling loss than this cannot be compared (common practice, no source) */
#define PAD_DB 1.0          /* difference of a pad from its nominal value (common practice, no source) */
#define STILL_KEYED_DB 20.0 /* no other signal at f0 is this close to the radio's power (common practice, no source) */

static gboolean
is_inside (const SpJudgedSweep *first, const SpJudgedSweep *s)
{
  return s->chain == first->chain;
}

/* By how much one of two sweeps may have lost more of its carrier than the other: the one with less attenuation, unless its mixer level is known to be
 * no higher than the best. */
static double
most_lost_db (const SpJudging *c, const SpJudgedSweep *s, double less_db)
{
  return less_db > 0 && !(s->mixer.dbm <= c->analyzer->best_mixer_dbm) ? COMPRESSED_DB : STEADY_DB;
}

/* Compares the two carriers. One that certainly changed makes the step not usable. A clipped level is only a lower bound. *told: they can be
 * compared and agree. */
static SpUsability
compare_carriers (const SpJudging *c, const SpJudgedSweep *first, const SpJudgedSweep *s, double step_db, gboolean *told,
                  GPtrArray *warnings)
{
  double noise = hypot (first->carrier.noise_u_db, s->carrier.noise_u_db), loss = first->carrier.loss_db + s->carrier.loss_db;
  double expanded = SP_COMPARE_K * hypot (noise, sp_judging_differential_u_db (c, first, s, c->out->fundamental_hz));
  double level = sp_judging_carrier_dbm (s), keyed = sp_judging_carrier_dbm (first), moved = level - keyed, chance = expanded + loss;
  gboolean fell = moved < -(chance + most_lost_db (c, s, -step_db)) && !s->carrier.clipped,
           rose = moved > chance + most_lost_db (c, first, step_db) && !first->carrier.clipped;
  gboolean clipped = s->carrier.clipped || first->carrier.clipped;
  SpUsability use = { .not_usable = fell || rose };
  if (use.not_usable) {
    sp_reasons_add (warnings, sp_reason (STEP_CARRIER, .file = s->trace->file, .keyed_file = first->trace->file, .carrier_dbm = level,
                                         .keyed_dbm = keyed, .expanded_db = chance, .step_db = is_inside (first, s) ? step_db : NAN));
  } else if (fabs (moved) > chance && !clipped) {
    const SpJudgedSweep *lower = moved > 0 ? first : s;
    use.shows_compression = moved * step_db > 0 && lower->mixer.dbm > c->analyzer->best_mixer_dbm;
    use.carrier_moved_db = use.shows_compression ? 0 : fabs (moved);
    sp_reasons_add (warnings, sp_reason (COMPRESSION, .file = s->trace->file, .carrier_dbm = level, .keyed_dbm = keyed,
                                         .expanded_db = chance, .overloaded = use.shows_compression, .moved_db = fabs (moved)));
  }
  *told = !use.not_usable && !clipped && loss <= TOLD_DB;
  return use;
}

/* Checks a sweep used as a step. For a pad outside, the chain's file is the evidence; for the analyzer's attenuator only the trace is:
 * the carrier, or else the noise. */
static SpUsability
check_step (const SpJudging *c, const SpJudgedSweep *s, GPtrArray *warnings)
{
  const SpJudgedSweep *first = &c->sweeps[MAX (c->keyed_carrier, 0)];
  double step_db = s->attenuation_db - first->attenuation_db, at;
  SpUsability use = { 0 };
  gboolean told = FALSE;
  if (s == first || isnan (step_db) || isnan (c->out->fundamental_hz) || (is_inside (first, s) && fabs (step_db) < SP_SAME_SETTING_DB))
    return use;
  if (sp_judging_has_carrier (first) && sp_judging_has_carrier (s))
    use = compare_carriers (c, first, s, step_db, &told, warnings);
  if (told || use.not_usable || !is_inside (first, s))
    return use;
  double over = sp_judging_noise_over_step_db (c, first, s, FALSE, &at);
  if (over < fabs (step_db) / 2)
    return use;
  use.not_usable = TRUE;
  if (s->purpose == SP_PURPOSE_STEP) /* a keyed sweep was not taken as a test */
    sp_reasons_add (warnings, sp_reason (STEP_UNCHECKED, .file = s->trace->file, .step_db = step_db));
  return use;
}

/* With a chain of its own the step's size comes from that chain; the sheet's number is only checked. */
static void
check_pad (const SpJudging *c, const SpJudgedSweep *s, GPtrArray *warnings)
{
  const SpJudgedSweep *first = &c->sweeps[MAX (c->keyed_carrier, 0)];
  double f0 = c->out->fundamental_hz, temperature = c->bench->temperature_c, stated = c->condition->sweeps[s->out->sweep].step_db;
  if (is_inside (first, s) || isnan (f0))
    return;
  double pad = sp_chain_loss (s->chain, f0, temperature, 0, NULL).loss_db - sp_chain_loss (first->chain, f0, temperature, 0, NULL).loss_db;
  if (fabs (pad - stated) > PAD_DB)
    sp_reasons_add (warnings, sp_reason (STEP_PAD, .file = s->trace->file, .step_db = stated, .chain_db = pad));
}

static SpUsability
check_unkeyed (const SpJudging *c, const SpJudgedSweep *s, GPtrArray *warnings)
{
  double f0 = c->out->fundamental_hz, power = c->out->power_dbm;
  if (isnan (f0) || isnan (power) || !sp_judging_holds (s, f0))
    return (SpUsability){ 0 };
  SpDetection detection = sp_judging_detect (c, s, f0, c->carrier_half_hz, 0);
  SpUsability use = { .not_usable = detection.detected && detection.level_dbm > power - STILL_KEYED_DB };
  if (use.not_usable)
    sp_reasons_add (warnings, sp_reason (UNKEYED_CARRIER, .file = s->trace->file, .carrier_dbm = detection.level_dbm, .power_dbm = power));
  return use;
}

SpUsability
sp_judging_usability (const SpJudging *c, const SpJudgedSweep *s, GPtrArray *warnings)
{
  if (s->purpose == SP_PURPOSE_STEP)
    check_pad (c, s, warnings);
  if (s->purpose == SP_PURPOSE_UNKEYED)
    return check_unkeyed (c, s, warnings);
  if (s->purpose == SP_PURPOSE_NOTCHED) /* a notch's depth is least known at f0 */
    return (SpUsability){ 0 };
  return check_step (c, s, warnings);
}
