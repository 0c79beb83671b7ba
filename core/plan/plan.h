/* plan.h - predicts the value of a sweep before it is made: floor against limit, range against mixer level, the setting that would
 * prove an emission, the sweep to make
 *
 * Uses the profile alone (core/docs/computation.md, sections 8, 9 and 14) and judging's formulas, so that judging confirms the
 * promise:
 *   level at the mixer  Pm = P - loss(f0) - correction(f0) - pad - notch - attenuation
 *   noise at the socket = DANL(f) + 10 lg NBW + attenuation + pad + notch's loss + loss(f) + correction(f)
 *   L_D = noise + detection limit of the law for the number of points + sampling loss
 *   phase noise = Pm + attenuation + L(f - f0) + 10 lg NBW + dB from the input to the socket at f; added to the noise
 *   skirt = P - notch + A(|f - f0| - spacing/2)  (a notch lowers it with the carrier)
 *   q of order n = n Pm - (n-1) In + attenuation + pad + notch's loss + loss(f);  q_high = q + 2 u(q)
 *   floor = L_D (+) skirt (+) q_high; the largest is its cause.
 *
 * An emission that may be wider than the filter (w = the signal's width at its harmonic, or the rule's reference bandwidth, over
 * SP_BAND_LINE_RBWS RBW) must be visible as a band too (core/docs/computation.md, section 15). With points within the RBW the floor is
 * at least noise + sp_band_floor_db (w, or the reference bandwidth if narrower). Otherwise it rises by sp_band_spread_db (w), less the
 * sampling loss already included, unless sp_band_is_slow. A filter wider than the reference bandwidth sees lines only. Between the
 * harmonics the floor is at least noise + sp_band_floor_db (w).
 *
 * sp_plan_new computes once for each harmonic what does not depend on the setting, and the law's results (microseconds for single
 * looks and peaks, a millisecond for averages) are cached. Ten harmonics at a new attenuation take some microseconds, fast enough for
 * dragging.
 *
 * A plan caches results: use it in one thread at a time. All other types here are plain values.
 */
#pragma once

#include "core/budget/budget.h"
#include "core/detection/detection.h"
#include "core/predict/predict.h"

#define SP_PROVE_RESERVE_DB 3.0 /* reserve of an advised floor beyond U (common practice, no source) */
/* Greatest advised mixer level if the profile recommends none (common practice, no source) */
#define SP_MIXER_ASSUMED_DBM -10.0
/* Loss of a proposed notch away from its own frequency (common practice, no source) */
#define SP_NOTCH_LOSS_DB 1.0
#define SP_NOTCH_MOST_DB 80.0      /* deeper notches are not advised (common practice, no source) */
#define SP_PARTS_MOST 50           /* more sweeps side by side are not advised (common practice, no source) */
#define SP_AVERAGES_MOST 100.0     /* more averages are not advised (common practice, no source) */
#define SP_PART_S 30.0             /* cost of each further sweep beyond its own time, s (common practice, no source) */
#define SP_AVERAGING_S 5.0         /* cost of setting up an average, s (common practice, no source) */
#define SP_SHORT_S 1.0             /* shorter sweeps count as this long (common practice, no source) */
#define SP_STATED_RELATIVE 2e-5    /* relative uncertainty of a stated fundamental (common practice, no source) */
#define SP_BLIND_LOSS_DB 20.0      /* with more sampling loss an undersampled sweep shows nothing (common practice, no source) */
#define SP_MOST_LOSS_DB 100.0      /* far beyond blind: greater figures mean the same (common practice, no source) */
#define SP_KEY_DOWN_ASSUMED_S 60.0 /* longest key-down time if the radio states none (common practice, no source) */
/* Share of its rating that a stage carries at most, averaged over several sweeps, key up and down (common practice, no source) */
#define SP_HEAT_SHARE 0.5
/* Relative distance from f0 within which no notch is advised: it would attenuate the emission too (common practice, no source) */
#define SP_NOTCH_NEAR 0.05
/* Sweep time = 2.5 span / RBW^2 for a swept near-Gaussian filter (common practice, no source) */
#define SP_SWEEP_FACTOR 2.5

