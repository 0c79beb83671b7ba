/* judging.h - what the judging of one condition carries from stage to stage (private to the room)
 *
 * correct -> fundamental -> floor -> emissions -> origin -> budget -> verdict. Each stage reads what the ones before it wrote.
 */
#pragma once

#include "core/detection/band.h"
#include "core/detection/detection.h"
#include "core/detection/spectrum.h"
#include "core/judge/findings.h"

#define SP_CARRIER_U_METER_DB 0.5 /* a meter whose u is not given (common practice, no source) */
#define SP_SAME_SETTING_DB 0.05   /* attenuations closer than this are equal */
#define SP_MAX_SPURS 500          /* listed; more are said, not listed: such a trace is not a spectrum of spurs */
/* A line's sum is no more over its vertex, through a filter up to 20 % wider than its name (calculated: 0.8 dB) */
#define SP_STANDS_OUT_DB 1.0
#define SP_STANDS_OUT_U 2.0       /* and so many u of what noise leaves of either */
#define SP_ZONE_RBWS 3.0          /* about the carrier that a sweep cannot judge (core/docs/computation.md, section 15) */
#define SP_SPUR_PROMINENCE_DB 6.0 /* two spurs closer than this descent are one (common practice, no source) */

/* Threshold and detection limit over mean noise for so many looked-at points. */
typedef struct {
  double points, threshold_db, detection_limit_db;
} SpThresholds;

/* What one sweep says about a place: the greatest line in the window or, of what is wider than the filter, its band; or the floor there. Levels at the
 * socket. */
typedef struct {
  gboolean detected;
  SpEmissionKind kind;
  double from_hz, to_hz; /* of its band; of a line both its frequency */
  double width_hz;       /* that holds 99 % of a band's power */
  double below_db;       /* as SpEmission.excess_db */
  double reference_hz;   /* as SpEmission.reference_bandwidth_hz */
  double frequency_hz, level_dbm, noise_u_db, floor_dbm, loss_db;
  double reading_dbm, near_noise_db;         /* of a line: its greatest point as exported, and what noise had added */
  double threshold_dbm, detection_limit_dbm; /* threshold and, with the loss between points, detection limit there */
  SpFloorCause cause;
} SpDetection;

/* The noise at the analyzer's input at places spread evenly over the points, and what it is around them. */
typedef struct {
  guint n;                        /* 0: not laid yet */
  double *noise_dbm, *around_dbm; /* one block: g_free (noise_dbm) */
} SpGround;

/* What the law of a sweep's readings leaves near the noise, at whole dB over it, worked out when first asked for. */
#define SP_NEAR_LEAST (-10)
#define SP_NEAR_MOST 50
typedef struct {
  guint8 known[SP_NEAR_MOST - SP_NEAR_LEAST + 1];
  double correction_db[SP_NEAR_MOST - SP_NEAR_LEAST + 1], u_db[SP_NEAR_MOST - SP_NEAR_LEAST + 1];
} SpNear;

