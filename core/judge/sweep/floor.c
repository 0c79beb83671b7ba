/* floor.c - computes the floor of every point of a sweep, and its cause */
#include "core/judge/sweep/sweep.h"

#include "core/quantity/large.h"

#include <gsl/gsl_sort.h>
#include <math.h>
#include <string.h>

double
sp_judging_product_high (const SpJudging *c, const SpJudgedSweep *s, guint order)
{
  double f0 = c->out->fundamental_hz;
  if (order < 2 || isnan (s->mixer.dbm) || isnan (f0) || s->purpose == SP_PURPOSE_UNKEYED)
    return NAN;
  double q = sp_analyzer_product_dbm (c->analyzer, order, f0, s->mixer.dbm);
  if (isnan (q))
    return NAN;
  SpChainLoss loss = sp_chain_loss (s->chain, order * f0, c->bench->temperature_c, 0, NULL);
  return q + sp_predict_product_reserve_db (c->analyzer, order, s->mixer.u_db) + s->trace->settings.attenuation_db + loss.loss_db
         + s->shift_db;
}

double
sp_judging_to_socket_db (const SpJudgedSweep *s, guint64 i)
{
  return s->out->level_dbm[i] - s->trace->reading_dbm[i];
}

double
sp_judging_carrier_at_dbm (const SpJudging *c, const SpJudgedSweep *s, guint64 i)
{
  return c->out->power_dbm - s->to_socket_db + sp_judging_to_socket_db (s, i);
}

/* TRUE if the analyzer receives a carrier during this sweep. */
static gboolean
carries (const SpJudging *c, const SpJudgedSweep *s)
{
  return s->purpose != SP_PURPOSE_UNKEYED && c->out->has_fundamental && !isnan (c->out->power_dbm);
}

/* The carrier's skirt at an offset: the filter's response, half a bucket nearer if the sampling could have caught it there. */
static double
skirt_dbm (const SpJudging *c, const SpJudgedSweep *s, guint64 i, double frequency_hz, double spacing_hz)
{
  if (!carries (c, s) || !isfinite (s->rbw_hz))
    return -INFINITY;
  return sp_predict_skirt_dbm (c->analyzer, sp_judging_carrier_at_dbm (c, s, i), frequency_hz - c->out->fundamental_hz, spacing_hz,
                               c->carrier_half_hz, s->rbw_hz);
}

static gboolean
has_phase_noise (const SpJudging *c, const SpJudgedSweep *s)
{
  return carries (c, s) && c->analyzer->phase_noise_dbc_hz && isfinite (s->nbw_hz);
}

double
sp_judging_phase_noise_dbm (const SpJudging *c, const SpJudgedSweep *s, guint64 i, double frequency_hz)
{
  if (!has_phase_noise (c, s))
    return -INFINITY;
  return sp_predict_phase_noise_dbm (c->analyzer, sp_judging_carrier_at_dbm (c, s, i), frequency_hz - c->out->fundamental_hz, s->nbw_hz);
}

/* The points [from, to) within `half` of a frequency, plus one on either side against rounding. */
static void
find_about (const SpTrace *trace, double frequency_hz, double half_hz, guint64 *from, guint64 *to)
{
  guint64 first = sp_trace_find (trace, frequency_hz - half_hz);
  *from = first > 0 ? first - 1 : 0;
  *to = MIN (sp_trace_find (trace, frequency_hz + half_hz) + 2, trace->n);
}

/* Phase noise for every point of the sweep. Beyond its table the curve is constant, so only the points within the table are kept. */
typedef struct {
  guint64 from, to; /* range of `near_dbm` */
  double *near_dbm; /* before the conversion to the socket */
  double far_dbm;
} PhaseNoise;