/* The measurement to be planned. Owns nothing; the plan takes references to the three parts. */
typedef struct {
  const SpChain *chain; /* a chain with a notch is used as it is: its loss at f0 includes the notch */
  const SpAnalyzer *analyzer;
  const SpMask *mask;
  double power_w;           /* > 0; peak power of the radio */
  double power_expanded_db; /* its U, for the power class; 0 */
  double fundamental_hz;    /* > 0 */
  /* Uncertainty known apart from the sweep (SP_STATED_RELATIVE of a stated one); NaN: only from a sweep */
  double fundamental_half_hz;
  double necessary_bandwidth_hz;
  double temperature_c;                   /* NaN: calibration temperature */
  double duty;                            /* (0, 1] */
  double radio_vswr, radio_harmonic_vswr; /* as SpBench's; NaN: assumed */
  double drift_u_db;                      /* as SpBudgetView's; 0 */
  SpDecisionRule decision_rule;
  double signal_hz;          /* greatest width of the carrier's modulation; 0: a line */
  gboolean signal_folds;     /* the modulation is n times as wide at harmonic n */
  double longest_key_down_s; /* the radio's; 0 or NaN: not stated, SP_KEY_DOWN_ASSUMED_S */
  /* A sweep of this analyzer with a known duration; it sets the planned times if the profile has no sweep_s. 0 or NaN: none. */
  double swept_s, swept_rbw_hz, swept_span_hz;
  /* Pads at hand that could be put before the analyzer; may be 0. A pad rated under the average power is left out. */
  guint n_pads;
  const SpPad *pads;
} SpTask;

/* Fills in the condition's longest key-down time, its kind of modulation, and its first sweep with a known duration. */
void sp_task_take_condition (SpTask *task, const SpBench *bench, const SpCondition *condition);

/* Settings of a sweep. */
typedef struct {
  double rbw_hz, attenuation_db;
  double start_hz, stop_hz; /* all parts together */
  double points;            /* in one part */
  double parts;             /* sweeps side by side, >= 1 */
  SpDetector detector;
  SpAverage average;
  double averages; /* >= 1 */
  SpHold hold;
  double pad_db; /* before the analyzer, beyond the chain; 0 */
  /* Rejection of f0 beyond the chain's; 0: none. With a notch this is a second sweep: P comes from one without it */
  double notch_db;
  double notch_loss_db; /* that notch's loss elsewhere */
} SpSetting;

/* Spacing of the points, Hz. */
double sp_setting_spacing_hz (const SpSetting *setting);
/* The settings that a trace states. Attenuation and RBW may be NaN. */
SpSetting sp_setting_of_trace (const SpTrace *trace);

/* The greatest advised level at the mixer: the profile's recommended one, else SP_MIXER_ASSUMED_DBM. */
double sp_plan_safe_mixer_dbm (const SpAnalyzer *analyzer);

/* The analyzer's attenuator steps, dB, *n of them; 0 to 40 by 10 if its profile lists none (common practice, no source). (transfer none) */
const double *sp_plan_attenuations_db (const SpAnalyzer *analyzer, guint *n);

typedef struct _SpPlan SpPlan;

/* Never NULL. (transfer full) */
SpPlan *sp_plan_new (const SpTask *task);
void sp_plan_free (SpPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpPlan, sp_plan_free)

/* The mask's number, from 2 to SP_MAX_ORDER: orders 2 .. this */
guint sp_plan_harmonics (const SpPlan *plan);

/* Mixer level of a setting, and the attenuation for a mixer level: not rounded to steps; negative: not possible. Of the setting's own
 * mixer level it is the setting's own attenuation, whatever a grid's last digit lost. */
double sp_plan_mixer_dbm (const SpPlan *plan, const SpSetting *setting);
double sp_plan_attenuation_db (const SpPlan *plan, const SpSetting *setting, double mixer_dbm);

/* -- key-down time --
 * One part's sweep times its averages: by the profile's sweep_s; else scaled from the sweep with a known duration, as span / RBW^2;
 * else SP_SWEEP_FACTOR span / RBW^2.
 * Between parts the key is up. The pause limits the average power into each stage to SP_HEAT_SHARE of its rating over key up and down:
 * pause = key-down (average / (share rating) - 1). If all parts together exceed the radio's longest key-down time, each pause is at
 * least as long as the key-down (common practice, no source). A setting with one part over that time is never advised. */
