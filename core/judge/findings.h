/* findings.h - what a judging found: all that any output may print
 *
 * Immutable, reference counted. Every number that a screen, table, report or JSON shows stands here or comes from sp_findings_at().
 */
#pragma once

#include "core/bench/bench.h"
#include "core/budget/budget.h"
#include "core/headroom/headroom.h"
#include "core/plan/plan.h"

#define SP_UNCALIBRATED_EXTRA_DB 6.0 /* outside calibration only an excess this much beyond U counts (common practice, no source) */

typedef enum {
  SP_VERDICT_NO_LIMIT,
  SP_VERDICT_COMPLIES,
  SP_VERDICT_NOT_PROVEN,
  SP_VERDICT_INCONCLUSIVE,
  SP_VERDICT_EXCEEDS
} SpVerdict; /* ascending: worse */
typedef enum { SP_ORIGIN_NONE, SP_ORIGIN_RADIO, SP_ORIGIN_ANALYZER, SP_ORIGIN_MIXED, SP_ORIGIN_AMBIENT, SP_ORIGIN_UNTESTED } SpOrigin;
typedef enum { SP_BASIS_NONE, SP_BASIS_PREDICTED, SP_BASIS_STEP, SP_BASIS_UNKEYED } SpOriginBasis;

/* What an emission is made of (core/docs/computation.md, section 15): a line reads the same through any filter; a modulated one is as wide
 * as its carrier's modulation makes it; noise is wider than the filter and no such thing. */
typedef enum { SP_KIND_LINE, SP_KIND_MODULATED, SP_KIND_NOISE } SpEmissionKind;

/* What a verdict goes by, and so the figure that stands beside it (core/docs/computation.md, section 13): the level as read; the floor
 * where nothing was seen; an end of the radio's own part; nothing where there is no limit or no sweep; blind: nothing could have been
 * seen. */
typedef enum {
  SP_DECISION_NONE,
  SP_DECISION_LEVEL,
  SP_DECISION_FLOOR,
  SP_DECISION_PART_HIGH,
  SP_DECISION_PART_LOW,
  SP_DECISION_BLIND
} SpDecision;

/* The row of the rule that decided (core/judge/rule.h), in its order; the last two withhold afterwards what another row had decided. */
typedef enum {
  SP_ROW_NO_LIMIT,
  SP_ROW_NOT_SWEPT,
  SP_ROW_NOT_RESOLVED,
  SP_ROW_NO_POWER,
  SP_ROW_POWER_UNCALIBRATED,
  SP_ROW_GROSS_EXCESS,
  SP_ROW_UNCALIBRATED,
  SP_ROW_BLIND,
  SP_ROW_FLOOR_BELOW,
  SP_ROW_FLOOR_ABOVE,
  SP_ROW_COARSE,
  SP_ROW_LEVEL_BELOW,
  SP_ROW_PART_BELOW,
  SP_ROW_AMBIENT,
  SP_ROW_AMBIENT_IN_RADIO,
  SP_ROW_AMBIENT_PART,
  SP_ROW_UNTESTED,
  SP_ROW_PART_ABOVE,
  SP_ROW_BOUND_STRADDLES,
  SP_ROW_WITHIN_UNCERTAINTY,
  SP_ROW_PART_STRADDLES,
  SP_ROW_ANALYZER_POSSIBLE,
  SP_ROW_MORE_POWER, /* the limit follows the power of a clipped carrier, which may be more */
  SP_ROW_NO_CARRIER  /* the fundamental is not shown where it was stated */
} SpRuleRow;

/* One reading of a step test: the emission in one sweep, at one setting. Index 0 is the keyed sweep that the others are held against. */
typedef struct {
  guint sweep;           /* index into the condition's sweeps */
  double attenuation_db; /* before the mixer, over that of the first reading: the analyzer's own and what the chain loses more at f0 */
  gboolean seen;
  double level_dbm; /* at the socket; not seen: the threshold there */
  double u_db;      /* of this reading against the others: noise, repeatability, scale, switching; not seen: spread of the threshold */
  double product_shift_db; /* how the analyzer's product of the order below would move from the first reading: -(order - 1) for each dB */
  double fit_dbm, fit_low_dbm, fit_high_dbm; /* the model there: middle and 95.45 % band of what the readings leave possible */
} SpEvidencePoint;

