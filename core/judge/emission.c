#include "core/judge/case.h"

#include <math.h>

/* A sight that outranks another: seen in any sweep counts, the highest stands; of floors the lowest. See settle () for what agrees. */
static gboolean
outranks (const SpSight *a, const SpSight *b)
{
  if (a->detected != b->detected)
    return a->detected;
  return a->detected ? a->level_dbm > b->level_dbm : a->floor_dbm < b->floor_dbm;
}

static void
emission_init (SpEmission *e, guint order, double frequency_hz)
{
  *e = (SpEmission){ .order = order, .frequency_hz = frequency_hz, .sweep = -1 };
  e->level_dbm = e->level_dbc = e->floor_dbm = e->distortion_high_dbm = e->limit_dbm = e->margin_db = e->conformity = NAN;
  e->radio_low_dbm = e->radio_high_dbm = e->noise_u_db = NAN;
  e->sampling_loss_db = 0;
  e->reading_dbm = e->loss_db = NAN;
}

/* What stands between the reading and the level, each part on its own; what is left between two points is the line's. */
static void
take_apart (SpCase *c, SpEmission *e, const SpSight *sight, const SpCaseSweep *s, double loss_db)
{
  const SpCurve *correction = c->analyzer->amplitude_correction_db;
  e->loss_db = loss_db;
  e->correction_db = correction ? sp_curve_at (correction, e->frequency_hz, 0).value : 0;
  e->shift_db = s->shift_db;
  double added = e->loss_db + e->correction_db + e->shift_db;
  e->near_noise_db = sight->detected ? sight->near_noise_db : 0;
  e->reading_dbm = sight->detected ? sight->reading_dbm : e->level_dbm - added;
  e->line_db = sight->detected ? e->level_dbm - (e->reading_dbm + e->near_noise_db + added) : 0;
}

static void
fill (SpCase *c, SpEmission *e, const SpSight *sight, guint k)
{
  const SpCaseSweep *s = &c->sweeps[k];
  e->swept = TRUE;
  e->detected = sight->detected;
  e->case_sweep = k;
  e->sweep = (int) s->out->sweep;
  e->frequency_hz = sight->frequency_hz;
  e->level_dbm = sight->level_dbm;
  e->level_dbc = sight->level_dbm - c->out->power_dbm;
  e->floor_dbm = sight->floor_dbm;
  e->floor_cause = sight->cause;
  e->noise_u_db = sight->detected ? sight->noise_u_db : 0;
  e->sampling_loss_db = sight->loss_db;
  e->distortion_high_dbm = sp_case_distortion_high (c, s, e->order);
  SpChainLoss loss = sp_chain_loss (s->chain, e->frequency_hz, c->bench->temperature_c, 0, NULL);
  e->calibrated = loss.calibrated;
  take_apart (c, e, sight, s, loss.loss_db);
  if (!loss.calibrated) {
    const char *stage = loss.uncalibrated_stage >= 0 ? s->chain->stages[loss.uncalibrated_stage]->name : "";
    sp_case_warn (c, sp_reason_new (SP_REASON_OUTSIDE_CALIBRATION, stage, NULL, NULL, 1, e->frequency_hz));
  }
}

/* A window that the carrier or another harmonic reads in: what stands there is no harmonic's level, and all that one could hide under. */
static void
leave_unresolved (SpCase *c, SpEmission *e, guint k)
{
  double frequency_hz = e->frequency_hz;
  SpSight sight = sp_case_sight (c, &c->sweeps[k], frequency_hz, e->order * c->carrier_half_hz);
  sight.level_dbm = sight.floor_dbm = fmax (sight.floor_dbm, sight.level_dbm);
  sight.cause = SP_CAUSE_SKIRT;
  sight.detected = FALSE;
  sight.frequency_hz = frequency_hz;
  fill (c, e, &sight, k);
  e->unresolved = TRUE;
}

