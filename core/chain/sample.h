/* sample.h - a stage's loss as a picture or a table of it needs it
 */
#pragma once

#include "core/chain/chain.h"

typedef struct {
  double frequency_hz, loss_db;
  double u_db;            /* the stage's own, all terms but mismatch and heating */
  double expanded_db;     /* U, 95.45 %: k u, k by the degrees of freedom of its calibration */
  double low_db, high_db; /* loss -+ U */
  double off_label_db;    /* loss - label; NaN where it has no label */
  gboolean calibrated;
} SpStageSample;

/* The stage at n frequencies, in the order given, at the temperature of its calibration. */
void sp_stage_sample (const SpChain *chain, guint stage, guint n, const double *frequency_hz, SpStageSample *out);

/* The whole chain likewise: its own u, without the mismatch at the radio and at the analyzer. */
void sp_chain_sample (const SpChain *chain, guint n, const double *frequency_hz, SpStageSample *out);

/* Where a picture of the stage begins and ends: its first and last point; the span of its label; else 1 MHz to 3 GHz. low < high, both > 0. */
void sp_stage_sample_span (const SpChain *chain, guint stage, double *low_hz, double *high_hz);
/* n >= 2 frequencies from low to high, both > 0, evenly over log f, the ends exactly. */
void sp_stage_sample_grid (double low_hz, double high_hz, guint n, double *frequency_hz);
/* Where one more point would stand: between point `after` and the next, half way over log f; beyond the last a half octave on; 100 MHz where
 * there is no point yet. `after` -1: behind the last. */
void sp_stage_sample_between (const SpChain *chain, guint stage, int after, double *frequency_hz);
/* The sample that lies furthest from the label; -1 where there is no label. */
int sp_stage_sample_furthest (guint n, const SpStageSample *samples);