static void
phase_noise_of_sweep (const SpJudging *c, const SpJudgedSweep *s, PhaseNoise *out)
{
  const SpCurve *table = c->analyzer->phase_noise_dbc_hz;
  double f0 = c->out->fundamental_hz, reach = table->frequency_hz[table->n - 1];
  double level = c->out->power_dbm - s->to_socket_db + sp_db_from_ratio (s->nbw_hz);
  find_about (s->trace, f0, reach, &out->from, &out->to);
  out->far_dbm = level + table->value[table->n - 1];
  guint64 middle = CLAMP (sp_trace_find (s->trace, f0), out->from, out->to), below = middle - out->from;
  guint64 above = out->to - middle;
  out->near_dbm = sp_large_new (double, below + above + 1);
  g_autofree double *offset = sp_large_new (double, MAX (below, above) + 1), *descending = sp_large_new (double, below + 1);
  /* Both sides as ascending offsets: one walk through the table instead of searches. */
  for (guint64 i = 0; i < above; i++) {
    offset[i] = fabs (s->trace->frequency_hz[middle + i] - f0);
    out->near_dbm[below + i] = level;
  }
  sp_curve_add_to (table, above, offset, out->near_dbm + below);
  for (guint64 i = 0; i < below; i++) {
    offset[i] = fabs (s->trace->frequency_hz[middle - 1 - i] - f0);
    descending[i] = level;
  }
  sp_curve_add_to (table, below, offset, descending);
  for (guint64 i = 0; i < below; i++)
    out->near_dbm[i] = descending[below - 1 - i];
}

/* Phase noise at index i, at the socket. */
static inline double
phase_noise_at (const PhaseNoise *phase, const SpJudgedSweep *s, guint64 i)
{
  return (i >= phase->from && i < phase->to ? phase->near_dbm[i - phase->from] : phase->far_dbm) + sp_judging_to_socket_db (s, i);
}

/* The analyzer's noise by its profile at index i, at the socket; NaN: not known. */
static double
profile_noise_dbm (const SpJudging *c, const SpJudgedSweep *s, guint64 i)
{
  return sp_analyzer_noise_dbm (c->analyzer, s->trace->frequency_hz[i], s->rbw_hz, s->trace->settings.attenuation_db)
         + sp_judging_to_socket_db (s, i);
}

/* TRUE if the trace's noise is the carrier's phase noise. If the trace lies below the prediction, that counts only where the
 * analyzer's noise does not explain the trace. */
static gboolean
is_phase_noise (double noise_dbm, double phase_dbm, double profile_noise_dbm)
{
  return phase_dbm >= noise_dbm - SP_HALF_DB && (phase_dbm <= noise_dbm + SP_HALF_DB || !(profile_noise_dbm >= noise_dbm - SP_HALF_DB));
}

static double
compose (const SpJudging *c, const SpJudgedSweep *s, guint64 i, double frequency_hz, double detection_dbm, double product_dbm,
         gboolean phase, SpFloorCause *cause)
{
  return sp_floor_dbm (detection_dbm, phase, skirt_dbm (c, s, i, frequency_hz, sp_judging_spacing (s, i)), product_dbm, cause);
}

static guint
order_at (const SpJudging *c, double frequency_hz, double half_hz)
{
  double f0 = c->out->fundamental_hz;
  if (isnan (f0) || f0 <= 0)
    return 0;
  double n = round (frequency_hz / f0);
  return n >= 2 && n <= SP_MAX_ORDER && fabs (frequency_hz - n * f0) <= half_hz + n * c->carrier_half_hz ? (guint) n : 0;
}

double
sp_judging_floor_at (const SpJudging *c, const SpJudgedSweep *s, guint64 i, double frequency_hz, double points, SpFloorCause *cause)
{
  double noise = s->out->noise_dbm[i], window = fmax (isfinite (s->rbw_hz) ? s->rbw_hz : 0, sp_judging_spacing (s, i));
  double detection_db = sp_judging_thresholds (s, points).detection_limit_db;
  double product = sp_judging_product_high (c, s, order_at (c, frequency_hz, window));
  gboolean phase = is_phase_noise (noise, sp_judging_phase_noise_dbm (c, s, i, frequency_hz), profile_noise_dbm (c, s, i));
  return compose (c, s, i, frequency_hz, noise + detection_db + sp_judging_sampling_loss (c, s, i), product, phase, cause);
}

/* Frequency ratio over which a profile's noise is constant within 0.005 dB (calculated: 20 dB a decade) */
#define PROFILE_NOISE_HOLDS 1.0005
/* Beyond this from the carrier a skirt of any filter is mostly negligible (calculated: four poles, -235 dB) */
#define FAR_RBWS 1000.0

/* A sweep's floor being made, and what it is made of. */
typedef struct {
  const SpJudging *c;
  const SpJudgedSweep *s;
  SpSweepFloor made;
  double far_skirt_dbc;          /* upper bound of the carrier's skirt beyond FAR_RBWS */
  PhaseNoise phase;              /* near_dbm NULL: none */
  double high[SP_MAX_ORDER + 1]; /* analyzer products by order */
} Floor;