typedef enum { SP_TIME_PROFILE, SP_TIME_SWEEP, SP_TIME_ASSUMED } SpTimeBasis;
const char *sp_time_basis_name (SpTimeBasis basis); /* "profile" "sweep" "common practice" */
typedef struct {
  double key_down_s; /* one part, with its averages */
  double pause_s;    /* between two parts; 0: one part, or none is needed */
  double parts;
  double keyed_s, total_s; /* all parts; the same with the pauses */
  SpTimeBasis basis;
  double longest_s;                   /* the radio's */
  gboolean longest_assumed, too_long; /* too_long: key_down_s is over longest_s */
} SpKeying;
SpKeying sp_plan_keying (const SpPlan *plan, const SpSetting *setting);

/* Prediction at one frequency and one setting. Levels at the socket; NaN: the profile lacks a needed part. */
typedef struct {
  guint order; /* 0: not a harmonic */
  double frequency_hz;
  double limit_dbm;       /* NaN: no limit */
  const char *limit_rule; /* name of the mask's rule; NULL */
  double noise_dbm;       /* mean noise power in the RBW, including phase noise */
  double phase_noise_dbm; /* its phase noise; -INFINITY without a table */
  double sampling_loss_db;
  double threshold_dbm;                 /* a reading above it is 'seen' */
  double detection_dbm;                 /* L_D, including sampling loss */
  double skirt_dbm;                     /* -INFINITY: none */
  double product_dbm, product_high_dbm; /* q and q_high; NaN: the profile has no intercept of the order */
  gboolean product_by_step;             /* q_high is what steps of attenuation showed, not the profile's */
  double floor_dbm;                     /* NaN without DANL: unknown */
  SpFloorCause cause;
  double expanded_db; /* U of the margin of an unseen emission */
  /* Floor + U (simple rule: floor) - limit: if over 0, "not seen" would be *not proven*; NaN: no limit or no floor */
  double missing_db;
  /* The chain is calibrated here, and at f0 if the limit depends on P; otherwise no sweep proves compliance */
  gboolean calibrated;
  gboolean swept; /* inside the setting's span */
  /* The setting separates the harmonic from the carrier, the next harmonic and zero hertz; TRUE for a spur */
  gboolean resolved;
} SpOutlook;
/* TRUE if nothing would be seen there: a line between two points vanishes (over SP_BLIND_LOSS_DB), and the floor is no bound. */
gboolean sp_outlook_is_blind (const SpOutlook *outlook);
/* TRUE if the floor is made by what steps of attenuation showed of the analyzer. */
gboolean sp_outlook_is_by_step (const SpOutlook *outlook);
SpOutlook sp_plan_harmonic (SpPlan *plan, const SpSetting *setting, guint order);
/* A spur anywhere: order 0, searched in the whole sweep. */
SpOutlook sp_plan_spur (SpPlan *plan, const SpSetting *setting, double frequency_hz);

/* Safety of a setting: mixer level at most the recommended one (SP_MIXER_ASSUMED_DBM if none), the analyzer's input under its damage
 * level at that attenuation, no stage over its rating, no dangerous return loss (core/headroom). */
typedef enum { SP_UNSAFE_NOT, SP_UNSAFE_MIXER, SP_UNSAFE_INPUT, SP_UNSAFE_STAGE } SpUnsafe;
SpUnsafe sp_plan_unsafe (const SpPlan *plan, const SpSetting *setting);

/* -- measured values of today's setting -- */

/* Sets the mean noise power at the socket that a trace with the setting `today` showed there. The noise then scales from it instead of
 * from the profile's DANL: by 10 lg of the RBWs, attenuation, pad, notch's loss; its phase noise does not follow the attenuation.
 * order 0: for sp_plan_spur at exactly this frequency. NaN: back to the profile. */
void sp_plan_measured (SpPlan *plan, guint order, double frequency_hz, const SpSetting *today, double noise_dbm);
/* Sets the carrier's level at the mixer, with its u, as judging found it in a sweep with the setting `today`; it moves with attenuation,
 * pad and notch. To be called before the other measured values. NaN: no change. */