/* A sweep on its way. Index k < SpJudging.n of SpJudging.sweeps matches out->corrected[k]; those behind out->evidence[k - n]. */
typedef struct {
  SpPurpose purpose;
  const SpTrace *trace;
  const SpChain *chain;
  SpCorrected *out;
  double rbw_hz, nbw_hz; /* NaN: unknown */
  double spacing_hz;     /* greatest of the whole trace */
  gboolean uniform;      /* all spacings equal within 1 % */
  SpDetectorLaw law;
  gboolean law_assumed;
  double quantile_db;     /* median of the noise's reading over its mean power */
  double noise_window_hz; /* half the window of the running median, where noise may climb towards a carrier */
  SpGround ground;
  SpNear *near;                 /* NULL: none yet; g_free */
  SpBandView band;              /* its points, for sums */
  SpThresholds thresholds;      /* for a harmonic's own window */
  SpThresholds last_thresholds; /* the latest other one: solving for a limit costs milliseconds, and neighbours ask for the same */
  double sweep_threshold_db;    /* threshold for the whole sweep */
  /* of the fundamental, where this sweep holds it */
  gboolean has_carrier;
  double carrier_hz, carrier_half_hz; /* its frequency is known to +- this */
  double carrier_dbm;                 /* at the socket, before anchoring */
  double carrier_reading_dbm;         /* at the analyzer's input */
  double carrier_noise_u_db;
  double carrier_loss_db;     /* what its level may have lost between points */
  gboolean carrier_blurred;   /* so much that nothing else is taken from it (sp_judging_blurred) */
  gboolean carrier_clipped;   /* its level is a lower bound: no P, no mixer level and no anchoring if there is a better sweep */
  double carrier_spread_db;   /* it is modulated and could not be summed: so much more it may be */
  gboolean carrier_elsewhere; /* it stands beside the stated frequency, not at it */
  double carrier_room_hz;     /* either side of it no other line stands */
  double signal_hz;           /* widest that the carrier's modulation may be, as this sweep shows it; NaN: it cannot tell */
  gboolean modulated;         /* and it shows that it is modulated */
  double shift_db;            /* anchoring */
  double to_socket_db;        /* from a reading at f0 to the socket: by the chain, whether or not the trace reaches it; NaN without f0 */
  double attenuation_db;      /* before the mixer, over that of the first keyed sweep: the analyzer's own or by the sheet; NaN: not known */
  double mixer_dbm, mixer_u_db; /* NaN: not known */
  /* as a witness (usable-steps.c) */
  gboolean not_usable;   /* says nothing of whose an emission is */
  gboolean said_why_not; /* sp_judging_untested_steps() has named it */
  /* its carrier stands so far from the keyed one's, beyond chance, yet no further than a radio drifts or nobody knows whether the keyed
   * sweep was compressed; else 0 */
  double carrier_moved_db;
} SpJudgedSweep;

typedef struct {
  const SpBench *bench;
  const SpCondition *condition;
  const SpChain *chain;
  const SpAnalyzer *analyzer;
  const SpMask *mask;
  SpConditionFindings *out;
  guint n, n_all; /* judged: keyed and notched; all: and the steps, and the unkeyed one */
  SpJudgedSweep *sweeps;
  double carrier_half_hz; /* of out->fundamental_hz */
  gboolean carrier_calibrated;
  int carrier_sweep; /* the one that P and dBc stand on: keyed, or a step where every keyed carrier is clipped (then >= n); -1 */
  int keyed_carrier; /* the keyed one that steps are held against: the same unless that is a step; -1 */
  double meter_u_db;
  gboolean carriers_differ; /* of the keyed sweeps, beyond U and what a radio drifts: each sweep's emissions go by its own */
  gboolean power_at_least;  /* P is that of a clipped carrier: it may be more */
  double signal_hz;         /* widest that the carrier's modulation may be, by all sweeps and the sheet; 0: a line */
  gboolean signal_shown;    /* a sweep shows it */
  gboolean folds;           /* of a product of order n it is n times as wide: of all but an amplitude's modulation */
  GArray *climbs;           /* SpClimb */
  SpReason *doubt;          /* no keyed sweep shows the fundamental where it was stated: nothing complies then; NULL */
} SpJudging;

/* Noise that climbs towards the carrier beyond what its profile predicts: whose it is nobody knows, nor how much of it stands nearer by. */
typedef struct {
  double from_hz, to_hz, power_dbm; /* all of it that stands outside the sweep's zone, on one side */
} SpClimb;

/* The carrier in a sweep: index of its greatest point, the ends of its flat top (of the one point, where not clipped). */
typedef struct {
  guint64 index, first, last;
  gboolean clipped;
  gboolean elsewhere; /* there is no such line at the frequency asked for, but one near by */
  guint64 beside;     /* greatest point of another line that would count in a sum of powers; n of the trace: none */
} SpCarrier;

