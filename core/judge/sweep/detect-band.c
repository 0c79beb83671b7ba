/* detect-band.c - detects a band: sums a signal that may be wider than the filter, or bounds it */
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* Formulas: core/docs/computation.md, section 15. */

#define PULSED_DB 3.0  /* at most, of a mean of amplitudes (common practice, no source) */
#define OF_SIGNAL 1.5  /* wider than this many modulation widths: not made by the carrier's modulation (common practice, no source) */
#define SHOWS_RBWS 0.3 /* from this width on a band reads lower than a line, by 0.1 dB there (calculated) */

gboolean
sp_judging_is_slow (const SpJudging *c, const SpJudgedSweep *s, double width_hz)
{
  return isnan (s->band.noise_error_db) && sp_band_is_slow (width_hz, c->folds ? c->signal_hz : 0, s->rbw_hz);
}

/* The level, and the floor if nothing was seen, may be too low by loss_db. */
static void
may_lack (SpDetection *detection, double loss_db)
{
  double more = fmax (0, loss_db - detection->loss_db);
  detection->loss_db += more;
  detection->detection_limit_dbm += more;
  detection->floor_dbm += more;
  if (!detection->detected)
    detection->level_dbm = detection->floor_dbm;
}

/* No sum is possible: the greatest reading may be only a part. */
static void
bound_by_spread (const SpJudging *c, const SpJudgedSweep *s, double width_hz, SpDetection *detection)
{
  may_lack (detection, sp_judging_is_slow (c, s, width_hz) || !isfinite (s->nbw_hz) ? 0 : sp_band_spread_db (width_hz, s->nbw_hz));
}

static void
raise_floor (const SpJudgedSweep *s, double width_hz, SpDetection *detection)
{
  guint64 i = MIN (sp_trace_find (s->trace, detection->frequency_hz), s->trace->n - 1);
  double floor_dbm = s->out->noise_dbm[i] + sp_band_floor_db (&s->band, width_hz);
  detection->detection_limit_dbm = fmax (detection->detection_limit_dbm, floor_dbm);
  if (floor_dbm > detection->floor_dbm) {
    detection->floor_dbm = floor_dbm;
    detection->cause = SP_CAUSE_NOISE;
  }
  if (!detection->detected)
    detection->level_dbm = detection->floor_dbm;
}

/* The readings are upper bounds, and so is their sum. The greatest of them is the level; for noise it is still too high. */
static void
bound_by_sum (const SpJudging *c, const SpJudgedSweep *s, const SpBandSum *sum, double width_hz, SpDetection *detection)
{
  double over = sum->power_dbm - detection->level_dbm;
  if (!detection->detected || over <= sp_judging_line_sum_db (s))
    return;
  if (!sp_judging_is_slow (c, s, width_hz))
    detection->loss_db = fmax (detection->loss_db, fmin (over, sp_band_spread_db (width_hz, s->nbw_hz)));
  detection->below_db = sp_judging_greatest_over_db (s, width_hz);
}

double
sp_judging_line_sum_db (const SpJudgedSweep *s)
{
  return SP_STANDS_OUT_DB + sp_db_from_ratio (1 + s->spacing_hz / s->nbw_hz); /* a peak of each bucket shows a line over the whole bucket */
}

double
sp_judging_greatest_over_db (const SpJudgedSweep *s, double width_hz)
{
  return fmax (0, sp_judging_thresholds (s, fmax (1, floor (width_hz / fmax (s->nbw_hz, s->spacing_hz)))).threshold_db);
}

gboolean
sp_judging_shows_least (const SpJudgedSweep *s)
{
  return s->trace->settings.hold == SP_HOLD_MIN || sp_detector_traits (s->trace->settings.detector)->least;
}

static void
take_sum (const SpJudgedSweep *s, const SpBandSum *sum, double from_hz, double to_hz, gboolean by_signal, SpDetection *detection)
{
  detection->detected = TRUE;
  detection->kind = by_signal ? SP_KIND_MODULATED : SP_KIND_NOISE;
  detection->frequency_hz = sum->middle_hz;
  detection->level_dbm = sum->power_dbm;
  detection->noise_u_db = sum->noise_u_db;
  detection->near_noise_db = 0;
  detection->loss_db = s->band.noise_error_db; /* for noise-like signals; lines lose nothing */
  detection->width_hz = sum->width_hz;
  detection->from_hz = from_hz;
  detection->to_hz = to_hz;
}