/* The profile's phase noise in place of the trace's, at one point. */
static double
raise_noise (Floor *w, guint64 i, double phase_dbm)
{
  if (!w->made.noise_dbm)
    w->made.noise_dbm = memcpy (sp_large_new (double, w->s->trace->n), w->s->out->noise_dbm, w->s->trace->n * sizeof (double));
  return w->made.noise_dbm[i] = phase_dbm;
}

/* Any point: beside the carrier, at its multiples, in an uneven sweep. */
static void
floor_point (Floor *w, guint64 i)
{
  const SpJudgedSweep *s = w->s;
  const SpCurve *table = w->c->analyzer->phase_noise_dbc_hz;
  double f = s->trace->frequency_hz[i], noise = s->out->noise_dbm[i], offset = fabs (f - w->c->out->fundamental_hz);
  double phase = w->phase.near_dbm ? phase_noise_at (&w->phase, s, i) : -INFINITY, rbw = isfinite (s->rbw_hz) ? s->rbw_hz : 0;
  /* The trace's noise includes the phase noise. Only close to the carrier, where it climbs within the noise window, is the median
   * blunt: the profile's table is a lower bound there. */
  if (phase > noise && offset <= s->noise_window_hz && offset >= table->frequency_hz[0] && offset <= table->frequency_hz[table->n - 1])
    noise = raise_noise (w, i, phase);
  double loss = s->uniform ? s->out->loss_between_db : sp_judging_sampling_loss (w->c, s, i);
  SpFloorCause cause;
  w->made.floor_dbm[i] = compose (w->c, s, i, f, noise + s->thresholds.detection_limit_db + loss,
                                  w->high[order_at (w->c, f, fmax (rbw, sp_judging_spacing (s, i)))],
                                  is_phase_noise (noise, phase, w->phase.near_dbm ? profile_noise_dbm (w->c, s, i) : NAN), &cause);
  w->made.cause[i] = (guint8) cause;
}

/* Points of an even sweep away from the carrier and its multiples: noise alone, unless the skirt is high even there. */
static void
floor_far (Floor *w)
{
  const SpJudgedSweep *s = w->s;
  double profile_until_hz = -1, profile_input_dbm = NAN;
  for (guint64 i = 0; i < s->trace->n; i++) {
    double noise = s->out->noise_dbm[i], detection = noise + s->thresholds.detection_limit_db + s->out->loss_between_db;
    double phase_dbm = w->phase.near_dbm ? phase_noise_at (&w->phase, s, i) : -INFINITY;
    gboolean phase = phase_dbm >= noise - SP_HALF_DB;
    if (phase
        && phase_dbm > noise + SP_HALF_DB) { /* true of most points if the constant part is too high: look up the noise curve rarely */
      if (s->trace->frequency_hz[i] > profile_until_hz) {
        profile_input_dbm = profile_noise_dbm (w->c, s, i) - sp_judging_to_socket_db (s, i);
        profile_until_hz = s->trace->frequency_hz[i] * PROFILE_NOISE_HOLDS;
      }
      phase = is_phase_noise (noise, phase_dbm, profile_input_dbm + sp_judging_to_socket_db (s, i));
    }
    w->made.floor_dbm[i] = detection;
    w->made.cause[i] = phase ? SP_CAUSE_PHASE_NOISE : SP_CAUSE_NOISE;
    if (sp_judging_carrier_at_dbm (w->c, s, i) + w->far_skirt_dbc > detection - SP_SKIRT_LEAST_DB)
      floor_point (w, i);
  }
}

static void
floor_about (Floor *w, double frequency_hz, double half_hz)
{
  guint64 from, to;
  find_about (w->s->trace, frequency_hz, half_hz, &from, &to);
  for (guint64 i = from; i < to; i++)
    floor_point (w, i);
}

/* The first point beyond either end of the profile's table where the floor is phase noise. */
static void
warn_held (const Floor *w, GPtrArray *warnings)
{
  const SpCurve *table = w->c->analyzer->phase_noise_dbc_hz;
  const guint8 *cause = w->made.cause, *end = cause + w->s->trace->n;
  for (const guint8 *at = cause; (at = memchr (at, SP_CAUSE_PHASE_NOISE, (gsize) (end - at))); at++) {
    double offset = fabs (w->s->trace->frequency_hz[at - cause] - w->c->out->fundamental_hz);
    if (offset > table->frequency_hz[table->n - 1] || offset < table->frequency_hz[0]) {
      sp_reasons_add (warnings, sp_reason (PHASE_NOISE_HELD, .offset_hz = offset));
      return;
    }
  }
}