/* correct.c: corrected levels, law and noise of every sweep. */
void sp_judging_correct (SpJudging *c);
/* Levels and frequencies of one trace at the socket, by its chain and the analyzer's amplitude correction; nothing else of `out`. */
void sp_judging_correct_levels (const SpJudging *c, const SpChain *chain, const SpTrace *trace, SpCorrected *out);
/* superseded.c: levels of what a re-take has superseded, once the shift of the others is known; out->superseded. */
void sp_judging_superseded (SpJudging *c);
/* Distance in Hz to the neighbouring points around index i (the greater). */
double sp_judging_spacing (const SpJudgedSweep *s, guint64 i);
gboolean sp_judging_narrow (const SpJudgedSweep *s, guint64 i);
/* Index of the greatest corrected level within [from, to]; n of the trace if there is no point. */
guint64 sp_judging_greatest (const SpJudgedSweep *s, double from_hz, double to_hz);
/* May a line have lost so much that nothing else should be taken from it? Points further apart than the RBW, or the least of each bucket. */
gboolean sp_judging_blurred (const SpJudgedSweep *s, guint64 i);
/* Sampling loss between points around i, dB; INFINITY where nothing can be said. */
double sp_judging_sampling_loss (const SpJudging *c, const SpJudgedSweep *s, guint64 i);
/* Warnings that need no fundamental: settings unknown. */
void sp_judging_settings_warnings (SpJudging *c);

/* The look for `points`; the law's answer, remembered. */
SpThresholds sp_judging_thresholds (SpJudgedSweep *s, double points);

/* alike.c: may the two be repeats of one another, as far as purpose, chain and settings go? Do their spans meet too? */
gboolean sp_judging_equal_settings (const SpJudgedSweep *a, const SpJudgedSweep *b);
gboolean sp_judging_are_repeats (const SpJudgedSweep *a, const SpJudgedSweep *b);
/* What tells the reading of one sweep from another's, standard uncertainty: not what both share, and not the noise. */
double sp_judging_differential_u_db (const SpJudging *c, const SpJudgedSweep *first, const SpJudgedSweep *s, double frequency_hz);

/* carrier.c: the response at zero hertz reaches to here. */
double sp_judging_zero_hertz_end (const SpJudgedSweep *s);
/* The carrier, sought about f0 (NaN: the greatest line of all); FALSE where it is not there. Never the response at zero hertz, nor a skirt. */
gboolean sp_judging_find_carrier (const SpJudging *c, const SpJudgedSweep *s, double f0, SpCarrier *at);

/* fundamental.c */
void sp_judging_fundamental (SpJudging *c);

/* power.c: P from the keyed sweeps that hold the carrier well: their mean, with its type A, where they agree within U and what a radio drifts; else that
 * of the first, a warning, and each sweep's emissions go by its own. */
void sp_judging_combine (SpJudging *c);
/* The P that what this sweep shows stands on, dBm: its own carrier's where carriers differ, that of a sweep of equal settings where it has none, else the
 * least of them. NaN: not known. */
double sp_judging_power_dbm (const SpJudging *c, const SpJudgedSweep *s);
/* Is the carrier's reading as good as a reading can be? */
gboolean sp_judging_carrier_is_whole (const SpJudgedSweep *s);

/* signal.c - how wide the carrier's modulation is. A sweep tells where its points lie no further apart than its RBW: of a line the filter shows what it
 * always shows, within 10 % (common practice, no source), and what is over that is the signal's. Sets s->signal_hz and s->modulated; FALSE: it cannot
 * tell. *from_hz and *to_hz: the band that holds 99 % of the power. */
gboolean sp_judging_signal_of_sweep (const SpJudging *c, SpJudgedSweep *s, double *from_hz, double *to_hz);
/* Of all sweeps and the sheet: c->signal_hz, c->folds. One that shows it modulated outranks the sheet, and is said; else the narrowest bound stands, the
 * necessary bandwidth where there is none. */
void sp_judging_signal (SpJudging *c);
/* The widest that an emission of the order may be in this sweep (0: no harmonic): n times the carrier's (FM, phase noise and SSB alike), or as
 * wide (AM, keying). */
double sp_judging_signal_width_hz (const SpJudging *c, const SpJudgedSweep *s, guint order);

/* floor.c: what turns a reading at index i into a level at the socket, dB; and the carrier as the analyzer gets it, referred to the socket there (dBm):
 * what a notch takes from the one and not from the other counts. */
double sp_judging_to_socket_db (const SpJudgedSweep *s, guint64 i);
double sp_judging_carrier_at_dbm (const SpJudging *c, const SpJudgedSweep *s, guint64 i);
#define SP_OFF_PROFILE_DB 3.0 /* a trace's noise further from the profile's is told (common practice, no source) */
/* Phase noise that the profile predicts at index i, at the socket: P - loss(f0) + L(df) + 10 lg NBW + loss(f); -INFINITY without a profile or a
 * carrier. */
