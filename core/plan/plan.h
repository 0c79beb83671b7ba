/* plan.h - what a sweep would be worth before it is taken: floor against limit, range against mixer level, what would prove it, how to sweep
 *
 * By the profile alone (core/docs/computation.md, sections 8, 9 and 14), in the judge's own terms, so that what is promised here is what
 * judging finds:
 *   level at the mixer  Pm = P - loss(f0) - correction(f0) - pad - notch - attenuation
 *   noise at the socket    = DANL(f) + 10 lg NBW + attenuation + pad + notch's loss + loss(f) + correction(f)
 *   L_D                    = noise + detection limit of the law for the looked-at points + sampling loss
 *   phase noise            = Pm + attenuation + L(f - f0) + 10 lg NBW + way from the input to the socket at f; with the noise
 *   skirt                  = P - notch + A(|f - f0| - spacing/2)  (a notch takes it with the carrier)
 *   q of order n           = n Pm - (n-1) In + attenuation + pad + notch's loss + loss(f);  q_high = q + 2 u(q)
 *   floor                  = L_D (+) skirt (+) q_high, and the largest is its cause.
 * What may be wider than the filter (w = the signal's width at its harmonic, or the rule's reference bandwidth, over SP_BAND_LINE_RBWS RBW) has to be
 * seen as a band, too (core/docs/computation.md, section 15): where points lie within the RBW the floor is at least the noise +
 * sp_band_floor_db (w, or the reference bandwidth where it is the narrower), else it rises by sp_band_spread_db (w), less the sampling loss
 * that is in it, unless sp_band_is_slow; a filter wider than the reference bandwidth sees lines alone. Between the harmonics the floor is
 * at least noise + sp_band_floor_db (w). All of it is arithmetic on what sp_plan_new worked out once for each harmonic; the law's answers
 * (microseconds for single looks and peaks, a millisecond for averages) are remembered. Ten harmonics at a new attenuation take some
 * microseconds: for dragging.
 *
 * A plan remembers as it goes: use one plan in one thread at a time. Everything else here is a plain value.
 */
#pragma once

#include "core/budget/budget.h"
#include "core/detection/detection.h"
#include "core/predict/predict.h"

#define SP_PROVE_RESERVE_DB 3.0    /* what an advised floor has in hand beyond U (common practice, no source) */
#define SP_MIXER_ASSUMED_DBM -10.0 /* greatest mixer level advised where the profile recommends none (common practice, no source) */
#define SP_NOTCH_LOSS_DB 1.0       /* of a notch beside its own frequency, where it is only wished for (common practice, no source) */
#define SP_NOTCH_MOST_DB 80.0      /* deeper ones are not advised */
#define SP_PARTS_MOST 50           /* nor more sweeps one beside the other */
#define SP_AVERAGES_MOST 100.0     /* nor more averages */
#define SP_PART_S 30.0             /* what each further sweep costs beside its own time, s (common practice, no source) */
#define SP_AVERAGING_S 5.0         /* what setting up an average costs, s (common practice, no source) */
#define SP_SHORT_S 1.0             /* nobody minds whether a sweep is shorter than this (common practice, no source) */
#define SP_STATED_RELATIVE 2e-5    /* a stated fundamental is believed this well (common practice, no source) */
#define SP_BLIND_LOSS_DB 20.0      /* beyond this sampling loss an undersampled sweep says nothing at all */
#define SP_MOST_LOSS_DB 100.0      /* far beyond what is blind: a larger figure says nothing more */
#define SP_KEY_DOWN_ASSUMED_S 60.0 /* longest key-down time of a radio that states none (common practice, no source) */
/* Of its rating a stage carries at most on average over several sweeps, key up and down (common practice, no source) */
#define SP_HEAT_SHARE 0.5
/* Nearer to f0 than this part of it no notch is advised: it takes what stands there with the carrier (common practice) */
#define SP_NOTCH_NEAR 0.05
#define SP_SWEEP_FACTOR 2.5 /* sweep time = 2.5 span / RBW^2 for a swept near-Gaussian filter (common practice, no source) */

