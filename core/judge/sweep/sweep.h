/* sweep.h - evaluation of one sweep: levels, uncertainty, noise, floor, carrier, detections, and the limit (private to judging) */
#pragma once

#include "core/judge/sweep/judging.h"

/* The content of one sweep at a frequency: the greatest line in the window; the band, if it is wider than the filter; or the floor.
 * Levels at the socket. */
typedef struct {
  gboolean detected;
  SpEmissionKind kind;
  double from_hz, to_hz; /* edges of the band; a line: both its frequency */
  double width_hz;       /* width that holds 99 % of a band's power */
  double below_db;       /* as SpEmission.excess_db */
  double reference_hz;   /* as SpEmission.reference_bandwidth_hz */
  double frequency_hz, level_dbm, noise_u_db, floor_dbm, loss_db;
  /* A line: its greatest point as exported, and the noise's share of it */
  double reading_dbm, near_noise_db;
  /* Threshold, and detection limit including the loss between points */
  double threshold_dbm, detection_limit_dbm;
  SpFloorCause cause;
} SpDetection;

/* The carrier in a sweep: index of its greatest point and the ends of its clipped top (that point, if not clipped). */
typedef struct {
  guint64 index, first, last;
  gboolean clipped;
  gboolean elsewhere; /* no such line at the requested frequency, but one nearby */
  /* Greatest point of another line strong enough to count in a sum of powers; the trace's n: none */
  guint64 beside;
} SpCarrier;

/* correct.c: a taken sweep with its spacing, detector law and thresholds; and in *out its corrected levels and their noise (transfer full). Of
 * c->sweeps it reads the traces alone. */
SpJudgedSweep sp_judging_levels (const SpJudging *c, const SpJudgedSweep *taken, SpCorrected *out);
/* Levels and frequencies of one trace at the socket, by its chain and the analyzer's amplitude correction; leaves the other members of
 * `out`. */
void sp_judging_correct_levels (const SpJudging *c, const SpChain *chain, const SpTrace *trace, SpCorrected *out);

/* superseded.c: a superseded sweep, kept for display beside the others, so it gets their shift (warm stages, anchoring): that of the sweep P is
 * based on. (transfer full: its levels) */
SpCorrected sp_judging_superseded (const SpJudging *c, guint sweep);
/* Spacing in Hz around index i: the greater of the two to its neighbours. */
double sp_judging_spacing (const SpJudgedSweep *s, guint64 i);
gboolean sp_judging_narrow (const SpJudgedSweep *s, guint64 i);
/* Index of the greatest corrected level within [from, to]; the trace's n: no point. */
guint64 sp_judging_greatest (const SpJudgedSweep *s, double from_hz, double to_hz);
/* TRUE if a line may have lost so much that only its level as a lower bound is usable: points further apart than the RBW, or the least
 * of each bucket. */
gboolean sp_judging_blurred (const SpJudgedSweep *s, guint64 i);
/* Sampling loss between points around i, dB; INFINITY: unknown. */
double sp_judging_sampling_loss (const SpJudging *c, const SpJudgedSweep *s, guint64 i);
/* Warnings about unknown settings; they need no fundamental. */
void sp_judging_settings_warnings (const SpJudging *c, GPtrArray *warnings);

/* Threshold and detection limit for a number of independent points; the last result is cached. */
SpThresholds sp_judging_thresholds (const SpJudgedSweep *s, double points);

/* alike.c: TRUE if purpose, chain and settings of the two are equal, so that they may be repeats. sp_judging_are_repeats() also
 * requires overlapping spans. */
gboolean sp_judging_equal_settings (const SpJudgedSweep *a, const SpJudgedSweep *b);
gboolean sp_judging_are_repeats (const SpJudgedSweep *a, const SpJudgedSweep *b);
/* Standard uncertainty of the difference of two sweeps' readings, without noise and without the errors common to both. */
double sp_judging_differential_u_db (const SpJudging *c, const SpJudgedSweep *first, const SpJudgedSweep *s, double frequency_hz);
/* k of a comparison of two readings. Few degrees of freedom would ask for a greater one, but 2 is the safe side: what differs is told
 * sooner, and proves nothing sooner. */
#define SP_COMPARE_K 2 /* core/docs/metrology.md, section 2 */