double sp_judging_phase_noise_dbm (const SpJudging *c, const SpJudgedSweep *s, guint64 i, double frequency_hz);
/* Warnings: the trace's noise off the profile's, where no phase noise counts. */
#define SP_PHASE_NOISE_UNKNOWN_HZ 1e6 /* from the carrier, where the profile has none (common practice, no source) */
void sp_judging_profile_warnings (SpJudging *c);
/* Floor and its cause for every point of every sweep. */
void sp_judging_floor (SpJudging *c);
/* Floor at index i for `points` looked-at points; *cause and, where predicted, *distortion_high_dbm. */
double sp_judging_floor_at (const SpJudging *c, SpJudgedSweep *s, guint64 i, double frequency_hz, double points, SpFloorCause *cause);
/* q_high of order n at the socket in this sweep; NaN: not predicted. */
double sp_judging_distortion_high (const SpJudging *c, const SpJudgedSweep *s, guint order);

/* line.c: level of a line whose greatest point is i, and its place: parabola, smear or the reading itself (core/docs/computation.md,
 * section 7). The parabola never rises by more than a Gaussian filter 20 % narrower than its name could fall between two points, and points
 * that are not bent like a line's, such as a modulated carrier's, have none. */
void sp_judging_line (const SpJudgedSweep *s, guint64 i, double *frequency_hz, double *level_dbm, double *half_hz);
/* What that level may have lost between the points all the same, dB: 0 for positive peaks and where a vertex was laid. */
double sp_judging_line_loss (const SpJudging *c, const SpJudgedSweep *s, guint64 i);
/* u of what noise leaves of that level. The vertex weighs the three points (Lagrange's weights there), each as unsure as noise leaves it at its own
 * level: the greatest may stand 3 dB below the vertex, and a neighbour deep in the noise. `least_u_db`: of one reading at the vertex. */
double sp_judging_vertex_u_db (const SpJudgedSweep *s, guint64 i, double frequency_hz, double least_u_db);
/* Near the noise the greatest of several points of one look each is 1 dB and more too high. There the mean power within 0.4 RBW of the middle, less the
 * noise's, over the filter's mean response there: unbiased (tests/simulate/levels). u as of one look: how alike the points' noise is nobody
 * knows. FALSE: not near, not such readings, fewer than 1.8 points in an RBW, or wider than a line. */
gboolean sp_judging_line_near_noise (const SpJudgedSweep *s, guint64 i, double *frequency_hz, double *level_dbm, double *u_db);

/* detect.c: sp_law_near_noise() of a reading so far over the noise; of laws that cost milliseconds straight between whole dB. */
void sp_judging_near_noise (const SpJudgedSweep *s, double over_db, double *correction_db, double *u_db);
/* Half the window that a line at index i is looked for in: max (RBW, s). */
double sp_judging_window_half (const SpJudgedSweep *s, guint64 i);
gboolean sp_judging_holds (const SpJudgedSweep *s, double frequency_hz);
/* The line whose greatest point is i. */
void sp_judging_take_line (const SpJudging *c, const SpJudgedSweep *s, guint64 i, SpDetection *out);
/* What the sweep, which holds the frequency, says about it +- the window and `extra_hz`, of something that may be `width_hz` wide there (0: a line). */
SpDetection sp_judging_detect (const SpJudging *c, SpJudgedSweep *s, double frequency_hz, double extra_hz, double width_hz);
/* The order of the harmonic that is looked for there; 0: of none. */
guint sp_judging_order_at (const SpJudging *c, double frequency_hz);
/* Could the sweep show this emission? It holds the place, tells it from the carrier and the next harmonic, and a spur is not hidden beside the carrier or
 * zero hertz. */
gboolean sp_judging_could_see (const SpJudging *c, const SpJudgedSweep *s, const SpEmission *e);
/* Of an emission that it could show: its window and width in this sweep. */
SpDetection sp_judging_detect_emission (const SpJudging *c, SpJudgedSweep *s, const SpEmission *e);
/* How wide that may be: by the carrier's modulation, by the band where it was seen, by the rule's reference bandwidth. */
double sp_judging_width_hz (const SpJudging *c, const SpJudgedSweep *s, guint order, double frequency_hz);

