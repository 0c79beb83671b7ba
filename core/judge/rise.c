/* rise.c - noise-like emissions wider than the window that the noise is taken from: where that noise stands over what it is elsewhere
 *
 * The running quantile follows whatever is wider than half its window. On a wider scale it stands out: over a low quantile of windows ten and a hundred
 * times as wide, and of the whole sweep, and over the profile's noise where there is one (core/docs/computation.md, section 15). Noise that
 * climbs towards the carrier or the response at zero hertz, and noise that goes on beyond the sweep's ends, is left to the floor: nobody
 * knows whose it is.
 */
#include "core/judge/judging.h"

#include "core/detection/spectrum.h"

#include <math.h>

#define PLACES 2048
#define SCALES 3
#define RISES_DB                                                                                                                           \
  6.0 /* over what stands around it: steps of an analyzer's own noise, from band to band, are smaller (common practice, no source) */
#define ENDS_DB 3.0
#define PROFILE_DB 4.0 /* a profile's noise is known to about this (common practice, no source) */
#define CLOSE_HZ 5e6   /* so far from the carrier its noise is looked for (common practice, no source) */
#define LOW_QUANTILE 0.25
#define LAW_U_DB 1.0 /* of noise that is told from the greatest of several looks (common practice, no source) */

static guint64
point_of (const SpJudgedSweep *s, guint j)
{
  guint n = s->ground.n;
  return n > 1 ? (guint64) j * (s->trace->n - 1) / (n - 1) : 0;
}

static guint
place_of (const SpJudgedSweep *s, guint64 i)
{
  return (guint) (i * (s->ground.n - 1) / MAX (s->trace->n - 1, 1));
}

/* From the trace's levels, which the ground is laid in, to the socket's. */
static double
to_socket_db (const SpJudgedSweep *s, guint64 i)
{
  return s->out->level_dbm[i] - s->trace->level_dbm[i];
}

static double
place_hz (const SpJudgedSweep *s, guint j)
{
  return s->trace->frequency_hz[point_of (s, j)];
}

static void
lay_ground (SpJudgedSweep *s)
{
  static const double scale[SCALES] = { 10, 100, INFINITY };
  SpGround *g = &s->ground;
  if (g->n > 0)
    return;
  g->n = (guint) MIN (s->trace->n, PLACES);
  g->noise_dbm = g_new (double, 2 * g->n);
  g->around_dbm = g->noise_dbm + g->n;
  g_autofree double *low = g_new (double, g->n);
  for (guint j = 0; j < g->n; j++) {
    guint64 i = point_of (s, j);
    g->noise_dbm[j] = s->out->noise_dbm[i] - to_socket_db (s, i);
    g->around_dbm[j] = INFINITY;
  }
  double window = s->band.noise_reach_hz / s->spacing_hz * (double) g->n / (double) s->trace->n; /* in places */
  for (guint k = 0; k < SCALES; k++) {
    guint64 half = (guint64) fmin (fmax (2, ceil (scale[k] * window)), g->n);
    sp_running_quantile (g->n, g->noise_dbm, NULL, half, LOW_QUANTILE, low);
    for (guint j = 0; j < g->n; j++)
      g->around_dbm[j] = fmin (g->around_dbm[j], low[j]);
  }
}

double
sp_judging_ground_dbm (SpJudgedSweep *s, guint64 i)
{
  lay_ground (s);
  const SpGround *g = &s->ground;
  guint j = place_of (s, i);
  if (g->noise_dbm[j] <= g->around_dbm[j] + RISES_DB)
    return INFINITY;
  return g->around_dbm[j] + to_socket_db (s, i);
}

/* The analyzer's own, by its profile, as the trace shows it; NaN. */
static double
profile_dbm (const SpJudging *c, const SpJudgedSweep *s, guint j)
{
  return sp_analyzer_noise_dbm (c->analyzer, place_hz (s, j), s->rbw_hz, s->trace->settings.attenuation_db);
}

/* Close to the carrier noise may fill the sweep, and leave nothing to see it by: there the profile's own noise is the ground. */
static double
ground_at (const SpJudging *c, const SpJudgedSweep *s, guint j)
{
  double around = s->ground.around_dbm[j];
  if (!(fabs (place_hz (s, j) - c->out->fundamental_hz) <= CLOSE_HZ))
    return around;
  return fmin (around, profile_dbm (c, s, j) + PROFILE_DB); /* fmin passes a NaN over */
}

static gboolean
rises (const SpJudging *c, const SpJudgedSweep *s, guint j)
{
  const SpGround *g = &s->ground;
  if (!(g->noise_dbm[j] > ground_at (c, s, j) + RISES_DB))
    return FALSE;
  double profile = profile_dbm (c, s, j);
  return isnan (profile) || g->noise_dbm[j] > profile + PROFILE_DB;
}

/* Does it climb out of the sweep, or towards what always stands on such a climb? */
static gboolean
has_no_end (const SpJudging *c, const SpJudgedSweep *s, guint first, guint last)
{
  double reach = s->band.noise_reach_hz + s->spacing_hz, from = place_hz (s, first) - reach, to = place_hz (s, last) + reach,
         f0 = c->out->fundamental_hz;
  double zone = isnan (f0) ? 0 : sp_judging_zone_hz (c, s);
  return first == 0 || last + 1 == s->ground.n || from <= sp_judging_zero_hertz_end (s) || (f0 >= from - zone && f0 <= to + zone);
}

