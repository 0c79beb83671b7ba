/* clear.c - compares one sweep with the limit point by point: clear, or the obstacle */
#include "core/judge/verdict/clear.h"
#include "core/judge/emission/emission.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* Number of U values per sweep: U changes slowly, and between two the greater counts; bounds time */
#define GUARDS 32
#define SKIRT_DB 3.0     /* a line's skirt may be this far over the filter's response (noise, filter shape); common practice, no source */
#define JOINED_POINTS 10 /* readings above the limit this close together form one stretch (common practice, no source) */
#define BISECTIONS 60    /* bounds time: to the last bit */

/* Data common to all points of the sweep. */
typedef struct {
  const SpJudging *c;
  const SpJudgedSweep *s;
  guint k;
  double zone_hz, zero_hz, extra_db, shift_dbm; /* shift: the sweep's P over the condition's */
  double from_hz, to_hz;                        /* range in which the chain is calibrated */
  double guard_db[GUARDS + 1];
} Walk;

/* Data common to one segment of the limit. */
typedef struct {
  const SpLimitSegment *segment;
  double slope, band_db; /* band_db: a band's floor over the noise; -INFINITY: lines only */
} Row;

static gboolean
calibrated_at (const Walk *w, double frequency_hz)
{
  return sp_chain_loss (w->s->chain, frequency_hz, w->c->bench->temperature_c, 0, NULL).calibrated;
}

/* The last calibrated frequency between a calibrated and an uncalibrated one. */
static double
bisect (const Walk *w, double inside_hz, double outside_hz)
{
  for (guint i = 0; i < BISECTIONS; i++) {
    double middle = (inside_hz + outside_hz) / 2;
    *(calibrated_at (w, middle) ? &inside_hz : &outside_hz) = middle;
  }
  return inside_hz;
}

/* The calibrated ranges of all stages have one common range, or none. */
static void
find_calibrated (Walk *w)
{
  const SpTrace *t = w->s->trace;
  double first = t->frequency_hz[0], last = t->frequency_hz[t->n - 1], inside = NAN;
  for (guint j = 0; j <= GUARDS && isnan (inside); j++) {
    double f = first + (last - first) * j / GUARDS;
    inside = calibrated_at (w, f) ? f : NAN;
  }
  w->from_hz = INFINITY;
  w->to_hz = -INFINITY;
  if (isnan (inside))
    return;
  w->from_hz = calibrated_at (w, first) ? -INFINITY : bisect (w, inside, first);
  w->to_hz = calibrated_at (w, last) ? INFINITY : bisect (w, inside, last);
}

static double
slope_at (const SpJudging *c, double frequency_hz)
{
  double p = sp_judging_limit_power_w (c);
  double slope = sp_mask_limit (c->mask, c->out->fundamental_hz, p, c->out->necessary_bandwidth_hz, 0, frequency_hz).slope;
  return isnan (slope) ? 0 : slope;
}

/* U of the margin of a signal that would just be seen. */
static double
guard_at (const Walk *w, double frequency_hz)
{
  SpEmission e;
  sp_emission_init (&e, 0, frequency_hz);
  e.swept = TRUE;
  e.corrected = w->k;
  e.limit_slope = slope_at (w->c, frequency_hz);
  SpBudget budget = sp_judging_budget (w->c, &e);
  double u = budget.expanded_margin_db;
  g_free (budget.terms);
  return u;
}

static Walk
walk_of (const SpJudging *c, guint k)
{
  const SpJudgedSweep *s = &c->sweeps[k];
  const SpTrace *t = s->trace;
  Walk w = { .c = c, .s = s, .k = k, .zone_hz = sp_judging_hidden_hz (c, s), .zero_hz = sp_judging_zero_hertz_end (s) };
  w.extra_db = fmax (0, sp_judging_thresholds (s, (double) t->n).detection_limit_db - s->thresholds.detection_limit_db);
  double power = sp_judging_power_dbm (c, s) - c->out->power_dbm;
  w.shift_dbm = isnan (power) ? 0 : power;
  for (guint j = 0; j <= GUARDS && c->bench->decision_rule == SP_DECISION_RULE_GUARDED; j++)
    w.guard_db[j] = guard_at (&w, t->frequency_hz[0] + (t->frequency_hz[t->n - 1] - t->frequency_hz[0]) * j / GUARDS);
  find_calibrated (&w);
  return w;
}

