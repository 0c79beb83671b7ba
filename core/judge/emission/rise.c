/* rise.c - finds noise-like emissions wider than the noise window, by noise that is higher than elsewhere in the sweep */
#include "core/judge/emission/emission.h"
#include "core/judge/sweep/sweep.h"

#include <math.h>

/* The noise must be over the ground (ground.c), and over the profile's noise if there is one (core/docs/computation.md, section 15).
 * Noise that climbs towards the carrier or the response at zero hertz, or continues beyond the sweep's ends, only raises the floor:
 * its origin is unknown. */

#define ENDS_DB 3.0    /* a rise ends where the noise is back within this of the ground (common practice, no source) */
#define PROFILE_DB 4.0 /* accuracy of a profile's noise (common practice, no source) */
#define CLOSE_HZ 5e6   /* distance from the carrier that is searched for its noise (common practice, no source) */
#define LAW_U_DB 1.0   /* u of noise derived from the greatest of several looks (common practice, no source) */

/* The analyzer's noise by its profile, at the trace's plane; NaN: not known. */
static double
profile_dbm (const SpJudging *c, const SpJudgedSweep *s, guint j)
{
  return sp_analyzer_noise_dbm (c->analyzer, sp_judging_ground_hz (s, j), s->rbw_hz, s->trace->settings.attenuation_db);
}

/* Close to the carrier its noise may fill the sweep, so that none is lower: the profile's noise is the ground there. */
static double
ground_at (const SpJudging *c, const SpJudgedSweep *s, guint j)
{
  double around = s->cache->ground.around_dbm[j];
  if (!(fabs (sp_judging_ground_hz (s, j) - c->out->fundamental_hz) <= CLOSE_HZ))
    return around;
  return fmin (around, profile_dbm (c, s, j) + PROFILE_DB); /* fmin() ignores a NaN */
}

static gboolean
rises (const SpJudging *c, const SpJudgedSweep *s, guint j)
{
  const SpGround *g = &s->cache->ground;
  if (!(g->noise_dbm[j] > ground_at (c, s, j) + SP_RISES_DB))
    return FALSE;
  double profile = profile_dbm (c, s, j);
  return isnan (profile) || g->noise_dbm[j] > profile + PROFILE_DB;
}

/* TRUE if it continues beyond the sweep, or rises towards the carrier or zero hertz. */
static gboolean
has_no_end (const SpJudging *c, const SpJudgedSweep *s, guint first, guint last)
{
  double reach = s->band.noise_reach_hz + s->spacing_hz, from = sp_judging_ground_hz (s, first) - reach,
         to = sp_judging_ground_hz (s, last) + reach, f0 = c->out->fundamental_hz;
  double zone = isnan (f0) ? 0 : sp_judging_zone_hz (c, s);
  return first == 0 || last + 1 == s->cache->ground.n || from <= sp_judging_zero_hertz_end (s) || (f0 >= from - zone && f0 <= to + zone);
}

/* Readings of a peak detector do not add up to power. The mean noise under them does, since their distribution is known. */
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
  double around = s->cache->ground.around_dbm[sp_judging_ground_index (s, middle)], sum = 0;
  for (guint64 i = first; i < end; i++)
    sum += sp_ratio_from_db (s->out->noise_dbm[i]) - sp_ratio_from_db (around + sp_judging_trace_to_socket_db (s, i));
  detection.detected = sum > 0 && end > first;
  detection.level_dbm = sp_db_from_ratio (sum * (to_hz - from_hz) / (double) MAX (end - first, 1) / s->nbw_hz);
  detection.reading_dbm = s->trace->reading_dbm[middle];
  detection.floor_dbm = s->out->floor_dbm[middle];
  return detection;
}