/* What is to be measured. Nothing in it is owned; the plan takes references to the three parts. */
typedef struct {
  const SpChain *chain; /* a notched chain serves as it is: its loss at f0 holds the notch */
  const SpAnalyzer *analyzer;
  const SpMask *mask;
  double power_w;             /* > 0; peak out of the radio */
  double power_expanded_db;   /* U of it, for the power class; 0 */
  double fundamental_hz;      /* > 0 */
  double fundamental_half_hz; /* known to +- this, whatever the sweep (SP_STATED_RELATIVE of a stated one); NaN: only as a sweep shows it */
  double necessary_bandwidth_hz;
  double temperature_c;                   /* NaN: that of the calibration */
  double duty;                            /* (0, 1] */
  double radio_vswr, radio_harmonic_vswr; /* as SpBench's; NaN: assumed */
  double drift_u_db;                      /* as SpBudgetView's; 0 */
  SpDecisionRule rule;
  double signal_hz;          /* widest that the carrier's modulation may be; 0: a line */
  gboolean signal_folds;     /* at the nth harmonic it is n times as wide */
  double longest_key_down_s; /* the radio's; 0 or NaN: not stated, SP_KEY_DOWN_ASSUMED_S */
  /* A sweep of this analyzer's that said how long it took: pace of all that is planned, where the profile has no sweep_s. 0 or NaN: none. */
  double swept_s, swept_rbw_hz, swept_span_hz;
  /* pads at hand that could stand before the analyzer; may be 0. One whose rating (average power) the way falls short of is left out */
  guint n_pads;
  const SpPad *pads;
} SpTask;

/* How long the condition's radio may be keyed, whether its modulation folds, and its first sweep that told how long it took. */
void sp_task_take_condition (SpTask *task, const SpBench *bench, const SpCondition *condition);

/* How a sweep is taken. */
typedef struct {
  double rbw_hz, attenuation_db;
  double start_hz, stop_hz; /* of all parts together */
  double points;            /* of one part */
  double parts;             /* sweeps side by side, >= 1 */
  SpDetector detector;
  SpAverage average;
  double averages; /* >= 1 */
  SpHold hold;
  double pad_db;        /* in front of the analyzer, beyond the chain; 0 */
  double notch_db;      /* rejection of f0 beyond the chain's; 0: none. Then this is a second sweep: P comes from one without it */
  double notch_loss_db; /* of that notch elsewhere */
} SpSetting;

/* Distance between points, Hz. */
double sp_setting_spacing_hz (const SpSetting *setting);
/* What a trace says of itself. Attenuation and RBW may be NaN. */
SpSetting sp_setting_of_trace (const SpTrace *trace);

/* The analyzer's attenuator steps, dB, *n of them; where its profile lists none 0 to 40 by 10 (common practice, no source). (transfer none) */
const double *sp_plan_attenuations_db (const SpAnalyzer *analyzer, guint *n);

typedef struct _SpPlan SpPlan;

/* NULL never. (transfer full) */
SpPlan *sp_plan_new (const SpTask *task);
void sp_plan_free (SpPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpPlan, sp_plan_free)

guint sp_plan_harmonics (const SpPlan *plan); /* the mask's, at least 2 and at most SP_MAX_ORDER: orders 2 .. this */

/* Level at the mixer, and the attenuation that gives a mixer level (not rounded to steps; may be negative: not to be had). */
double sp_plan_mixer_dbm (const SpPlan *plan, const SpSetting *setting);
double sp_plan_attenuation_db (const SpPlan *plan, const SpSetting *setting, double mixer_dbm);

