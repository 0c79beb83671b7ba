#include "core/judge/case.h"

#include "core/quantity/large.h"

#include <math.h>

double
sp_case_distortion_high (const SpCase *c, const SpCaseSweep *s, guint order)
{
  double f0 = c->out->fundamental_hz;
  if (order < 2 || isnan (s->mixer_dbm) || isnan (f0) || s->purpose == SP_PURPOSE_UNKEYED)
    return NAN;
  double q = sp_analyzer_distortion_dbm (c->analyzer, order, f0, s->mixer_dbm);
  if (isnan (q))
    return NAN;
  /* u(q)^2 = (n u(Pm))^2 + ((n - 1) u(In))^2; intercepts are mostly guaranteed minima, so q + 2u is an upper bound. */
  double u = hypot (order * s->mixer_u_db, (order - 1) * c->analyzer->intercept_u_db);
  SpChainLoss loss = sp_chain_loss (s->chain, order * f0, c->bench->temperature_c, 0, NULL);
  return q + 2 * u + s->trace->settings.attenuation_db + loss.loss_db + s->shift_db;
}

/* What turns a reading at index i into a level at the socket. */
static double
to_socket_db (const SpCaseSweep *s, guint64 i)
{
  return s->out->level_dbm[i] - s->trace->level_dbm[i];
}

/* The carrier as the analyzer gets it, referred to the socket at index i: what a notch takes from the one and not from the other counts. */
static double
carrier_at_dbm (const SpCase *c, const SpCaseSweep *s, guint64 i)
{
  return c->out->power_dbm - s->to_socket_db + to_socket_db (s, i);
}

/* Is there a carrier at the analyzer while this sweep is taken? */
static gboolean
carries (const SpCase *c, const SpCaseSweep *s)
{
  return s->purpose != SP_PURPOSE_UNKEYED && c->out->has_fundamental && !isnan (c->out->power_dbm);
}

/* The carrier's skirt at a distance: filter shape, where the sampling could have caught it nearer by half a bucket. */
static double
skirt_dbm (const SpCase *c, const SpCaseSweep *s, guint64 i, double frequency_hz, double spacing_hz)
{
  if (!carries (c, s) || !isfinite (s->rbw_hz))
    return -INFINITY;
  double away = fabs (frequency_hz - c->out->fundamental_hz) - spacing_hz / 2 - c->carrier_half_hz;
  return carrier_at_dbm (c, s, i) + sp_filter_response_db (c->analyzer->filter, fmax (away, 0), s->rbw_hz);
}

static gboolean
has_phase_noise (const SpCase *c, const SpCaseSweep *s)
{
  return carries (c, s) && c->analyzer->phase_noise_dbc_hz && isfinite (s->nbw_hz);
}

/* Phase noise that the profile predicts at index i, at the socket: P - loss(f0) + L(df) + 10 lg NBW + loss(f); -INFINITY without a profile or a carrier. */
static double
phase_noise_dbm (const SpCase *c, const SpCaseSweep *s, guint64 i, double frequency_hz)
{
  gboolean held;
  if (!has_phase_noise (c, s))
    return -INFINITY;
  double density = sp_analyzer_phase_noise (c->analyzer, fabs (frequency_hz - c->out->fundamental_hz), &held);
  return carrier_at_dbm (c, s, i) + density + sp_db_from_ratio (s->nbw_hz);
}

/* The same for every point of the sweep: both sides as ascending offsets, so that the table is walked once and not searched. */
static double *
phase_noise_of_sweep (const SpCase *c, const SpCaseSweep *s)
{
  guint64 n = s->trace->n, middle = sp_trace_find (s->trace, c->out->fundamental_hz);
  if (!has_phase_noise (c, s))
    return NULL;
  double level = c->out->power_dbm - s->to_socket_db + sp_db_from_ratio (s->nbw_hz), *out = sp_large_new (double, n);
  g_autofree double *offset = sp_large_new (double, n), *below = sp_large_new (double, n);
  for (guint64 i = 0; i < n; i++) {
    offset[i] = fabs (s->trace->frequency_hz[i] - c->out->fundamental_hz);
    out[i] = below[i] = level;
  }
  sp_curve_add_to (c->analyzer->phase_noise_dbc_hz, n - middle, offset + middle, out + middle);
  for (guint64 i = 0; i < middle / 2; i++) {
    double swap = offset[i];
    offset[i] = offset[middle - 1 - i];
    offset[middle - 1 - i] = swap;
  }
  sp_curve_add_to (c->analyzer->phase_noise_dbc_hz, middle, offset, below);
  for (guint64 i = 0; i < middle; i++)
    out[i] = below[middle - 1 - i];
  for (guint64 i = 0; i < n; i++)
    out[i] += to_socket_db (s, i);
  return out;
}

