/* sweep-stages.h - what a sweep shows: levels, their uncertainty, noise, floor, carrier, what stands at a place, and the limit there (private to judging)
 */
#pragma once

#include "core/judge/judging.h"

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

/* Threshold and detection limit for so many looked-at points; the law's answer is remembered. */
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
/* The same place as a band `width_hz` wide about `centre_hz`: level, bounds and floor in the rule's reference bandwidth; `detection` holds
 * the line's. */
void sp_judging_detect_band (const SpJudging *c, SpJudgedSweep *s, double centre_hz, double width_hz, SpDetection *detection);

/* harmonic-resolution.c: is the sweep too coarse, in points or RBW, to tell the harmonic from the carrier, the next harmonic or the response at zero hertz?
 * *other (may be NULL): which, 1 the carrier, n a harmonic, 0 zero hertz. */
gboolean sp_judging_unresolved (const SpJudging *c, const SpJudgedSweep *s, guint order, guint *other);

/* connect.c: the sweep's points for sums about point i, by the spacing there: a trace may have a hole elsewhere. */
SpBandView sp_judging_view_at (const SpJudgedSweep *s, guint64 i);
/* `detection` holds the line whose greatest point is i, of that order (0: no harmonic). Where it is connected with others that stand out, and their sum
 * is more than a line's would be, it becomes a band; where they cannot be summed its level becomes a bound. */
void sp_judging_connect (const SpJudging *c, SpJudgedSweep *s, guint64 i, guint order, SpDetection *detection);
/* Does a place belong to something else that is listed: the fundamental's own, a harmonic (but for that of order `except`), the response at zero hertz? */
gboolean sp_judging_taken (const SpJudging *c, const SpJudgedSweep *s, guint64 i, guint except);
/* Half of what about the carrier this sweep cannot see: 3 RBW (core/docs/computation.md, section 15), its own window; and cannot judge:
 * that, or the mask's exclusion. */
double sp_judging_hidden_hz (const SpJudging *c, const SpJudgedSweep *s);
double sp_judging_zone_hz (const SpJudging *c, const SpJudgedSweep *s);

/* budget.c: of the emission's level and margin, once its limit_slope is known; empty where it was not swept. (transfer full: its terms) */
SpBudget sp_judging_budget (const SpJudging *c, const SpEmission *e);
/* Budget of P alone (out->power_*). */
void sp_judging_power_budget (SpJudging *c);
/* u of the level of an emission that would stand at f in sweep s: for the pointer's read-out. */
double sp_judging_level_u (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz);

/* limit.c: the limit's segment at a frequency; NULL: there is none, or the limit is not known. */
const SpLimitSegment *sp_judging_segment (const SpJudging *c, double frequency_hz);
/* The reference bandwidth that holds there; NaN: none. */
double sp_judging_reference_hz (const SpJudging *c, double frequency_hz);
typedef struct {
  double limit_dbm, slope;
  const char *rule;  /* of the mask; NULL */
  SpReason *warning; /* U of P reaches over an edge between two classes of power; NULL. (transfer full) */
} SpLimitThere;
/* What the mask asks at the emission's place, for the P of the sweep that shows it; limit_dbm NaN: no number, or not known. */
SpLimitThere sp_judging_limit (const SpJudging *c, const SpEmission *e);
#define SP_LEAST_RADIO_W 1e-6 /* no radio that a mask is for sends less, or more than SP_MOST_RADIO_W (common practice, no source) */
#define SP_MOST_RADIO_W 1e6
/* The least and the greatest limit that the powers from from_w to to_w bring, both in W; *high INFINITY where some have none. FALSE: none has. */
gboolean sp_judging_limit_range (const SpJudging *c, const SpEmission *e, double from_w, double to_w, double *low, double *high);
/* P is not known, and the limit is not the same for all powers. */
gboolean sp_judging_limit_needs_power (const SpJudging *c, const SpEmission *e);

/* P in W, or any power where the mask asks the same whatever it is; NaN: not known, and it matters. */
double sp_judging_limit_power_w (const SpJudging *c);
