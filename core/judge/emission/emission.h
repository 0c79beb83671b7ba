/* emission.h - the emissions of a condition, their repeats and frequency relations, signs of overload (private to judging) */
#pragma once

#include "core/judge/sweep/sweep.h"

/* More spurs are counted in a warning, not listed: such a trace is not a spectrum of spurs; bounds time */
#define SP_MAX_SPURS 500

/* Noise that climbs towards the carrier beyond the profile's prediction. Its origin, and its power nearer the carrier, are unknown. */
typedef struct {
  double from_hz, to_hz, power_dbm; /* its total power outside the sweep's zone, on one side */
} SpClimb;

/* emission.c: harmonics and other spurs, seen or not, without relation and evidence; and the climbs (SpClimb) of the noise towards the carrier.
 * (transfer full) of SpEmission */
GArray *sp_judging_emissions (const SpJudging *c, GArray *climbs, GPtrArray *warnings);
void sp_emission_init (SpEmission *e, guint order, double frequency_hz);
/* Fills the emission from its detection in sweep k. */
void sp_judging_fill (const SpJudging *c, SpEmission *e, const SpDetection *detection, guint k, GPtrArray *warnings);

/* harmonic.c */
SpEmission sp_judging_harmonic (const SpJudging *c, guint order, GPtrArray *warnings);

/* spur.c: lines and bands off the harmonics in any sweep. Each is listed once, at the highest level that the sweeps show. (transfer
 * full) of SpEmission, ascending. */
GArray *sp_judging_spurs (const SpJudging *c, const GArray *harmonics, GArray *climbs, GPtrArray *warnings);
/* The search from sweep to sweep. */
typedef struct {
  GArray *found, *climbs; /* SpEmission, SpClimb */
  GPtrArray *warnings;
} SpSpurSearch;
/* Adds a detection of sweep k to those found. If another sweep shows it too, within half_hz, the one highest over its own carrier is
 * kept. */
void sp_judging_add_spur (const SpJudging *c, SpSpurSearch *search, guint k, const SpDetection *detection, double half_hz);

/* rise.c: adds emissions wider than the window that sweep k's noise is measured in, and the climbs. */
void sp_judging_rises (const SpJudging *c, SpSpurSearch *search, guint k);

/* repeats.c: mean and type A of sweeps with equal settings, as in SpEmission.repeats. */
typedef struct {
  guint n;
  double scatter_db, mean_dbm, u_db;
} SpRepeats;
SpRepeats sp_judging_repeats (const SpJudging *c, const SpEmission *e);
/* Adds a warning for sweeps that disagree on an emission whose origin is known. */
void sp_judging_agreement (const SpJudging *c, const SpEmission *e, GPtrArray *warnings);

/* overload-checks.c: adds warnings for noise that rises with level and for rasters of odd products; needs all emissions. */
void sp_judging_overload_signs (const SpJudging *c, GPtrArray *warnings);
/* Noise of the sweep with less attenuation over its expected level from the other sweep, if both are the analyzer's noise: 0 if it
 * follows the step, the step if the noise does not change. Phase noise is subtracted unless phase_noise is FALSE. NaN: settings
 * differ, or not known. */
double sp_judging_noise_over_step_db (const SpJudging *c, const SpJudgedSweep *a, const SpJudgedSweep *b, gboolean phase_noise,
                                      double *at_hz);

/* spur-relations.c: the relation that an emission's frequency suggests, or NULL. (transfer full) */
/* A residual may be this far over the profile's level for it (common practice, no source) */
#define SP_RESIDUAL_OVER_DB 10.0
SpReason *sp_judging_relation (const SpJudging *c, const SpEmission *e);
