/* predict.h - predicts the effects of a carrier and of the analyzer in a sweep, by the profile: one set of formulas for judging and
 * planning
 *
 * All levels in dBm at the radio's socket unless stated. `carrier_dbm` is the carrier at the analyzer's input, referred to the socket
 * at the frequency in question, so that a notch and the chain's slope count.
 * Plain functions of numbers, shared so that judging finds the floor that planning promised.
 */
#pragma once

#include "core/analyzer/analyzer.h"
#include "core/detection/detection.h"

/* -- the carrier -- */

/* Standard uncertainty of a mixer level read from the sweep, dB: accuracy, flatness and scale as a root sum of squares. */
double sp_predict_mixer_u_db (const SpAnalyzer *analyzer);
/* Half the uncertainty of a line's frequency, Hz: a tenth of the spacing if a vertex can be fitted (the detector follows a line,
 * points within the RBW), else half of it, and of a detector that alternates between greatest and least a whole one more (common practice,
 * no source). */
double sp_predict_line_half_hz (SpDetector detector, double spacing_hz, double rbw_hz);

/* -- effects of the carrier -- */

/* Mean power of the carrier's phase noise in a filter of noise bandwidth nbw_hz: carrier + L(offset) + 10 lg NBW. -INFINITY: the profile has no
 * table. Constant beyond the table's ends. */
double sp_predict_phase_noise_dbm (const SpAnalyzer *analyzer, double carrier_dbm, double offset_hz, double nbw_hz);
/* The carrier's skirt through the filter at `offset_hz`, half a spacing nearer if a bucket may have caught it there, and half_hz nearer for its
 * uncertain frequency. */
double sp_predict_skirt_dbm (const SpAnalyzer *analyzer, double carrier_dbm, double offset_hz, double spacing_hz, double half_hz,
                             double rbw_hz);
/* q_high - q, dB: 2 u(q), u(q)^2 = (n u(Pm))^2 + ((n - 1) u(In))^2. q_high bounds the analyzer's product from above, since published
 * intercepts are mostly guaranteed minima. */
double sp_predict_product_reserve_db (const SpAnalyzer *analyzer, guint order, double mixer_u_db);

/* -- the floor -- */

typedef enum { SP_CAUSE_NOISE, SP_CAUSE_PHASE_NOISE, SP_CAUSE_SKIRT, SP_CAUSE_PRODUCT } SpFloorCause;
const char *sp_floor_cause_name (SpFloorCause cause); /* "noise" "phase noise" "skirt" "distortion" */
#define SP_HALF_DB 3.0103                             /* phase noise is the cause if it is at least half the noise; calculated: 10 lg 2 */
#define SP_SKIRT_LEAST_DB 60.0 /* a skirt this far under the detection limit adds 4e-6 dB and is left out; calculated */
/* Floor = detection limit (+) skirt (+) q_high, and its largest part (core/docs/computation.md, section 9). `by_phase_noise`: the
 * noise is phase noise. skirt -INFINITY and q_high NaN: none. */
double sp_floor_dbm (double detection_dbm, gboolean by_phase_noise, double skirt_dbm, double product_high_dbm, SpFloorCause *cause);

/* TRUE if a neighbour reads inside a harmonic's window. half = max(RBW, spacing) + order u(f0) of the window; a line is visible up to
 * max(SP_LINE_SHOWS_RBWS RBW, spacing) from its frequency. *other (may be NULL): 1 the carrier, order + 1 the next harmonic, 0 zero
 * hertz. rbw 0: not known. */
#define SP_LINE_SHOWS_RBWS 3.0 /* mask.h leaves the same distance round the fundamental (common practice, no source) */
gboolean sp_is_unresolved (guint order, double fundamental_hz, double rbw_hz, double spacing_hz, double carrier_half_hz,
                           double zero_hertz_end_hz, guint *other);