static double
guard_db (const Walk *w, double frequency_hz)
{
  const SpTrace *t = w->s->trace;
  double at = (frequency_hz - t->frequency_hz[0]) / (t->frequency_hz[t->n - 1] - t->frequency_hz[0]) * GUARDS;
  guint j = (guint) CLAMP (at, 0, GUARDS - 1);
  return fmax (w->guard_db[j], w->guard_db[j + 1]);
}

/* Harmonics are judged separately: their windows are left out. */
static gboolean
is_harmonics_own (const Walk *w, double frequency_hz)
{
  double f0 = w->c->out->fundamental_hz, order = round (frequency_hz / f0);
  if (!(order >= 2 && order <= w->c->mask->harmonics))
    return FALSE;
  const SpEmission *e = &w->c->out->emissions[(guint) order - 2];
  guint64 i = MIN (sp_trace_find (w->s->trace, frequency_hz), w->s->trace->n - 1);
  double half = sp_judging_window_half (w->s, i), width = sp_judging_width_hz (w->c, w->s, e->order, order * f0);
  return e->swept && fabs (frequency_hz - order * f0) <= half + width / 2 + order * w->c->carrier_half_hz;
}

/* TRUE if an emission with its own verdict, or its skirt, causes the reading. */
static gboolean
is_explained (const Walk *w, guint64 i)
{
  const SpJudging *c = w->c;
  double f = w->s->trace->frequency_hz[i], level = w->s->out->level_dbm[i], half = sp_judging_window_half (w->s, i);
  for (guint j = 0; j < c->out->n_emissions; j++) {
    const SpEmission *e = &c->out->emissions[j];
    if (!e->detected)
      continue;
    double away = fmax (0, fmax (e->from_hz - f, f - e->to_hz) - half / 2);
    double falls = isfinite (w->s->rbw_hz) ? sp_filter_response_db (c->analyzer->filter, away, w->s->rbw_hz) : away > half ? -INFINITY : 0;
    if (away <= half / 2 || level <= e->level_dbm + e->sampling_loss_db + falls + SKIRT_DB)
      return TRUE;
  }
  return FALSE;
}

static SpStretch
tell (const Walk *w, const Row *row, guint64 i)
{
  const SpCorrected *out = w->s->out;
  double f = w->s->trace->frequency_hz[i], guard = guard_db (w, f), f0 = w->c->out->fundamental_hz;
  double limit = sp_limit_segment_dbm (row->segment, f) + row->slope * w->shift_dbm;
  double floor_dbm = fmax (out->floor_dbm[i] + w->extra_db, out->noise_dbm[i] + row->band_db);
  SpStretch here = { .why = SP_CLEAR, .floor_dbm = floor_dbm, .guard_db = guard, .limit_dbm = limit };
  gboolean stands = out->level_dbm[i] > limit && out->level_dbm[i] > out->noise_dbm[i] + w->s->sweep_threshold_db;
  here.above = out->level_dbm[i] > limit;
  if (f <= w->zero_hz)
    here.why = SP_REASON_ZERO_HERTZ;
  else if (fabs (f - f0) <= w->zone_hz)
    here.why = SP_REASON_TOO_WIDE;
  else if (f < w->from_hz || f > w->to_hz)
    here.why = SP_REASON_OUTSIDE_CALIBRATION;
  else if ((!(floor_dbm + guard > limit) && !stands) || is_harmonics_own (w, f))
    return here;
  else if (stands && !is_explained (w, i)) {
    here.why = SP_REASON_TRACE_ABOVE_LIMIT;
    here.floor_dbm = out->level_dbm[i];
  } else if (floor_dbm + guard > limit)
    here.why = out->loss_between_db > SP_BLIND_LOSS_DB ? SP_REASON_UNDERSAMPLED : SP_REASON_FLOOR_ABOVE_LIMIT;
  if (here.why == SP_REASON_ZERO_HERTZ || here.why == SP_REASON_TOO_WIDE || here.why == SP_REASON_OUTSIDE_CALIBRATION
      || here.why == SP_REASON_UNDERSAMPLED)
    here.floor_dbm = here.guard_db = NAN;
  return here;
}

