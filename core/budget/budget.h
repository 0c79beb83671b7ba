/* budget.h - the uncertainty budget of a level at the socket: every term, what it does to the level, to P, to their difference and to the margin
 *
 * From plain arguments, so that planning can ask before there is a sweep and judging after. In dBm all terms enter once. In dBc, within one
 * sweep or sweeps of equal settings, the absolute accuracy and the correlated parts of the chain cancel, flatness enters for both
 * frequencies; across different attenuator or RBW settings the switching terms enter (core/docs/computation.md, section 13). A check source
 * that drifted counts once, one-sided; in dBc it cancels within one sweep, and stays between two: they were taken at different times.
 *
 * What a line between two points may have lost ("sampling") makes the level higher than it was read, never lower. So the margin has two U: the whole
 * one, expanded_margin_db, which holds it, for *complies*; and expanded_margin_low_db, without the level's share of it, for *exceeds*: how far the
 * level may lie *below* what was read. They are the same to the last bit where nothing may have been lost. Of P the loss stays in both: a P that is
 * higher than read lifts the limit. Whatever else only bounds a level from below goes the same way: give it as SpBudgetReadings.loss_db.
 *
 * What the analyzer itself makes stands in the same filter as the radio's part, in a phase that nobody knows: |r + q e^(j phi)| for r moves the level, and
 * its dBc, by up to 20 lg (1 + q/level) ("product", U-shaped: common practice; tests/simulate/product). It is no term of the margin: a verdict goes by the ends of
 * the radio's own part (SpEmission.radio_low_dbm, radio_high_dbm), which hold that very phase; in U it would count twice. So margin +- U is not what
 * an emission complies or exceeds by where such a term stands: the ends +- U are.
 *
 * No term for repeats: of sweeps of equal settings the worst stands, not their mean, and their scatter is the noise and the repeatability that are
 * here already. Their mean and type A stand beside the finding (SpEmission.repeat_u_db).
 */
#pragma once

#include "core/bench/bench.h"

typedef enum { SP_DISTRIBUTION_NORMAL, SP_DISTRIBUTION_RECTANGULAR, SP_DISTRIBUTION_U_SHAPED, SP_DISTRIBUTION_ONE_SIDED } SpDistribution;

/* One line of an uncertainty budget. A source acts on the emission's level, on P, and on their difference; from the three the margin's
 * share follows: u^2(margin) = u^2(level) + k^2 u^2(P) - 2 k cov, cov = (u^2(level) + u^2(P) - u^2(dBc))/2, k = the limit's slope with P.
 * All quantities are decibels that add to the level, so every sensitivity is 1 and a contribution is the u of its column. */
typedef struct {
  const char *name; /* stable: "accuracy" "flatness" "scale" "repeatability" "chain" "common" "temperature" "self-heating" "mismatch-inner"
                            "mismatch-radio" "mismatch-analyzer" "noise" "sampling" "product" "attenuator-switch" "rbw-switch" "check-drift" "repeats" (of P) "meter" */
  SpDistribution distribution;
  double u_level_db;  /* on the level in dBm */
  double u_power_db;  /* on P */
  double u_dbc_db;    /* on the level in dBc */
  double u_margin_db; /* on the margin */
  double dof;         /* of the level's share; INFINITY: type B */
  gboolean assumed;   /* nobody stated it, or not all that went into it: common practice */
  /* for the eye */
  double estimate_db;     /* best value of the quantity itself: the chain's loss; 0 for a correction that is not applied */
  double width_db;        /* as stated, before the divisor: half-width, expanded or standard; of the column that it acts on */
  double divisor;         /* sqrt 3, sqrt 2, 2 or 1: u = width / divisor */
  const char *source;     /* stable: "profile" "chain" "radio" "sweep" "check" "meter" "step" */
  int side;               /* one-sided: 1 the level is as estimated or higher, -1 or lower; 0 otherwise */
  gboolean by_part;       /* "product": none of the margin's, for the ends of the radio's part hold it */
  gboolean lifts;         /* a bound of the reading itself, "sampling": no reason to take the level for lower than read */
  double u_margin_low_db; /* on the margin, of what may put the level lower than read: u_margin_db, but for "sampling" P's share alone */
  guint first_pair, n_level_pairs,
      n_power_pairs; /* U-shaped: the level's pairs of reflections in SpBudget.pair_u_db, and behind them P's; none kept: 0 */
  double dof_power, dof_dbc,
      dof_margin; /* of the other columns: P's own; where two frequencies enter, Welch-Satterthwaite of their two shares */
  const char *
      assumed_stage; /* of "temperature" and "self-heating" that are assumed: the stage that brings most of it, by the chain's own string; else NULL */
} SpTerm;