/* -- how long the key is down --
 * One part's sweep, times its averages: by the profile's sweep_s; else by the sweep that told its time, as span / RBW^2; else
 * SP_SWEEP_FACTOR span / RBW^2. Between parts the key is up: as long as the greatest average power into a stage asks (over key up and down at
 * most SP_HEAT_SHARE of its rating: pause = key-down (average / (share rating) - 1)), and where all parts together last longer than
 * the radio's longest key-down as long as it was down (common practice, no source). A setting whose one part lasts longer than that is never advised. */
typedef enum { SP_TIME_PROFILE, SP_TIME_SWEEP, SP_TIME_ASSUMED } SpTimeBasis;
const char *sp_time_basis_name (SpTimeBasis basis); /* "profile" "sweep" "common practice" */
typedef struct {
  double key_down_s; /* of one part, its averages in it */
  double pause_s;    /* between two parts; 0: one part, or none is needed */
  double parts;
  double keyed_s, total_s; /* all parts; with the pauses */
  SpTimeBasis basis;
  double longest_s;                   /* the radio's */
  gboolean longest_assumed, too_long; /* too_long: key_down_s is over it */
} SpKeying;
SpKeying sp_plan_keying (const SpPlan *plan, const SpSetting *setting);

/* One place at one setting. Levels at the socket; NaN where a part of the profile that it needs is missing. */
typedef struct {
  guint order; /* 0: not a harmonic */
  double frequency_hz;
  double limit_dbm;       /* NaN: no limit */
  const char *limit_rule; /* the mask's own; NULL */
  double noise_dbm;       /* mean noise power in the RBW, phase noise in it */
  double phase_noise_dbm; /* of it; -INFINITY without a table */
  double sampling_loss_db;
  double threshold_dbm;                       /* a reading above it is 'seen' */
  double detection_dbm;                       /* L_D, sampling loss in it */
  double skirt_dbm;                           /* -INFINITY: none */
  double distortion_dbm, distortion_high_dbm; /* q and q_high; NaN: the profile has no intercept of the order */
  double floor_dbm;                           /* NaN without DANL: nothing can be said */
  SpFloorCause cause;
  double expanded_db;  /* U of the margin, were nothing seen */
  double missing_db;   /* floor + U (simple rule: floor) - limit: over 0 'not seen' would be *not proven*; NaN: no limit or no floor */
  gboolean calibrated; /* the chain is, here and at f0 as far as the limit follows P; if not nothing complies, whatever the sweep */
  gboolean swept;      /* inside the setting's span */
  gboolean resolved;   /* the setting tells the harmonic from the carrier, the next harmonic and zero hertz; a spur is */
} SpOutlook;
/* Would nothing be seen whatever stood there? Its points lie so far apart that a line between them vanishes (over SP_BLIND_LOSS_DB): the floor is no bound. */
gboolean sp_outlook_is_blind (const SpOutlook *outlook);
SpOutlook sp_plan_harmonic (SpPlan *plan, const SpSetting *setting, guint order);
/* A spur anywhere: order 0, looked for in the whole sweep. */
SpOutlook sp_plan_spur (SpPlan *plan, const SpSetting *setting, double frequency_hz);

/* Is a setting kind to mixer and stages? Mixer level at most the recommended one (SP_MIXER_ASSUMED_DBM where none is), the analyzer's
 * input under its damage level at that attenuation, no stage over its rating, no dangerous return loss (core/headroom). */
typedef enum { SP_UNSAFE_NOT, SP_UNSAFE_MIXER, SP_UNSAFE_INPUT, SP_UNSAFE_STAGE } SpUnsafe;
SpUnsafe sp_plan_unsafe (const SpPlan *plan, const SpSetting *setting);

/* -- today, measured -- */

/* Mean noise power that a trace of the setting `today` showed at the socket at this place: from now on the place's noise scales from it (10
 * lg of RBWs, attenuation, pad, notch's loss; what phase noise makes of it does not follow the attenuation) instead of the profile's DANL.
 * order 0: for sp_plan_spur at this very frequency. NaN forgets. */