/* What the step test and the unkeyed sweep found for one emission: |r + q 10^(own/20) e^(j phi)| fitted to the readings
 * (core/docs/computation.md, section 10). */
typedef struct {
  guint n; /* 0: no step test at this place; else >= 2 */
  SpEvidencePoint *points;
  guint order; /* of the product that the fit stands on (a harmonic's own; of another spur the most likely, 0: a residual, +1) */
  double radio_low_dbm, radio_dbm, radio_high_dbm; /* r: ends of the 95.45 % interval and its median; low -INFINITY: from nothing */
  /* q at the first reading, likewise; median -INFINITY: the profile's q_high lies so far below that the radio alone was fitted, and is the high
   * end. */
  double analyzer_low_dbm, analyzer_dbm, analyzer_high_dbm;
  double p_radio, p_analyzer; /* probability that the one is at least 6 dB over the other */
  /* analyzer_high_dbm at the mixer, the carrier there and the attenuation of the first reading, for other conditions to go by; NaN: it is no test,
   * or a notched sweep's. */
  double product_at_mixer_dbm, mixer_dbm, attenuation_db;
  double misfit; /* chi-square of the best fit over its degrees of freedom; NaN: none left */
  /* the readings lie far below what the profile predicts of the analyzer, and leave it possible that the two parts, within 6 dB of each
   * other, nearly cancel, which the fit's probabilities and interval alone do not say: the origin is mixed until one more step tells */
  gboolean may_cancel;
  gboolean contradicts;   /* no fit is likely: the readings contradict each other (STEPS_CONTRADICT) */
  gboolean ambient_known; /* an unkeyed sweep covers the place, deep enough to tell */
  double ambient_dbm;     /* what stands there unkeyed; not seen: the floor there; NaN where not swept */
  gboolean ambient_seen;
} SpEvidence;

typedef struct {
  guint order;         /* 0: not a harmonic */
  double frequency_hz; /* found, or n*f0 where nothing was seen */
  gboolean swept, detected;
  /* swept, but so coarsely that it cannot be told from the carrier or another harmonic: level and floor are what stands there of either,
   * and bound nothing */
  gboolean unresolved;
  int sweep;        /* index into the condition's sweeps of the one it stands on; -1 */
  guint corrected;  /* index into corrected[]; meaningless where not swept */
  double level_dbm; /* at the socket; = floor_dbm where not seen; NaN where not swept */
  double level_dbc;
  SpEmissionKind kind;
  double bandwidth_hz;           /* of a band, that holds 99 % of its power; NaN: a line */
  double from_hz, to_hz;         /* the band that its level is the power of; of a line both its frequency */
  gboolean summed;               /* the level is the sum over the band, not the greatest reading */
  double reference_bandwidth_hz; /* the rule's, in which the level is given; NaN: the rule names none, and it is the whole power */
  double
      excess_db; /* as read, it may be so much more than the power in the reference bandwidth (an upper bound); the other way: sampling_loss_db */
  double frequency_half_hz; /* frequency_hz is known to +- this */
  double power_dbm;         /* the P that its limit and dBc stand on: the condition's, or of sweeps whose carriers differ that of its own */
  /* How the level comes about, so that a reader can add it up: level = reading + line + near noise + loss + correction + shift. */
  double reading_dbm;   /* the greatest reading, at the analyzer's input; where not seen the floor as it would read there; NaN: not swept */
  double line_db;       /* what the line between the points has over that reading (parabola, smear; the chain's slope between the two) */
  double near_noise_db; /* what noise added to the reading, taken off: <= 0 */
  double loss_db;       /* of the chain, at frequency_hz; also where not swept */
  double correction_db; /* the analyzer's own amplitude correction */
  double shift_db;      /* warm stages, and the meter's anchoring */
  double floor_dbm;
  SpFloorCause floor_cause;
  double noise_u_db;          /* what noise adds to u of a level that is seen */
  double sampling_loss_db;    /* how much more than read it may be: lost between two points, or a band that could not be summed */
  double distortion_high_dbm; /* q_high at the socket; NaN: no prediction */
  double limit_dbm;           /* NaN: no limit */
  double limit_slope;
  char *limit_rule; /* the rule's name; NULL */
  double margin_db; /* limit - level; NaN */
  SpBudget budget;
  double conformity; /* NaN: not defined */
  SpOrigin origin;
  SpOriginBasis origin_basis;
  /* the radio's own part; low -INFINITY: from nothing, of repeats counted from their mean; NaN: no interval */
  double radio_low_dbm, radio_high_dbm;
  SpEvidence *evidence; /* NULL: neither a step test nor an unkeyed sweep says anything here */
  SpReason *relation;   /* what a spur's frequency says it may be: SPUR_RELATION or SPUR_RESIDUAL; NULL: nothing simple, or a harmonic */
  guint repeats;        /* sweeps of equal settings that saw it; 1: one; their mean and type A below (JCGM 100, 4.2.3) */
  double repeat_scatter_db; /* what one reading scatters by, noise and repeatability: not what the emission itself does between them */
  double repeat_mean_dbm, repeat_u_db; /* NaN where under two */
  gboolean calibrated;
  SpVerdict verdict;
  guint facts;           /* SpRuleFact (core/judge/rule.h) */
  SpRuleRow row;         /* of the rule, that decided */
  SpDecision decision;   /* what the verdict goes by */
  SpReason *reason;      /* why */
  SpReason *would_prove; /* NULL: nothing to prove */
} SpEmission;

