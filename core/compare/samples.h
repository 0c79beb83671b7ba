/* samples.h - samples of one model: what they have in common, and what another might do
 *
 * Samples are radios whose names differ in a number at the end ("Corvane 1", "Corvane 2"), in one waveband and equally named conditions. All
 * statistics are of the measured levels as they stand, in dB: their spread holds the radios' and the measurement's alike, and what all have in
 * common, the chain's correction, is not in it. Nothing is judged here.
 */
#pragma once

#include "core/compare/compare.h"

/* One order's levels. Order 1 is the carrier, P. */
typedef struct {
  guint order;
  guint n_seen;      /* samples whose own emission was seen: none whose level is the analyzer's, mixed or from the air */
  double *level_dbm; /* of each sample; NaN: not seen so */
  double mean_dbm;   /* NaN unless all were seen, and so on below */
  double s_db;       /* (n - 1) in the denominator */
  /* Half-width of the 95 % interval of the mean: Student's t times s over the square root of n (JCGM 100, 4.2.3, G.3) */
  double mean_within_db;
  /* 95 % of all such radios lie below this (the carrier: above it), one may be 95 % sure: mean +- k s (ISO 16269-6) */
  double most_dbm;
  double room_db;   /* least limit of the samples less the mean; NaN for the carrier, or without a limit */
  double floor_dbm; /* greatest floor of those not seen; NaN: all were, or a floor is unknown */
} SpSampleLevel;

typedef struct {
  char *model;   /* "Corvane" */
  guint n;       /* samples, at least 2 */
  guint *rows;   /* indices into the comparison's */
  double factor; /* k above */
  gboolean all_comply;
  guint n_levels;
  SpSampleLevel *levels; /* the carrier, then ascending orders that at least one sample shows */
  int worst;             /* index of the level that may stand highest over its limit (most_dbm); -1: none has both */
  double worst_over_db;  /* by how much; negative: under it; NaN */
} SpSamples;

/* The models with at least two samples, in the order of their first: SpSamples. (transfer full) */
GPtrArray *sp_compare_samples (const SpComparison *comparison);

/* k of a one-sided tolerance limit of a normal law, unknown mean and deviation: with SP_TOLERANCE_CONFIDENCE at least SP_TOLERANCE_SHARE of all lie
 * below mean + k s of n >= 2 samples (ISO 16269-6; k sqrt(n) is a quantile of the non-central t). */
#define SP_TOLERANCE_SHARE 0.95      /* ISO 16269-6, the customary pair: common practice, no source */
#define SP_TOLERANCE_CONFIDENCE 0.95 /* likewise: common practice, no source */
double sp_tolerance_factor (guint n);