void sp_plan_measured (SpPlan *plan, guint order, double frequency_hz, const SpSetting *today, double noise_dbm);
/* U of the margin as judging found it, in place of the plan's own; NaN forgets. */
void sp_plan_measured_u (SpPlan *plan, guint order, double frequency_hz, double expanded_db);
/* What a step test showed of the analyzer's own there, the upper end of it at the setting `today`: from now on a setting's q_high is that, moved as a
 * product of `product_order` moves (0: what the analyzer makes without a signal), where it lies above the profile's. NaN forgets. */
void sp_plan_measured_product (SpPlan *plan, guint order, double frequency_hz, const SpSetting *today, guint product_order,
                               double product_high_dbm);

/* -- what would prove it -- */

/* Would a sweep of this setting prove the place? floor + U + SP_PROVE_RESERVE_DB <= limit; and where the analyzer's own product may show (at q_high
 * with a probability over 1 - SP_DETECTION) so must be what it could hide: the product in phase with what is seen, q_high + 6.02 dB, and
 * near the noise, which lifts it, q_high in phase with the detection limit. Besides calibrated, swept, safe; points further apart than the
 * RBW only with positive peak. FALSE where there is no limit. */
gboolean sp_plan_proves (SpPlan *plan, const SpSetting *setting, guint order, double frequency_hz);

/* Is this setting enough as it is, without the reserve: not seen would comply, and nothing that the analyzer makes stands in the way? Not that it is
 * safe. TRUE where there is no limit. */
gboolean sp_plan_settled (SpPlan *plan, const SpSetting *setting, guint order, double frequency_hz);

/* The least change of `today` that proves the place, as one reason; `*found` (may be NULL) is that setting.
 * Means: the profile's attenuator steps and RBW steps (where it lists none, 0 to 40 dB by 10, and 1-3-10 from 100 Hz to 1 MHz: common
 * practice), its greatest number of points (else today's), the task's pads; positive peak detection with all points in one sweep; sample
 * detection in several parts whose points lie within half an RBW; there also power averages of 10 and 100.
 * Where one part would last longer than the radio may be keyed it is divided further; more than SP_PARTS_MOST are not advised, nor is a setting that
 * does not resolve the harmonic.
 * Order: each setting changed (attenuation, RBW, detector, average, points, parts, hold, pad) costs 1, each decade of what the sweep takes
 * (sp_plan_keying's total, SP_PART_S for each further part, SP_AVERAGING_S for an average, at least SP_SHORT_S) over today's 1; the cheapest
 * that proves is taken, of equal ones the quickest, then that whose attenuation changes least.
 * No such: the same with a notch on f0 (whole dB deep, SP_NOTCH_LOSS_DB elsewhere), where every 10 dB of depth costs 1.
 *   PROVE_SETTING, PROVE_NOTCH (their numbers: core/quantity/reason.h); PROVE_CALIBRATION where the chain is not calibrated; PROVE_SWEEP where
 *   today's span does not reach; PROVE_FLOOR (how many dB more) where nothing of all that helps.
 *   NULL: no limit, or today proves it, or there is no floor (no DANL, nothing measured).
 * (transfer full) */
SpReason *sp_plan_prove (SpPlan *plan, const SpSetting *today, guint order, double frequency_hz, SpSetting *found);

/* Would this setting do? `outlook`: of the place, at it. */
typedef gboolean (*SpPlanAccepts) (gpointer data, const SpSetting *setting, const SpOutlook *outlook);
/* Of the same means, in the same order, without a notch: the first that is safe, calibrated, swept, not undersampled, and `accepts`. FALSE: none. */
gboolean sp_plan_seek (SpPlan *plan, const SpSetting *today, guint order, double frequency_hz, SpPlanAccepts accepts, gpointer data,
                       SpSetting *found);
/* What of `today` such a setting changes, as PROVE_SETTING, PROVE_NOTCH or PROVE_BESIDE; the level is the floor then, or the radio's part. (transfer full) */
SpReason *sp_plan_change (const SpPlan *plan, const SpSetting *today, const SpSetting *found, SpReasonCode code, double level_dbm);

