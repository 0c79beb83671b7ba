/* findings.h - the result of judging: everything that an output may print
 *
 * Immutable, reference counted. Every number on a screen or in a table, report or JSON is a member here or comes from
 * sp_findings_at().
 */
#pragma once

#include "core/bench/bench.h"
#include "core/budget/budget.h"
#include "core/headroom/headroom.h"
#include "core/plan/plan.h"

/* Outside calibration an emission exceeds only if it is this much over limit + U (common practice, no source) */
#define SP_UNCALIBRATED_EXTRA_DB 6.0

typedef enum {
  SP_VERDICT_NO_LIMIT,
  SP_VERDICT_COMPLIES,
  SP_VERDICT_NOT_PROVEN,
  SP_VERDICT_INCONCLUSIVE,
  SP_VERDICT_EXCEEDS
} SpVerdict; /* ascending: the greater value is the worse verdict */
typedef enum { SP_ORIGIN_NONE, SP_ORIGIN_RADIO, SP_ORIGIN_ANALYZER, SP_ORIGIN_MIXED, SP_ORIGIN_AMBIENT, SP_ORIGIN_UNTESTED } SpOrigin;
typedef enum { SP_BASIS_NONE, SP_BASIS_PREDICTED, SP_BASIS_STEP, SP_BASIS_UNKEYED } SpOriginBasis;

/* Shape of an emission (core/docs/computation.md, section 15). A line reads the same through any filter. A modulated emission is as
 * wide as the carrier's modulation makes it. Noise is wider than the filter and not modulated by the carrier's signal. */
typedef enum { SP_KIND_LINE, SP_KIND_MODULATED, SP_KIND_NOISE } SpEmissionKind;

/* The quantity that decided the verdict, shown beside it (core/docs/computation.md, section 13): the level; the floor if nothing was
 * seen; one end of the radio's part. NONE: no limit, or not swept. BLIND: no emission could have been seen. */
typedef enum {
  SP_DECISION_NONE,
  SP_DECISION_LEVEL,
  SP_DECISION_FLOOR,
  SP_DECISION_PART_HIGH,
  SP_DECISION_PART_LOW,
  SP_DECISION_BLIND
} SpDecision;

/* The row of the verdict table that decided (core/findings/verdict-table.h), in its order. The last two are applied afterwards and withhold
 * the verdict of another row. */
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
  SP_ROW_MORE_POWER, /* P is that of a clipped carrier and may be higher, and the limit follows P */
  SP_ROW_NO_CARRIER  /* no sweep shows the fundamental at its stated frequency */
} SpVerdictRow;

/* One reading of a step test: the emission in one sweep, at one setting. Index 0 is the keyed sweep; the others are compared with it. */
typedef struct {
  guint sweep; /* index into the condition's sweeps */
  /* Attenuation before the mixer relative to reading 0: the analyzer's own plus the chain's additional loss at f0 */
  double attenuation_db;
  gboolean seen;
  double level_dbm; /* at the socket; the threshold if not seen */
  /* Standard uncertainty against the other readings: noise, repeatability, scale, switching. If not seen: spread of the threshold. */
  double u_db;
  /* Predicted shift of the analyzer's product of `order` from reading 0: -(order - 1) per dB */
  double product_shift_db;
  double fit_dbm, fit_low_dbm, fit_high_dbm; /* fitted model: median and 95.45 % interval */
} SpEvidencePoint;

/* Result of the step test and the unkeyed sweep for one emission: |r + q 10^(shift/20) e^(j phi)| fitted to the readings
 * (core/docs/computation.md, section 10). */
