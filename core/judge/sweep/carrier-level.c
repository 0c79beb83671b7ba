/* carrier-level.c - frequency, level and modulation of the carrier that a sweep shows */
#include "core/judge/sweep/sweep.h"
#include "core/width/width.h"

#include <math.h>

/* Error of a modulated carrier's frequency, taken as the middle of its power, relative to its width (common practice, no source) */
#define CENTRE_SHARE 0.05

/* A modulated carrier: power and middle of its band. */
static void
measure_band (const SpJudging *c, const SpJudgedSweep *s, SpSweepCarrier *carrier, GPtrArray *warnings)
{
  const SpSweepSignal *signal = &carrier->signal;
  double beside = SP_BAND_LINE_RBWS * s->rbw_hz, wrong = -s->band.noise_error_db;
  SpBandView view = sp_judging_view_at (s, MIN (sp_trace_find (s->trace, carrier->frequency_hz), s->trace->n - 1));
  SpBandSum sum = sp_band_sum (&view, signal->from_hz - beside, signal->to_hz + beside, NAN);
  if (isnan (wrong)) /* the sum of the greatest of several looks is an upper bound, and the greatest reading may be the whole */
    carrier->spread_db = sp_judging_is_slow (c, s, signal->width_hz)
                             ? 0
                             : fmax (0, fmin (sum.power_dbm - carrier->level_dbm, sp_band_spread_db (signal->width_hz, s->nbw_hz)));
  else
    carrier->level_dbm = sum.power_dbm;
  carrier->frequency_hz = sum.middle_hz;
  carrier->half_hz = fmax (s->spacing_hz / 2, CENTRE_SHARE * signal->width_hz);
  if (wrong != 0 && s->purpose == SP_PURPOSE_KEYED)
    sp_reasons_add (warnings, sp_reason (SUM_DETECTOR, .file = s->trace->file, .wrong_db = wrong));
}

static void
measure_power (const SpJudging *c, const SpJudgedSweep *s, guint64 i, SpSweepCarrier *carrier, GPtrArray *warnings)
{
  sp_judging_line (s, i, &carrier->frequency_hz, &carrier->level_dbm, &carrier->half_hz);
  carrier->signal = sp_judging_signal_of_sweep (c, s, carrier);
  gboolean told = carrier->signal.told;
  double most = told ? 0 : sp_condition_signal_hz (c->bench, c->condition, c->out->necessary_bandwidth_hz);
  if (told && carrier->signal.modulated)
    measure_band (c, s, carrier, warnings);
  else if (isnan (s->band.noise_error_db) && !sp_judging_is_slow (c, s, most)) /* the reading may be only a part of a modulated carrier */
    carrier->spread_db = sp_band_spread_db (most, s->nbw_hz);
}

/* A clipped carrier: its level is at least the top's, its frequency the middle, known to half the width. */
static void
take_plateau (const SpJudgedSweep *s, const SpCarrier *at, SpSweepCarrier *carrier)
{
  const double *f = s->trace->frequency_hz;
  carrier->level_dbm = s->out->level_dbm[at->index];
  if (at->first == at->last)
    return;
  carrier->frequency_hz = (f[at->first] + f[at->last]) / 2;
  carrier->half_hz = fmax (carrier->half_hz, (f[at->last] - f[at->first]) / 2);
}

/* Warns of faults of a keyed sweep's carrier that P depends on. */
static void
warn_carrier (const SpJudgedSweep *s, const SpCarrier *at, const SpSweepCarrier *carrier, GPtrArray *warnings)
{
  const SpTrace *t = s->trace;
  double reference = t->settings.reference_dbm, reading = t->reading_dbm[at->index], f0 = t->frequency_hz[at->index];
  if (carrier->blurred)
    sp_reasons_add (warnings, sp_reason (CARRIER_UNDERSAMPLED, .file = t->file, .spacing_hz = sp_judging_spacing (s, at->index),
                                         .rbw_hz = s->rbw_hz, .loss_db = carrier->loss_db));
  if (at->clipped)
    sp_reasons_add (warnings, sp_reason (CLIPPED, .file = t->file, .reading_dbm = reading,
                                         .reference_dbm = reading >= reference ? reference : NAN, .points = at->last - at->first + 1));
  if (at->beside < t->n)
    sp_reasons_add (warnings, sp_reason (LINE_BESIDE, .file = t->file, .carrier_hz = f0, .line_hz = t->frequency_hz[at->beside],
                                         .over_db = s->out->level_dbm[at->beside] - s->out->level_dbm[at->index]));
}

static void
prefer_stated (const SpJudging *c, const SpJudgedSweep *s, SpSweepCarrier *carrier)
{
  double stated = c->condition->fundamental_hz, half = stated * SP_STATED_RELATIVE;
  double reach = carrier->half_hz
                 + (isfinite (s->rbw_hz) ? s->rbw_hz : 0); /* midway between two points the noise decides which reads higher */
  if (carrier->half_hz > half && fabs (carrier->frequency_hz - stated) <= reach) {
    carrier->frequency_hz = stated;
    carrier->half_hz = half;
  }
}

static SpSweepCarrier
measure (const SpJudging *c, const SpJudgedSweep *s, const SpCarrier *at, GPtrArray *warnings)
{
  guint64 i = at->index;
  SpSweepCarrier carrier = { .found = TRUE, .clipped = at->clipped, .elsewhere = at->elsewhere };
  carrier.alone_hz = at->beside < s->trace->n ? fabs (s->trace->frequency_hz[at->beside] - s->trace->frequency_hz[i]) / 2 : INFINITY;
  measure_power (c, s, i, &carrier, warnings);
  if (at->clipped)
    take_plateau (s, at, &carrier);
  prefer_stated (c, s, &carrier);
  carrier.reading_dbm = carrier.level_dbm - (s->out->level_dbm[i] - s->trace->reading_dbm[i]);
  double correction;
  sp_judging_near_noise (s, s->out->level_dbm[i] - s->out->noise_dbm[i], &correction, &carrier.noise_u_db);
  carrier.loss_db = fmax (carrier.spread_db, sp_judging_line_loss (c, s, i));
  carrier.blurred = sp_judging_blurred (s, i);
  if (s->purpose == SP_PURPOSE_KEYED) /* other sweeps give no power */
    warn_carrier (s, at, &carrier, warnings);
  return carrier;
}

SpSweepCarrier
sp_judging_carrier (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz, GPtrArray *warnings)
{
  SpCarrier at;
  gboolean keyed = s->purpose == SP_PURPOSE_KEYED, sought = keyed || !isnan (frequency_hz);
  if (s->purpose == SP_PURPOSE_UNKEYED || !sought || !sp_judging_find_carrier (c, s, frequency_hz, &at) || (at.elsewhere && !keyed))
    return (SpSweepCarrier){ .signal = SP_NO_SIGNAL };
  return measure (c, s, &at, warnings);
}

gboolean
sp_judging_has_carrier (const SpJudgedSweep *s)
{
  return s->carrier.found && !s->foreign;
}

double
sp_judging_carrier_dbm (const SpJudgedSweep *s)
{
  return s->carrier.level_dbm + s->warm_db;
}
