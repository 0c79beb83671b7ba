/* digest.h - findings in short, for a page: which rows say most, how far the sweeps reach, how old a calibration is
 *
 * Nothing is judged here: rows and counts are chosen from the findings, and differences of dates are taken.
 */
#pragma once

#include "core/findings/findings.h"

/* A row of a table of emissions. */
typedef struct {
  guint emission; /* its index; of several in one row, that with the least room */
  guint n;        /* how many the row stands for: 1, or harmonics that were not seen */
  guint first_order, last_order;
  gboolean unbroken; /* every order from the first to the last is among them */
} SpDigestRow;

/* At most `most` of those that were seen, the worst verdict first, then the least room; then all harmonics that were not seen or not swept, one row for each
 * verdict. *left_out: how many that were seen have no row. (transfer full: g_free); *n of them. */
SpDigestRow *sp_digest_short (const SpConditionFindings *found, guint most, guint *n, guint *left_out);
/* All in the findings' order; neighbouring harmonics that were not seen, of one verdict, are one row. */
SpDigestRow *sp_digest_whole (const SpConditionFindings *found, guint *n);

/* What a condition's chart shows. */
typedef struct {
  guint seen;                            /* emissions */
  guint harmonics;                       /* searched */
  guint unseen, floor_over;              /* harmonics not seen; of these, with the floor over the limit */
  guint origins[SP_ORIGIN_UNTESTED + 1]; /* of those seen, by whose they are */
} SpDigestShown;
SpDigestShown sp_digest_shown (const SpConditionFindings *found);

/* The range that the judged sweeps cover, ends only; FALSE: no sweep. */
gboolean sp_digest_swept (const SpConditionFindings *found, double *from_hz, double *to_hz);
/* How many of n conditions have each verdict. */
void sp_digest_tally (const SpFindings *findings, const guint *conditions, guint n, guint tally[SP_VERDICT_EXCEEDS + 1]);
/* Two conditions of one radio that differ in neither carrier, mode nor power: 1 if b's floors lie lower on the whole, -1 if a's; 0: not alike, or no telling. */
int sp_digest_deeper (const SpFindings *findings, guint a, guint b);

/* How long before the bench's date a calibration was made. */
typedef struct {
  double day, age_days, interval_days; /* NaN: not stated */
  gboolean overdue;
} SpAge;
SpAge sp_digest_stage_age (const SpBench *bench, const SpChain *chain, guint stage);
SpAge sp_digest_chain_age (const SpBench *bench, const SpChain *chain); /* of the stage measured first */

/* Loss of one stage, or of the whole chain (stage -1), at a multiple of a carrier, at the bench's temperature, cold; U with k = 2. */
typedef struct {
  double frequency_hz, loss_db, expanded_db;
} SpDigestLoss;
SpDigestLoss sp_digest_loss (const SpBench *bench, const SpChain *chain, int stage, double fundamental_hz, guint order);

/* What would prove an emission, in words that name no other radio: the same reason, or one without that name. NULL: nothing to prove. (transfer full) */
SpReason *sp_digest_would_prove (const SpFindings *findings, guint condition, const SpReason *would_prove);