typedef struct {
  guint n; /* 0: no step test at this frequency; else >= 2 */
  SpEvidencePoint *points;
  /* Order of the product in the fit: a harmonic's own order; for another spur the most likely order. 0: a residual, which moves +1 dB
   * per dB. */
  guint order;
  /* r: 95.45 % interval and median; low -INFINITY: no lower bound */
  double radio_low_dbm, radio_dbm, radio_high_dbm;
  /* q at reading 0, likewise. Median -INFINITY: the profile's q_high is so low that only the radio's part was fitted; the high end is
   * then that q_high. */
  double analyzer_low_dbm, analyzer_dbm, analyzer_high_dbm;
  /* Probability that the radio's part is at least 6 dB over the analyzer's, and the reverse */
  double p_radio, p_analyzer;
  /* analyzer_high_dbm at the mixer, with the carrier level there and the attenuation of reading 0; the other conditions use them. NaN:
   * no step test, or reading 0 is a notched sweep. */
  double product_at_mixer_dbm, mixer_dbm, attenuation_db;
  double misfit; /* least chi-square per degree of freedom (n - 1); NaN: no step test */
  /* TRUE if the readings lie far below the profile's prediction and both parts, within 6 dB of each other, may nearly cancel. The
   * fit's probabilities do not show that: the origin is mixed until one more step decides. */
  gboolean may_cancel;
  gboolean contradicts;   /* no fit is likely: STEPS_CONTRADICT */
  gboolean ambient_known; /* a sufficiently deep unkeyed sweep covers the frequency */
  double ambient_dbm;     /* level in the unkeyed sweep; its floor if nothing is seen; NaN: not swept */
  gboolean ambient_seen;
} SpEvidence;

typedef struct {
  guint order;         /* 0: not a harmonic */
  double frequency_hz; /* measured, or n*f0 if nothing was seen */
  gboolean swept, detected;
  /* TRUE if the sweep is too coarse to separate the emission from the carrier or another harmonic. Level and floor then include that
   * neighbour and are no bound. */
  gboolean unresolved;
  int sweep;        /* index into the condition's sweeps; -1: not swept */
  guint corrected;  /* index into corrected[]; meaningless if not swept */
  double level_dbm; /* at the socket; floor_dbm if not seen; NaN: not swept */
  double level_dbc;
  SpEmissionKind kind;
  double bandwidth_hz;   /* width that holds 99 % of a band's power; NaN: a line */
  double from_hz, to_hz; /* edges of the band that the level is summed over; a line: both its frequency */
  gboolean summed;       /* the level is the sum over the band, not the greatest reading */
  /* Reference bandwidth of the mask's rule, in which the level is given. NaN: the rule names none, and the level is the whole power. */
  double reference_bandwidth_hz;
  /* The reading is an upper bound: the power in the reference bandwidth may be this much lower. For the opposite see
   * sampling_loss_db. */
  double excess_db;
  double frequency_half_hz; /* half-width of the uncertainty of frequency_hz */
  /* P that the limit and dBc are relative to: the condition's, or the sweep's own if the carriers differ */
  double power_dbm;
  /* Composition of the level, for a reader to add up: level = reading + line + near noise + loss + correction + shift. */
  /* Greatest reading at the analyzer's input; if not seen, the floor referred to that input; NaN: not swept */
  double reading_dbm;
  /* Line level minus greatest reading: parabola or smear between points, and the chain's slope between the two frequencies */
  double line_db;
  double near_noise_db; /* noise power removed from the reading: <= 0 */
  double loss_db;       /* the chain's loss at frequency_hz; known even if not swept */
  double correction_db; /* the analyzer's amplitude correction */
  double shift_db;      /* warm stages, and anchoring to the meter */
  double floor_dbm;
  SpFloorCause floor_cause;
  double noise_u_db; /* contribution of noise to u of a level that is seen */
  /* The level may be this much higher: loss between two points, or a band that could not be summed */
  double sampling_loss_db;
  double product_high_dbm; /* q_high at the socket; NaN: no prediction */
  double limit_dbm;        /* NaN: no limit */
  double limit_slope;
  char *limit_rule; /* the rule's name; NULL */
  double margin_db; /* limit - level; NaN */
  SpBudget budget;
  double conformity; /* NaN: not defined */
  SpOrigin origin;
  SpOriginBasis origin_basis;
  /* The radio's part. Low -INFINITY: no lower bound. With repeats the interval is counted from their mean. NaN: no interval. */
  double radio_low_dbm, radio_high_dbm;
  SpEvidence *evidence; /* NULL: neither a step test nor an unkeyed sweep covers it */
  /* Possible relation of a spur's frequency: SPUR_RELATION or SPUR_RESIDUAL; NULL: none that is simple, or a harmonic */
  SpReason *relation;
  /* Number of sweeps with equal settings that saw it, 1: one. Mean and type A below (JCGM 100, 4.2.3) */
  guint repeats;
  /* Expected scatter of one reading from noise and repeatability; the emission's own changes are not included */
  double repeat_scatter_db;
  double repeat_mean_dbm, repeat_u_db; /* NaN if fewer than two */
  gboolean calibrated;
  SpVerdict verdict;
  guint facts;           /* SpVerdictFact (core/findings/verdict-table.h) */
  SpVerdictRow row;      /* the row of the verdict table that decided */
  SpDecision decision;   /* the quantity that the verdict is based on */
  SpReason *reason;      /* reason of the verdict */
  SpReason *would_prove; /* NULL: nothing to prove */
} SpEmission;

