/* spectrum.h - running noise quantile and peaks of a trace: the numeric workhorses of detecting
 */
#pragma once

#include <glib.h>

/* Running quantile: out[i] = the p-quantile (0 < p < 1) of x[j], |j - i| <= half, window cut at the ends and shifted to keep its length
 * where possible: of its k values the one of rank floor(p k) from 0, ascending. Points with skip[j] != 0 (skip may be NULL) do not count;
 * where a window has none left the nearest value is held; all of them skipped counts as none. Quantised to 1/64 dB (error under 0.01 dB);
 * values must lie within +-1000 dB. Linear in n for any window. */
void sp_running_quantile (guint64 n, const double *x, const guint8 *skip, guint64 half, double p, double *out);

/* The noise under a trace: running p-quantile (the median: p = 0.5) with signals excluded. Two passes: points more than `exclude_db` above
 * the first are left out, with `guard` points either side, before the second. level[] is that quantile of the displayed noise, in the
 * trace's unit. */
void sp_noise_floor (guint64 n, const double *x, guint64 half, double p, double exclude_db, guint64 guard, double *level);

/* Local maxima x[i] >= base[i] + over_db (a plateau counts once, at its middle) with prominence of at least `prominence_db`: the least descent on
 * either side before a higher point or the trace's end. Ascending indices, as scipy.signal.find_peaks defines them. (transfer full) of
 * guint64. */
GArray *sp_find_peaks (guint64 n, const double *x, const double *base, double over_db, double prominence_db);

/* Vertex of a parabola through three equally spaced dB points (exact for a Gaussian filter): offset in steps from the middle one, -0.5 ..
 * 0.5, and the level there. The middle one must be the greatest. */
void sp_parabola (double left_db, double middle_db, double right_db, double *offset, double *level_db);