static void
find_harmonic (SpCase *c, SpEmission *e, guint order)
{
  emission_init (e, order, order * c->out->fundamental_hz);
  SpSight best = { 0 };
  int from = -1, unresolved = -1;
  for (guint k = 0; k < c->n; k++) {
    if (!sp_case_holds (&c->sweeps[k], e->frequency_hz))
      continue;
    if (sp_case_unresolved (c, &c->sweeps[k], order, NULL)) {
      unresolved = (int) k;
      continue;
    }
    SpSight sight = sp_case_sight (c, &c->sweeps[k], e->frequency_hz, order * c->carrier_half_hz);
    if (from < 0 || outranks (&sight, &best)) {
      best = sight;
      from = (int) k;
    }
  }
  if (from >= 0)
    fill (c, e, &best, (guint) from);
  else if (unresolved >= 0)
    leave_unresolved (c, e, (guint) unresolved);
  else
    e->loss_db = sp_chain_loss (c->chain, e->frequency_hz, c->bench->temperature_c, 0, NULL).loss_db;
}

/* What stands is the highest reading so far. Of the sweeps of other settings that see it too and agree, the noise and the analyzer's limits of the
 * reading apart, that of the lowest floor tells most; of its repeats again the highest. */
static void
settle (SpCase *c, SpEmission *e)
{
  if (!e->detected)
    return;
  const SpCaseSweep *highest = &c->sweeps[e->case_sweep];
  double extra = e->order * c->carrier_half_hz, level = e->level_dbm, noise_u = e->noise_u_db, frequency_hz = e->frequency_hz;
  SpSight best = sp_case_sight (c, &c->sweeps[e->case_sweep], frequency_hz, extra);
  int from = -1;
  for (guint k = 0; k < c->n; k++) {
    SpCaseSweep *s = &c->sweeps[k];
    if (sp_case_equal_settings (s, highest) || !sp_case_holds (s, frequency_hz) || sp_case_unresolved (c, s, e->order, NULL))
      continue;
    SpSight sight = sp_case_sight (c, s, frequency_hz, extra);
    double u = hypot (hypot (noise_u, sight.noise_u_db), sp_case_differential_u_db (c, highest, s, frequency_hz));
    gboolean repeated = from >= 0 && sp_case_equal_settings (s, &c->sweeps[from]);
    if (!sight.detected || !(level - sight.level_dbm <= 2 * u) || sight.loss_db > e->sampling_loss_db)
      continue;
    if (repeated ? sight.level_dbm > best.level_dbm : sight.floor_dbm < best.floor_dbm) {
      best = sight;
      from = (int) k;
    }
  }
  if (from < 0)
    return;
  if (!e->order) /* anywhere in the sweep */
    best.floor_dbm = sp_case_floor_at (c, &c->sweeps[from], MIN (sp_trace_find (c->sweeps[from].trace, best.frequency_hz), c->sweeps[from].trace->n - 1),
                                       best.frequency_hz, (double) c->sweeps[from].trace->n, &best.cause);
  fill (c, e, &best, (guint) from);
}

/* Places that belong to something already listed: the fundamental's own, a harmonic with its sidebands, the response at zero hertz. */
static gboolean
taken (const SpCase *c, const SpCaseSweep *s, guint64 i)
{
  double f = s->trace->frequency_hz[i], f0 = c->out->fundamental_hz, half = sp_case_window_half (s, i);
  if (f <= sp_case_zero_hertz_end (s))
    return TRUE;
  if (isnan (f0))
    return FALSE;
  if (fabs (f - f0) <= fmax (c->out->exclude_hz, half + c->carrier_half_hz))
    return TRUE;
  double order = round (f / f0);
  double wide = half + order * (c->carrier_half_hz + c->out->necessary_bandwidth_hz / 2);
  if (order >= 2 && order <= c->mask->harmonics && fabs (f - order * f0) <= wide)
    return TRUE;
  return s->out->floor_cause[i] == SP_CAUSE_SKIRT && s->out->level_dbm[i] <= s->out->floor_dbm[i] + 3;
}

