/* signal.c - width of the carrier's modulation, and of its products at the harmonics */
#include "core/judge/sweep/sweep.h"
#include "core/width/width.h"

#include <math.h>

#define LEAST_READINGS 8  /* for a sum (common practice, no source) */
#define NAME_RELATIVE 0.9 /* a filter may be this much narrower than its name (common practice, no source) */
/* Bins, and a detector with equal smear, widen a line's 99 % width by this many spacings in square (calculated) */
#define BINS 2.103
/* Share of the remaining 99 % width: a tone's two turning points are 2.83 of its standard deviations apart, a Gaussian's 5.15 */
#define TONE_SHARE 0.55 /* calculated: 2.83/5.15 */

/* The readings round the carrier, 250 % of the necessary bandwidth (ITU-R SM.1539) or 5 RBW either way (common practice, no source);
 * FALSE: too far apart for a sum, or too few. */
static gboolean
readings_round (const SpJudging *c, const SpJudgedSweep *s, const SpSweepCarrier *carrier, SpReadings *readings)
{
  double half = fmin (carrier->alone_hz, fmax (2.5 * c->out->necessary_bandwidth_hz, 5 * s->rbw_hz));
  guint64 from = sp_trace_find (s->trace, carrier->frequency_hz - half), to = sp_trace_find (s->trace, carrier->frequency_hz + half);
  SpBandView view = sp_judging_view_at (s, MIN (sp_trace_find (s->trace, carrier->frequency_hz), s->trace->n - 1));
  if (!sp_band_can_sum (&view) || to < from + LEAST_READINGS)
    return FALSE;
  *readings = (SpReadings){ to - from, s->trace->frequency_hz + from, s->out->level_dbm + from };
  return TRUE;
}

/* A line's 99 % width: a mean over the bucket widens it in square, the greatest of the bucket by the whole bucket. */
static double
line_width_hz (const SpJudging *c, const SpJudgedSweep *s)
{
  double line = sp_width_line_occupied_hz (c->analyzer->filter, s->rbw_hz);
  return isnan (s->band.noise_error_db) ? line + s->spacing_hz : hypot (line, BINS * s->spacing_hz);
}

SpSweepSignal
sp_judging_signal_of_sweep (const SpJudging *c, const SpJudgedSweep *s, const SpSweepCarrier *carrier)
{
  SpReadings readings;
  SpSweepSignal signal = SP_NO_SIGNAL;
  if (carrier->clipped || sp_judging_shows_least (s) || !readings_round (c, s, carrier, &readings))
    return signal;
  double noise_mw = sp_width_noise_mw (&readings, fmin (1, s->spacing_hz / s->nbw_hz));
  sp_width_occupied (&readings, noise_mw, SP_WIDTH_SHARE, &signal.from_hz, &signal.to_hz);
  double occupied = signal.to_hz - signal.from_hz, line = line_width_hz (c, s);
  if (isnan (occupied))
    return signal;
  double narrow = NAME_RELATIVE * line, over = sqrt (fmax (0, occupied * occupied - narrow * narrow));
  signal.told = TRUE;
  signal.modulated = occupied > hypot (line, s->rbw_hz);
  signal.width_hz = signal.modulated ? sqrt (occupied * occupied - line * line) : TONE_SHARE * over;
  return signal;
}

SpSignal
sp_judging_signal (const SpJudging *c, GPtrArray *warnings)
{
  SpModulation modulation = sp_condition_modulation (c->bench, c->condition);
  double widest = 0, bound = sp_condition_signal_hz (c->bench, c->condition, c->out->necessary_bandwidth_hz);
  for (guint k = 0; k < c->n_all; k++) {
    const SpSweepSignal *signal = &c->sweeps[k].signal;
    if (signal->modulated) {
      widest = fmax (widest, signal->width_hz);
      if (modulation == SP_MODULATION_NONE)
        sp_reasons_add (warnings, sp_reason (MODULATED, .file = c->sweeps[k].trace->file, .width_hz = signal->width_hz));
    } else if (!isnan (signal->width_hz)) {
      bound = fmin (bound, signal->width_hz);
    }
  }
  return (SpSignal){ .width_hz = widest > 0 ? widest : bound, .shown = widest > 0, .folds = sp_condition_folds (c->bench, c->condition) };
}

double
sp_judging_signal_width_hz (const SpJudging *c, const SpJudgedSweep *s, guint order)
{
  const SpSweepSignal *signal = &s->signal;
  double width = isnan (signal->width_hz) || c->signal_hz == 0 ? c->signal_hz
                 : signal->modulated                           ? signal->width_hz
                                                               : fmin (signal->width_hz, c->out->necessary_bandwidth_hz);
  return width * (c->folds ? MAX (order, 1) : 1);
}
