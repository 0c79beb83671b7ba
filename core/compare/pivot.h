/* pivot.h - a radio's conditions as a table, wavebands down and powers across; and spurs that stand at one frequency whatever the carrier's
 *
 * Nothing is judged here: every number is from the findings.
 */
#pragma once

#include "core/compare/compare.h"

typedef struct {
  guint n;                    /* conditions of this waveband and power; 0: none, and the rest is empty */
  guint condition;            /* the one that is shown: the worst of them, or that with the highest harmonic */
  const SpEmission *emission; /* whose room or level it is; NULL: none */
  double value_db;            /* room (sp_emission_room_db), or the harmonic's level in dBc, its floor where it was not seen; NaN */
  double expanded_db;         /* U of it; NaN */
  gboolean worst_in_row, worst_in_column; /* of at least two */
} SpPivotCell;

typedef struct {
  const char *radio;
  guint order; /* 0: room; else the harmonic */
  guint n_rows, n_columns;
  const SpWaveband **wavebands; /* ascending; NULL, the last: no carrier is known */
  /* Ascending: the rated power, or the measured one where none is stated, which joins the nearest within SP_PIVOT_ALIKE_DB; NaN, the
   * last: neither is known */
  double *power_w;
  SpPivotCell *cells; /* [row * n_columns + column] */
} SpPivot;

/* Two measured powers this near are one step of the radio's power, dB (common practice, no source) */
#define SP_PIVOT_ALIKE_DB 1.0

/* Each radio with at least two conditions, in the order of the bench: SpPivot. order 0: room; from 2: that harmonic's dBc, the highest
 * seen, else the highest floor. The comparison must outlive them. (transfer full) */
GPtrArray *sp_compare_pivots (const SpComparison *comparison, guint order);
const SpPivotCell *sp_pivot_cell (const SpPivot *pivot, guint row, guint column);
/* The worst cell of a row, of a column; NULL: it holds none. */
const SpPivotCell *sp_pivot_worst_of_row (const SpPivot *pivot, guint row);
const SpPivotCell *sp_pivot_worst_of_column (const SpPivot *pivot, guint column);

/* A spur seen at one frequency, within what the sweeps can tell, at different carriers: what makes it does not follow the carrier, as a
 * clock in the radio or on the bench does not. */
typedef struct {
  const char *radio;
  double low_hz, high_hz;       /* where all of its frequencies agree */
  double frequency_hz, half_hz; /* the middle of that, and its half-width */
  guint n, of;                  /* conditions that show it, and that were swept there */
  guint *conditions;            /* n of them */
  guint worst;                  /* of those: where it has the least room */
  const SpEmission *emission;   /* there */
} SpSteadySpur;

/* Fewer are chance (common practice, no source) */
#define SP_STEADY_LEAST 3

/* By radio, then ascending frequency: SpSteadySpur with at least SP_STEADY_LEAST conditions and two carriers. (transfer full) */
GPtrArray *sp_compare_steady_spurs (const SpComparison *comparison);
