/* predict.h - what a carrier and the analyzer put into a sweep, by the profile: one set of formulas for judging and planning
 *
 * All levels in dBm at the radio's socket unless said otherwise. `carrier_dbm` is always the carrier as the analyzer gets it, referred to the
 * socket at the frequency in question: what a notch takes from the one and not from the other counts, and so does the chain's tilt.
 * Plain functions of numbers: what planning promises is what judging finds, because both come here.
 */
#pragma once

#include "core/analyzer/analyzer.h"
#include "core/detection/detection.h"

/* -- the carrier -- */

/* Standard uncertainty of a mixer level read in the sweep itself, dB: absolute accuracy, flatness and scale in square. */
double sp_predict_mixer_u_db (const SpAnalyzer *analyzer);
/* Half the span, Hz, that a sweep leaves to a line's frequency: a tenth of the spacing where a vertex can be laid through its points (the detector
 * follows a line, and points lie within the RBW), else half of it (common practice, no source). */
double sp_predict_line_half_hz (SpDetector detector, double spacing_hz, double rbw_hz);

/* -- what it brings -- */

/* Mean power of its phase noise in a filter of noise bandwidth nbw_hz: carrier + L(offset) + 10 lg NBW. -INFINITY: the profile has no table. Beyond
 * the table its end is held. */
double sp_predict_phase_noise_dbm (const SpAnalyzer *analyzer, double carrier_dbm, double offset_hz, double nbw_hz);
/* Its skirt through the filter at `offset_hz`; a bucket may have caught it nearer by half the spacing, and its place is known to half_hz. */
double sp_predict_skirt_dbm (const SpAnalyzer *analyzer, double carrier_dbm, double offset_hz, double spacing_hz, double half_hz,
                             double rbw_hz);
/* How far q_high, the upper bound of the analyzer's product of an order, lies over q, dB: 2 u(q), u(q)^2 = (n u(Pm))^2 + ((n - 1) u(In))^2. Published
 * intercepts are mostly guaranteed minima, so q_high bounds the product from above. */
double sp_predict_product_reserve_db (const SpAnalyzer *analyzer, guint order, double mixer_u_db);

/* -- the floor -- */

typedef enum { SP_CAUSE_NOISE, SP_CAUSE_PHASE_NOISE, SP_CAUSE_SKIRT, SP_CAUSE_DISTORTION } SpFloorCause;
const char *sp_floor_cause_name (SpFloorCause cause); /* "noise" "phase noise" "skirt" "distortion" */
#define SP_HALF_DB 3.0103                             /* phase noise that makes at least half of the noise is its cause */
#define SP_SKIRT_LEAST_DB 60.0                        /* a skirt so far under the detection limit would add 4e-6 dB, and is left out */
/* Floor = detection limit (+) skirt (+) q_high, and the largest of them (core/docs/computation.md, section 9). `by_phase_noise`: whose
 * noise it is. skirt -INFINITY and q_high NaN: none. */
double sp_floor_dbm (double detection_dbm, gboolean by_phase_noise, double skirt_dbm, double distortion_high_dbm, SpFloorCause *cause);

/* Does what stands beside a harmonic read in its own window? half = max(RBW, spacing) + order u(f0) of the window; a line shows max(SP_LINE_SHOWS_RBWS
 * RBW, spacing) from its place. *other (may be NULL) is then 1 for the carrier, order + 1 for the next harmonic, 0 for zero hertz. rbw 0:
 * not known. */
#define SP_LINE_SHOWS_RBWS 3.0 /* mask.h leaves as much round the fundamental */
gboolean sp_is_unresolved (guint order, double fundamental_hz, double rbw_hz, double spacing_hz, double carrier_half_hz,
                           double zero_hertz_end_hz, guint *other);