/* carrier.c: upper end of the response at zero hertz. */
double sp_judging_zero_hertz_end (const SpJudgedSweep *s);
/* Finds the carrier near f0 (NaN: the greatest line of all); FALSE: not found. Skips the response at zero hertz and skirts. */
gboolean sp_judging_find_carrier (const SpJudging *c, const SpJudgedSweep *s, double f0, SpCarrier *at);

/* carrier-level.c: the carrier that a sweep shows at a frequency (NaN: of a keyed sweep the greatest line); not found in an unkeyed one. */
SpSweepCarrier sp_judging_carrier (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz, GPtrArray *warnings);
/* TRUE if the sweep shows a line that is the carrier. */
gboolean sp_judging_has_carrier (const SpJudgedSweep *s);
/* The carrier's level at the socket, with warm stages once they are known, before anchoring. */
double sp_judging_carrier_dbm (const SpJudgedSweep *s);

/* P and f0 by the traces. */
typedef struct {
  int sweep;             /* the sweep that P and dBc are based on; -1: none */
  double fundamental_hz; /* the sheet's, if no sweep shows it */
  double half_hz;        /* half-width of its uncertainty */
  double level_dbm;      /* P with cold stages; NaN */
  gboolean carriers_differ;
  guint repeats;        /* keyed sweeps that P is the mean of */
  double repeat_u_db;   /* NaN: fewer than two */
  double occasion_u_db; /* u of the radio's power during one sweep about that mean; 0: of one carrier, or they differ */
} SpTracePower;
#define SP_LEAST_TYPE_A 4 /* readings; of fewer the scatter is no type A (common practice, no source) */
/* power.c: P as the mean of the keyed sweeps with a good carrier, with type A, if they agree within U and drift; each
 * sweep's emissions use their own P where they can (sp_judging_has_own_power). Otherwise P of the first and a warning. */
SpTracePower sp_judging_combine (const SpJudging *c, GPtrArray *warnings);
/* fundamental.c: the same, or P of a step if the keyed sweep it is based on is clipped. */
SpTracePower sp_judging_power_from_step (const SpJudging *c, const SpTracePower *by_keyed, GPtrArray *warnings);
/* Why nothing complies: P comes from a line at another frequency, or no line is visible where one should be. NULL: neither. (transfer full) */
SpReason *sp_judging_no_carrier (const SpJudging *c, const SpTracePower *power, GPtrArray *warnings);
/* Occupied bandwidth in the sweep that P is based on. */
typedef struct {
  SpSweepSignal signal;
  double by_line_hz; /* width of a line through the same filter; NaN: not told */
} SpOccupied;
SpOccupied sp_judging_occupied (const SpJudging *c);
/* TRUE if the chain is calibrated at f0, or f0 is not known. */
gboolean sp_judging_calibrated (const SpJudging *c, GPtrArray *warnings);
/* Warns of no fundamental, and of P that is not the rated power. */
void sp_judging_power_warnings (const SpJudging *c, GPtrArray *warnings);

/* shift.c: what stages with a stated power coefficient lose more when warm, equal at every frequency of the sweep. */
double sp_judging_warm_db (const SpJudging *c, const SpJudgedSweep *s, const SpTracePower *power);
/* P, by the meter or else by the traces with warm stages. */
typedef struct {
  double power_dbm;
  double u_db;       /* of the meter, stated or assumed */
  gboolean good;     /* the carrier is good enough to shift levels by */
  gboolean by_meter; /* the meter's P counts */
  gboolean anchored; /* and levels are to shift with it */
  gboolean at_least; /* P is that of a clipped carrier: it may be higher */
} SpMeteredPower;
SpMeteredPower sp_judging_meter (const SpJudging *c, GPtrArray *warnings);
/* A sweep's shift by warm stages and the meter. The arrays replace the sweep's: only a sweep that shifts costs their memory and the pass over
 * them; NULL: no shift. (transfer full) */
typedef struct {
  double shift_db, to_socket_db;
  double *level_dbm, *noise_dbm;
} SpShift;
SpShift sp_judging_shift (const SpJudging *c, const SpJudgedSweep *s);
SpMixerLevel sp_judging_mixer_level (const SpJudging *c, const SpJudgedSweep *s);
/* The carrier's least level at the mixer: a clipped one reads too low. NaN: not known. */
double sp_judging_least_mixer_dbm (const SpJudgedSweep *s);
/* The highest mixer level of the judged sweeps; NaN: none is known. */
double sp_judging_most_mixer_dbm (const SpJudging *c);

