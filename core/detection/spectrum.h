/* spectrum.h - running noise quantile and peaks of a trace: the numeric core of detection */
#pragma once

#include <glib.h>

/* Running quantile: out[i] = the p-quantile (0 < p < 1) of x[j], |j - i| <= half; of its k values the one of rank floor(p k) from 0,
 * ascending. The window is cut at the ends and shifted to keep its length where possible.
 * Points with skip[j] != 0 are ignored (skip may be NULL; all skipped counts as none). An empty window takes the nearest value.
 * Quantised to 1/64 dB (error under 0.01 dB); values must be within +-1000 dB. Linear in n for any window. */
void sp_running_quantile (guint64 n, const double *x, const guint8 *skip, guint64 half, double p, double *out);

/* Parameters of the noise search. */
typedef struct {
  guint64 half; /* points on either side; even, else one less is used */
  /* Least readings of a side: it is extended if signals leave fewer; no side is narrower */
  guint64 least;
  double p;          /* quantile: 0.5, the median */
  double exclude_db; /* a point this far over the noise is a signal */
  guint64 guard;     /* points left out on either side of a signal */
  /* SP_NOISE_APART_U u of the difference of two full sides. Those that differ by no more see the same noise; with fewer readings the
   * difference may grow as 1/root of their number */
  double agree_db;
} SpNoiseWindow;

/* Half-width of the window; a signal up to half as wide is recognised (common practice, no source) */
#define SP_NOISE_RBWS 40.0
/* Noise this many u from other noise is different noise, a step or a slope: once in eighty by chance (calculated: normal law) */
#define SP_NOISE_APART_U 2.5

/* Half-width in points of the noise search: this many RBW, at least a minimum, at most a quarter of n; per_rbw points make an RBW.
 * sp_noise_level_half(): half-width of the further average where noise is level. The median of 101 single looks has u = 0.6 dB. */
guint64 sp_noise_half (guint64 n, double per_rbw, double rbws);
guint64 sp_noise_level_half (guint64 n, double per_rbw);
/* u of one reading, with readings closer than half an RBW counted as one look: sweeps couple to a speed at which noise changes that
 * often. median_u_db: from sp_law_median_u_db. */
double sp_noise_reading_u_db (double median_u_db, double per_rbw);

/* The noise under a trace: level[i] is the p-quantile of the displayed noise, in the trace's unit, from both sides of the point.
 * If the sides agree, the noise is level or gently sloped: their mean. If not: the widest narrower window whose sides agree; if none,
 * there is an edge and the higher side counts (greatest-of, as radars do it: Hansen and Sawyers, IEEE Trans. AES-16, 1980, from
 * memory): a floor too high costs a proof, one too low gives a false one.
 * Signals are points more than `exclude_db` above the widest window's level; anything wider than half a side is noise. They are
 * excluded and the search repeats, the strong ones first. Noise may climb towards those on both sides, so beside them narrower windows
 * count if higher. Linear in n. */
void sp_noise_floor (guint64 n, const double *x, const SpNoiseWindow *window, double *level);

/* Local maxima x[i] >= base[i] + over_db (a plateau counts once, at its middle) with at least `prominence_db`: the least descent on
 * either side before a higher point or the trace's end. Ascending indices, as scipy.signal.find_peaks defines them. (transfer full) of
 * guint64. */
GArray *sp_find_peaks (guint64 n, const double *x, const double *base, double over_db, double prominence_db);

/* Vertex of a parabola through three equally spaced dB points (exact for a Gaussian filter): offset in steps from the middle one, -0.5
 * .. 0.5, and the level there. The middle point must be the greatest. */
void sp_parabola (double left_db, double middle_db, double right_db, double *offset, double *level_db);
