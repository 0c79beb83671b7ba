/* sweep-stages.h - evaluation of one sweep: levels, uncertainty, noise, floor, carrier, detections, and the limit (private to judging)
 *
 *
 */
#pragma once

#include "core/judge/sweep/judging.h"

/* correct.c: corrected levels, detector law and noise of every sweep. */
void sp_judging_correct (SpJudging *c);
/* Levels and frequencies of one trace at the socket, by its chain and the analyzer's amplitude correction; leaves the other members of
 * `out`. */
void sp_judging_correct_levels (const SpJudging *c, const SpChain *chain, const SpTrace *trace, SpCorrected *out);

/* superseded.c: fills out->superseded once the shift of the other sweeps is known. */
void sp_judging_superseded (SpJudging *c);
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
void sp_judging_settings_warnings (SpJudging *c);

/* Threshold and detection limit for a number of independent points; the last result is cached. */
SpThresholds sp_judging_thresholds (SpJudgedSweep *s, double points);

/* alike.c: TRUE if purpose, chain and settings of the two are equal, so that they may be repeats. sp_judging_are_repeats() also
 * requires overlapping spans. */
gboolean sp_judging_equal_settings (const SpJudgedSweep *a, const SpJudgedSweep *b);
gboolean sp_judging_are_repeats (const SpJudgedSweep *a, const SpJudgedSweep *b);
/* Standard uncertainty of the difference of two sweeps' readings, without noise and without the errors common to both. */
double sp_judging_differential_u_db (const SpJudging *c, const SpJudgedSweep *first, const SpJudgedSweep *s, double frequency_hz);

/* carrier.c: upper end of the response at zero hertz. */
double sp_judging_zero_hertz_end (const SpJudgedSweep *s);
/* Finds the carrier near f0 (NaN: the greatest line of all); FALSE: not found. Skips the response at zero hertz and skirts. */
gboolean sp_judging_find_carrier (const SpJudging *c, const SpJudgedSweep *s, double f0, SpCarrier *at);

/* fundamental.c */
void sp_judging_fundamental (SpJudging *c);

/* power.c: P as the mean of the keyed sweeps with a good carrier, with type A, if they agree within U and drift. Otherwise P of the
 * first and a warning, and each sweep's emissions use their own P. */
void sp_judging_combine (SpJudging *c);
/* P that this sweep's emissions are relative to, dBm. If carriers differ: its own carrier, else that of a sweep with equal settings,
 * else the least of all. NaN: not known. */
double sp_judging_power_dbm (const SpJudging *c, const SpJudgedSweep *s);
/* TRUE if the carrier's reading is neither clipped nor degraded by sampling. */
gboolean sp_judging_carrier_is_whole (const SpJudgedSweep *s);

/* signal.c: width of the carrier's modulation in a sweep with points no further apart than its RBW. Width beyond a line's through the
 * filter, within 10 % (common practice, no source), is the signal's.
 * Sets s->signal_hz and s->modulated; *from_hz and *to_hz: the band with 99 % of the power. FALSE: the sweep cannot tell. */
gboolean sp_judging_signal_of_sweep (const SpJudging *c, SpJudgedSweep *s, double *from_hz, double *to_hz);
/* Sets c->signal_hz and c->folds from all sweeps and the sheet. A sweep that shows modulation outranks the sheet, with a warning; else
 * the narrowest upper bound counts, else the necessary bandwidth. */
void sp_judging_signal (SpJudging *c);
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
/* Adds warnings for noise off the profile's, where phase noise is negligible. */
/* Assumed reach of phase noise if the profile has none (common practice, no source) */
#define SP_PHASE_NOISE_UNKNOWN_HZ 1e6
void sp_judging_profile_warnings (SpJudging *c);
/* Floor and its cause for every point of every sweep. */
void sp_judging_floor (SpJudging *c);
/* Floor at index i for a number of independent points; sets *cause and, if predicted, *distortion_high_dbm. */
double sp_judging_floor_at (const SpJudging *c, SpJudgedSweep *s, guint64 i, double frequency_hz, double points, SpFloorCause *cause);
/* q_high of order n at the socket in this sweep; NaN: not predicted. */
double sp_judging_distortion_high (const SpJudging *c, const SpJudgedSweep *s, guint order);

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
SpDetection sp_judging_detect (const SpJudging *c, SpJudgedSweep *s, double frequency_hz, double extra_hz, double width_hz);
/* Order of the harmonic at that frequency; 0: none. */
guint sp_judging_order_at (const SpJudging *c, double frequency_hz);
/* TRUE if the sweep could show the emission: it holds the frequency, resolves it from the carrier and the next harmonic, and a spur is
 * not hidden by the carrier or zero hertz. */
