/* world.h - a whole measurement with known truth: radio, chain, analyzer with its errors, sweeps; and the bench that the program gets of it
 *
 * The truth and the papers are two things: the chain's table, the intercepts and every width that the files state are what a user would have;
 * the errors are drawn from them once, and each sweep then carries them. Uses of core: to make traces and a bench, and to judge it.
 */
#pragma once

#include "core/findings/findings.h"
#include "tests/simulate/mixer.h"
#include "tests/simulate/receiver.h"

#define SIM_MAX_SWEEPS 6
#define SIM_MAX_AMBIENT 32
#define SIM_F0 10e6

/* What the files state. Half-widths (rectangular) in dB; u standard. */
typedef struct {
  double accuracy, flatness, scale, repeatability, attenuator_switch;
  double chain_u, intercept_u;
  double intercept_dbm[SIM_ORDERS + 1]; /* NaN: not stated */
  double radio_vswr, pad_vswr;          /* not 1: the radio turns everything back at its harmonics */
} SimPapers;

typedef struct {
  SpPurpose purpose;
  double attenuation_db; /* the analyzer's own */
  double pad_db;         /* outside, more than the keyed sweep's chain: a chain of its own */
  double notch_db;       /* more at f0 than elsewhere, by that chain */
} SimSweep;

typedef struct {
  SimChance chance;
  SimPapers papers;
  SimSettings settings;
  /* the truth */
  double radio_dbm[SIM_ORDERS + 1];     /* at the socket; -INFINITY: none */
  double chain_db[SIM_ORDERS + 1];      /* loss at n f0 */
  double intercept_dbm[SIM_ORDERS + 1]; /* of the mixer; NaN: no such product */
  double noise_dbm_hz;                  /* at the input without attenuation */
  guint n_ambient;
  SimLine ambient[SIM_MAX_AMBIENT]; /* at the analyzer's input, without a pad before it; also while nothing is keyed */
  /* the limit: P - attenuation, or a number */
  double limit_attenuation_db, limit_dbm; /* one of them NaN */
  guint harmonics;
  SpDecisionRule rule;
  /* drawn by sim_world_draw */
  SimMixer mixer;
  double phase[SIM_ORDERS + 1], common_db, flat_db[SIM_ORDERS + 1], chain_error_db[SIM_ORDERS + 1], mismatch_db[SIM_ORDERS + 1];
  /* made */
  guint n_sweeps;
  SimSweep sweep[SIM_MAX_SWEEPS];
  double setting_db[SIM_MAX_SWEEPS][SIM_ORDERS + 1]; /* errors of switch and scale: the same again at the same settings */
  SpTrace *trace[SIM_MAX_SWEEPS];
} SimWorld;

/* An everyday bench: 10 MHz, 37 dBm, 40 dB of pads that lose a little more higher up, 1001 points at half an RBW of 100 kHz, sample detector,
 * harmonics to the 5th with none there, no errors in anything. */
void sim_world_init (SimWorld *world, guint64 seed);
/* Moves the sweep by up to half of everyday spacing (50 kHz) either way, by chance: lines stand anywhere between the points. */
void sim_world_shift (SimWorld *world);
/* The errors, from the papers: call it when the truth and the papers are set. Intercepts of the truth where the papers state one: that, with
 * its u drawn; else they stay as they were set. */
void sim_world_draw (SimWorld *world);
/* Takes a sweep; `purpose` UNKEYED: with the radio silent. */
void sim_world_sweep (SimWorld *world, SimSweep sweep);
/* Judges all of it. Frees nothing of the world. (transfer full) */
SpFindings *sim_world_judge (SimWorld *world);
void sim_world_clear (SimWorld *world);

/* -- truth for comparison -- */
double sim_limit_dbm (const SimWorld *world);
/* The analyzer's own product of an order alone, at the socket, in a sweep of that attenuation and pad (without the radio's harmonics). */
double sim_own_product_dbm (const SimWorld *world, guint order, double attenuation_db, double pad_db);
/* The same from the intercept that the truth holds: where to put a carrier so that the product comes out there. */
double sim_intercept_for (const SimWorld *world, guint order, double attenuation_db, double product_dbm);
/* Mean noise power at the socket at n f0, in the filter. */
double sim_noise_dbm (const SimWorld *world, guint order, double attenuation_db);
/* What all sweeps have in common of errors at n f0: accuracy, flatness, the chain's table, mismatch. */
double sim_common_error_db (const SimWorld *world, guint order);

const SpEmission *sim_emission (const SpFindings *findings, guint order);