typedef struct {
  double from_hz, to_hz;
  /* NOT_SWEPT, FLOOR_ABOVE_LIMIT, UNDERSAMPLED, TOO_WIDE, ZERO_HERTZ, TRACE_ABOVE_LIMIT, OUTSIDE_CALIBRATION, or NO_POWER: the limit is
   * not known there */
  SpReasonCode why;
  double floor_dbm, guard_db,
      limit_dbm;         /* where it misses most: floor (trace where that stands above the limit), U and limit there; NaN: none */
  SpReason *would_close; /* the sweep that would; NULL: not known */
} SpGap;

/* Where one spectrum is put together out of several sweeps: a sweep begins or ends there, inside what the others cover. */
typedef struct {
  double frequency_hz;
  guint corrected; /* index into corrected[] */
  gboolean begins; /* going up; else ends */
} SpSeam;

/* A sweep corrected to the plane of the radio's socket. */
typedef struct {
  guint sweep; /* index into the condition's sweeps */
  guint64 n;
  const double *frequency_hz;        /* the trace's own array */
  double *level_dbm;                 /* corrected (and anchored) */
  double *noise_dbm;                 /* mean noise power there, corrected */
  double *floor_dbm;                 /* detection limit (+) skirt (+) distortion, for a harmonic's own window */
  guint8 *floor_cause;               /* SpFloorCause */
  double threshold_db, detection_db; /* over mean noise, harmonic's window */
  double loss_between_db;            /* sampling loss that the floor holds */
} SpCorrected;

