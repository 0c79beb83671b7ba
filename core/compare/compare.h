/* compare.h - conditions side by side, and what moved between two judgings
 *
 * Nothing is judged here: every number is one of the findings', or the difference of two. Immutable values; a comparison keeps its findings.
 */
#pragma once

#include "core/findings/findings.h"

typedef struct {
  const SpConditionFindings *found;
  const char *radio, *condition; /* "Mirrick", "2 m high"; the second "" where it has no name */
  double power_w;                /* NaN: not known */
  double power_expanded_db;      /* U of P; NaN */
  double worst_expanded_db;      /* U of the margin that decides; NaN */
  guint n_harmonics;             /* those looked for: 2nd to (n + 1)th, in order */
  const SpEmission **harmonics;  /* [order - 2]; never NULL within n_harmonics unless that order was not looked for */
} SpCompareRow;

typedef struct {
  SpFindings *findings;
  guint n; /* one row a condition, as in the bench */
  SpCompareRow *rows;
  guint most_order; /* the highest that any row has; 1: none */
} SpComparison;

/* (transfer full); sp_comparison_ref and _unref from any thread. */
SpComparison *sp_compare (const SpFindings *findings);
SpComparison *sp_comparison_ref (const SpComparison *comparison);
void sp_comparison_unref (SpComparison *comparison);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpComparison, sp_comparison_unref)

/* The harmonic of an order in a row; NULL where it was not looked for. */
const SpEmission *sp_compare_harmonic (const SpCompareRow *row, guint order);
/* U of an emission's margin, k u, of its level likewise; NaN where it has none. */
double sp_emission_margin_expanded_db (const SpEmission *emission);
double sp_emission_level_expanded_db (const SpEmission *emission);

/* Which verdict, if any: a thing may be in one judging alone. */
typedef struct {
  gboolean there;
  SpVerdict verdict;
} SpVerdictThen;

/* One emission that is another in the second judging: its level, or its verdict. Changes are after - before. */
typedef struct {
  char *name;                                   /* of the condition */
  guint order;                                  /* 0: not a harmonic */
  double frequency_hz;                          /* after; before where it is gone */
  double level_change_db;                       /* NaN: not in both, or not swept in one */
  double limit_change_db;                       /* NaN likewise, or no limit in one: it moves with P where it follows P, or with the mask */
  double margin_change_db;                      /* NaN likewise: the limit's less the level's */
  double expanded_before_db, expanded_after_db; /* U of the margin, of the level where there is no limit; NaN */
  SpVerdictThen before, after;
  gboolean flips;   /* in both, and the verdict is another */
  gboolean notable; /* it flips, is in one alone, or its margin (level, where there is no limit) moves by more than U of either */
  int alike;        /* index into SpMoves.alike; -1: it stands for itself. What is notable always does */
} SpMove;

/* Emissions that move alike: level, limit, margin and U each within SP_ALIKE_DB. NaN: none of them has it. */
#define SP_ALIKE_DB 0.02 /* under what any calibration tells apart (common practice, no source) */
#define SP_ALIKE_LEAST 3 /* fewer are told one by one */
typedef struct {
  double low_db, high_db;
} SpSpan;
typedef struct {
  guint n;
  SpSpan level, limit, margin, u; /* changes, after - before */
} SpAlike;

/* One condition in both, or in one alone. */
typedef struct {
  char *name;
  double power_change_db;        /* of P; NaN */
  double worst_margin_change_db; /* NaN */
  SpVerdictThen before, after;
  gboolean flips;
  gboolean notable;                               /* it flips, is in one alone, or holds an emission that is notable */
  char *chain_before, *chain_after;               /* names of the chains that it was judged through; NULL: not there, or none */
  char *chain_before_sha256, *chain_after_sha256; /* likewise; equal: the same calibration */
} SpConditionMove;

typedef struct {
  guint n_moved, n_conditions;
  guint n_flips, n_condition_flips, n_notable;
  guint n_alike;
  SpAlike *alike;              /* in the order of their first emission */
  SpMove *moved;               /* only what moved: level, limit or U by any amount, or the verdict, or is in one alone */
  SpConditionMove *conditions; /* every one of `before`, in its order, then those that only `after` has */
} SpMoves;

/* Conditions are the same by their name, harmonics by their order, other spurs by their frequency (within a necessary bandwidth, the
 * nearest). (transfer full) */
SpMoves *sp_compare_moves (const SpFindings *before, const SpFindings *after);
void sp_moves_free (SpMoves *moves);

/* Which of them a table shows: those that stand for themselves, the groups in a line each; every one; only what is notable. */
typedef enum { SP_MOVES_ALIKE, SP_MOVES_EACH, SP_MOVES_NOTABLE } SpMovesShown;
gboolean sp_move_is_shown (const SpMove *move, SpMovesShown shown);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpMoves, sp_moves_free)
