/* step.h - whose is it: an emission's readings at several attenuations, split into the radio's part and the analyzer's (private to the room)
 *
 * Model (core/docs/computation.md, section 10): reading k, at the socket, is |r + q 10^(own_k/20) e^(j phi)|, where own_k is how the
 * analyzer's own product of order m moves from reading 0 to reading k. Prior: r and q uniform in dB within SP_STEP_RANGE_DB of each other
 * where q is greatest (a notched reading 0 may have lowered it far), phi uniform (nobody knows it), q not over q_most_dbm. Readings are
 * normal with u_db each; one that is not seen says only that the level lies below its threshold. What is common to all readings (absolute
 * accuracy, the chain at f) moves r and q alike and is left to the budget.
 *
 * The level of the greater part is integrated in closed form (normal times uniform), the ratio, the phase and the order on a grid.
 */
#pragma once

#include <glib.h>

#define SP_STEP_RANGE_DB 40.0  /* the smaller part is sought down to this below the greater */
#define SP_STEP_LEAST_U_DB 0.1 /* no two readings are told apart better than this (common practice, no source) */
#define SP_STEP_APART_DB 6.0   /* radio: the analyzer's part is this far below, or vice versa (core/docs/computation.md, section 10) */
/* A sum this far below the product is what two greater parts leave of each other (by simulation: tests/simulate/cancel) */
#define SP_STEP_CANCELS_DB 3.0
#define SP_STEP_SURE                                                                                                                       \
  0.4 /* a step test decides from this probability on: right in 97 % of cases 6 dB and more apart, radio for the analyzer's in under
                                  1 % (tests/simulate) */
#define SP_STEP_TELLS_DB 3.0 /* readings that a product moves less between are no test (common practice, no source) */
#define SP_STEP_MOST_READINGS 32
#define SP_STEP_MOST_ORDERS 6

typedef struct {
  gboolean seen;
  double level_dbm;                             /* seen: the reading; else the level that is missed as often as seen */
  double u_db;                                  /* seen: standard uncertainty against the others; else how fast seeing turns into missing */
  double product_shift_db[SP_STEP_MOST_ORDERS]; /* for each order asked about; 0 at reading 0 */
} SpStepReading;

typedef struct {
  double low, middle, high;
} SpInterval; /* 95.45 % and the median; low -INFINITY: from nothing */

typedef struct {
  SpInterval radio, analyzer;            /* dBm; the analyzer's at reading 0 */
  SpInterval fit[SP_STEP_MOST_READINGS]; /* the model's level at each reading */
  double p_radio, p_analyzer;            /* the one at least SP_STEP_APART_DB over the other */
  guint order;                           /* index of the most likely order */
  double chi_square;                     /* least over the grid; of the readings that are seen and those that are not */
} SpStepFit;

/* The ends of the radio's part over every cancellation that the readings leave possible, however fine its phase would have to be: all mixtures within 4 of
 * chi_square in chi-square (the interval by likelihood, 95.45 % of one quantity), q not over q_most_dbm, whose sum lies SP_STEP_CANCELS_DB below q
 * where that is greatest. The fit above weighs phases by how often they come
 * about, so it gives little to a cancellation; but where the product is known to be there, a reading far below it is one. `close`: among them are
 * some with the two parts within SP_STEP_APART_DB of each other. */
typedef struct {
  double low_dbm, high_dbm; /* low -INFINITY: from nothing */
  gboolean close;
} SpStepEnds;
/* FALSE: none is possible. */
gboolean sp_step_ends (guint n, const SpStepReading *readings, guint n_orders, double q_most_dbm, double chi_square, SpStepEnds *out);

/* n (2 .. SP_STEP_MOST_READINGS) readings, the first of them seen; n_orders (1 .. SP_STEP_MOST_ORDERS) orders are equally likely before.
 * q_most_dbm INFINITY: no bound known. Where it lies further below the readings than the grid goes, there is as good as no product: the
 * fit is that of the radio alone, its part the readings' mean by their own u, `analyzer` from -INFINITY to q_most_dbm. FALSE where nothing on
 * the grid is possible. Takes milliseconds. */
gboolean sp_step_fit (guint n, const SpStepReading *readings, guint n_orders, double q_most_dbm, SpStepFit *out);