static void
add_spur (SpCase *c, GArray *found, guint k, guint64 i)
{
  SpCaseSweep *s = &c->sweeps[k];
  SpEmission e;
  emission_init (&e, 0, s->trace->frequency_hz[i]);
  SpSight sight = { 0 };
  sight.floor_dbm = sp_case_floor_at (c, s, i, e.frequency_hz, (double) s->trace->n, &sight.cause);
  sp_case_take_line (c, s, i, &sight);
  for (guint j = 0; j < found->len; j++) { /* the same line in another sweep: the highest stands */
    SpEmission *other = &g_array_index (found, SpEmission, j);
    if (other->case_sweep == k || fabs (other->frequency_hz - sight.frequency_hz) > sp_case_window_half (s, i))
      continue;
    if (sight.level_dbm > other->level_dbm)
      fill (c, other, &sight, k);
    return;
  }
  fill (c, &e, &sight, k);
  g_array_append_val (found, e);
}

static int
by_level_down (const void *a, const void *b)
{
  const SpEmission *x = a, *y = b;
  return (x->level_dbm < y->level_dbm) - (x->level_dbm > y->level_dbm);
}

static int
by_frequency (const void *a, const void *b)
{
  const SpEmission *x = a, *y = b;
  return (x->frequency_hz > y->frequency_hz) - (x->frequency_hz < y->frequency_hz);
}

static int
by_level_at (const void *a, const void *b, void *levels)
{
  double x = ((const double *) levels)[*(const guint64 *) a], y = ((const double *) levels)[*(const guint64 *) b];
  return (x < y) - (x > y);
}

/* Peaks of one sweep, the highest SP_MAX_SPURS at the most: the rest is counted, and said. */
static void
spurs_of_sweep (SpCase *c, GArray *found, guint k)
{
  const SpCaseSweep *s = &c->sweeps[k];
  guint64 n = s->trace->n;
  g_autoptr (GArray) peaks = sp_find_peaks (n, s->out->level_dbm, s->out->noise_dbm, s->sweep_threshold_db, SP_SPUR_PROMINENCE_DB);
  guint kept = 0;
  for (guint j = 0; j < peaks->len; j++)
    if (!taken (c, s, g_array_index (peaks, guint64, j)))
      g_array_index (peaks, guint64, kept++) = g_array_index (peaks, guint64, j);
  g_array_set_size (peaks, kept);
  if (kept > SP_MAX_SPURS)
    sp_case_warn (c, sp_reason_new (SP_REASON_SPURS_CUT, s->trace->file, NULL, NULL, 2, (double) kept, (double) SP_MAX_SPURS));
  g_array_sort_with_data (peaks, by_level_at, s->out->level_dbm);
  if (kept > SP_MAX_SPURS)
    g_array_set_size (peaks, SP_MAX_SPURS);
  for (guint j = 0; j < peaks->len; j++)
    add_spur (c, found, k, g_array_index (peaks, guint64, j));
}

void
sp_case_emissions (SpCase *c)
{
  g_autoptr (GArray) found = g_array_new (FALSE, FALSE, sizeof (SpEmission));
  if (!isnan (c->out->fundamental_hz))
    for (guint order = 2; order <= c->mask->harmonics; order++) {
      SpEmission e;
      find_harmonic (c, &e, order);
      g_array_append_val (found, e);
    }
  g_autoptr (GArray) spurs = g_array_new (FALSE, FALSE, sizeof (SpEmission));
  for (guint k = 0; k < c->n; k++)
    spurs_of_sweep (c, spurs, k);
  g_array_sort (spurs, by_level_down);
  if (spurs->len > SP_MAX_SPURS)
    g_array_set_size (spurs, SP_MAX_SPURS);
  g_array_sort (spurs, by_frequency);
  g_array_append_vals (found, spurs->data, spurs->len);
  for (guint i = 0; c->n > 1 && i < found->len; i++)
    settle (c, &g_array_index (found, SpEmission, i));
  c->out->n_emissions = found->len;
  c->out->emissions = (SpEmission *) g_array_steal (found, NULL);
}