/* -- the sweep to take -- */

/* A harmonic that no sweep proves: "outside-calibration", "not-resolved", or the name of the floor's cause with what the best of all lacks. */
typedef struct {
  guint order;
  const char *why;
  double missing_db; /* NaN: not calibrated */
} SpUnprovable;

typedef struct {
  gboolean any; /* FALSE: nothing is safe; then the rest means nothing */
  /* every harmonic with a limit that any sweep can prove, and a spur as far from the carrier as these; with `close` beside it all that
   * was swept. FALSE where no harmonic can be proven */
  gboolean proves;
  guint n_unprovable; /* set apart: the rest is planned as if these were not there */
  SpUnprovable unprovable[SP_MAX_ORDER + 1];
  gboolean close_by; /* beside the carrier it sees too little: `close` is the sweep that shows what stands there (sp_plan_close) */
  SpSetting close;
  SpKeying close_keying;
  const char *beside_why; /* nor does any other there: what stands in the way (sp_plan_close; "outside-calibration"); NULL */
  SpSetting setting;
  double mixer_dbm, time_s; /* time_s: key down in all, keying.keyed_s */
  SpKeying keying;
  guint worst_order;       /* the harmonic with the least to spare; 0: none has a limit */
  double worst_missing_db; /* its missing_db; NaN */
  gboolean noise_known;    /* FALSE: the profile states none, so that nothing is foreseen, whatever stands above */
  guint unpredicted;       /* harmonics with a limit whose order the profile has no intercept of: what the mixer makes there is not in it */
} SpAdvice;
/* Span: from 10 % below f0 (or the search range's begin) to 2 % above the highest harmonic that is calibrated (or the range's end); the response at zero
 * hertz left out. What no sweep can prove is set apart first. Of what proves all the rest the quickest (sp_plan_keying's total, at least SP_SHORT_S,
 * SP_PART_S for each further part and for a second sweep close to the carrier where it needs one, SP_AVERAGING_S for an average), of equally quick ones the one with the most to spare; if nothing
 * proves all of it, what proves most, the quickest of those; if nothing anything, what misses least. The same means as sp_plan_prove, without
 * pads and notch; no part longer than the radio may be keyed. */
SpAdvice sp_plan_advise (SpPlan *plan);

/* Settings to look at: RBW and attenuation as given (NaN: not), else the trace's (NULL: none), else the advised ones, and so the rest; the trace's span
 * only where it holds f0. */
SpSetting sp_plan_setting (SpPlan *plan, const SpTrace *trace, double rbw_hz, double attenuation_db);

/* -- the sweep that closes a gap --
 *
 * The cheapest single sweep (by sp_plan_advise's measure; of equal ones the one that leaves most of `today`, may be NULL, as it is) in which
 * nothing over the limit could hide anywhere in [from_hz, to_hz]: the zone that judging leaves out about the carrier (mask.h: exclude
 * or 3 RBW; a window's half) ends before the range begins, so does the response at zero hertz (SP_ZERO_HERTZ_RBWS), points within the RBW or
 * positive peak, and floor + U + SP_PROVE_RESERVE_DB (simple rule: without U) <= limit at both ends, at both ends of each stretch of the
 * limit, and at offsets from the carrier spaced evenly in their logarithm between (noise, phase noise and skirt are smooth there). Calibrated, safe,
 * its key-down within the radio's longest.
 * limit_dbm NaN: the mask's own at each place; else this one everywhere. Places without a limit, and those that the mask excludes about the
 * fundamental, do not count; the range may lie on both sides of it.
 * Span: a range nearer to the carrier than half its own far end is swept symmetrically about it, 10 % further, so that the sweep shows its own
 * carrier and both sides are closed at once; any other 5 % further than itself. Never from below SP_ZERO_HERTZ_RBWS RBW.
 * Far enough from f0 (SP_NOTCH_NEAR) a notch is the last means; found->notch_db then.
 * TRUE: *found, and *why is PROVE_SPAN with its numbers. FALSE: *why says what stands in the way:
 *   PROVE_CALIBRATION (the first frequency of the range that is not calibrated), or
 *   PROVE_SPAN_NOT: "phase noise" (the analyzer's own, whatever the RBW), "skirt" (too close for its narrowest RBW), "zero hertz" (likewise),
 *   "noise", "distortion", "time" (a sweep would do, but not in SP_PARTS_MOST parts within the longest key-down time each: its seconds in all, and that), "unsafe", "unknown" (no
 *   DANL). NULL where no limit stands in the range.
 * *why (transfer full), may be NULL; so may `found`. Some milliseconds. */