typedef struct {
  double from_hz, to_hz;
  /* NOT_SWEPT, FLOOR_ABOVE_LIMIT, UNDERSAMPLED, TOO_WIDE, ZERO_HERTZ, TRACE_ABOVE_LIMIT, OUTSIDE_CALIBRATION, or NO_POWER: the limit
   * depends on an unknown P */
  SpReasonCode why;
  /* Values where the gap is worst: floor (the trace if that is above the limit), U and limit; NaN: none */
  double floor_dbm, guard_db, limit_dbm;
  SpReason *would_close; /* the sweep that would close the gap; NULL: not known */
} SpGap;

/* A frequency where one of several sweeps, put together into one spectrum, begins or ends inside the range that the others cover. */
typedef struct {
  double frequency_hz;
  guint corrected; /* index into corrected[] */
  gboolean begins; /* begins with rising frequency; else ends */
} SpSeam;

/* A sweep corrected to the plane of the radio's socket. */
typedef struct {
  guint sweep; /* index into the condition's sweeps */
  guint64 n;
  const double *frequency_hz;        /* the trace's own array */
  double *level_dbm;                 /* corrected, and anchored if a meter is used */
  double *noise_dbm;                 /* mean noise power, corrected */
  double *floor_dbm;                 /* detection limit (+) skirt (+) product, for a harmonic's window */
  guint8 *floor_cause;               /* SpFloorCause */
  double threshold_db, detection_db; /* over mean noise, in a harmonic's window */
  double loss_between_db;            /* sampling loss included in the floor */
  double mixer_dbm, mixer_u_db;      /* the carrier at the mixer, which the products follow; NaN: not known */
} SpCorrected;

/* Another way of the radio's power to the analyzer. */
typedef struct {
  const SpChain *chain; /* the sweep's own */
  SpHeadroom *headroom; /* at the condition's power and the sweep's attenuation */
} SpWay;

typedef struct {
  guint condition; /* index into the bench's conditions */
  char *name;
  SpVerdict verdict;
  double worst_margin_db; /* NaN: none */
  /* Index of the emission that decides: the worst verdict, then the least deciding margin; -1 */
  int worst_emission;
  /* Index of the highest emission that is seen above its limit but not proven, while another emission decides; -1: none. It gets a
   * sentence of its own and comes first in lists ordered by weight. */
  int unsettled_emission;
  SpReason *statement; /* the sentence on it, after the word of its verdict */
  gboolean has_fundamental;
  double fundamental_hz, fundamental_u_hz;
  double power_dbm;       /* P, anchored if a meter is used; NaN */
  double trace_level_dbm; /* NaN */
  /* Upper bound of the width of the carrier's modulation, from the sweeps and the sheet; 0: a line */
  double signal_hz;
  gboolean signal_folds; /* the modulation is n times as wide at harmonic n */
  /* Number of keyed sweeps whose mean carrier is P; type A below (JCGM 100, 4.2.3) */
  guint power_repeats;
  /* NaN if fewer than two. If they differ by more than U and drift: rectangular, with the greatest distance from the best carrier as
   * half-width */
  double power_repeat_u_db;
  gboolean by_meter; /* P is the meter's */
  gboolean anchored; /* levels were shifted to the meter's P */
  double power_u_db, power_k, power_dof, power_expanded_db;
  SpBudget power_budget; /* budget of P (sp_budget_power); no terms if P is not known */
  /* The chain is calibrated at the fundamental; TRUE if the fundamental is not known */
  gboolean power_calibrated;
  double mixer_dbm; /* NaN */
  /* Width that holds 99 % of the power (core/width). NaN: points further apart than half the RBW, too few points, or clipped */
  double occupied_hz;
  double occupied_low_hz, occupied_high_hz;
  double occupied_by_line_hz;  /* the 99 % width of a pure line through the same RBW */
  gboolean occupied_by_filter; /* hardly wider than that line: an upper bound */
  double necessary_bandwidth_hz, exclude_hz;
  /* Headroom of the condition's chain at P or at the rated power, whichever is greater; NULL: neither is known */
  SpHeadroom *headroom;
  gboolean headroom_by_rating; /* it is at the rated power */
  /* The same through each other chain that a sweep was taken through: a notch's, a pad's before the analyzer */
  guint n_ways;
  SpWay *ways;
  /* No keyed sweep was taken through a chain that is unsafe at the sweep's attenuation */
  gboolean safe;
  guint n_emissions;
  SpEmission *emissions; /* harmonics 2.. in order, then other spurs by ascending frequency */
  guint n_gaps;
  SpGap *gaps;
  guint n_corrected;
  SpCorrected *corrected; /* one for each judged sweep: keyed, then notched */
  guint n_seams;
  SpSeam *seams; /* ascending; none if all sweeps have the same ends */
  guint n_compared;
  /* The steps in the sheet's order, then the unkeyed sweep if there is one (its `sweep` is G_MAXUINT if it is the bench's) */
  SpCorrected *compared;
  guint n_superseded;
  /* Superseded sweeps for display, in the sheet's order: levels only (noise, floor, cause NULL; thresholds NaN), through the
   * condition's chain and with its shift. No other member refers to them. */
  SpCorrected *superseded;
  /* Least limit - floor over the clear parts of the range that the mask requires; NaN: none */
  double clear_room_db;
  gboolean searched;   /* the mask requires a search range with a numeric limit */
  GArray *limit;       /* SpLimitSegment over the whole swept range */
  GPtrArray *warnings; /* SpReason* */
} SpConditionFindings;