/* ground.c: lays s->ground, the noise at places spread over the points and what it is around them, in the trace's own levels. */
void sp_judging_lay_ground (SpJudgedSweep *s);
guint sp_judging_place_of (const SpJudgedSweep *s, guint64 i);
double sp_judging_place_hz (const SpJudgedSweep *s, guint place);
/* From the trace's level at index i to the socket's. */
double sp_judging_trace_to_socket_db (const SpJudgedSweep *s, guint64 i);
/* Steps of an analyzer's own noise from band to band are smaller (common practice, no source). */
#define SP_RISES_DB 6.0
/* The ground at point i, at the socket, where the noise stands over it by more than that; INFINITY where it does not. */
double sp_judging_ground_dbm (SpJudgedSweep *s, guint64 i);

/* detect-band.c: does the greatest of several looks hold the whole of a frequency-modulated signal of that width, as it sweeps through the filter? */
gboolean sp_judging_is_slow (const SpJudging *c, const SpJudgedSweep *s, double width_hz);
/* So far over a line's vertex may the sum of its readings come, where they are the greatest of a bucket. */
double sp_judging_line_sum_db (const SpJudgedSweep *s);
/* How far the greatest of the readings of noise that wide stands over its mean, but for one time in a hundred. */
double sp_judging_greatest_over_db (SpJudgedSweep *s, double width_hz);
/* Is each reading the least of several looks? */
gboolean sp_judging_shows_least (const SpJudgedSweep *s);
/* The same place as a band `width_hz` wide about `centre_hz`: level, bounds and floor in the rule's reference bandwidth; `sight` holds
 * the line's. */
void sp_judging_detect_band (const SpJudging *c, SpJudgedSweep *s, double centre_hz, double width_hz, SpDetection *detection);

/* harmonic-resolution.c: is the sweep too coarse, in points or RBW, to tell the harmonic from the carrier, the next harmonic or the response at zero hertz?
 * *other (may be NULL): which, 1 the carrier, n a harmonic, 0 zero hertz. */
gboolean sp_judging_unresolved (const SpJudging *c, const SpJudgedSweep *s, guint order, guint *other);

/* emission.c: harmonics and other spurs, seen or not. */
void sp_judging_emissions (SpJudging *c);
void sp_emission_init (SpEmission *e, guint order, double frequency_hz);
/* The emission as sweep k shows it. */
void sp_judging_fill (SpJudging *c, SpEmission *e, const SpDetection *detection, guint k);
/* harmonic.c */
void sp_judging_harmonic (SpJudging *c, SpEmission *e, guint order);
/* spur.c: what stands off the harmonics, line or band, in any sweep; each is listed once, the highest of what sweeps show of it. (transfer full) of
 * SpEmission, ascending. */
GArray *sp_judging_spurs (SpJudging *c, const GArray *harmonics);
/* Adds what sweep k shows to those found; where another sweep shows it too, within half_hz, the highest over its own carrier stands. */
void sp_judging_add_spur (SpJudging *c, GArray *found, guint k, const SpDetection *detection, double half_hz);
/* rise.c: adds what is wider than the window that sweep k's noise is taken from. */
void sp_judging_rises (SpJudging *c, GArray *found, guint k);
/* connect.c: the sweep's points for sums about point i, by the spacing there: a trace may have a hole elsewhere. */
SpBandView sp_judging_view_at (const SpJudgedSweep *s, guint64 i);
/* `sight` holds the line whose greatest point is i, of that order (0: no harmonic). Where it is connected with others that stand out, and their sum
 * is more than a line's would be, it becomes a band; where they cannot be summed its level becomes a bound. */
void sp_judging_connect (const SpJudging *c, SpJudgedSweep *s, guint64 i, guint order, SpDetection *detection);
/* Does a place belong to something else that is listed: the fundamental's own, a harmonic (but for that of order `except`), the response at zero hertz? */
gboolean sp_judging_taken (const SpJudging *c, const SpJudgedSweep *s, guint64 i, guint except);
/* Half of what about the carrier this sweep cannot see: 3 RBW (core/docs/computation.md, section 15), its own window; and cannot judge:
 * that, or the mask's exclusion. */
