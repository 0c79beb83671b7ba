/* step.h - splits an emission's readings at several attenuations into the radio's part and the analyzer's product (private to the
 * folder)
 *
 * Model (core/docs/computation.md, section 10): reading k, at the socket, is |r + q 10^(shift_k/20) e^(j phi)|; shift_k is how far the
 * analyzer's product of order m moves from reading 0 to reading k.
 * Prior: r and q uniform in dB within SP_STEP_RANGE_DB of each other where q is greatest (a notched reading 0 may have lowered it
 * far); phi uniform, since it is unknown; q at most q_most_dbm.
 * Readings are normal with u_db each; an unseen reading only says that the level is below its threshold. Errors common to all readings
 * (absolute accuracy, the chain at f) shift r and q alike and belong to the budget.
 *
 * The level of the greater part is integrated in closed form (normal times uniform); ratio, phase and order on a grid.
 */
#pragma once

#include <glib.h>

#define SP_STEP_RANGE_DB 40.0  /* the smaller part is searched down to this far below the greater (common practice, no source) */
#define SP_STEP_LEAST_U_DB 0.1 /* two readings are never compared better than this (common practice, no source) */
/* RADIO: the analyzer's part, predicted or by a step, is this far below; ANALYZER: the reverse (common practice, no source) */
#define SP_STEP_APART_DB 6.0
/* A sum this far below the product is the difference of two greater parts by simulation (tests/simulate/cancel.c) */
#define SP_STEP_CANCELS_DB 3.0
/* Least probability at which a step test decides: right in 97 % of cases 6 dB and more apart, radio instead of analyzer in under 1 %,
 * by simulation (tests/simulate/origin.c) */
#define SP_STEP_SURE 0.4
#define SP_STEP_TELLS_DB 3.0     /* readings are no test if the product moves less between them (common practice, no source) */
#define SP_STEP_MOST_READINGS 32 /* bounds time */
#define SP_STEP_MOST_ORDERS 6    /* room for those in evidence.c */

typedef struct {
  gboolean seen;
  double level_dbm;                             /* seen: the reading; else the level with a detection probability of one half */
  double u_db;                                  /* seen: standard uncertainty against the others; else spread of the threshold */
  double product_shift_db[SP_STEP_MOST_ORDERS]; /* for each candidate order; 0 at reading 0 */
} SpStepReading;

typedef struct {
  double low, middle, high;
} SpInterval; /* 95.45 % and the median; low -INFINITY: no lower bound */

typedef struct {
  SpInterval radio, analyzer;            /* dBm; the analyzer's at reading 0 */
  SpInterval fit[SP_STEP_MOST_READINGS]; /* the model's level at each reading */
  double p_radio, p_analyzer;            /* probability that the one is at least SP_STEP_APART_DB over the other */
  guint order;                           /* index of the most likely order */
  double chi_square;                     /* least over the grid; includes unseen readings */
} SpStepFit;

/* Ends of the radio's part over every cancellation that the readings allow, however exact its phase has to be: all mixtures within 4
 * of the least chi-square (likelihood interval, 95.45 % of one quantity), with q at most q_most_dbm and the sum SP_STEP_CANCELS_DB
 * below q at its greatest.
 * The fit weighs phases by probability and so gives cancellations little weight; but a reading far below a product known to be present
 * is one.
 * `close`: in some of the mixtures the two parts are within SP_STEP_APART_DB of each other. */
typedef struct {
  double low_dbm, high_dbm; /* low -INFINITY: no lower bound */
  gboolean close;
} SpStepEnds;
/* FALSE: no cancellation is possible. */
gboolean sp_step_ends (guint n, const SpStepReading *readings, guint n_orders, double q_most_dbm, double chi_square, SpStepEnds *out);

/* Fits n (2 .. SP_STEP_MOST_READINGS) readings, the first of them seen; the n_orders (1 .. SP_STEP_MOST_ORDERS) orders have equal
 * prior probability. q_most_dbm INFINITY: no bound known.
 * If q_most_dbm is below the grid's range, the product is negligible and only the radio's part is fitted: the mean of the readings by
 * their own u, with `analyzer` from -INFINITY to q_most_dbm.
 * FALSE: nothing on the grid is possible. Takes milliseconds. */
gboolean sp_step_fit (guint n, const SpStepReading *readings, guint n_orders, double q_most_dbm, SpStepFit *out);