typedef struct {
  guint condition; /* index into the bench's conditions */
  char *name;
  SpVerdict verdict;
  double worst_margin_db; /* NaN: none */
  int worst_emission;     /* index; the one that decides the verdict: the worst, and of these the one of the least deciding margin; -1 */
  /* index; seen above its limit and not proven, while another decides the verdict: of several the highest above its limit; -1. It has a
   * sentence of its own beside the verdict's, and comes first where emissions are listed by weight */
  int unsettled_emission;
  gboolean has_fundamental;
  double fundamental_hz, fundamental_u_hz;
  double power_dbm;       /* P: after a meter has anchored it; NaN */
  double trace_level_dbm; /* NaN */
  double signal_hz;       /* widest that the carrier's modulation may be, by the sweeps and the sheet; 0: a line */
  gboolean signal_folds;  /* at the nth harmonic it is n times as wide */
  guint power_repeats;    /* keyed sweeps whose carriers P is the mean of; their type A below (JCGM 100, 4.2.3) */
  double
      power_repeat_u_db; /* NaN where under two; where they differ by more than U and drift that of a rectangle as wide as they are apart */
  gboolean by_meter;     /* P is the meter's */
  gboolean anchored;     /* and the levels were shifted to it */
  double power_u_db, power_k, power_dof, power_expanded_db;
  SpBudget power_budget;     /* of P (sp_budget_power); no terms where P is not known */
  gboolean power_calibrated; /* the chain is calibrated at the fundamental (TRUE where that is not known) */
  double mixer_dbm;          /* NaN */
  double occupied_hz;        /* 99 % of its power (core/width); NaN: points further apart than half the RBW, too few, or clipped */
  double occupied_low_hz, occupied_high_hz;
  double occupied_by_line_hz;  /* what a mere line would show through that RBW */
  gboolean occupied_by_filter; /* hardly wider than that: an upper bound */
  double necessary_bandwidth_hz, exclude_hz;
  SpHeadroom *headroom; /* of the condition's chain at P, or rated power where P is not known; NULL: neither */
  gboolean safe;        /* no sweep with the radio keyed goes through a chain that is unsafe at its attenuation */
  guint n_emissions;
  SpEmission *emissions; /* harmonics 2.. in order, then other spurs by frequency */
  guint n_gaps;
  SpGap *gaps;
  guint n_corrected;
  SpCorrected *corrected; /* of each sweep that is judged: keyed, and notched */
  guint n_seams;
  SpSeam *seams; /* ascending; none where all sweeps have the same ends */
  guint n_evidence;
  SpCorrected
      *evidence; /* of the steps in the sheet's order, then of the unkeyed sweep if there is one (its `sweep` G_MAXUINT if the bench's) */
  guint n_superseded;
  /* to look at: in the sheet's order, levels alone (no noise, floor or cause: NULL; thresholds NaN), through the chain of the condition
   * and with its shift. Nothing else in the findings knows of them */
  SpCorrected *superseded;
  double clear_room_db; /* least of limit less floor where the mask wants it swept and it is clear; NaN: nowhere */
  gboolean searched;    /* the mask names a search range, and sets a number in it */
  GArray *limit;        /* SpLimitSegment over all that was swept */
  GPtrArray *warnings;  /* SpReason* */
} SpConditionFindings;

typedef struct {
  SpBench *bench;
  gboolean safe;
  guint n;
  SpConditionFindings *conditions; /* as in the bench */
  GPtrArray *warnings;             /* of the bench, its files */
} SpFindings;

/* Judges a bench. Pure: the same bench gives the same findings, to the last bit, on any thread. (transfer full) */
SpFindings *sp_judge (const SpBench *bench);
SpFindings *sp_findings_ref (const SpFindings *findings);
void sp_findings_unref (SpFindings *findings);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpFindings, sp_findings_unref)

/* What stands at a frequency, for a pointer or a ruler. */
typedef struct {
  double frequency_hz;
  double order; /* nearest whole multiple of f0 if within its window, else 0 */
  gboolean swept;
  double level_dbm, expanded_db, level_dbc;
  double loss_db, loss_expanded_db;
  double floor_dbm;
  SpFloorCause floor_cause;
  gboolean blind; /* the sweep there is undersampled beyond all use: its floor bounds nothing */
  double limit_dbm, margin_db;
  int emission; /* index of the one that stands here, whose verdict and room count instead of this margin; -1 */
} SpAt;
SpAt sp_findings_at (const SpFindings *findings, guint condition, double frequency_hz);

