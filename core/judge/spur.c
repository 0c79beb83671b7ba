/* spur.c - what stands off the harmonics: lines, and bands wider than the filter */
#include "core/judge/case.h"

#include <math.h>

#define CONNECTED_DB 3.0    /* a band goes on down to so far below the threshold for a line */
#define CONNECTED_NBWS 1.5  /* and over gaps of so many noise bandwidths */
#define STANDS_OUT_DB 1.0   /* as in sight-band.c */
#define COARSE_POINTS 4     /* of a sweep too coarse to sum: a line fills no more than three */

double
sp_case_hidden_hz (const SpCase *c, const SpCaseSweep *s)
{
  double rbw = isfinite (s->rbw_hz) ? s->rbw_hz : 0;
  return fmax (SP_ZONE_RBWS * rbw, fmax (rbw, s->spacing_hz) + c->carrier_half_hz);
}

double
sp_case_zone_hz (const SpCase *c, const SpCaseSweep *s)
{
  return fmax (c->out->exclude_hz, sp_case_hidden_hz (c, s));
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
  if (fabs (f - f0) <= sp_case_zone_hz (c, s))
    return TRUE;
  guint order = (guint) fmin (round (f / f0), G_MAXINT);
  if (order >= 2 && order <= c->mask->harmonics) {
    double width = sp_case_width_hz (c, s, order, order * f0);
    if (fabs (f - order * f0) <= fmax (half, width > 0 ? width / 2 + half : 0) + order * c->carrier_half_hz)
      return TRUE;
  }
  return s->out->floor_cause[i] == SP_CAUSE_SKIRT && s->out->level_dbm[i] <= s->out->floor_dbm[i] + 3;
}

/* Does point i belong to a band? One wider than the noise's window has lifted that: then what the noise is around it counts. */
static gboolean
stands_out (const SpCaseSweep *s, guint64 i)
{
  return s->out->level_dbm[i] > fmin (s->out->noise_dbm[i], sp_case_ground_dbm (s, i)) + s->sweep_threshold_db - CONNECTED_DB;
}

/* The last point in this direction that is connected with i: what lies between stands out, but for short gaps. */
static guint64
connected (const SpCase *c, const SpCaseSweep *s, guint64 i, int step, double least_hz, double most_hz)
{
  const double *f = s->trace->frequency_hz;
  double gap = CONNECTED_NBWS * fmax (isfinite (s->nbw_hz) ? s->nbw_hz : 0, s->spacing_hz);
  guint64 last = i;
  for (guint64 j = i; (step > 0 ? j + 1 < s->trace->n : j > 0);) {
    j += (guint64) step;
    if (f[j] < least_hz || f[j] > most_hz || fabs (f[j] - f[last]) > gap || taken (c, s, j))
      break;
    if (stands_out (s, j))
      last = j;
  }
  return last;
}

/* The stretch within which the same rule holds: each row of a mask is judged apart. */
static void
find_row (const SpCase *c, double frequency_hz, double *from_hz, double *to_hz)
{
  const SpLimitSegment *segment = sp_case_segment (c, frequency_hz);
  *from_hz = segment ? segment->from_hz : -INFINITY;
  *to_hz = segment ? segment->to_hz : INFINITY;
}

/* Too coarse to sum, or the greatest of several looks: the greatest reading is of a part, or too high. */
static void
bound_band (SpCaseSweep *s, const SpBandSum *sum, guint64 points, double width_hz, SpSight *sight)
{
  gboolean coarse = !sp_band_can_sum (&s->band);
  double over = coarse ? INFINITY : sum->power_dbm - sight->level_dbm;
  if (coarse ? points < COARSE_POINTS : over <= STANDS_OUT_DB)
    return;
  sight->kind = SP_KIND_NOISE;
  sight->loss_db = fmax (sight->loss_db, fmin (over, sp_band_spread_db (width_hz, s->nbw_hz)));
  sight->below_db = isnan (s->band.noise_error_db) ? sp_case_greatest_over_db (s, width_hz) : 0;
}