typedef struct {
  guint n;
  SpTerm *terms;           /* g_free; pair_u_db goes with it */
  const double *pair_u_db; /* each pair of reflections for itself, dB: for draws, which give each its own phase */
  double u_level_db, k_level, dof_level,
      expanded_level_db; /* dof truncated to a whole number, INFINITY; k = Student's at 95.45 %; U = k u */
  double u_power_db, k_power, dof_power, expanded_power_db;
  double u_dbc_db, k_dbc, dof_dbc, expanded_dbc_db;
  double u_margin_db, k_margin, dof_margin, expanded_margin_db;
  double u_margin_low_db, k_margin_low, dof_margin_low, expanded_margin_low_db; /* of u_margin_low_db: what *exceeds* goes by */
} SpBudget;

typedef enum { SP_BUDGET_LEVEL, SP_BUDGET_POWER, SP_BUDGET_DBC, SP_BUDGET_MARGIN, SP_BUDGET_COLUMNS } SpBudgetColumn;
typedef struct {
  double u_db, k, dof, expanded_db;
} SpSum;
SpSum sp_budget_sum (const SpBudget *budget, SpBudgetColumn column);
double sp_term_u_db (const SpTerm *term, SpBudgetColumn column);
double sp_term_dof (const SpTerm *term, SpBudgetColumn column);
/* It acts on the level and on P, and on their difference not at all: the same in both. */
gboolean sp_term_cancels (const SpTerm *term);
const char *sp_budget_column_name (SpBudgetColumn column); /* "level" "power" "dbc" "margin" */

typedef enum {
  SP_METER_NOT_USED, /* P is the sweep's own */
  SP_METER_SHIFTS,   /* P is the meter's, and all levels were shifted to it: a level is the meter's plus a dBc */
  SP_METER_ALONE     /* P is the meter's, the levels were not shifted: they share nothing with it */
} SpMeterPart;

/* What a budget is worked out for. */
typedef struct {
  const SpChain *chain;
  const SpChain *carrier_chain; /* that P was read through; NULL: the same */
  const SpAnalyzer *analyzer;
  double temperature_c;                      /* NaN: that of the calibration */
  double average_w;                          /* out of the radio, duty counted; 0: no self-heating */
  double radio_vswr, radio_harmonic_vswr;    /* NaN: SP_VSWR_ASSUMED at f0, all turned back elsewhere */
  double fundamental_hz;                     /* NaN: not known; then P and dBc hold only what does not depend on it */
  gboolean attenuation_differs, rbw_differs; /* from the sweep that P stands on */
  gboolean sweep_differs;                    /* another sweep than the one P stands on: what drifts in time does not cancel */
  double drift_u_db;                         /* sp_bench_drift_u_db with the drift's sign; 0: the check source was not read twice */
  SpMeterPart meter;
  double meter_u_db; /* standard; counts where the meter is used */
  gboolean meter_assumed;
} SpBudgetView;

/* What the readings themselves add: noise on them, and the width of what sampling may have lost (one-sided: the level is as read or by up to so much
 * higher). 0 where there is none. */
typedef struct {
  double noise_u_db, carrier_noise_u_db;
  double loss_db, carrier_loss_db;
  double power_repeat_u_db,
      power_repeat_dof;     /* of P, where it is the mean of several sweeps' carriers (type A), or they differ; dof 0: type B */
  double product_db;        /* half-width of what the analyzer's own product makes of the level; 0: none, or far below */
  gboolean product_by_step; /* a step test says so, not the profile */
} SpBudgetReadings;

/* The whole budget of a level at frequency_hz; slope as SpLimit.slope. (out->terms transfer full) */
void sp_budget (const SpBudgetView *view, double frequency_hz, const SpBudgetReadings *readings, double slope, SpBudget *out);

/* drift_u_db of a view on this bench. */
double sp_budget_drift_u_db (const SpBench *bench);

/* All columns NaN, no terms: nothing was swept. */
void sp_budget_none (SpBudget *out);

/* The whole budget of P: read from a sweep, at fundamental_hz, or where the view uses a meter that one term. The level is P here, dBc and margin
 * are 0. (out->terms transfer full) */
void sp_budget_power (const SpBudgetView *view, const SpBudgetReadings *readings, SpBudget *out);

/* Standard uncertainty of a level that would stand at frequency_hz, without noise; at_fundamental: the radio reflects as stated for f0. */
double sp_budget_level_u (const SpBudgetView *view, double frequency_hz, gboolean at_fundamental);

/* Student's coverage factor at 95.45 %: sp_student_k (core/quantity/coverage.h). */
double sp_coverage_factor (double dof);
/* T_dof (t): probability below t. */
double sp_student_below (double t, double dof);

const char *sp_distribution_name (SpDistribution distribution); /* "normal" "rectangular" "U-shaped" "one-sided" */