gboolean sp_judging_could_see (const SpJudging *c, const SpJudgedSweep *s, const SpEmission *e);
/* Detection of an emission that the sweep could show, with its window and width there. */
SpDetection sp_judging_detect_emission (const SpJudging *c, SpJudgedSweep *s, const SpEmission *e);
/* Greatest width expected there: from the carrier's modulation, the band that was seen, or the rule's reference bandwidth. */
double sp_judging_width_hz (const SpJudging *c, const SpJudgedSweep *s, guint order, double frequency_hz);

/* ground.c: fills s->ground: noise at spread points and the noise around them, in the trace's levels. */
void sp_judging_lay_ground (SpJudgedSweep *s);
guint sp_judging_place_of (const SpJudgedSweep *s, guint64 i);
double sp_judging_place_hz (const SpJudgedSweep *s, guint place);
/* dB from the trace's level at index i to the socket's. */
double sp_judging_trace_to_socket_db (const SpJudgedSweep *s, guint64 i);
/* Steps of an analyzer's noise between its bands are smaller (common practice, no source) */
#define SP_RISES_DB 6.0
/* The ground at point i, at the socket, if the noise is over it by more than SP_RISES_DB; else INFINITY. */
double sp_judging_ground_dbm (SpJudgedSweep *s, guint64 i);

/* detect-band.c: TRUE if the greatest of several looks holds the whole of a frequency-modulated signal of that width, since it passes
 * the filter slowly. */
gboolean sp_judging_is_slow (const SpJudging *c, const SpJudgedSweep *s, double width_hz);
/* Greatest excess of the sum of a line's readings over its vertex, if they are the greatest of a bucket. */
double sp_judging_line_sum_db (const SpJudgedSweep *s);
/* Excess of the greatest reading of noise of that width over its mean; exceeded once in a hundred times. */
double sp_judging_greatest_over_db (SpJudgedSweep *s, double width_hz);
/* TRUE if each reading is the least of several looks. */
gboolean sp_judging_shows_least (const SpJudgedSweep *s);
/* Turns the detection of a line into one of a band `width_hz` wide about `centre_hz`, if it is one: level, bounds and floor in the
 * rule's reference bandwidth. */
void sp_judging_detect_band (const SpJudging *c, SpJudgedSweep *s, double centre_hz, double width_hz, SpDetection *detection);

/* harmonic-resolution.c: TRUE if points or RBW are too coarse to resolve the harmonic from the carrier, the next harmonic or the
 * response at zero hertz. *other (may be NULL) tells which: 1 the carrier, n a harmonic, 0 zero hertz. */
gboolean sp_judging_unresolved (const SpJudging *c, const SpJudgedSweep *s, guint order, guint *other);

/* connect.c: the sweep's points for sums about point i, with the spacing there: a trace may have a gap elsewhere. */
SpBandView sp_judging_view_at (const SpJudgedSweep *s, guint64 i);
/* Extends a line with greatest point i and that order (0: no harmonic) to a band, if it is connected with other points that stand out
 * and the sum is more than a line's. If they cannot be summed, the level becomes a bound. */
void sp_judging_connect (const SpJudging *c, SpJudgedSweep *s, guint64 i, guint order, SpDetection *detection);
/* TRUE if the point belongs to another listed emission: the fundamental, a harmonic (except order `except`), or the response at zero
 * hertz. */
gboolean sp_judging_taken (const SpJudging *c, const SpJudgedSweep *s, guint64 i, guint except);
/* hidden: half-width of the zone round the carrier that this sweep cannot see, 3 RBW (core/docs/computation.md, section 15) or its
 * window. zone: cannot judge, the same or the mask's exclusion. */
double sp_judging_hidden_hz (const SpJudging *c, const SpJudgedSweep *s);
double sp_judging_zone_hz (const SpJudging *c, const SpJudgedSweep *s);

/* budget.c: budget of the emission's level and margin, after its limit_slope; empty if not swept. (transfer full: its terms) */
SpBudget sp_judging_budget (const SpJudging *c, const SpEmission *e);
/* Budget of P alone (out->power_*). */
void sp_judging_power_budget (SpJudging *c);
/* u of the level of a possible emission at f in sweep s, for the pointer's read-out. */
double sp_judging_level_u (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz);

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
/* Range of the power of any radio that a mask is for (common practice, no source) */
#define SP_LEAST_RADIO_W 1e-6
#define SP_MOST_RADIO_W 1e6
/* Least and greatest limit for powers from from_w to to_w, in W; *high INFINITY: some powers have no limit. FALSE: none has. */
gboolean sp_judging_limit_range (const SpJudging *c, const SpEmission *e, double from_w, double to_w, double *low, double *high);
/* TRUE if P is not known and the limit depends on it. */
gboolean sp_judging_limit_needs_power (const SpJudging *c, const SpEmission *e);

/* P in W, or any power if the mask's limit does not depend on it; NaN: needed but not known. */
double sp_judging_limit_power_w (const SpJudging *c);