void sp_plan_measured_mixer (SpPlan *plan, const SpSetting *today, double mixer_dbm, double mixer_u_db);
/* Sets the U of the margin that judging found, instead of the plan's; NaN: back to the plan's. */
void sp_plan_measured_u (SpPlan *plan, guint order, double frequency_hz, double expanded_db);
/* Sets the upper end of the analyzer's product from a step test at the setting `today`. q_high is then that, moved like a product of
 * `product_order` (0: a residual without a signal), if it is over the profile's. NaN: back to the profile. */
void sp_plan_measured_product (SpPlan *plan, guint order, double frequency_hz, const SpSetting *today, guint product_order,
                               double product_high_dbm);

/* -- the setting that would prove it -- */

/* TRUE if a sweep with this setting would prove the emission: calibrated, swept, safe, points within the RBW unless positive peak, and
 * floor + U + SP_PROVE_RESERVE_DB <= limit.
 * If the analyzer's product may show (at q_high with a probability over 1 - SP_DETECTION), the radio's part that it could hide must
 * meet that too: the product in phase with the level seen, q_high + 6.02 dB; near the noise, which lifts it, q_high in phase with the
 * detection limit.
 * FALSE if there is no limit. */
gboolean sp_plan_proves (SpPlan *plan, const SpSetting *setting, guint order, double frequency_hz);

/* TRUE if the setting suffices without the reserve: "not seen" would comply and the analyzer's product does not prevent it. Safety is
 * not checked. TRUE if there is no limit. */
gboolean sp_plan_settled (SpPlan *plan, const SpSetting *setting, guint order, double frequency_hz);

/* What would prove one emission is a reason; advice (SpAdvice, below) is how to sweep for all of them.
 *
 * The least change of `today` that proves the emission; `*found` (may be NULL) is that setting.
 * Choices: the profile's attenuator and RBW steps (if it lists none, 0 to 40 dB by 10, and 1-3-10 from 100 Hz to 1 MHz: common
 * practice); its greatest number of points (else today's); the task's pads; positive peak with all points in one sweep; sample
 * detection in several parts with points within half an RBW; the same with power averages of 10 and 100. A part longer than the radio
 * may be keyed is divided further. More than SP_PARTS_MOST parts, or a setting that does not resolve the harmonic, is not advised.
 * Cost: 1 for each changed setting (attenuation, RBW, detector, average, points, parts, hold, pad), and 1 for each decade of the
 * effort over today's (sp_plan_keying's total, SP_PART_S for each further part, SP_AVERAGING_S for an average, at least SP_SHORT_S).
 * The cheapest proving setting is taken; if equal the quickest, then the one with the least change of attenuation.
 * If none proves: the same with a notch on f0 (whole dB deep, SP_NOTCH_LOSS_DB elsewhere), at a cost of 1 for every 10 dB.
 * Result: PROVE_SETTING, PROVE_NOTCH (numbers: core/quantity/reason.h); PROVE_CALIBRATION if the chain is not calibrated; PROVE_SWEEP
 * if today's span does not reach; PROVE_FLOOR (missing dB) if nothing helps. NULL: no limit, today already proves it, or no floor is
 * known (no DANL, nothing measured). (transfer full) */
SpReason *sp_plan_prove (SpPlan *plan, const SpSetting *today, guint order, double frequency_hz, SpSetting *found);

/* Accepts or rejects a setting; `outlook` is that of the emission with it. */
typedef gboolean (*SpPlanAccepts) (gpointer data, const SpSetting *setting, const SpOutlook *outlook);
/* Same choices and order, without a notch: the first setting that is safe, calibrated, swept, not undersampled, and that `accepts`
 * accepts. FALSE: none. */
gboolean sp_plan_seek (SpPlan *plan, const SpSetting *today, guint order, double frequency_hz, SpPlanAccepts accepts, gpointer data,
                       SpSetting *found);
/* The changes from `today` to `found`, as PROVE_SETTING, PROVE_NOTCH or PROVE_BESIDE; the level is then the floor, or the radio's
 * part. (transfer full) */
SpReason *sp_plan_change (const SpPlan *plan, const SpSetting *today, const SpSetting *found, SpReasonCode code, double level_dbm);

/* -- the sweep to make -- */