static double
misses_by (const SpStretch *stretch)
{
  return stretch->floor_dbm + stretch->guard_db - stretch->limit_dbm;
}

/* Extends the stretch or begins another. A short clear range between two above the limit does not separate them. */
static void
append (GArray *stretches, const SpStretch *here, double joined_hz)
{
  SpStretch *last = stretches->len ? &g_array_index (stretches, SpStretch, stretches->len - 1) : NULL;
  SpStretch *before = stretches->len > 1 ? last - 1 : NULL;
  gboolean touches = last && here->from_hz <= last->to_hz * (1 + 1e-12);
  if (touches && before && here->why == SP_REASON_TRACE_ABOVE_LIMIT && last->why == SP_CLEAR && before->why == here->why
      && last->to_hz - last->from_hz < joined_hz) {
    g_array_set_size (stretches, stretches->len - 1);
    last = before;
    last->to_hz = here->from_hz;
  }
  if (!touches || last->why != here->why) {
    g_array_append_val (stretches, *here);
    return;
  }
  last->to_hz = here->to_hz;
  last->above |= here->above;
  if (misses_by (here) > misses_by (last)) {
    last->floor_dbm = here->floor_dbm;
    last->guard_db = here->guard_db;
    last->limit_dbm = here->limit_dbm;
  }
}

static void
stretches_of_row (const Walk *w, const SpLimitSegment *segment, GArray *stretches)
{
  const double *f = w->s->trace->frequency_hz;
  guint64 n = w->s->trace->n;
  double middle = (fmax (segment->from_hz, f[0]) + fmin (segment->to_hz, f[n - 1])) / 2, reach = w->s->spacing_hz / 2;
  if (segment->from_hz > f[n - 1] + reach || segment->to_hz < f[0] - reach)
    return;
  double width = sp_judging_width_hz (w->c, w->s, 0, middle);
  gboolean a_band = width > SP_BAND_LINE_RBWS * w->s->rbw_hz && isfinite (w->s->nbw_hz);
  Row row = { segment, slope_at (w->c, middle), a_band ? sp_band_floor_db (&w->s->band, width) : -INFINITY };
  guint64 first = sp_trace_find (w->s->trace, segment->from_hz), end = sp_trace_find (w->s->trace, nextafter (segment->to_hz, INFINITY));
  if (first == end && first > 0
      && (first == n || segment->from_hz - f[first - 1] < f[first] - segment->to_hz)) /* no point inside: the nearest one */
    first--;
  for (guint64 i = MIN (first, n - 1); i < MAX (end, first + 1) && i < n; i++) {
    double low = i > 0 ? (f[i - 1] + f[i]) / 2 : f[0] - (f[1] - f[0]) / 2,
           high = i + 1 < n ? (f[i] + f[i + 1]) / 2 : f[i] + (f[i] - f[i - 1]) / 2;
    SpStretch here = tell (w, &row, i);
    here.from_hz = i == first && i > 0 ? segment->from_hz
                                       : fmax (low, segment->from_hz); /* to the row's edge: beyond it another row applies */
    here.to_hz = i + 1 >= end && i + 1 < n ? segment->to_hz : fmin (high, segment->to_hz);
    if (here.to_hz > here.from_hz)
      append (stretches, &here, JOINED_POINTS * w->s->spacing_hz);
  }
}

GArray *
sp_judging_stretches (const SpJudging *c, guint k)
{
  GArray *stretches = g_array_new (FALSE, FALSE, sizeof (SpStretch));
  Walk w = walk_of (c, k);
  for (guint j = 0; c->out->limit && j < c->out->limit->len; j++) {
    const SpLimitSegment *segment = &g_array_index (c->out->limit, SpLimitSegment, j);
    if (!isnan (segment->limit_dbm))
      stretches_of_row (&w, segment, stretches);
  }
  return stretches;
}