double sp_judging_hidden_hz (const SpJudging *c, const SpJudgedSweep *s);
double sp_judging_zone_hz (const SpJudging *c, const SpJudgedSweep *s);

/* usable-steps.c: which steps and unkeyed sweeps bear witness: `not_usable`, `carrier_moved_db`, and why not, as warnings. The carrier is the radio's whatever
 * the attenuation. A step that shows less of it, by more than U and what a radio drifts, was none of the analyzer's attenuation (a pad outside
 * whose chain nobody gave, or the radio's power changed) and tests nothing; one that shows up to 3 dB more may mean that the keyed
 * sweep was compressed, unless its mixer level is known to be at its best or below. Where the carriers cannot be compared, the analyzer's own noise must have risen with the step. An unkeyed sweep
 * that shows the carrier was taken with the radio keyed. */
void sp_judging_usable_steps (SpJudging *c);
/* evidence.c: what the steps and the unkeyed sweep say; e->evidence. */
void sp_judging_evidence (SpJudging *c, SpEmission *e);
/* Warnings: of an emission whose verdict is open and that no step tested, why each of them did not. */
void sp_judging_untested_steps (SpJudging *c, const SpEmission *e);
/* carry.c: keeps of a step test what it says at the mixer; e->evidence. */
void sp_judging_keep_product (const SpJudging *c, const SpEmission *e);
/* Of an emission that is seen, untested, and whose order the profile has no intercept of: q_high by the step test of another condition, once all have their
 * evidence (hence the second walk of sp_judge). That counts where the analyzer is the same, the fundamental within 10 %, no less signal was at
 * the mixer there, no more than recommended, and no more attenuation before it: an effective intercept. Said as OWN_CARRIED. */
void sp_judging_carry (SpJudging *c, const SpFindings *all, SpEmission *e);
/* Once all have their verdicts: a PROVE_STEP that would settle other conditions too names the condition whose step settles most. */
void sp_judgings_share_steps (SpFindings *all, SpJudging *const *cases);
/* origin.c: origin, its basis, and the radio's own part, from evidence and prediction. */
void sp_judging_origin (SpEmission *e);
/* What stands at an emission's place without the radio leaves of it, where one was seen: amplitude difference and sum, see by_ambient(). FALSE: none. */
gboolean sp_judging_less_ambient (const SpEmission *e, double *low_dbm, double *high_dbm);
/* repeats.c: mean and type A of sweeps of equal settings. */
void sp_judging_repeats (SpJudging *c, SpEmission *e);
/* Warnings: sweeps that do not agree on an emission whose origin is known by now. */
void sp_judging_agreement (SpJudging *c, const SpEmission *e);

/* overload-checks.c: noise that rises with level and rasters of odd products, as warnings; once all emissions are there. */
void sp_judging_overload_signs (SpJudging *c);
/* How far the noise of the sweep with less attenuation stands over what it should be by the other's, were both the analyzer's own: 0 where it is, the
 * step where noise stands still. Beyond what phase noise explains, or (phase_noise FALSE) altogether. NaN: settings differ, or nobody knows. */
double sp_judging_noise_over_step_db (const SpJudging *c, const SpJudgedSweep *a, const SpJudgedSweep *b, gboolean phase_noise,
                                      double *at_hz);

/* spur-relations.c: what a spur's frequency says it may be; e->relation. */
#define SP_RESIDUAL_OVER_DB 10.0 /* a residual may stand this far over what the profile lists (common practice, no source) */
void sp_judging_relation (SpJudging *c, SpEmission *e);

/* budget.c */
void sp_judging_budget (const SpJudging *c, SpEmission *e);
/* Budget of P alone (out->power_*). */
void sp_judging_power_budget (SpJudging *c);
/* u of the level of an emission that would stand at f in sweep s: for the pointer's read-out. */
double sp_judging_level_u (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz);

