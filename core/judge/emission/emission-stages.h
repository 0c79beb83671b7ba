/* emission-stages.h - the emissions of a condition, what repeats and frequencies say of them, signs of overload (private to judging)
 */
#pragma once

#include "core/judge/judging.h"

/* emission.c: harmonics and other spurs, seen or not. */
void sp_judging_emissions (SpJudging *c);
void sp_emission_init (SpEmission *e, guint order, double frequency_hz);
/* The emission as sweep k shows it. */
void sp_judging_fill (SpJudging *c, SpEmission *e, const SpDetection *detection, guint k);

/* harmonic.c */
void sp_judging_harmonic (SpJudging *c, SpEmission *e, guint order);

/* spur.c: what stands off the harmonics, line or band, in any sweep; each is listed once, the highest of what sweeps show of it. (transfer full) of
 * SpEmission, ascending. */
GArray *sp_judging_spurs (SpJudging *c, const GArray *harmonics);
/* Adds what sweep k shows to those found; where another sweep shows it too, within half_hz, the highest over its own carrier stands. */
void sp_judging_add_spur (SpJudging *c, GArray *found, guint k, const SpDetection *detection, double half_hz);

/* rise.c: adds what is wider than the window that sweep k's noise is taken from. */
void sp_judging_rises (SpJudging *c, GArray *found, guint k);

/* repeats.c: mean and type A of sweeps of equal settings, as SpEmission.repeats tells them. */
typedef struct {
  guint n;
  double scatter_db, mean_dbm, u_db;
} SpRepeats;
SpRepeats sp_judging_repeats (const SpJudging *c, const SpEmission *e);
/* Warnings: sweeps that do not agree on an emission whose origin is known by now. */
void sp_judging_agreement (SpJudging *c, const SpEmission *e);

/* overload-checks.c: noise that rises with level and rasters of odd products, as warnings; once all emissions are there. */
void sp_judging_overload_signs (SpJudging *c);
/* How far the noise of the sweep with less attenuation stands over what it should be by the other's, were both the analyzer's own: 0 where it is, the
 * step where noise stands still. Beyond what phase noise explains, or (phase_noise FALSE) altogether. NaN: settings differ, or nobody knows. */
double sp_judging_noise_over_step_db (const SpJudging *c, const SpJudgedSweep *a, const SpJudgedSweep *b, gboolean phase_noise,
                                      double *at_hz);

/* spur-relations.c: what an emission's frequency says it may be, or NULL. (transfer full) */
#define SP_RESIDUAL_OVER_DB 10.0 /* a residual may stand this far over what the profile lists (common practice, no source) */
SpReason *sp_judging_relation (const SpJudging *c, const SpEmission *e);