/* What stands against a sweep. */
typedef enum {
  SP_OBSTACLE_NONE,
  SP_OBSTACLE_NOISE, /* the floor's causes, in SpFloorCause's order */
  SP_OBSTACLE_PHASE_NOISE,
  SP_OBSTACLE_SKIRT,
  SP_OBSTACLE_PRODUCT,
  SP_OBSTACLE_ZERO_HERTZ,
  SP_OBSTACLE_TIME,
  SP_OBSTACLE_UNSAFE,
  SP_OBSTACLE_UNKNOWN,
  SP_OBSTACLE_CALIBRATION, /* these two of SpAdvice alone */
  SP_OBSTACLE_NOT_RESOLVED
} SpObstacle;
/* "" "noise" "phase noise" "skirt" "distortion" "zero hertz" "time" "unsafe" "unknown" "outside-calibration" "not-resolved" */
const char *sp_obstacle_name (SpObstacle obstacle);
SpObstacle sp_obstacle_of_cause (SpFloorCause cause);

/* A harmonic that no sweep proves: CALIBRATION, NOT_RESOLVED, or the floor's cause with the dB that the best sweep misses. */
typedef struct {
  guint order;
  SpObstacle obstacle;
  double missing_db; /* NaN: not calibrated */
} SpUnprovable;

typedef struct {
  gboolean any; /* FALSE: nothing is safe, and the other members are meaningless */
  /* TRUE if it proves every harmonic that any sweep can prove, and a spur as far from the carrier; together with `close`, the whole
   * swept range. FALSE if no harmonic can be proven. */
  gboolean proves;
  /* Left out: the rest is planned without them */
  guint n_unprovable;
  SpUnprovable unprovable[SP_MAX_ORDER + 1];
  /* The sweep sees too little beside the carrier; `close` is the sweep that does (sp_plan_close) */
  gboolean close_by;
  SpSetting close;
  SpKeying close_keying;
  /* No sweep sees enough beside the carrier: the obstacle (sp_plan_close); NONE */
  SpObstacle close_obstacle;
  SpSetting setting;
  double mixer_dbm, time_s; /* time_s: total key-down time, keying.keyed_s */
  SpKeying keying;
  guint worst_order;       /* the harmonic with the least reserve; 0: none has a limit */
  double worst_missing_db; /* its missing_db; NaN */
  gboolean noise_known;    /* FALSE: the profile states no noise, so nothing above is a prediction */
  /* Harmonics with a limit for which the profile has no intercept: the mixer's product is not included */
  guint unpredicted;
} SpAdvice;
/* Span: from 10 % below f0 (or the start of the search range) to 2 % above the highest calibrated harmonic (or the end of the range),
 * without the response at zero hertz.
 * Harmonics that no sweep can prove are left out first. Of the sweeps that prove the rest, the quickest is taken (sp_plan_keying's
 * total, at least SP_SHORT_S; SP_PART_S for each further part and for a second sweep close to the carrier; SP_AVERAGING_S for an
 * average), then the one with the greatest reserve. If none proves all: the one that proves most, then the quickest. If none proves
 * any: the one that misses least.
 * Same choices as sp_plan_prove, without pads and notch; no part is longer than the radio may be keyed. */
SpAdvice sp_plan_advise (SpPlan *plan);

/* Settings for display: RBW and attenuation as given (NaN: not given), else the trace's (NULL: none), else the advised ones; likewise
 * the rest. Uses the trace's span only if it holds f0. */
SpSetting sp_plan_setting (SpPlan *plan, const SpTrace *trace, double rbw_hz, double attenuation_db);

