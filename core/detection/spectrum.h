/* spectrum.h - running noise quantile and peaks of a trace: the numeric workhorses of detecting
 */
#pragma once

#include <glib.h>

/* Running quantile: out[i] = the p-quantile (0 < p < 1) of x[j], |j - i| <= half, window cut at the ends and shifted to keep its length
 * where possible: of its k values the one of rank floor(p k) from 0, ascending. Points with skip[j] != 0 (skip may be NULL) do not count;
 * where a window has none left the nearest value is held; all of them skipped counts as none. Quantised to 1/64 dB (error under 0.01 dB);
 * values must lie within +-1000 dB. Linear in n for any window. */
void sp_running_quantile (guint64 n, const double *x, const guint8 *skip, guint64 half, double p, double *out);

/* How the noise under a trace is sought. */
typedef struct {
  guint64 half;      /* points either side; even, or one is left away */
  guint64 least;     /* readings that a side has at least: it reaches further where signals leave fewer; no side is narrower */
  double p;          /* quantile: 0.5, the median */
  double exclude_db; /* what stands higher over the noise is a signal */
  guint64 guard;     /* points left out either side of one */
  double agree_db; /* sides of full length that differ by no more stand on the same noise; fewer readings may differ more, as their root */
} SpNoiseWindow;

#define SP_NOISE_RBWS 40.0 /* either side; a signal up to half as wide is seen for one */

/* Points either side that the noise is sought in, so many RBW but a least number of points, and no more than a quarter of the n; per_rbw points make an
 * RBW. And either side of those over which it is averaged further where it is level: the median of 101 single looks has u = 0.6 dB. */
guint64 sp_noise_half (guint64 n, double per_rbw, double rbws);
guint64 sp_noise_level_half (guint64 n, double per_rbw);
/* u of one reading as if each were a look of its own; median_u_db as sp_law_median_u_db has it. Readings closer than half an RBW may be one look: sweeps
 * couple to a speed at which noise changes so often. */
double sp_noise_reading_u_db (double median_u_db, double per_rbw);

/* The noise under a trace: level[i] is the p-quantile of the displayed noise, in the trace's unit. The quantile is taken on each side of the
 * point. Where the two agree, the noise is level or on a gentle slope, and their mean stands; where they do not, in the widest narrower window
 * in which they do; where they never do there is an edge, and the higher stands (greatest-of, as radars do it: Hansen and Sawyers, IEEE Trans.
 * AES-16, 1980, from memory): a floor too high costs a proof, one too low gives a false one. Signals are what stands more than `exclude_db` above
 * that in the widest window; what is wider than half a side is noise. They are left out and it is looked again, the strong ones first: towards
 * those noise may climb on both sides alike, so beside them what narrower windows find counts where it is higher. Linear in n. */
void sp_noise_floor (guint64 n, const double *x, const SpNoiseWindow *window, double *level);

/* Local maxima x[i] >= base[i] + over_db (a plateau counts once, at its middle) with prominence of at least `prominence_db`: the least descent on
 * either side before a higher point or the trace's end. Ascending indices, as scipy.signal.find_peaks defines them. (transfer full) of
 * guint64. */
GArray *sp_find_peaks (guint64 n, const double *x, const double *base, double over_db, double prominence_db);

/* Vertex of a parabola through three equally spaced dB points (exact for a Gaussian filter): offset in steps from the middle one, -0.5 ..
 * 0.5, and the level there. The middle one must be the greatest. */
void sp_parabola (double left_db, double middle_db, double right_db, double *offset, double *level_db);
