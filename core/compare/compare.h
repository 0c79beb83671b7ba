/* compare.h - conditions side by side, and the changes between two judgings
 *
 * Nothing is judged here: every number is from the findings, or the difference of two. Immutable values; a comparison keeps its
 * findings.
 */
#pragma once

#include "core/compare/order.h"
#include "core/findings/findings.h"

typedef struct {
  const SpConditionFindings *found;
  const char *radio, *condition; /* "Mirrick", "2 m high"; the second is "" without a name */
  double power_w;                /* NaN: not known */
  double power_expanded_db;      /* U of P; NaN */
  double worst_expanded_db;      /* U of the deciding margin; NaN */
  guint n_harmonics;             /* those that were searched: 2nd to (n + 1)th, in order */
  /* [order - 2]; never NULL within n_harmonics unless that order was not searched */
  const SpEmission **harmonics;
} SpCompareRow;

typedef struct {
  SpFindings *findings;
  guint n; /* one row for each condition, as in the bench */
  SpCompareRow *rows;
  guint most_order; /* highest order of any row; 1: none */
} SpComparison;

/* (transfer full); sp_comparison_ref and _unref may be called from any thread. */
SpComparison *sp_compare (const SpFindings *findings);
SpComparison *sp_comparison_ref (const SpComparison *comparison);
void sp_comparison_unref (SpComparison *comparison);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpComparison, sp_comparison_unref)

/* The harmonic of an order in a row; NULL: not searched. */
const SpEmission *sp_compare_harmonic (const SpCompareRow *row, guint order);
/* How far a row's harmonic stands over the reference's, dB; NaN: not both were seen. */
double sp_compare_over_db (const SpCompareRow *row, const SpCompareRow *reference, guint order);
/* U of an emission's margin, k u, and of its level; NaN: none. */
double sp_emission_margin_expanded_db (const SpEmission *emission);
double sp_emission_level_expanded_db (const SpEmission *emission);

/* A verdict, if any: an item may be in one judging only. */
typedef struct {
  gboolean there;
  SpVerdict verdict;
} SpVerdictThen;

/* One emission that changed in the second judging: its level, or its verdict. Changes are after - before. */
typedef struct {
  char *name;             /* the condition's name */
  guint order;            /* 0: not a harmonic */
  double frequency_hz;    /* after; before if it is gone */
  double level_change_db; /* NaN: in one judging only, or not swept in one */
  /* NaN likewise, or no limit in one. The limit changes with the mask, or with P if it depends on P */
  double limit_change_db;
  double margin_change_db; /* NaN likewise: limit_change_db - level_change_db */
  /* U of the margin, or of the level without a limit; NaN */
  double expanded_before_db, expanded_after_db;
  SpVerdictThen before, after;
  gboolean flips; /* in both, with different verdicts */
  /* Flips, is in one only, or its margin (level without a limit) changes by more than either U */
  gboolean notable;
  /* Index into SpMoves.alike; -1: listed separately, as every notable one is */
  int alike;
} SpMove;

/* Emissions that change alike: level, limit, margin and U each within SP_ALIKE_DB. NaN: none of them has it. */
#define SP_ALIKE_DB 0.02 /* less than any calibration resolves (common practice, no source) */
#define SP_ALIKE_LEAST 3 /* fewer are listed one by one (common practice, no source) */
typedef struct {
  double low_db, high_db;
} SpSpan;
typedef struct {
  guint n;
  SpSpan level, limit, margin, u; /* changes, after - before */
} SpAlike;

/* A condition in both judgings, or in one only. */
typedef struct {
  char *name;
  double power_change_db;        /* change of P; NaN */
  double worst_margin_change_db; /* NaN */
  SpVerdictThen before, after;
  gboolean flips;
  gboolean notable; /* flips, is in one only, or has a notable emission */
  /* Names of the chains of the two judgings; NULL: not in that judging, or no name */
  char *chain_before, *chain_after;
  char *chain_before_sha256, *chain_after_sha256; /* the same; equal hashes: the same calibration */
} SpConditionMove;

typedef struct {
  guint n_moved, n_conditions;
  guint n_flips, n_condition_flips, n_notable;
  guint n_alike;
  SpAlike *alike; /* ordered by their first emission */
  /* Only changed ones: a change of level, limit or U that shows (0.005 dB), or of verdict, or in one only */
  SpMove *moved;
  SpConditionMove *conditions; /* every condition of `before` in its order, then those only in `after` */
} SpMoves;

/* Conditions are matched by name, harmonics by order, other spurs by frequency (the nearest within a necessary bandwidth). (transfer
 * full) */
SpMoves *sp_compare_moves (const SpFindings *before, const SpFindings *after);
void sp_moves_free (SpMoves *moves);

/* Rows of a table: ungrouped moves and one line for each group; every move; or only notable ones. */
typedef enum { SP_MOVES_ALIKE, SP_MOVES_EACH, SP_MOVES_NOTABLE } SpMovesShown;
gboolean sp_move_is_shown (const SpMove *move, SpMovesShown shown);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpMoves, sp_moves_free)
