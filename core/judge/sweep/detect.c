/* detect.c - detects a line at a frequency of one sweep, or gives the floor there */
#include "core/judge/sweep/sweep.h"
#include "core/quantity/ascending.h"

#include <math.h>

double
sp_judging_window_half (const SpJudgedSweep *s, guint64 i)
{
  return fmax (isfinite (s->rbw_hz) ? s->rbw_hz : 0, sp_judging_spacing (s, i));
}

static void
knot (const SpJudgedSweep *s, gint over_db, double *correction_db, double *u_db)
{
  SpNear *near = &s->cache->near;
  guint k = (guint) (over_db - SP_NEAR_LEAST);
  if (!near->known[k]) {
    sp_law_near_noise (&s->law, over_db, &near->correction_db[k], &near->u_db[k]);
    near->known[k] = TRUE;
  }
  *correction_db = near->correction_db[k];
  *u_db = near->u_db[k];
}

void
sp_judging_near_noise (const SpJudgedSweep *s, double over_db, double *correction_db, double *u_db)
{
  gboolean cheap = s->law.averages <= 1 || s->law.detector == SP_DETECTOR_RMS
                   || (s->law.average == SP_AVERAGE_POWER && s->law.detector != SP_DETECTOR_PEAK);
  double low[2], high[2], below = floor (over_db);
  if (cheap || !(below >= SP_NEAR_LEAST && below < SP_NEAR_MOST)) {
    sp_law_near_noise (&s->law, over_db, correction_db, u_db);
    return;
  }
  knot (s, (gint) below, &low[0], &low[1]);
  knot (s, (gint) below + 1, &high[0], &high[1]);
  double part = over_db - below;
  gboolean both = isfinite (low[0]) && isfinite (low[1]);
  *correction_db = both ? low[0] + part * (high[0] - low[0]) : low[0];
  *u_db = both ? low[1] + part * (high[1] - low[1]) : low[1];
}

gboolean
sp_judging_holds (const SpJudgedSweep *s, double frequency_hz)
{
  return frequency_hz >= s->trace->frequency_hz[0] && frequency_hz <= s->trace->frequency_hz[s->trace->n - 1];
}

void
sp_judging_take_line (const SpJudging *c, const SpJudgedSweep *s, guint64 i, SpDetection *out)
{
  double half, reading;
  if (sp_judging_line_near_noise (s, i, &out->frequency_hz, &out->level_dbm, &out->noise_u_db)) {
    out->near_noise_db = out->loss_db = 0; /* the mean has neither */
  } else {
    sp_judging_line (s, i, &out->frequency_hz, &reading, &half);
    sp_judging_near_noise (s, reading - s->out->noise_dbm[i], &out->near_noise_db, &out->noise_u_db);
    if (isfinite (out->noise_u_db))
      out->noise_u_db = sp_judging_vertex_u_db (s, i, out->frequency_hz, out->noise_u_db);
    out->level_dbm = reading + out->near_noise_db;
    out->loss_db = sp_judging_line_loss (c, s, i);
  }
  out->reading_dbm = s->trace->reading_dbm[i];
  out->detected = TRUE;
  out->from_hz = out->to_hz = out->frequency_hz;
}

double
sp_judging_width_hz (const SpJudging *c, const SpJudgedSweep *s, guint order, double frequency_hz)
{
  double signal = sp_judging_signal_width_hz (c, s, order), reference = sp_judging_reference_hz (c, frequency_hz);
  return reference > signal ? reference : signal;
}

gboolean
sp_judging_could_see (const SpJudging *c, const SpJudgedSweep *s, const SpEmission *e)
{
  double f = e->order ? e->order * c->out->fundamental_hz : e->frequency_hz;
  if (!sp_judging_holds (s, f) || sp_judging_unresolved (c, s, e->order, NULL))
    return FALSE;
  guint64 i = MIN (sp_trace_find (s->trace, f), s->trace->n - 1);
  double reach = sp_judging_window_half (s, i)
                 + (isnan (e->frequency_half_hz) ? 0 : e->frequency_half_hz); /* search the whole uncertainty of the frequency */
  gboolean beside = fabs (f - c->out->fundamental_hz) <= sp_judging_hidden_hz (c, s) + reach || f <= sp_judging_zero_hertz_end (s) + reach;
  return s == &c->sweeps[e->corrected] || e->order || s->purpose == SP_PURPOSE_UNKEYED || !beside;
}

SpDetection
sp_judging_detect_emission (const SpJudging *c, const SpJudgedSweep *s, const SpEmission *e)
{
  double width = fmax (sp_judging_width_hz (c, s, e->order, e->frequency_hz), e->to_hz - e->from_hz), f0 = c->out->fundamental_hz;
  if (e->order)
    return sp_judging_detect (c, s, e->order * f0, e->order * c->carrier_half_hz, width);
  return sp_judging_detect (c, s, e->frequency_hz, isnan (e->frequency_half_hz) ? 0 : e->frequency_half_hz, width);
}

guint
sp_judging_order_at (const SpJudging *c, double frequency_hz)
{
  double f0 = c->out->fundamental_hz, order = round (frequency_hz / f0);
  return order >= 1 && order <= G_MAXINT && fabs (frequency_hz - order * f0) <= order * fmax (c->carrier_half_hz, 1) ? (guint) order : 0;
}

SpDetection
sp_judging_detect (const SpJudging *c, const SpJudgedSweep *s, double frequency_hz, double extra_hz, double width_hz)
{
  guint64 here = sp_ascending_nearest (s->trace->n, s->trace->frequency_hz, frequency_hz);
  double half = sp_judging_window_half (s, here) + extra_hz, spacing = sp_judging_spacing (s, here);
  double points = 1 + 2 * floor (half / spacing + 1e-9);
  SpThresholds thresholds = sp_judging_thresholds (s, points);
  SpDetection detection = { .frequency_hz = frequency_hz,
                            .from_hz = frequency_hz,
                            .to_hz = frequency_hz,
                            .loss_db = sp_judging_sampling_loss (c, s, here),
                            .reference_hz = sp_judging_reference_hz (c, frequency_hz) };
  detection.threshold_dbm = s->out->noise_dbm[here] + thresholds.threshold_db;
  detection.detection_limit_dbm = s->out->noise_dbm[here] + thresholds.detection_limit_db + detection.loss_db;
  detection.floor_dbm = sp_judging_floor_at (c, s, here, frequency_hz, points, &detection.cause);
  guint64 i = sp_judging_greatest (s, frequency_hz - half, frequency_hz + half);
  if (i < s->trace->n && s->out->level_dbm[i] > s->out->noise_dbm[i] + thresholds.threshold_db)
    sp_judging_take_line (c, s, i, &detection);
  else
    detection.level_dbm = detection.floor_dbm;
  if (width_hz > 0)
    sp_judging_detect_band (c, s, frequency_hz, width_hz, &detection);
  if (detection.detected && detection.kind == SP_KIND_LINE)
    sp_judging_connect (c, s, i, sp_judging_order_at (c, frequency_hz), &detection);
  return detection;
}