/* TRUE if this sweep's emissions are relative to its own carrier: not by a meter, and the carrier is good and leaves no more open than the carriers
 * scatter, or they differ. */
gboolean sp_judging_has_own_power (const SpJudging *c, const SpJudgedSweep *s);
/* P that this sweep's emissions are relative to, dBm: its own (sp_judging_has_own_power). Else the mean, or if carriers differ that of a sweep with equal settings,
 * else the least of all. NaN: not known. */
double sp_judging_power_dbm (const SpJudging *c, const SpJudgedSweep *s);
/* TRUE if the carrier's reading is neither clipped nor degraded by sampling. */
gboolean sp_judging_carrier_is_whole (const SpJudgedSweep *s);

/* signal.c: width of the carrier's modulation in a sweep with points no further apart than its RBW. Width beyond a line's through the
 * filter, within 10 % (common practice, no source), is the signal's. */
#define SP_NO_SIGNAL ((SpSweepSignal){ .from_hz = NAN, .to_hz = NAN, .width_hz = NAN })
SpSweepSignal sp_judging_signal_of_sweep (const SpJudging *c, const SpJudgedSweep *s, const SpSweepCarrier *carrier);
/* The modulation by all sweeps and the sheet, as SpJudging.signal_hz, signal_shown and folds. A sweep that shows modulation outranks the sheet,
 * with a warning; else the narrowest upper bound counts, else the necessary bandwidth. */
typedef struct {
  double width_hz;
  gboolean shown, folds;
} SpSignal;
SpSignal sp_judging_signal (const SpJudging *c, GPtrArray *warnings);
/* Greatest width of an emission of that order in this sweep (0: no harmonic): n times the carrier's for FM, phase noise and SSB; equal
 * for AM and keying. */
double sp_judging_signal_width_hz (const SpJudging *c, const SpJudgedSweep *s, guint order);

/* floor.c: dB from a reading at index i to the level at the socket, and the carrier at the analyzer referred to the socket there
 * (dBm): a notch attenuates only the carrier. */
double sp_judging_to_socket_db (const SpJudgedSweep *s, guint64 i);
double sp_judging_carrier_at_dbm (const SpJudging *c, const SpJudgedSweep *s, guint64 i);
#define SP_OFF_PROFILE_DB 3.0 /* the trace's noise further from the profile's gives a warning (common practice, no source) */
/* Phase noise predicted by the profile at index i, at the socket: P - loss(f0) + L(df) + 10 lg NBW + loss(f); -INFINITY without a
 * profile or a carrier. */
double sp_judging_phase_noise_dbm (const SpJudging *c, const SpJudgedSweep *s, guint64 i, double frequency_hz);
#define SP_PHASE_NOISE_UNKNOWN_HZ 1e6 /* assumed reach of phase noise if the profile has none (common practice, no source) */
/* Adds warnings for noise off the profile's, where phase noise is negligible. */
void sp_judging_profile_warnings (const SpJudging *c, GPtrArray *warnings);
/* Floor and its cause for every point of a sweep. The noise replaces the sweep's: a copy of it, 8 bytes a point,
 * raised to the profile's phase noise beside the carrier; NULL: it is nowhere raised. (transfer full) */
typedef struct {
  double *floor_dbm;
  guint8 *cause; /* SpFloorCause */
  double *noise_dbm;
} SpSweepFloor;
SpSweepFloor sp_judging_floor (const SpJudging *c, const SpJudgedSweep *s, GPtrArray *warnings);
/* Floor at index i for a number of independent points; sets *cause and, if predicted, *product_high_dbm. */
double sp_judging_floor_at (const SpJudging *c, const SpJudgedSweep *s, guint64 i, double frequency_hz, double points, SpFloorCause *cause);
/* q_high of order n at the socket in this sweep; NaN: not predicted. */
double sp_judging_product_high (const SpJudging *c, const SpJudgedSweep *s, guint order);

