/* width.h - how wide a signal is: occupied bandwidth, x dB widths, power in a channel and beside it
 *
 * Readings are levels in dBm, each the power within the RBW's noise bandwidth (NBW). A reading's power density is spread over its own bin,
 * halfway to its neighbours, so that sums end between points: a flat band of width W has an occupied bandwidth of 0.99 W.
 * Sums are of powers: right for sample, rms and power average; for peak, log and voltage average, an average whose kind is not stated, and
 * holds, wrong, and said.
 * An x dB width of a signal that fluctuates (speech, noise) is a little small: its reference is the greatest reading, which of many that scatter lies
 * high (by simulation: 10 % at 6 dB with 30 averages). It is not corrected: nothing in a trace tells scatter from lines that stand there.
 */
#pragma once

#include "core/detection/detection.h"

#define SP_WIDTH_SHARE 0.99 /* occupied bandwidth: 0.5 % of the mean power lies below it and 0.5 % above (ITU-R SM.328, SM.443) */
#define SP_WIDTH_DROPS 4    /* x dB widths: 6, 26, 40, 60 dB (26: ITU-R SM.328; 60: common practice) */
#define SP_WIDTH_BESIDE 4   /* channels beside: lower and upper, next and next but one; room for both sides */
/* of the spacing is the channel, where only one of the two is given: 16 of 25 kHz (common practice, no source) */
#define SP_CHANNEL_SHARE 0.64

/* n readings at ascending frequencies, n >= 2, in W relative to 1 mW. */
typedef struct {
  guint64 n;
  const double *frequency_hz, *level_dbm;
} SpReadings;

/* Mean of what noise alone shows in these readings, in mW: of twenty stretches of them (four at least), the lowest and all that are no
 * higher than noise of so many independent `looks` a reading (< 1: readings closer than NBW) scatters. Right where noise is level and a
 * tenth of the span is noise in one piece; on the skirts of a signal that fills the span it is these. */
double sp_width_noise_mw (const SpReadings *readings, double looks);

/* The band that holds `share` of the power, half of the rest on either side; `noise_mw` is taken off each reading, and what then is
 * negative counts as negative, so that noise adds up to nothing. The edges are those nearest to the greatest reading. NaN: no power. */
void sp_width_occupied (const SpReadings *readings, double noise_mw, double share, double *low_hz, double *high_hz);

/* Sum of the readings' power times their bins' width within [from, to], in mW Hz; over NBW it is the power there. */
double sp_width_sum (const SpReadings *readings, double noise_mw, double from_hz, double to_hz);

/* The outermost places where the level is `drop_db` below `peak_dbm`, linear in dB between points (ITU-R SM.328, x dB bandwidth). NaN on a
 * side where the readings end above that. */
void sp_width_drop (const SpReadings *readings, double peak_dbm, double drop_db, double *low_hz, double *high_hz);

/* What a line shows through the filter: the band with 99 % of its power, and its width `drop_db` down. Gaussian: 2.18783 B and B sqrt
 * (drop/3.0103); four-pole 3.04079 B (the integral of (1+x^2)^-4) and by its response; flat 0.99 B and B. NaN where B is. */
double sp_width_line_occupied_hz (SpFilter filter, double rbw_hz);
double sp_width_line_drop_hz (SpFilter filter, double rbw_hz, double drop_db);

/* What is asked; NaN: by the trace. Channel and spacing default to 8.5 of 12.5 kHz for a signal of up to 11 kHz and 16 of 25 kHz up to 16
 * kHz (ETSI EN 300 086, from memory), beyond to the occupied bandwidth and that over SP_CHANNEL_SHARE. */
typedef struct {
  double from_hz, to_hz; /* only what lies within; the response at zero hertz (5 RBW) never counts */
  double channel_hz, spacing_hz, center_hz;
  SpFilter filter;
} SpWidthAsked;
void sp_width_asked_init (SpWidthAsked *asked); /* all by the trace, a Gaussian filter */

typedef struct {
  double drop_db, low_hz, high_hz, width_hz;
  double of_line_hz; /* what a line would show */
  gboolean hidden;   /* noise, or the end of the trace, stands above that level: no width */
} SpDropWidth;

typedef struct {
  int step; /* -2 -1 1 2: channels away */
  double center_hz;
  gboolean swept;     /* the trace holds all of it */
  double power_dbm;   /* NaN without RBW */
  double relative_db; /* to the channel's */
  gboolean in_noise;  /* nothing stands out of the noise there: the figures are the noise's, an upper bound */
} SpBeside;

typedef struct {
  char *file;
  double from_hz, to_hz;
  guint64 n;                /* readings within */
  double spacing_hz;        /* greatest */
  double rbw_hz;            /* NaN: not known, then no powers in dBm */
  double peak_hz, peak_dbm; /* greatest reading */
  double noise_dbm;         /* mean, in a reading; -INFINITY: none */
  double occupied_hz, occupied_low_hz, occupied_high_hz;
  double occupied_by_line_hz; /* what a line would show */
  SpDropWidth drop[SP_WIDTH_DROPS];
  double channel_hz, channel_spacing_hz, center_hz;
  gboolean channel_chosen; /* by the trace */
  double channel_dbm;      /* NaN without RBW */
  SpBeside beside[SP_WIDTH_BESIDE];
  GPtrArray *warnings; /* SUM_DETECTOR, DETECTOR_UNKNOWN, RBW_UNKNOWN, WIDTH_COARSE, WIDTH_OF_FILTER, WIDTH_NOISE, and the trace's own */
} SpWidths;

/* Errors (SP_ERROR_USAGE): fewer than 8 readings within; points further apart than the RBW, which leave gaps that no sum can fill; no
 * signal over the noise; a channel that is not > 0. (transfer full) */
SpWidths *sp_widths_measure (const SpTrace *trace, const SpWidthAsked *asked, GError **error);
void sp_widths_free (SpWidths *widths);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpWidths, sp_widths_free)

/* dB that the detector and average make a sum of noise-like powers wrong, at most where the kind of average is not stated; 0: right; NaN: wrong by an amount that nobody can tell. */
double sp_width_sum_error_db (const SpSettings *settings, const SpDetectorLaw *law);