/* The readings of a peak detector add up to no power, but the noise that stands under them does: its law is known. */
static SpDetection
sum_noise (const SpJudgedSweep *s, double from_hz, double to_hz)
{
  guint64 first = sp_trace_find (s->trace, from_hz), end = sp_trace_find (s->trace, to_hz), middle = (first + end) / 2;
  SpDetection detection = { .kind = SP_KIND_NOISE,
                            .frequency_hz = (from_hz + to_hz) / 2,
                            .from_hz = from_hz,
                            .to_hz = to_hz,
                            .width_hz = to_hz - from_hz,
                            .noise_u_db = LAW_U_DB,
                            .reference_hz = NAN };
  double around = s->ground.around_dbm[place_of (s, middle)], sum = 0;
  for (guint64 i = first; i < end; i++)
    sum += sp_ratio_from_db (s->out->noise_dbm[i]) - sp_ratio_from_db (around + to_socket_db (s, i));
  detection.detected = sum > 0 && end > first;
  detection.level_dbm = sp_db_from_ratio (sum * (to_hz - from_hz) / (double) MAX (end - first, 1) / s->nbw_hz);
  detection.reading_dbm = s->trace->level_dbm[middle];
  detection.floor_dbm = s->out->floor_dbm[middle];
  return detection;
}

/* Power over what the ground and twice the predicted phase noise explain, within [from, to]. */
static double
unexplained_dbm (const SpJudging *c, SpJudgedSweep *s, double from_hz, double to_hz)
{
  const double *f = s->trace->frequency_hz;
  double sum = 0;
  for (guint64 i = sp_trace_find (s->trace, from_hz); i < s->trace->n && f[i] <= to_hz; i++) {
    double around = ground_at (c, s, place_of (s, i)) + to_socket_db (s, i), phase = sp_judging_phase_noise_dbm (c, s, i, f[i]);
    double over = sp_ratio_from_db (s->out->noise_dbm[i]) - sp_ratio_from_db (around) - 2 * sp_ratio_from_db (phase);
    sum += fmax (0, over) * sp_judging_spacing (s, i);
  }
  return sum > 0 ? sp_db_from_ratio (sum / s->nbw_hz) : -INFINITY;
}

/* A climb towards the carrier: each side of it by itself. */
static void
note_climb (SpJudging *c, SpJudgedSweep *s, guint first, guint last)
{
  double f0 = c->out->fundamental_hz, zone = sp_judging_zone_hz (c, s), from = place_hz (s, first), to = place_hz (s, last);
  double sides[2][2] = { { from, fmin (to, f0 - zone) }, { fmax (from, f0 + zone), to } };
  for (guint side = 0; side < 2; side++) {
    SpClimb climb = { sides[side][0], sides[side][1], -INFINITY };
    if (climb.to_hz > climb.from_hz)
      climb.power_dbm = unexplained_dbm (c, s, climb.from_hz, climb.to_hz);
    if (isfinite (climb.power_dbm))
      g_array_append_val (c->climbs, climb);
  }
}

static void
add_rise (SpJudging *c, GArray *found, guint k, guint first, guint last)
{
  SpJudgedSweep *s = &c->sweeps[k];
  double from = place_hz (s, first), to = place_hz (s, last), middle = (from + to) / 2;
  double reference = sp_judging_reference_hz (c, middle);
  gboolean sums = sp_band_can_sum (&s->band) && !isnan (s->band.noise_error_db);
  SpDetection detection = sums ? sp_judging_detect (c, s, middle, 0, to - from) : sum_noise (s, from, to);
  if (!sums && reference < to - from) { /* even over the band, as far as anybody knows */
    detection.reference_hz = reference;
    detection.level_dbm += sp_db_from_ratio (reference / (to - from));
  }
  if (!detection.detected || detection.kind == SP_KIND_LINE)
    return;
  for (guint j = 0; j < found->len; j++) { /* what was listed of it as parts is it */
    const SpEmission *part = &g_array_index (found, SpEmission, j);
    if (part->case_sweep == k && part->kind != SP_KIND_LINE && part->frequency_hz >= from && part->frequency_hz <= to)
      g_array_remove_index (found, j--);
  }
  detection.kind = SP_KIND_NOISE;
  sp_judging_add_spur (c, found, k, &detection, 0);
}

void
sp_judging_rises (SpJudging *c, GArray *found, guint k)
{
  SpJudgedSweep *s = &c->sweeps[k];
  if (!isfinite (s->nbw_hz) || s->law_assumed || s->trace->n < 4)
    return;
  lay_ground (s);
  const SpGround *g = &s->ground;
  for (guint j = 0; j < g->n; j++) {
    if (!rises (c, s, j))
      continue;
    guint first = j, last = j;
    while (first > 0 && g->noise_dbm[first] > ground_at (c, s, first) + ENDS_DB)
      first--;
    while (last + 1 < g->n && g->noise_dbm[last] > ground_at (c, s, last) + ENDS_DB)
      last++;
    if (!has_no_end (c, s, first, last))
      add_rise (c, found, k, first, last);
    else if (!isnan (c->out->fundamental_hz) && s->purpose == SP_PURPOSE_KEYED)
      note_climb (c, s, first, last);
    j = last;
  }
}