/* line.c: level and frequency of a line with greatest point i, by parabola, smear or the reading itself (core/docs/computation.md,
 * section 7).
 * The parabola rises at most by the fall between two points of a Gaussian filter 20 % narrower than its name. Points that do not bend
 * like a line's, such as a modulated carrier's, get none. */
void sp_judging_line (const SpJudgedSweep *s, guint64 i, double *frequency_hz, double *level_dbm, double *half_hz);
/* Remaining possible loss of that level between the points, dB: 0 for positive peaks and if a vertex was fitted. */
double sp_judging_line_loss (const SpJudging *c, const SpJudgedSweep *s, guint64 i);
/* u of that level by noise. The vertex weights the three points (Lagrange's weights), each with the noise of its own level: the
 * greatest may be 3 dB below the vertex, and a neighbour close to the noise. `least_u_db`: u of one reading at the vertex. */
double sp_judging_vertex_u_db (const SpJudgedSweep *s, guint64 i, double frequency_hz, double least_u_db);
/* Level of a line near the noise, where the greatest of several one-look points reads 1 dB and more too high: the mean power within
 * 0.4 RBW of the middle, less the noise's, over the filter's mean response. Unbiased (tests/simulate/levels); u is that of one look,
 * since the correlation of the points' noise is unknown.
 * FALSE: not near the noise, other readings, fewer than 1.8 points in an RBW, or wider than a line. */
gboolean sp_judging_line_near_noise (const SpJudgedSweep *s, guint64 i, double *frequency_hz, double *level_dbm, double *u_db);

/* detect.c: sp_law_near_noise() of a reading over the noise; interpolates between whole dB for laws that take milliseconds. */
void sp_judging_near_noise (const SpJudgedSweep *s, double over_db, double *correction_db, double *u_db);
/* Half-width of the search window for a line at index i: max (RBW, spacing). */
double sp_judging_window_half (const SpJudgedSweep *s, guint64 i);
gboolean sp_judging_holds (const SpJudgedSweep *s, double frequency_hz);
/* Fills the detection from the line with greatest point i. */
void sp_judging_take_line (const SpJudging *c, const SpJudgedSweep *s, guint64 i, SpDetection *out);
/* Detection at a frequency that the sweep holds, within +- (window + `extra_hz`), of a signal up to `width_hz` wide (0: a line). */
SpDetection sp_judging_detect (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz, double extra_hz, double width_hz);
/* Order of the harmonic at that frequency; 0: none. */
guint sp_judging_order_at (const SpJudging *c, double frequency_hz);
/* TRUE if the sweep could show the emission: it holds the frequency, resolves it from the carrier and the next harmonic, and a spur is
 * not hidden by the carrier or zero hertz. */
gboolean sp_judging_could_see (const SpJudging *c, const SpJudgedSweep *s, const SpEmission *e);
/* Detection of an emission that the sweep could show, with its window and width there. */
SpDetection sp_judging_detect_emission (const SpJudging *c, const SpJudgedSweep *s, const SpEmission *e);
/* Greatest width expected there: from the carrier's modulation, the band that was seen, or the rule's reference bandwidth. */
double sp_judging_width_hz (const SpJudging *c, const SpJudgedSweep *s, guint order, double frequency_hz);

/* ground.c: fills s->cache->ground: noise at spread points and the noise around them, in the trace's levels. */
void sp_judging_lay_ground (const SpJudgedSweep *s);
/* The spread point of a point of the sweep, and its frequency. */
guint sp_judging_ground_index (const SpJudgedSweep *s, guint64 i);
double sp_judging_ground_hz (const SpJudgedSweep *s, guint j);
/* dB from the trace's level at index i to the socket's. */
double sp_judging_trace_to_socket_db (const SpJudgedSweep *s, guint64 i);
/* Steps of an analyzer's noise between its bands are smaller (common practice, no source) */
#define SP_RISES_DB 6.0
/* The ground at point i, at the socket, if the noise is over it by more than SP_RISES_DB; else INFINITY. */
double sp_judging_ground_dbm (const SpJudgedSweep *s, guint64 i);

/* detect-band.c: TRUE if the greatest of several looks holds the whole of a frequency-modulated signal of that width, since it passes
 * the filter slowly. */
