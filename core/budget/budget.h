/* budget.h - the uncertainty budget of a level at the socket: each term's share of the level, of P, of their difference and of the
 * margin
 *
 * Takes plain arguments, so that planning can use it before there is a sweep. In dBm every term counts once. In dBc, within one sweep
 * or sweeps of equal settings, absolute accuracy and the correlated parts of the chain cancel, and flatness counts for both
 * frequencies. Between different attenuator or RBW settings the switching terms count (core/docs/computation.md, section 13). Drift of
 * a check source counts once, one-sided; in dBc it cancels within one sweep but not between two, taken at different times.
 *
 * A line's possible loss between two points ("sampling") can only make the level higher than read. So the margin has two U:
 * expanded_margin_db, with the loss, for *complies*; expanded_margin_low_db, without the level's share of it, for *exceeds*. They are
 * bit-identical if nothing may be lost. P's loss is in both: a higher P raises the limit. Any other lower bound of a level is given
 * the same way, as SpBudgetReadings.loss_db.
 *
 * The analyzer's product adds to the radio's part in the same filter with unknown phase: |r + q e^(j phi)| moves the level and its dBc
 * by up to 20 lg (1 + q/level) ("product", U-shaped: common practice; tests/simulate/product). It is no term of the margin: the
 * verdict uses the ends of the radio's part (SpEmission.radio_low_dbm, radio_high_dbm), which include that phase; in U it would count
 * twice. With such a term, compare the ends +- U with the limit, not margin +- U.
 *
 * Repeats of an emission have no term: of sweeps with equal settings the worst counts, not the mean, and their scatter is already in noise and
 * repeatability. Their mean and type A are in the finding (SpEmission.repeat_u_db).
 */
#pragma once

#include "core/bench/bench.h"
#include "core/quantity/coverage.h"

/* What a term stands for (core/docs/computation.md, section 13); REPEATS and METER are P's. */
typedef enum {
  SP_TERM_ACCURACY,
  SP_TERM_FLATNESS,
  SP_TERM_CORRECTION, /* of the amplitude correction that a check gave, in place of accuracy and flatness */
  SP_TERM_SCALE,
  SP_TERM_REPEATABILITY,
  SP_TERM_CHAIN,
  SP_TERM_COMMON,
  SP_TERM_TEMPERATURE,
  SP_TERM_SELF_HEATING,
  SP_TERM_MISMATCH_INNER,
  SP_TERM_MISMATCH_RADIO,
  SP_TERM_MISMATCH_ANALYZER,
  SP_TERM_NOISE,
  SP_TERM_REPEATS,
  SP_TERM_SAMPLING,
  SP_TERM_PRODUCT,
  SP_TERM_ATTENUATOR_SWITCH,
  SP_TERM_RBW_SWITCH,
  SP_TERM_CHECK_DRIFT,
  SP_TERM_METER,
  SP_N_TERMS
} SpTermKind;

/* Who states it; from RUN on, of a stage of the chain. */
typedef enum {
  SP_BUDGET_FROM_PROFILE,
  SP_BUDGET_FROM_CHAIN,
  SP_BUDGET_FROM_RADIO,
  SP_BUDGET_FROM_SWEEP,
  SP_BUDGET_FROM_CHECK,
  SP_BUDGET_FROM_METER,
  SP_BUDGET_FROM_STEP,
  SP_BUDGET_FROM_RUN,
  SP_BUDGET_FROM_POINTS,
  SP_BUDGET_FROM_TOUCHSTONE,
  SP_BUDGET_FROM_LABEL,
  SP_BUDGET_FROM_NOTHING,
  SP_N_BUDGET_SOURCES
} SpBudgetSource;

/* One line of an uncertainty budget. A source changes the emission's level, P, and their difference; the margin's share follows:
 * u^2(margin) = u^2(level) + c^2 u^2(P) - 2 c cov, cov = (u^2(level) + u^2(P) - u^2(dBc))/2, c = slope of the limit with P. All
 * quantities are decibels added to the level: every sensitivity is 1, and a contribution is the u of its column. */
typedef struct {
  SpTermKind kind;
  SpDistribution distribution;
  double u_level_db;  /* share of the level in dBm */
  double u_power_db;  /* share of P */
  double u_dbc_db;    /* share of the level in dBc */
  double u_margin_db; /* share of the margin */
  double dof;         /* of the level's share; INFINITY: type B */
  gboolean assumed;   /* common practice: not stated, or not fully */
  /* For display. */
  double estimate_db; /* best value of the quantity: the chain's loss; 0 for a correction that is not applied */
  /* As stated, before the divisor: half-width, expanded or standard; for the column that it contributes to */
  double width_db;
  double divisor; /* sqrt 3, sqrt 2, 2 or 1: u = width / divisor */
  SpBudgetSource source;
  int side;         /* one-sided: 1 the level is as estimated or higher, -1 or lower; 0 otherwise */
  gboolean by_part; /* "product": not in the margin, since the ends of the radio's part include it */
  gboolean lifts;   /* "sampling": can only raise the level, so it is no reason for a lower one */
  /* Share of the margin for a level lower than read: u_margin_db, but for "sampling" only P's share */
  double u_margin_low_db;
  /* U-shaped: number of the level's pairs of reflections in SpBudget.pair_u_db, followed by P's; 0: none kept */
  guint first_pair, n_level_pairs, n_power_pairs;
  /* For the other columns: P's own; with two frequencies, Welch-Satterthwaite of their two shares */
  double dof_power, dof_dbc, dof_margin;
  /* For assumed "temperature" and "self-heating": the stage with the largest share, as the chain's own string; else NULL */
  const char *assumed_stage;
} SpTerm;