gboolean sp_plan_close (SpPlan *plan, const SpSetting *today, double from_hz, double to_hz, double limit_dbm, SpSetting *found,
                        SpReason **why);

/* A setting as PROVE_SPAN, with its key-down; floor_dbm as it goes into the reason. (transfer full) */
SpReason *sp_plan_span_reason (const SpPlan *plan, const SpSetting *setting, double floor_dbm);

/* What stands in the way of such a sweep. */
typedef enum {
  SP_OBSTACLE_NONE,
  SP_OBSTACLE_NOISE,
  SP_OBSTACLE_PHASE_NOISE,
  SP_OBSTACLE_SKIRT,
  SP_OBSTACLE_DISTORTION,
  SP_OBSTACLE_ZERO_HERTZ,
  SP_OBSTACLE_TIME,
  SP_OBSTACLE_UNSAFE,
  SP_OBSTACLE_UNKNOWN
} SpObstacle;
const char *
sp_obstacle_name (SpObstacle obstacle); /* "" "noise" "phase noise" "skirt" "distortion" "zero hertz" "time" "unsafe" "unknown" */

/* -- range against mixer level, for the figure -- */

typedef struct {
  guint order;
  double limit_dbc;       /* NaN */
  double *noise_dbc;      /* L_D below the carrier, n long; phase noise in it */
  double *distortion_dbc; /* q_high, n long; NULL: no intercept */
  double *floor_dbc;      /* all of it, n long */
  double best_mixer_dbm;  /* where the floor is lowest on the grid's span, noise meeting distortion; NaN */
  double best_floor_dbc;
} SpRangeCurve;

typedef struct {
  guint n;
  double *mixer_dbm; /* ascending, evenly spaced */
  guint n_curves;
  SpRangeCurve *curves;   /* orders 2, 3 ... */
  double today_mixer_dbm; /* of the setting given */
  double
      best_mixer_dbm; /* where the worst of (floor - limit) over the harmonics is least; without limits the worst floor; NaN without DANL */
  double best_missing_db; /* that worst, with U: over 0 no attenuation alone proves all; NaN without limits */
  double safe_mixer_dbm;  /* greatest that is advised */
} SpRange;
/* All but the attenuation as in `setting`; n >= 2 levels. (transfer full) */
SpRange *sp_plan_range (SpPlan *plan, const SpSetting *setting, double from_dbm, double to_dbm, guint n);
void sp_range_free (SpRange *range);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpRange, sp_range_free)

/* The range's best_mixer_dbm alone, no greater than what is advised; where there is no DANL what is advised. */
double sp_plan_best_mixer_dbm (SpPlan *plan, const SpSetting *setting);

/* Textbook range of an order at its best mixer level, dB: noise and distortion equally far below the carrier (core/docs/metrology.md,
 * section 4.4): ((n-1)/n)(In - N - noise margin) - distortion margin / n, at Pm = ((n-1) In + N + noise margin - distortion margin)/n. N:
 * the noise as read at 0 dB attenuation, dBm. For two tones and order 3 In is the two-tone intercept. */
double sp_dynamic_range_db (guint order, double intercept_dbm, double noise_dbm, double noise_margin_db, double distortion_margin_db,
                            double *mixer_dbm);