gboolean sp_judging_is_slow (const SpJudging *c, const SpJudgedSweep *s, double width_hz);
/* Greatest excess of the sum of a line's readings over its vertex, if they are the greatest of a bucket. */
double sp_judging_line_sum_db (const SpJudgedSweep *s);
/* Excess of the greatest reading of noise of that width over its mean; exceeded once in a hundred times. */
double sp_judging_greatest_over_db (const SpJudgedSweep *s, double width_hz);
/* TRUE if each reading is the least of several looks. */
gboolean sp_judging_shows_least (const SpJudgedSweep *s);
/* Turns the detection of a line into one of a band `width_hz` wide about `centre_hz`, if it is one: level, bounds and floor in the
 * rule's reference bandwidth. */
void sp_judging_detect_band (const SpJudging *c, const SpJudgedSweep *s, double centre_hz, double width_hz, SpDetection *detection);

/* harmonic-resolution.c: TRUE if points or RBW are too coarse to resolve the harmonic from the carrier, the next harmonic or the
 * response at zero hertz. *other (may be NULL) tells which: 1 the carrier, n a harmonic, 0 zero hertz. */
gboolean sp_judging_unresolved (const SpJudging *c, const SpJudgedSweep *s, guint order, guint *other);

/* connect.c: the sweep's points for sums about point i, with the spacing there: a trace may have a gap elsewhere. */
SpBandView sp_judging_view_at (const SpJudgedSweep *s, guint64 i);
/* Extends a line with greatest point i and that order (0: no harmonic) to a band, if it is connected with other points that stand out
 * and the sum is more than a line's. If they cannot be summed, the level becomes a bound. */
void sp_judging_connect (const SpJudging *c, const SpJudgedSweep *s, guint64 i, guint order, SpDetection *detection);
/* TRUE if the point belongs to another listed emission: the fundamental, a harmonic (except order `except`), or the response at zero
 * hertz. */
gboolean sp_judging_taken (const SpJudging *c, const SpJudgedSweep *s, guint64 i, guint except);
/* hidden: half-width of the zone round the carrier that this sweep cannot see, 3 RBW (core/docs/computation.md, section 15) or its
 * window. zone: cannot judge, the same or the mask's exclusion. */
double sp_judging_hidden_hz (const SpJudging *c, const SpJudgedSweep *s);
double sp_judging_zone_hz (const SpJudging *c, const SpJudgedSweep *s);

/* budget.c: budget of the emission's level and margin, after its limit_slope; empty if not swept. (transfer full: its terms) */
SpBudget sp_judging_budget (const SpJudging *c, const SpEmission *e);
/* Budget of P alone. (transfer full: its terms) */
SpBudget sp_judging_power_budget (const SpJudging *c);
/* Uncertainty of the level of a possible emission at f in sweep s, with the stages warm by that P. */
SpSum sp_judging_level (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz, double power_dbm);

/* limit.c: the limit's segment at a frequency; NULL: none, or the limit is not known. */
const SpLimitSegment *sp_judging_segment (const SpJudging *c, double frequency_hz);
/* Reference bandwidth at a frequency; NaN: none. */
double sp_judging_reference_hz (const SpJudging *c, double frequency_hz);
typedef struct {
  double limit_dbm, slope;
  const char *rule; /* name of the mask's rule; NULL */
  /* U of P crosses the boundary between two power classes; NULL: it does not. (transfer full) */
  SpReason *warning;
} SpLimitThere;
/* The mask's limit at the emission, for the P of its sweep; limit_dbm NaN: no numeric limit, or not known. */
SpLimitThere sp_judging_limit (const SpJudging *c, const SpEmission *e);
/* Both: range of the power of any radio that a mask is for (common practice, no source) */
#define SP_LEAST_RADIO_W 1e-6
#define SP_MOST_RADIO_W 1e6
/* Least and greatest limit for powers from from_w to to_w, in W; *high INFINITY: some powers have no limit. FALSE: none has. */
gboolean sp_judging_limit_range (const SpJudging *c, const SpEmission *e, double from_w, double to_w, double *low, double *high);
/* TRUE if P is not known and the limit depends on it. */
gboolean sp_judging_limit_needs_power (const SpJudging *c, const SpEmission *e);

/* P in W, or any power if the mask's limit does not depend on it; NaN: needed but not known. */
double sp_judging_limit_power_w (const SpJudging *c);
