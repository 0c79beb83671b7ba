/* judge.h - judges a bench, and reads what judging found at any frequency */
#pragma once

#include "core/findings/findings.h"

/* Judges a bench. Pure: the same bench gives bit-identical findings on any thread. (transfer full) */
SpFindings *sp_judge (const SpBench *bench);

/* Values at one frequency, for a pointer or a ruler. */
typedef struct {
  double frequency_hz;
  double order; /* nearest multiple of f0 if the frequency is in its window, else 0 */
  gboolean swept;
  double level_dbm, expanded_db, level_dbc;
  double loss_db, loss_expanded_db;
  double floor_dbm;
  SpFloorCause floor_cause;
  gboolean blind; /* the sweep is so undersampled there that its floor is no bound */
  double limit_dbm, margin_db;
  /* Index of the emission at this frequency, whose verdict and room replace this margin; -1 */
  int emission;
} SpAt;
SpAt sp_findings_at (const SpFindings *findings, guint condition, double frequency_hz);

/* From one place to another: frequency and level there less those here. The level is NaN where either is not swept. */
typedef struct {
  double apart_hz, level_db;
} SpBetween;
SpBetween sp_findings_between (const SpFindings *findings, guint condition, double from_hz, double to_hz);
