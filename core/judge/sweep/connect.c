/* connect.c - finds the band round a line's greatest point, if most of the power in it is not the line's */
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* A band extends down to this far below a line's threshold, or to half the threshold (common practice, no source) */
#define CONNECTED_DB 3.0
#define CONNECTED_NBWS 1.5 /* and over gaps of this many noise bandwidths (common practice, no source) */
/* A band no wider than this many modulation widths plus FEET_RBWS is a product of the carrier (common practice, no source) */
#define SIGNAL_WIDTHS 2.0
#define FEET_RBWS 4.0 /* common practice, no source */
/* points that exceed a line in a sweep too coarse to sum: a line fills at most three (common practice, no source) */
#define COARSE_POINTS 4

double
sp_judging_hidden_hz (const SpJudging *c, const SpJudgedSweep *s)
{
  double rbw = isfinite (s->rbw_hz) ? s->rbw_hz : 0;
  return fmax (SP_ZONE_RBWS * rbw, fmax (rbw, s->spacing_hz) + c->carrier_half_hz);
}

double
sp_judging_zone_hz (const SpJudging *c, const SpJudgedSweep *s)
{
  return fmax (c->out->exclude_hz, sp_judging_hidden_hz (c, s));
}

gboolean
sp_judging_taken (const SpJudging *c, const SpJudgedSweep *s, guint64 i, guint except)
{
  double f = s->trace->frequency_hz[i], f0 = c->out->fundamental_hz, half = sp_judging_window_half (s, i);
  if (f <= sp_judging_zero_hertz_end (s))
    return TRUE;
  if (isnan (f0))
    return FALSE;
  if (fabs (f - f0) <= sp_judging_zone_hz (c, s))
    return TRUE;
  guint order = (guint) fmin (round (f / f0), G_MAXINT);
  if (order >= 2 && order <= c->mask->harmonics && order != except) {
    double width = sp_judging_width_hz (c, s, order, order * f0);
    if (fabs (f - order * f0) <= fmax (half, width > 0 ? width / 2 + half : 0) + order * c->carrier_half_hz)
      return TRUE;
  }
  /* Within 3 dB of a skirt is the skirt (common practice, no source). */
  return s->out->floor_cause[i] == SP_CAUSE_SKIRT && s->out->level_dbm[i] <= s->out->floor_dbm[i] + 3;
}

/* TRUE if point i belongs to a band. A band wider than the noise window raises the noise estimate, so the noise around it counts too. */
static gboolean
stands_out (const SpJudgedSweep *s, guint64 i)
{
  double over = fmax (s->sweep_threshold_db - CONNECTED_DB,
                      s->sweep_threshold_db / 2); /* with many averages the threshold itself is under 3 dB */
  return s->out->level_dbm[i] > fmin (s->out->noise_dbm[i], sp_judging_ground_dbm (s, i)) + over;
}

/* The last point in this direction connected with i: points between them stand out, except for short gaps. */
static guint64
connected (const SpJudging *c, const SpJudgedSweep *s, guint64 i, guint order, int step, double least_hz, double most_hz)
{
  const double *f = s->trace->frequency_hz;
  double gap = CONNECTED_NBWS * fmax (isfinite (s->nbw_hz) ? s->nbw_hz : 0, s->spacing_hz);
  guint64 last = i;
  for (guint64 j = i; (step > 0 ? j + 1 < s->trace->n : j > 0);) {
    j += (guint64) step;
    if (f[j] < least_hz || f[j] > most_hz || fabs (f[j] - f[last]) > gap || sp_judging_taken (c, s, j, order))
      break;
    if (stands_out (s, j))
      last = j;
  }
  return last;
}

/* The range of one rule: each row of a mask is judged separately. */
static void
find_row (const SpJudging *c, double frequency_hz, double *from_hz, double *to_hz)
{
  const SpLimitSegment *segment = sp_judging_segment (c, frequency_hz);
  *from_hz = segment ? segment->from_hz : -INFINITY;
  *to_hz = segment ? segment->to_hz : INFINITY;
}

/* The sweep is too coarse to sum, or shows the greatest of several looks: the greatest reading is only a part, or too high. */
static void
bound_band (const SpJudgedSweep *s, gboolean sums, const SpBandSum *sum, guint64 points, double width_hz, SpEmissionKind kind,
            SpDetection *detection)
{
  double over = sums ? sum->power_dbm - detection->level_dbm : INFINITY;
  if (sums ? over <= sp_judging_line_sum_db (s) : points < COARSE_POINTS)
    return;
  detection->kind = kind;
  detection->loss_db = fmax (detection->loss_db, fmin (over, sp_band_spread_db (width_hz, s->nbw_hz)));
  detection->below_db = isnan (s->band.noise_error_db) ? sp_judging_greatest_over_db (s, width_hz) : 0;
  if (s->nbw_hz > detection->reference_hz)
    detection->below_db += sp_db_from_ratio (s->nbw_hz / detection->reference_hz);
}