/* A filter wider than the reference bandwidth reads a line correctly, and an upper bound of other signals. The greatest of several
 * looks may hold the whole of a signal that sweeps through the filter. */
static void
bound_by_reference (const SpJudgedSweep *s, double signal_hz, SpDetection *detection)
{
  if (!detection->detected || !(signal_hz > detection->reference_hz))
    return;
  double held = isnan (s->band.noise_error_db) ? fmax (signal_hz, s->nbw_hz) : s->nbw_hz;
  if (held > detection->reference_hz)
    detection->below_db += sp_db_from_ratio (held / detection->reference_hz);
}

/* A signal that sweeps through the filter is present part of the time, so means of decibels and amplitudes are below the mean power:
 * by 1.1 dB through a filter as wide as the signal (common practice, no source), by 3 dB for amplitudes through a narrower one. */
static void
bound_by_average (const SpJudgedSweep *s, double signal_hz, SpDetection *detection)
{
  if (s->law.average != SP_AVERAGE_LOG && s->law.average != SP_AVERAGE_VOLTAGE)
    return;
  double widths = signal_hz / s->rbw_hz;
  detection->loss_db = fmax (detection->loss_db, fmin (PULSED_DB, 1.1 * widths * widths));
}

void
sp_judging_detect_band (const SpJudging *c, const SpJudgedSweep *s, double centre_hz, double width_hz, SpDetection *detection)
{
  SpBandView view = sp_judging_view_at (s, MIN (sp_trace_find (s->trace, centre_hz), s->trace->n - 1));
  double signal_hz = sp_judging_signal_width_hz (c, s, sp_judging_order_at (c, centre_hz));
  gboolean of_reference = width_hz <= detection->reference_hz,
           by_signal = signal_hz > 0 && (of_reference || width_hz <= OF_SIGNAL * signal_hz);
  gboolean wide_signal = by_signal && signal_hz > SP_BAND_LINE_RBWS * s->rbw_hz;
  gboolean shown = by_signal && c->signal_shown && width_hz > SHOWS_RBWS * s->rbw_hz;
  gboolean narrow = !(width_hz > SP_BAND_LINE_RBWS * s->rbw_hz);
  if ((narrow && !(shown && sp_band_can_sum (&view))) || s->nbw_hz > detection->reference_hz) {
    if (by_signal) {
      bound_by_reference (s, signal_hz, detection);
      bound_by_average (s, signal_hz, detection);
    }
    return;
  }
  if (wide_signal && (sp_judging_shows_least (s) || s->law.average == SP_AVERAGE_LOG)) {
    may_lack (detection, SP_MOST_LOSS_DB); /* the least of several looks and a mean of decibels miss intermittent signals: no upper bound */
    return;
  }
  if (!sp_band_can_sum (&view)) {
    bound_by_spread (c, s, width_hz, detection);
    return;
  }
  double half = width_hz / 2 + s->rbw_hz, from = centre_hz - half, to = centre_hz + half;
  SpBandSum sum = sp_band_sum (&view, from, to, detection->reference_hz);
  if (isnan (s->band.noise_error_db)) {
    bound_by_sum (c, s, &sum, width_hz, detection);
    if (by_signal)
      bound_by_reference (s, signal_hz, detection);
  } else if (sum.seen
             && (shown || !detection->detected
                 || sum.power_dbm
                        > detection->level_dbm + SP_STANDS_OUT_DB + SP_STANDS_OUT_U * hypot (sum.noise_u_db, detection->noise_u_db))) {
    take_sum (s, &sum, from, to, by_signal && signal_hz > SHOWS_RBWS * s->rbw_hz, detection);
  } else if (detection->detected && by_signal) { /* it may be wider than visible */
    double most = sum.power_dbm + SP_STANDS_OUT_U * sum.noise_u_db - detection->level_dbm;
    detection->loss_db = fmax (detection->loss_db, fmin (most, sp_band_spread_db (width_hz, s->nbw_hz)));
  }
  if (by_signal)
    bound_by_average (s, signal_hz, detection);
  if (!narrow)
    raise_floor (s, fmin (width_hz, isnan (detection->reference_hz) ? width_hz : detection->reference_hz), detection);
}