static double
compose (const SpCase *c, const SpCaseSweep *s, guint64 i, double frequency_hz, double detection_dbm, double distortion_dbm, gboolean phase,
         SpFloorCause *cause)
{
  return sp_floor_dbm (detection_dbm, phase, skirt_dbm (c, s, i, frequency_hz, sp_case_spacing (s, i)), distortion_dbm, cause);
}

static guint
order_at (const SpCase *c, double frequency_hz, double half_hz)
{
  double f0 = c->out->fundamental_hz;
  if (isnan (f0) || f0 <= 0)
    return 0;
  double n = round (frequency_hz / f0);
  return n >= 2 && n <= SP_MAX_ORDER && fabs (frequency_hz - n * f0) <= half_hz + n * c->carrier_half_hz ? (guint) n : 0;
}

double
sp_case_floor_at (const SpCase *c, SpCaseSweep *s, guint64 i, double frequency_hz, double points, SpFloorCause *cause)
{
  double noise = s->out->noise_dbm[i], window = fmax (isfinite (s->rbw_hz) ? s->rbw_hz : 0, sp_case_spacing (s, i));
  double limit_db = sp_case_look (s, points).limit_db;
  double distortion = sp_case_distortion_high (c, s, order_at (c, frequency_hz, window));
  gboolean phase = phase_noise_dbm (c, s, i, frequency_hz) >= noise - SP_HALF_DB;
  return compose (c, s, i, frequency_hz, noise + limit_db + sp_case_sampling_loss (c, s, i), distortion, phase, cause);
}

static void
floor_of_sweep (SpCase *c, SpCaseSweep *s)
{
  double held_at = NAN, high[SP_MAX_ORDER + 1];
  for (guint order = 0; order <= SP_MAX_ORDER; order++)
    high[order] = sp_case_distortion_high (c, s, order);
  g_autofree double *phase = phase_noise_of_sweep (c, s);
  const SpCurve *table = c->analyzer->phase_noise_dbc_hz;
  double rbw = isfinite (s->rbw_hz) ? s->rbw_hz : 0, loss = s->out->loss_between_db;
  for (guint64 i = 0; i < s->trace->n; i++) {
    double f = s->trace->frequency_hz[i], noise = s->out->noise_dbm[i];
    double offset = fabs (f - c->out->fundamental_hz);
    /* The trace's own noise holds the phase noise; only where that climbs within the window of the running median, beside the carrier, is the
     * median blunt: there the profile's table, as far as it goes, is the least that counts. */
    if (phase && phase[i] > noise && offset <= s->noise_window_hz && offset >= table->frequency_hz[0] && offset <= table->frequency_hz[table->n - 1])
      noise = s->out->noise_dbm[i] = phase[i];
    if (!s->uniform)
      loss = sp_case_sampling_loss (c, s, i);
    SpFloorCause cause;
    s->out->floor_dbm[i] = compose (c, s, i, f, noise + s->look.limit_db + loss, high[order_at (c, f, fmax (rbw, sp_case_spacing (s, i)))],
                                    phase && phase[i] >= noise - SP_HALF_DB, &cause);
    s->out->floor_cause[i] = (guint8) cause;
    if (cause == SP_CAUSE_PHASE_NOISE && isnan (held_at) && (offset > table->frequency_hz[table->n - 1] || offset < table->frequency_hz[0]))
      held_at = offset;
  }
  if (!isnan (held_at))
    sp_case_warn (c, sp_reason_new (SP_REASON_PHASE_NOISE_HELD, NULL, NULL, NULL, 1, held_at));
}

void
sp_case_floor (SpCase *c)
{
  for (guint k = 0; k < c->n_all; k++)
    floor_of_sweep (c, &c->sweeps[k]);
}