/* One plain pass over an even sweep, then a second over the points where more than noise may count. In a long sweep the first dominates. */
static void
floor_of_even (Floor *w, gboolean skirt)
{
  const SpJudgedSweep *s = w->s;
  double f0 = w->c->out->fundamental_hz, rbw = isfinite (s->rbw_hz) ? s->rbw_hz : 0;
  floor_far (w);
  floor_about (w, f0, fmax (s->noise_window_hz, skirt ? FAR_RBWS * rbw : 0) + s->spacing_hz + w->c->carrier_half_hz);
  for (guint order = 2; order <= SP_MAX_ORDER; order++)
    if (!isnan (w->high[order]))
      floor_about (w, order * f0, fmax (rbw, s->spacing_hz) + order * w->c->carrier_half_hz);
}

SpSweepFloor
sp_judging_floor (const SpJudging *c, const SpJudgedSweep *s, GPtrArray *warnings)
{
  gboolean skirt = carries (c, s) && s->rbw_hz > 0 && isfinite (s->rbw_hz);
  double far_dbc = skirt ? sp_filter_response_db (c->analyzer->filter, FAR_RBWS / 2 * s->rbw_hz, s->rbw_hz) : -INFINITY;
  Floor w = { .c = c, .s = s, .far_skirt_dbc = far_dbc };
  w.made.floor_dbm = sp_large_new (double, s->trace->n);
  w.made.cause = g_new0 (guint8, s->trace->n);
  for (guint order = 0; order <= SP_MAX_ORDER; order++)
    w.high[order] = sp_judging_product_high (c, s, order);
  if (has_phase_noise (c, s))
    phase_noise_of_sweep (c, s, &w.phase);
  if (s->uniform)
    floor_of_even (&w, skirt);
  else
    for (guint64 i = 0; i < s->trace->n; i++)
      floor_point (&w, i);
  if (w.phase.near_dbm)
    warn_held (&w, warnings);
  g_free (w.phase.near_dbm);
  return w.made;
}

/* Median difference between the trace's noise and the profile's over points of the sweep away from the carrier. */
static void
compare_with_profile (const SpJudging *c, const SpJudgedSweep *s, GPtrArray *warnings)
{
  double difference[64];
  guint n = 0;
  for (guint j = 0; j < G_N_ELEMENTS (difference); j++) {
    guint64 i = (2 * j + 1) * (s->trace->n - 1) / (2 * G_N_ELEMENTS (difference));
    double f = s->trace->frequency_hz[i];
    double profile = sp_analyzer_noise_dbm (c->analyzer, f, s->rbw_hz, s->trace->settings.attenuation_db);
    double phase = sp_judging_phase_noise_dbm (c, s, i, f) - sp_judging_to_socket_db (s, i);
    gboolean beside = !has_phase_noise (c, s) && carries (c, s) && fabs (f - c->out->fundamental_hz) <= SP_PHASE_NOISE_UNKNOWN_HZ;
    if (isnan (profile) || f <= 0 || beside || phase > profile - SP_HALF_DB)
      continue;
    double at_input = s->out->noise_dbm[i] - s->out->level_dbm[i] + s->trace->reading_dbm[i];
    difference[n++] = at_input - profile;
  }
  if (n == 0)
    return;
  gsl_sort (difference, 1, n);
  if (fabs (difference[n / 2]) > SP_OFF_PROFILE_DB)
    sp_reasons_add (warnings, sp_reason (FLOOR_OFF_PROFILE, .file = s->trace->file, .off_db = difference[n / 2]));
}

void
sp_judging_profile_warnings (const SpJudging *c, GPtrArray *warnings)
{
  for (guint k = 0; k < c->n_all; k++) {
    gboolean others = c->sweeps[k].out->sweep == G_MAXUINT
                      && c->condition->analyzer; /* the bench's unkeyed sweep was not taken with this condition's analyzer */
    if (!others)
      compare_with_profile (c, &c->sweeps[k], warnings);
  }
}
