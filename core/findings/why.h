/* why.h - one verdict as a walk from the reading to the word, each step as values
 *
 * All of it is in the findings; here it stands in the order of the explanation, and what is derived is derived once. The figures are not
 * rounded, so that they add up: reading + loss + others = level; limit - decides = room; the terms' squares = u squared.
 */
#pragma once

#include "core/findings/findings.h"

typedef enum {
  SP_WHY_READ,
  SP_WHY_CHAIN,
  SP_WHY_LEVEL,
  SP_WHY_WHOSE,
  SP_WHY_LIMIT,
  SP_WHY_SURE,
  SP_WHY_WORD,
  SP_WHY_SETTLE,
  SP_WHY_STEPS
} SpWhyStep;

typedef struct {
  const SpStage *stage;
  SpBudgetSource from;
  double loss_db;
  double level_dbm; /* before the stage, seen from the analyzer: the reading and all losses up to and with this stage's */
} SpWhyStage;

typedef struct {
  const SpTerm *term;
  double u_db;  /* of the margin, as it decided */
  double share; /* of the sum of squares, 0 to 1 */
} SpWhyTerm;

typedef struct {
  const SpFindings *findings; /* kept */
  guint condition;
  int index; /* of the emission */
  const SpConditionFindings *found;
  const SpEmission *emission;
  /* What the analyzer read: the emission's reading_dbm. NaN in all where it was not swept. */
  double over_noise_db; /* the level over the mean noise there; NaN: not seen, or no noise known */
  /* What the chain took, from the analyzer back to the radio */
  guint n_stages;
  SpWhyStage *stages;
  double interaction_db; /* loss less the sum of the stages: not 0 in an exact cascade */
  double others_db; /* level less reading less loss: the analyzer's correction, noise taken out, the line between points, warm stages */
  /* Level at the socket */
  double level_w, under_carrier_db; /* carrier less level; NaN: P is not known */
  /* Whose */
  double under_product_db; /* level less q_high: how far it stands over the most that the analyzer can have made; NaN: not foretold */
  SpFall fall;             /* in the step test */
  /* Limit */
  double decides_dbm; /* what the verdict goes by: level, floor, or an end of the radio's part; NaN: nothing does */
  double room_db;     /* limit - decides_dbm */
  /* How sure: the budget's terms of the margin, the greatest first, none of 0 */
  guint n_terms;
  SpWhyTerm *terms;
  double u_db, k, expanded_db; /* NaN: not swept, or no limit */
  /* The word */
  double guard_db;       /* what of U the rule asks for: U, or 0 under the simple rule */
  double per_cent_under; /* probability that the true level lies under the limit, %; NaN where an end of the radio's part decides */
  double short_db;       /* room that lacks for *complies*, > 0; NaN: it does not, or nothing decides */
  double over_db;        /* level over the limit where it exceeds, > 0; NaN */
  /* What would settle it */
  double settling_u_db;    /* U under which the room alone would decide; NaN: no U would */
  double without_first_db; /* U without the greatest term; NaN: there is no other */
  double repeat_share;     /* share of what changes from sweep to sweep: noise, repeatability, repeats */
} SpWhy;

/* Of an emission of a condition. NULL: there is no such. (transfer full) */
SpWhy *sp_why (const SpFindings *findings, guint condition, int emission);
void sp_why_free (SpWhy *why);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpWhy, sp_why_free)