/* limit.c: the limit's segment at a frequency; NULL: there is none, or the limit is not known. */
const SpLimitSegment *sp_judging_segment (const SpJudging *c, double frequency_hz);
/* The reference bandwidth that holds there; NaN: none. */
double sp_judging_reference_hz (const SpJudging *c, double frequency_hz);
/* e->limit_*. */
void sp_judging_limit (SpJudging *c, SpEmission *e);
#define SP_LEAST_RADIO_W 1e-6 /* no radio that a mask is for sends less, or more than SP_MOST_RADIO_W (common practice, no source) */
#define SP_MOST_RADIO_W 1e6
/* The least and the greatest limit that the powers from from_w to to_w bring, both in W; *high INFINITY where some have none. FALSE: none has. */
gboolean sp_judging_limit_range (const SpJudging *c, const SpEmission *e, double from_w, double to_w, double *low, double *high);
/* P is not known, and the limit is not the same for all powers. */
gboolean sp_judging_limit_needs_power (const SpJudging *c, const SpEmission *e);

/* P in W, or any power where the mask asks the same whatever it is; NaN: not known, and it matters. */
double sp_judging_limit_power_w (const SpJudging *c);

/* What U allows: towards *complies* the whole of it, with what a line between two points may have lost; towards *exceeds* without, for such a line only
 * ever reads low (core/budget/budget.h). The guards are 0 under the simple rule. */
typedef struct {
  double high_db, expanded_db;
  double low_db, expanded_low_db;
} SpGuard;
/* rule-facts.c: the guard of an emission that has its budget; the U that its margin is held against; the ends of the radio's part (the level itself where
 * nothing else is known); and what the rule asks of it, bits of SpRuleFact. */
SpGuard sp_judging_guard (const SpJudging *c, const SpEmission *e);
double sp_judging_guard_margin_db (const SpEmission *e, const SpGuard *guard);
void sp_judging_part (const SpEmission *e, double *low_dbm, double *high_dbm);
guint sp_judging_facts (const SpJudging *c, const SpEmission *e, const SpGuard *guard);
/* rule-reasons.c: why e->row decided; what would prove what it leaves open, or NULL. (transfer full) */
SpReason *sp_judging_row_reason (const SpJudging *c, const SpEmission *e, const SpGuard *guard);
SpReason *sp_judging_row_proof (const SpJudging *c, const SpEmission *e, const SpGuard *guard);
/* verdict.c: margin, conformity, row of the rule, verdict, reason, what would prove it. */
void sp_judging_verdict (SpJudging *c, SpEmission *e);
/* decision.c: e->decision, once there is a verdict, with what the rule lets U do towards *complies* and towards *exceeds*; and SpConditionFindings.unsettled_emission, once worst_emission is known. */
void sp_judging_decision (SpEmission *e, double guard_db, double guard_low_db);
int sp_judging_unsettled (const SpConditionFindings *found);
/* assumed.c: an assumed self-heating or temperature term among the two largest of a margin's u; NULL. */
const SpTerm *sp_budget_assumed_of_weight (const SpBudget *budget, SpBudgetColumn column);
/* Warning: the verdict of the condition stands on one. */
void sp_judging_assumed (SpJudging *c);
/* advice.c: what of other settings, or a notch, would prove, where one was not proven. */
void sp_judging_prove (SpJudging *c);
/* advice-ahead.c: the whole sweep where nothing was keyed yet, but power and frequency are stated. */
void sp_judging_prove_ahead (SpJudging *c);
/* advice-step.c: the step of attenuation that would tell whose a seen emission is, of those that the analyzer or the pads at hand have: PROVE_STEP,
 * PROVE_STEP_PAD, PROVE_STEP_NOISE. (transfer full) */
SpReason *sp_judging_prove_step (const SpJudging *c, const SpEmission *e);
/* Of one whose steps show the analyzer's own: the upper end of the radio's part by the fit with one more reading, `step_db` more attenuation, where a
 * line is found down to detection_dbm, were the radio to emit nothing there. INFINITY: no fit. */
double sp_judging_foreseen_part_dbm (const SpJudging *c, const SpEmission *e, double step_db, double detection_dbm);
/* gaps.c: what was not swept of what the mask wants, and what of a search range was not seen deep enough into. */
void sp_judging_gaps (SpJudging *c);
/* advice-gap.c: what would close them; gap->would_close. */
void sp_judging_prove_gaps (SpJudging *c);
/* seams.c: where sweeps of unequal span begin and end inside the whole. */
void sp_judging_seams (SpJudging *c);
/* summary.c: the condition's own verdict. */
void sp_judging_summary (SpJudging *c);

void sp_judging_warn (SpJudging *c, SpReason *reason);