SpBandView
sp_judging_view_at (const SpJudgedSweep *s, guint64 i)
{
  SpBandView view = s->band;
  double spacing = sp_judging_spacing (s, i);
  view.noise_reach_hz *= spacing / view.spacing_hz;
  view.spacing_hz = spacing;
  return view;
}

/* MODULATED if the width fits the carrier's modulation, else NOISE. */
static SpEmissionKind
kind_of (const SpJudging *c, const SpJudgedSweep *s, guint order, double width_hz)
{
  double signal = sp_judging_signal_width_hz (c, s, order);
  return signal > 0 && width_hz <= SIGNAL_WIDTHS * signal + FEET_RBWS * s->rbw_hz ? SP_KIND_MODULATED : SP_KIND_NOISE;
}

/* The band's level is the sum of its mean powers. */
static void
sum_band (const SpJudgedSweep *s, const SpBandSum *sum, SpDetection *detection)
{
  double lacks = s->band.noise_error_db; /* valid for noise-like signals; for intermittent ones a mean of decibels is no upper bound */
  gboolean open = detection->kind == SP_KIND_MODULATED && s->law.average == SP_AVERAGE_LOG;
  detection->level_dbm = sum->power_dbm;
  detection->width_hz = sum->width_hz;
  detection->noise_u_db = sum->noise_u_db;
  detection->near_noise_db = 0;
  detection->loss_db = open ? SP_MOST_LOSS_DB : lacks;
  detection->frequency_hz = sum->middle_hz;
}

/* The range connected with point i, extended by half a reference bandwidth either side. FALSE: no wider than a line. */
static gboolean
find_stretch (const SpJudging *c, const SpJudgedSweep *s, guint64 i, guint order, guint64 *first, guint64 *last, SpDetection *detection)
{
  const double *f = s->trace->frequency_hz;
  double least, most, reference = detection->reference_hz;
  find_row (c, f[i], &least, &most);
  *first = connected (c, s, i, order, -1, least, most);
  *last = connected (c, s, i, order, 1, least, most);
  double from = f[*first], to = f[*last];
  if (reference > s->nbw_hz) {
    from = fmin (from, fmax (least, f[i] - reference / 2));
    to = fmax (to, fmin (most, f[i] + reference / 2));
  }
  from = fmax (least, from - s->rbw_hz);
  to = fmin (most, to + s->rbw_hz);
  if (!(to - from > SP_BAND_LINE_RBWS * s->rbw_hz)) /* FALSE for an unknown RBW too */
    return FALSE;
  detection->from_hz = from;
  detection->to_hz = to;
  detection->width_hz = f[*last] - f[*first];
  return TRUE;
}

void
sp_judging_connect (const SpJudging *c, const SpJudgedSweep *s, guint64 i, guint order, SpDetection *detection)
{
  guint64 first, last;
  SpBandView view = sp_judging_view_at (s, i);
  gboolean by_reference = s->nbw_hz > detection->reference_hz,
           sums = sp_band_can_sum (&view); /* a wider filter's sum is never narrower than its reading */
  if (order == 0 && by_reference)          /* noise narrower than the filter looks like a line, and only a narrower filter can tell */
    detection->below_db = fmax (detection->below_db, sp_db_from_ratio (s->nbw_hz / detection->reference_hz));
  if (!find_stretch (c, s, i, order, &first, &last, detection))
    return;
  SpBandSum sum = sums ? sp_band_sum (&view, detection->from_hz, detection->to_hz, by_reference ? NAN : detection->reference_hz)
                       : (SpBandSum){ 0 };
  SpEmissionKind kind = kind_of (c, s, order, detection->width_hz);
  gboolean wide = sum.seen && sum.power_dbm > detection->level_dbm + SP_STANDS_OUT_DB + SP_STANDS_OUT_U * sum.noise_u_db;
  if (!sums || isnan (s->band.noise_error_db)) {
    bound_band (s, sums, &sum, last - first + 1, detection->width_hz + s->rbw_hz, kind, detection);
  } else if (wide && by_reference) {
    detection->kind = kind; /* the greatest reading holds more than the reference bandwidth */
    detection->below_db = sp_db_from_ratio (s->nbw_hz / detection->reference_hz);
  } else if (wide) {
    detection->kind = kind;
    sum_band (s, &sum, detection);
  }
  if (detection->kind == SP_KIND_LINE)
    detection->from_hz = detection->to_hz = detection->frequency_hz;
}