typedef struct SpFindings SpFindings;
struct SpFindings {
  SpBench *bench;
  gboolean safe;
  guint n;
  SpConditionFindings *conditions; /* same index as in the bench */
  GPtrArray *warnings;             /* warnings about the bench and its files */
  /* The same bench held to the second masks, where it has any; NULL: none. Nothing else refers to it: the mask alone decides */
  SpFindings *second;
};

/* Shared and immutable. */
SpFindings *sp_findings_ref (const SpFindings *findings);
void sp_findings_unref (SpFindings *findings);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpFindings, sp_findings_unref)

/* What the second mask would have of a condition; NULL: it has none. */
const SpConditionFindings *sp_findings_second (const SpFindings *findings, guint condition);
/* The same emission held to that mask; NULL where that does not look there. */
const SpEmission *sp_second_emission (const SpConditionFindings *second, const SpEmission *emission);

/* The source of a +- U: an emission's budget, or that of P. */
typedef struct {
  const SpConditionFindings *found;
  const SpEmission *emission; /* NULL: P */
  const SpBudget *budget;     /* no terms if nothing was swept or P is not known */
  /* NaN like the emission's members; for P: level_dbc 0 and no margin */
  double frequency_hz, level_dbm, level_dbc, margin_db, slope;
} SpUncertaintySource;
#define SP_SOURCE_POWER (-1) /* in place of an emission's index */
SpUncertaintySource sp_uncertainty_source (const SpFindings *findings, guint condition, int emission);
/* The chain that the level was measured through: the sweep's own, else the condition's. (transfer none) */
const SpChain *sp_uncertainty_source_chain (const SpFindings *findings, const SpUncertaintySource *source);
/* Contributions of one stage, curve and connector, to the term "chain": the squares of all u_db add up to the square of the term. */
typedef struct {
  const SpStage *stage;
  SpBudgetSource from;       /* RUN, POINTS, TOUCHSTONE, LABEL or NOTHING */
  double loss_db, u_db, dof; /* dof INFINITY: not known */
} SpUncertaintyStage;
/* One entry per stage of sp_uncertainty_source_chain(), in order; *n is their number. (transfer full: g_free) */
SpUncertaintyStage *sp_uncertainty_source_stages (const SpFindings *findings, const SpUncertaintySource *source, guint *n);
/* Point of the stage's run nearest in octaves to the level's frequency; NULL: no run. *result (transfer full) owns it. */
const SpRunPoint *sp_uncertainty_stage_run (const SpUncertaintyStage *stage, double frequency_hz, SpRunResult **result);
/* Index of the emission of that order (1: SP_SOURCE_POWER), or of the emission nearest to a frequency, P included. -2: none. */
int sp_findings_of_order (const SpFindings *findings, guint condition, guint order);
int sp_findings_nearest (const SpFindings *findings, guint condition, double frequency_hz);