/* The band that the line whose greatest point is i is part of, where most of its power is not the line's. */
static void
take_band (const SpCase *c, SpCaseSweep *s, guint64 i, SpSight *sight)
{
  const double *f = s->trace->frequency_hz;
  double least, most, reference = sight->reference_hz;
  find_row (c, f[i], &least, &most);
  guint64 first = connected (c, s, i, -1, least, most), last = connected (c, s, i, 1, least, most);
  double from = f[first], to = f[last], rbw = isfinite (s->rbw_hz) ? s->rbw_hz : 0;
  if (reference > s->nbw_hz) {
    from = fmin (from, fmax (least, f[i] - reference / 2));
    to = fmax (to, fmin (most, f[i] + reference / 2));
  }
  from = fmax (least, from - rbw);
  to = fmin (most, to + rbw);
  if (!(to - from > SP_BAND_LINE_RBWS * rbw) || isnan (s->rbw_hz))
    return;
  gboolean by_reference = s->nbw_hz > reference; /* then no sum is narrower than a reading */
  SpBandSum sum = sp_band_can_sum (&s->band) ? sp_band_sum (&s->band, from, to, by_reference ? NAN : reference) : (SpBandSum){ 0 };
  sight->from_hz = from;
  sight->to_hz = to;
  sight->width_hz = f[last] - f[first];
  gboolean wide = sum.seen && sum.power_dbm > sight->level_dbm + STANDS_OUT_DB + 2 * sum.noise_u_db;
  if (!sp_band_can_sum (&s->band) || isnan (s->band.noise_error_db)) {
    bound_band (s, &sum, last - first + 1, f[last] - f[first] + rbw, sight);
  } else if (wide && by_reference) {
    sight->kind = SP_KIND_NOISE; /* its greatest reading holds more than the reference bandwidth does */
    sight->below_db = sp_db_from_ratio (s->nbw_hz / reference);
  } else if (wide) {
    sight->kind = c->signal_hz > 0 && f[last] - f[first] <= 2 * c->signal_hz + 2 * rbw ? SP_KIND_MODULATED : SP_KIND_NOISE;
    sight->level_dbm = sum.power_dbm;
    sight->width_hz = sum.width_hz;
    sight->noise_u_db = sum.noise_u_db;
    sight->near_noise_db = 0;
    sight->loss_db = s->band.noise_error_db;
    sight->frequency_hz = sum.middle_hz;
  }
  if (sight->kind == SP_KIND_LINE)
    sight->from_hz = sight->to_hz = sight->frequency_hz;
}

static gboolean
overlap (const SpEmission *e, const SpSight *sight, double half_hz)
{
  return sight->to_hz >= e->from_hz - half_hz && sight->from_hz <= e->to_hz + half_hz;
}

void
sp_case_add_spur (SpCase *c, GArray *found, guint k, const SpSight *sight, double half_hz)
{
  for (guint j = 0; j < found->len; j++) {
    SpEmission *other = &g_array_index (found, SpEmission, j);
    if (other->case_sweep == k || !overlap (other, sight, half_hz))
      continue;
    if (sight->level_dbm - sp_case_power_dbm (c, &c->sweeps[k]) > other->level_dbc)
      sp_case_fill (c, other, sight, k);
    return;
  }
  SpEmission e;
  sp_emission_init (&e, 0, sight->frequency_hz);
  sp_case_fill (c, &e, sight, k);
  g_array_append_val (found, e);
}

static void
add_spur (SpCase *c, GArray *found, guint k, guint64 i)
{
  SpCaseSweep *s = &c->sweeps[k];
  double f = s->trace->frequency_hz[i], half = sp_case_window_half (s, i);
  for (guint j = 0; j < found->len; j++) { /* a part of a band that is listed */
    const SpEmission *other = &g_array_index (found, SpEmission, j);
    if (other->case_sweep == k && other->kind != SP_KIND_LINE && f >= other->from_hz && f <= other->to_hz)
      return;
  }
  SpSight sight = { .reference_hz = sp_case_reference_hz (c, f) };
  sight.floor_dbm = sp_case_floor_at (c, s, i, f, (double) s->trace->n, &sight.cause);
  sp_case_take_line (c, s, i, &sight);
  take_band (c, s, i, &sight);
  sp_case_add_spur (c, found, k, &sight, half);
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
  sp_case_lay_ground (&c->sweeps[k]);
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
  sp_case_rises (c, found, k);
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

GArray *
sp_case_spurs (SpCase *c)
{
  GArray *spurs = g_array_new (FALSE, FALSE, sizeof (SpEmission));
  for (guint k = 0; k < c->n; k++)
    spurs_of_sweep (c, spurs, k);
  g_array_sort (spurs, by_level_down);
  if (spurs->len > SP_MAX_SPURS)
    g_array_set_size (spurs, SP_MAX_SPURS);
  g_array_sort (spurs, by_frequency);
  return spurs;
}