/* -- the sweep that closes a gap --
 *
 * The cheapest single sweep (cost as in sp_plan_advise; if equal, the one that changes `today` least, may be NULL) in which nothing
 * over the limit can hide in [from_hz, to_hz]. Conditions:
 * - The zone round the carrier that judging leaves out (mask.h: exclude or 3 RBW; half a window) and the response at zero hertz
 *   (SP_ZERO_HERTZ_RBWS) end before the range begins.
 * - Points are within the RBW, or positive peak.
 * - floor + U + SP_PROVE_RESERVE_DB (simple rule: without U) <= limit at both ends of the range and of each stretch of the limit, and
 *   at offsets from the carrier evenly spaced in their logarithm between, where noise, phase noise and skirt are smooth.
 * - The sweep is calibrated and safe, and its key-down is within the radio's longest.
 * limit_dbm NaN: the mask's limit at each frequency; else this one everywhere. Frequencies without a limit, or excluded by the mask
 * about the fundamental, do not count. The range may be on both sides of the fundamental.
 *
 * Span: a range closer to the carrier than half its own far end is swept symmetrically about the carrier, 10 % further, so that the
 * sweep shows its own carrier and closes both sides at once. Any other range: 5 % further than itself. Never below SP_ZERO_HERTZ_RBWS
 * RBW.
 * If it is far enough from f0 (SP_NOTCH_NEAR) a notch is tried last; its depth is then in found->notch_db.
 *
 * TRUE: sets *found, and *why is PROVE_SPAN with its numbers. FALSE: *why is the obstacle:
 *   PROVE_CALIBRATION: the first frequency of the range that is not calibrated;
 *   PROVE_SPAN_NOT: "phase noise" (the analyzer's, at any RBW), "skirt" (too close for its narrowest RBW), "zero hertz" (likewise),
 *   "noise", "distortion", "time" (needs more than SP_PARTS_MOST parts within the longest key-down time; with its total seconds, and
 *   that time), "unsafe", "unknown" (no DANL);
 *   NULL: no limit in the range.
 * *why (transfer full) and `found` may be NULL. Takes some milliseconds.
 */
gboolean sp_plan_close (SpPlan *plan, const SpSetting *today, double from_hz, double to_hz, double limit_dbm, SpSetting *found,
                        SpReason **why);

/* A setting as PROVE_SPAN, with its key-down time and floor_dbm. (transfer full) */
SpReason *sp_plan_span_reason (const SpPlan *plan, const SpSetting *setting, double floor_dbm);

/* -- range against mixer level, for the figure -- */

typedef struct {
  guint order;
  double limit_dbc;    /* NaN */
  double *noise_dbc;   /* L_D relative to the carrier, n values, including phase noise */
  double *product_dbc; /* q_high, n long; NULL: no intercept */
  double *floor_dbc;   /* the whole floor, n values */
  /* Mixer level with the lowest floor within the grid's span, where noise and the product meet; NaN */
  double best_mixer_dbm;
  double best_floor_dbc;
} SpRangeCurve;

typedef struct {
  guint n;
  double *mixer_dbm; /* ascending, evenly spaced */
  guint n_curves;
  SpRangeCurve *curves;   /* orders 2, 3 ... */
  double today_mixer_dbm; /* at the given setting */
  /* Mixer level with the least worst (floor - limit) of the harmonics; without limits the least worst floor; NaN without DANL */
  double best_mixer_dbm;
  /* That worst value, with U: if over 0, attenuation alone cannot prove all; NaN without limits */
  double best_missing_db;
  double safe_mixer_dbm; /* greatest advised level */
  gboolean safe_assumed; /* nobody states it: SP_MIXER_ASSUMED_DBM */
} SpRange;
/* Settings as in `setting` except for the attenuation; n >= 2 levels. (transfer full) */
SpRange *sp_plan_range (SpPlan *plan, const SpSetting *setting, double from_dbm, double to_dbm, guint n);
void sp_range_free (SpRange *range);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpRange, sp_range_free)

/* The range's best_mixer_dbm alone, at most the greatest advised level; without DANL that level. *assumed (may be NULL): it is
 * SP_MIXER_ASSUMED_DBM, since neither the profile's recommended level nor its noise and intercepts set it. */
double sp_plan_best_mixer_dbm (SpPlan *plan, const SpSetting *setting, gboolean *assumed);

/* Textbook range of an order at its best mixer level, dB: noise and the product equally far below the carrier (core/docs/metrology.md,
 * section 4.4): ((n-1)/n)(In - N - noise margin) - product margin / n, at Pm = ((n-1) In + N + noise margin - product margin)/n.
 * N: noise as read at 0 dB attenuation, dBm. For two tones and order 3, In is the two-tone intercept. */
double sp_dynamic_range_db (guint order, double intercept_dbm, double noise_dbm, double noise_margin_db, double product_margin_db,
                            double *mixer_dbm);