/* TRUE if nothing was seen and nothing could have been: the points are so far apart that a line between them vanishes (over
 * SP_BLIND_LOSS_DB), or the emission is not resolved. Level and floor are then no bound. */
gboolean sp_emission_is_blind (const SpEmission *emission);
/* Limit minus the deciding quantity (SpEmission.decision), by a guessed loss too (sp_emission_room_db). NaN: no limit, not swept, blind.
 * Normally limit - level (the floor if nothing was seen; the level if untested). The radio's part decides if the origin is mixed,
 * analyzer or ambient, or if the level alone would have another verdict under the same rule: then limit - lower end if it exceeds,
 * else limit - upper end.
 * Hence a margin of at least U where it complies, and never a positive margin where it exceeds. */
double sp_emission_deciding_margin_db (const SpEmission *emission);
/* U of the deciding margin. For a level over the limit, the loss of a line between two points is left out (core/budget/budget.h). */
double sp_emission_deciding_expanded_db (const SpEmission *emission);
/* FALSE where the verdict is withheld since the chain was not measured there, or at f0: the loss is a guess, and so is the margin. */
gboolean sp_emission_room_is_known (const SpEmission *emission);
/* What people read as "room": the deciding margin; NaN also where it is not known. For a condition that of worst_emission. */
double sp_emission_room_db (const SpEmission *emission);
double sp_findings_room_db (const SpConditionFindings *found);
/* Probability of conformity if the level decided, else NaN: it is not defined for an end of the radio's part, nor by a guessed
 * loss. */
double sp_emission_deciding_conformity (const SpEmission *emission);
/* "level" "floor" "radio-part-high" "radio-part-low" "blind"; NULL for NONE. */
const char *sp_decision_name (SpDecision decision);
/* Deciding margin of worst_emission; NaN: none. */
double sp_findings_deciding_margin_db (const SpConditionFindings *found);
/* A level at the socket relative to the condition's P, dBc; NaN: P is not known. */
double sp_findings_dbc (const SpConditionFindings *found, double level_dbm);
/* The deciding emission, and the unsettled one; NULL: none. */
const SpEmission *sp_findings_deciding (const SpConditionFindings *found);
const SpEmission *sp_findings_unsettled (const SpConditionFindings *found);
/* Judging uses that sweep of the condition: it is not superseded, and no warning says that it is not used. */
gboolean sp_findings_use (const SpConditionFindings *found, const SpTrace *trace, SpPurpose purpose);
/* The OVERLOAD that steps show, of the sweep that stands highest over the mixer's best level; NULL: none does. */
const SpReason *sp_findings_overload (const SpConditionFindings *found);

/* By how much floor (or trace) and guard lie over the limit where the gap is worst: <= 0 none is missing; NaN: no figure. */
double sp_gap_missing_db (const SpGap *gap);
/* How the readings of a step test fall below reading 0. gone: not seen any more with more_db of attenuation, the least such; else more_db
 * is the greatest tried and fall_db the fall with it. */
typedef struct {
  gboolean known; /* FALSE: no step test */
  gboolean gone;
  double more_db, fall_db;
} SpFall;
SpFall sp_evidence_fall (const SpEvidence *evidence); /* NULL: not known */

/* Does `a`, which would prove something, ask for more than `b` of the same code? Its first number decides: where it is an RBW or the points' distance at most, the
 * lesser asks more. */
gboolean sp_would_prove_asks_more (const SpReason *a, const SpReason *b);

/* Interface strings: "complies", "not proven", "radio", "noise", "predicted" ... */
const char *sp_verdict_name (SpVerdict verdict);
const char *sp_origin_name (SpOrigin origin); /* NULL for NONE */
const char *sp_origin_basis_name (SpOriginBasis basis);

/* Monte Carlo propagation (JCGM 101) of an emission's margin through the same budget (core/budget/propagate.h): n draws (100 .. 10^8);
 * the same seed gives the same result.
 * margin_expanded_db: half the probabilistically symmetric 95.45 % interval. conformity: share of draws with margin >= 0. NaN if the
 * margin or the conformity is not defined. */
typedef struct {
  double margin_u_db, margin_expanded_db, conformity;
} SpMonteCarlo;
SpMonteCarlo sp_emission_monte_carlo (const SpEmission *emission, guint64 n, guint64 seed);