/* Power within [from, to] beyond the ground and twice the predicted phase noise. */
static double
unexplained_dbm (const SpJudging *c, const SpJudgedSweep *s, double from_hz, double to_hz)
{
  const double *f = s->trace->frequency_hz;
  double sum = 0;
  for (guint64 i = sp_trace_find (s->trace, from_hz); i < s->trace->n && f[i] <= to_hz; i++) {
    double around = ground_at (c, s, sp_judging_ground_index (s, i)) + sp_judging_trace_to_socket_db (s, i),
           phase = sp_judging_phase_noise_dbm (c, s, i, f[i]);
    double over = sp_ratio_from_db (s->out->noise_dbm[i]) - sp_ratio_from_db (around) - 2 * sp_ratio_from_db (phase);
    sum += fmax (0, over) * sp_judging_spacing (s, i);
  }
  return sum > 0 ? sp_db_from_ratio (sum / s->nbw_hz) : -INFINITY;
}

/* A climb towards the carrier: each side separately. */
static void
note_climb (const SpJudging *c, const SpJudgedSweep *s, guint first, guint last, GArray *climbs)
{
  double f0 = c->out->fundamental_hz, zone = sp_judging_zone_hz (c, s), from = sp_judging_ground_hz (s, first),
         to = sp_judging_ground_hz (s, last);
  double sides[2][2] = { { from, fmin (to, f0 - zone) }, { fmax (from, f0 + zone), to } };
  for (guint side = 0; side < 2; side++) {
    SpClimb climb = { sides[side][0], sides[side][1], -INFINITY };
    if (climb.to_hz > climb.from_hz)
      climb.power_dbm = unexplained_dbm (c, s, climb.from_hz, climb.to_hz);
    if (isfinite (climb.power_dbm))
      g_array_append_val (climbs, climb);
  }
}

static void
add_rise (const SpJudging *c, SpSpurSearch *search, guint k, guint first, guint last)
{
  GArray *found = search->found;
  const SpJudgedSweep *s = &c->sweeps[k];
  double from = sp_judging_ground_hz (s, first), to = sp_judging_ground_hz (s, last), middle = (from + to) / 2;
  double reference = sp_judging_reference_hz (c, middle);
  gboolean sums = sp_band_can_sum (&s->band) && !isnan (s->band.noise_error_db);
  SpDetection detection = sums ? sp_judging_detect (c, s, middle, 0, to - from) : sum_noise (s, from, to);
  if (!sums && reference < to - from) { /* assumes an even density over the band */
    detection.reference_hz = reference;
    detection.level_dbm += sp_db_from_ratio (reference / (to - from));
  }
  if (!detection.detected || detection.kind == SP_KIND_LINE)
    return;
  for (guint j = 0; j < found->len; j++) { /* parts listed before belong to this emission */
    const SpEmission *part = &g_array_index (found, SpEmission, j);
    if (part->corrected == k && part->kind != SP_KIND_LINE && part->frequency_hz >= from && part->frequency_hz <= to)
      g_array_remove_index (found, j--);
  }
  detection.kind = SP_KIND_NOISE;
  sp_judging_add_spur (c, search, k, &detection, 0);
}

void
sp_judging_rises (const SpJudging *c, SpSpurSearch *search, guint k)
{
  const SpJudgedSweep *s = &c->sweeps[k];
  if (!isfinite (s->nbw_hz) || s->law_assumed || s->trace->n < 4)
    return;
  sp_judging_lay_ground (s);
  const SpGround *g = &s->cache->ground;
  for (guint j = 0; j < g->n; j++) {
    if (!rises (c, s, j))
      continue;
    guint first = j, last = j;
    while (first > 0 && g->noise_dbm[first] > ground_at (c, s, first) + ENDS_DB)
      first--;
    while (last + 1 < g->n && g->noise_dbm[last] > ground_at (c, s, last) + ENDS_DB)
      last++;
    if (!has_no_end (c, s, first, last))
      add_rise (c, search, k, first, last);
    else if (!isnan (c->out->fundamental_hz) && s->purpose == SP_PURPOSE_KEYED)
      note_climb (c, s, first, last, search->climbs);
    j = last;
  }
}