typedef struct {
  guint n;
  SpTerm *terms; /* g_free; frees pair_u_db too */
  /* Each pair of reflections, dB: draws give each its own phase */
  const double *pair_u_db;
  /* dof truncated to a whole number, INFINITY; k = Student's at 95.45 %; U = k u */
  double u_level_db, k_level, dof_level, expanded_level_db;
  double u_power_db, k_power, dof_power, expanded_power_db;
  double u_dbc_db, k_dbc, dof_dbc, expanded_dbc_db;
  double u_margin_db, k_margin, dof_margin, expanded_margin_db;
  double u_margin_low_db, k_margin_low, dof_margin_low, expanded_margin_low_db; /* of u_margin_low_db: used for *exceeds* */
} SpBudget;

typedef enum { SP_BUDGET_LEVEL, SP_BUDGET_POWER, SP_BUDGET_DBC, SP_BUDGET_MARGIN, SP_BUDGET_COLUMNS } SpBudgetColumn;
typedef struct {
  double u_db, k, dof, expanded_db;
} SpSum;
SpSum sp_budget_sum (const SpBudget *budget, SpBudgetColumn column);
double sp_term_u_db (const SpTerm *term, SpBudgetColumn column);
double sp_term_dof (const SpTerm *term, SpBudgetColumn column);
/* TRUE if it changes level and P equally, so that it cancels in their difference. */
gboolean sp_term_cancels (const SpTerm *term);
const char *sp_budget_column_name (SpBudgetColumn column); /* "level" "power" "dbc" "margin" */

typedef enum {
  SP_METER_NOT_USED, /* P is the sweep's */
  /* P is the meter's and all levels were shifted to it: a level is the meter's plus a dBc */
  SP_METER_SHIFTS,
  SP_METER_ALONE /* P is the meter's, the levels were not shifted and share nothing with it */
} SpMeterPart;

/* The measurement that a budget is for. */
typedef struct {
  const SpChain *chain;
  const SpChain *carrier_chain; /* chain of the sweep that P comes from; NULL: the same */
  const SpAnalyzer *analyzer;
  double temperature_c; /* NaN: calibration temperature */
  double average_w;     /* average power of the radio, with its duty; 0: no self-heating */
  /* NaN: SP_VSWR_ASSUMED at f0, total reflection elsewhere */
  double radio_vswr, radio_harmonic_vswr;
  /* NaN: not known; then P and dBc contain only terms independent of it */
  double fundamental_hz;
  gboolean attenuation_differs, rbw_differs; /* from the sweep that P comes from */
  gboolean sweep_differs;                    /* not the sweep that P comes from: drift does not cancel */
  /* sp_bench_drift_u_db with the drift's sign; 0: the check source was not read twice */
  double drift_u_db;
  SpMeterPart meter;
  double meter_u_db; /* standard; used with a meter only */
  gboolean meter_assumed;
} SpBudgetView;

/* Terms of the readings: noise, and the width of the possible sampling loss (one-sided: the level is as read, or higher by up to
 * this). 0: none. */
typedef struct {
  double noise_u_db, carrier_noise_u_db;
  double loss_db, carrier_loss_db;
  /* Of P: of the mean of several sweeps' carriers (type A), or they differ; in an emission's budget, of the radio's power while its sweep ran, where
   * that is told by other sweeps. dof 0: type B */
  double power_repeat_u_db, power_repeat_dof;
  /* Half-width of the level's error by the analyzer's product; 0: none, or negligible */
  double product_db;
  gboolean product_by_step; /* from a step test, not from the profile */
} SpBudgetReadings;

/* The budget of a level at frequency_hz; slope as SpLimit.slope. (out->terms transfer full) */
void sp_budget (const SpBudgetView *view, double frequency_hz, const SpBudgetReadings *readings, double slope, SpBudget *out);

/* drift_u_db for a view of this bench. */
double sp_budget_drift_u_db (const SpBench *bench);

/* All columns NaN, no terms: not swept. */
void sp_budget_none (SpBudget *out);

/* The budget of P at fundamental_hz: from a sweep, or the meter's one term if the view uses a meter. The level is P here; dBc and
 * margin are 0. (out->terms transfer full) */
void sp_budget_power (const SpBudgetView *view, const SpBudgetReadings *readings, SpBudget *out);

/* Uncertainty of a possible level at frequency_hz, without noise; at_fundamental: the radio's reflection is that stated for f0. */
SpSum sp_budget_level (const SpBudgetView *view, double frequency_hz, gboolean at_fundamental);

/* T_dof (t): probability below t. */
double sp_student_below (double t, double dof);

/* The stable names of the outputs: "accuracy" "self-heating" "mismatch-inner" "rbw-switch"; "profile" "chain" "nothing". */
const char *sp_term_name (SpTermKind kind);
const char *sp_budget_source_name (SpBudgetSource source);
