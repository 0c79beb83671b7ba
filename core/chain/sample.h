/* sample.h - samples a stage's loss for a picture or a table */
#pragma once

#include "core/chain/chain.h"

typedef struct {
  double frequency_hz, loss_db;
  double u_db;            /* the stage's, all terms except mismatch and heating */
  double expanded_db;     /* U, 95.45 %: k u, k by the degrees of freedom of its calibration */
  double low_db, high_db; /* loss -+ U */
  double off_label_db;    /* loss - label; NaN: no label */
  gboolean calibrated;
} SpStageSample;

/* The stage at n frequencies, in the order given, at its calibration temperature. */
void sp_stage_sample (const SpChain *chain, guint stage, guint n, const double *frequency_hz, SpStageSample *out);

/* The same for the whole chain: its u, without the mismatch at the radio and at the analyzer. */
void sp_chain_sample (const SpChain *chain, guint n, const double *frequency_hz, SpStageSample *out);

/* U of a chain's loss, 95.45 %: k by the degrees of freedom of its calibrations. */
double sp_chain_loss_expanded_db (const SpChainLoss *loss);

/* Frequency range for a picture of the stage: its first and last point; else the span of its label; else 1 MHz to 3 GHz. low < high,
 * both > 0. */
void sp_stage_sample_span (const SpChain *chain, guint stage, double *low_hz, double *high_hz);
/* n >= 2 frequencies from low to high, both > 0, evenly spaced in log f, with exact ends. */
void sp_stage_sample_grid (double low_hz, double high_hz, guint n, double *frequency_hz);
/* Frequency for an additional point: midway in log f between point `after` and the next; half an octave beyond the last; 100 MHz if
 * there is no point. `after` -1: behind the last. */
void sp_stage_sample_between (const SpChain *chain, guint stage, int after, double *frequency_hz);
/* Index of the sample furthest from the label; -1: no label. */
int sp_stage_sample_furthest (guint n, const SpStageSample *samples);