/* What a +- U stands on: an emission's budget, or P's. */
typedef struct {
  const SpConditionFindings *found;
  const SpEmission *emission;                                  /* NULL: P */
  const SpBudget *budget;                                      /* no terms where nothing was swept, or P is not known */
  double frequency_hz, level_dbm, level_dbc, margin_db, slope; /* NaN as the emission's; P: level_dbc 0, no margin */
} SpUncertaintySource;
#define SP_SOURCE_POWER (-1) /* in place of an emission's index */
SpUncertaintySource sp_uncertainty_source (const SpFindings *findings, guint condition, int emission);
/* The chain that the level was read through: the sweep's own, else the condition's. (transfer none) */
const SpChain *sp_uncertainty_source_chain (const SpFindings *findings, const SpUncertaintySource *source);
/* What the term "chain" is made of, stage by stage: curve and connector; the sum of the squares of u_db is the term's. */
typedef struct {
  const SpStage *stage;
  const char *from;          /* stable: "run" "points" "touchstone" "label" "nothing" */
  double loss_db, u_db, dof; /* dof infinite where not known */
} SpUncertaintyStage;
/* One a stage of sp_uncertainty_source_chain(), in order; *n of them. (transfer full: g_free) */
SpUncertaintyStage *sp_uncertainty_source_stages (const SpFindings *findings, const SpUncertaintySource *source, guint *n);
/* The budget of the stage's run at the frequency nearest to the level's (in octaves); NULL: no run. *result (transfer full) keeps it. */
const SpRunPoint *sp_uncertainty_stage_run (const SpUncertaintyStage *stage, double frequency_hz, SpRunResult **result);
/* Index of the emission of that order (1: SP_SOURCE_POWER); of the one nearest to a frequency, P among them. -2: there is none. */
int sp_findings_of_order (const SpFindings *findings, guint condition, guint order);
int sp_findings_nearest (const SpFindings *findings, guint condition, double frequency_hz);

/* Nothing was seen there and nothing could have been: the points lie so far apart that a line between them vanishes (over SP_BLIND_LOSS_DB), or
 * that it is not resolved. What its level and floor say then is no bound that anybody could use. */
gboolean sp_emission_is_blind (const SpEmission *emission);
/* Limit minus what the verdict goes by, SpEmission.decision; people's word for it is room. It is limit - level (floor, where nothing was seen; level where
 * untested), unless the radio's part decides: where the origin is mixed, analyzer or ambient, or where the level alone, under the same rule, would
 * have another verdict. Then it is limit - the lower end where it exceeds, else limit - the upper end, which is what did or did not fit. So what
 * complies has U at least, and what exceeds never stands beside a positive one. NaN: no limit, not swept, blind. */
double sp_emission_deciding_margin_db (const SpEmission *emission);
/* U of the margin that the verdict goes by: of a level over the limit without what a line between two points may have lost (core/budget/budget.h). */
double sp_emission_deciding_expanded_db (const SpEmission *emission);
/* The probability of conformity where the level itself decided; NaN where it did not, as of an end of the radio's part there is none to tell. */
double sp_emission_deciding_conformity (const SpEmission *emission);
/* "level" "floor" "radio-part-high" "radio-part-low" "blind"; NULL for NONE. */
const char *sp_decision_name (SpDecision decision);
/* That of worst_emission; NaN: none. */
double sp_findings_deciding_margin_db (const SpConditionFindings *found);
/* The emission that decides, and the unsettled one; NULL. */
const SpEmission *sp_findings_deciding (const SpConditionFindings *found);
const SpEmission *sp_findings_unsettled (const SpConditionFindings *found);

/* Interface strings: "complies", "not proven", "radio", "noise", "predicted" ... */
const char *sp_verdict_name (SpVerdict verdict);
const char *sp_origin_name (SpOrigin origin); /* NULL for NONE */
const char *sp_origin_basis_name (SpOriginBasis basis);

/* Standard uncertainty of the level that stands at f in the condition's own sweep there; NaN where none was swept. */
double sp_findings_level_u (const SpFindings *findings, guint condition, double frequency_hz);

/* Monte Carlo propagation (JCGM 101) of an emission's margin through the same budget (core/budget/propagate.h): n (100 .. 10^8) draws, the same
 * seed the same result. margin_expanded_db is half the probabilistically symmetric 95.45 % interval; conformity the share of draws with
 * margin >= 0; NaN where the margin, or the conformity, is not defined. */
typedef struct {
  double margin_u_db, margin_expanded_db, conformity;
} SpMonteCarlo;
SpMonteCarlo sp_emission_monte_carlo (const SpEmission *emission, guint64 n, guint64 seed);
