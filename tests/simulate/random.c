#include "tests/simulate/random.h"

#include <math.h>
#include <string.h>

#define ATTENUATION 10.0
#define STEP 10.0
#define MOST_POINTS 6001

typedef struct {
  SpDetector detector;
  SpAverage average;
  guint averages;
  gboolean max_hold;
} Way;

/* The first few also average what fades. */
#define FADING_WAYS 4
static const Way ways[] = {
  { SP_DETECTOR_RMS, SP_AVERAGE_POWER, 16, FALSE },      { SP_DETECTOR_SAMPLE, SP_AVERAGE_POWER, 16, FALSE },
  { SP_DETECTOR_AVERAGE, SP_AVERAGE_POWER, 16, FALSE },  { SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 16, TRUE },
  { SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, FALSE },     { SP_DETECTOR_RMS, SP_AVERAGE_NONE, 1, FALSE },
  { SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, FALSE },       { SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 8, FALSE },
  { SP_DETECTOR_AVERAGE, SP_AVERAGE_VOLTAGE, 8, FALSE }, { SP_DETECTOR_AVERAGE, SP_AVERAGE_LOG, 8, FALSE },
  { SP_DETECTOR_NORMAL, SP_AVERAGE_NONE, 1, FALSE },     { SP_DETECTOR_NEGATIVE, SP_AVERAGE_NONE, 1, FALSE },
};

static double
log_between (SimChance *r, double low, double high)
{
  return exp (sim_between (r, log (low), log (high)));
}

static guint
one_of (SimChance *r, guint n)
{
  return MIN (n - 1, (guint) (sim_uniform (r) * n));
}

static gboolean
with_chance (SimChance *r, double p)
{
  return sim_uniform (r) < p;
}

/* 1, 3, 10 ... not below. */
static double
filter_from (double least_hz)
{
  double decade = pow (10, floor (log10 (least_hz)));
  return least_hz <= decade ? decade : least_hz <= 3 * decade ? 3 * decade : 10 * decade;
}

static SimSettings
span (const Way *way, double start_hz, double stop_hz, double rbw_hz, double spacing_rbws)
{
  guint points = (guint) CLAMP (ceil ((stop_hz - start_hz) / (rbw_hz * spacing_rbws)) + 1, 101, MOST_POINTS);
  return (SimSettings){ start_hz, stop_hz, points, rbw_hz, way->detector, way->average, way->averages, way->max_hold, 0.5 };
}

static SimSettings
wide_sweep (const SimScene *s, const Way *way, double top_hz, SimChance *r)
{
  static const double points[] = { 1000, 2000, 4000 };
  double f0 = s->source[0].emission.frequency_hz;
  double start = with_chance (r, 0.4) ? f0 / 2 : with_chance (r, 0.5) ? f0 / 30 : 0, spacing = (top_hz - start) / points[one_of (r, 3)];
  return span (way, start, top_hz, fmin (filter_from (1.01 * spacing), 3e6), 1e-9 + spacing / fmin (filter_from (1.01 * spacing), 3e6));
}

static SimSettings
close_sweep (const SimScene *s, const Way *way, SimChance *r)
{
  static const double rbws[] = { 1e3, 3e3, 10e3 }, spacings[] = { 0.3, 0.5 };
  double f0 = s->source[0].emission.frequency_hz, rbw = rbws[one_of (r, 3)], spacing = spacings[one_of (r, 2)];
  double half = fmin (fmin (log_between (r, 0.2e6, 5e6), 0.45 * f0), rbw * spacing * (MOST_POINTS - 1) / 2);
  return span (way, f0 - half, f0 + half, rbw, spacing);
}

/* ring_hz: so far out the mask may leave the carrier's own alone; else the ring that a wide sweep cannot see leaves all not proven. */
static void
random_mask (SimScene *s, SimChance *r, double f0, guint harmonics, double top_hz, double ring_hz)
{
  static const double references[] = { 1e3, 10e3, 100e3 };
  GString *m = g_string_new ("[mask]\nname=m\n");
  gboolean relative = with_chance (r, 0.6);
  double number = relative ? sim_between (r, 43, 60) : sim_between (r, -30, -13);
  g_string_append_printf (m, "harmonics=%u\nexclude=%g\n", harmonics,
                          with_chance (r, 0.8)   ? ceil (ring_hz / SCENE_BANDWIDTH_HZ)
                          : with_chance (r, 0.5) ? 1.0
                                                 : 2.5);
  if (with_chance (r, 0.4))
    g_string_append_printf (m, "search=%.9g %.9g\n", with_chance (r, 0.2) ? 9e3 : f0 / 1.9, top_hz * 0.98);
  g_string_append_printf (m, "[rule all]\nemission=%.9g 5GHz\n%s=%.6g\n", with_chance (r, 0.8) ? f0 / 3 : 1e3,
                          relative ? "attenuation_db" : "ceiling_dbm", number);
  if (with_chance (r, 0.5))
    g_string_append_printf (m, "reference_bandwidth=%.9g\n", references[one_of (r, 3)]);
  if (with_chance (r, ring_hz < 50e3 ? 0.4 : 0.1))
    g_string_append_printf (m, "[rule near]\noffset=%.9g %.9g\nattenuation_db=%.6g\nreference_bandwidth=%.9g\n", fmax (20e3, ring_hz),
                            fmax (20e3, ring_hz) * log_between (r, 2, 20), sim_between (r, 45, 62), with_chance (r, 0.5) ? 300. : 30e3);
  g_strlcpy (s->mask, m->str, sizeof s->mask);
  g_string_free (m, TRUE);
}

/* Its level so that it stands that much over its limit. */
static void
set_excess (SimScene *s, guint source, double over_db)
{
  double excess = sim_scene_excess_db (s, source, over_db < 0);
  if (isfinite (excess))
    s->source[source].emission.level_dbm += over_db - excess;
}

/* Most emissions lie well below; in half of the scenes one, any, does not: whatever hides that one decides. */
static double
random_excess (SimChance *r)
{
  return with_chance (r, 0.2) ? sim_between (r, -10, -3) : sim_between (r, -40, -8);
}

static void
raise_one (SimScene *s, SimChance *r)
{
  guint source = 1 + one_of (r, MAX (s->n_sources, 2) - 1);
  if (source < s->n_sources && !s->source[source].always && with_chance (r, 0.5))
    set_excess (s, source, with_chance (r, 0.2) ? sim_between (r, -3, 3) : sim_between (r, 3, 12));
}

static gboolean
has_room (const SimScene *s, const SimEmission *e, double rbw_hz)
{
  for (guint k = 1; k < s->n_sources; k++) {
    double apart = fabs (s->source[k].emission.frequency_hz - e->frequency_hz);
    if (apart < 6 * rbw_hz + sim_emission_width_hz (&s->source[k].emission) + 2 * sim_emission_width_hz (e))
      return FALSE;
  }
  return fabs (e->frequency_hz - s->source[0].emission.frequency_hz) > 40e3 + 2 * sim_emission_width_hz (e);
}

static void
add_spur (SimScene *s, SimChance *r, double top_hz, double rbw_hz, gboolean hump)
{
  double f0 = s->source[0].emission.frequency_hz;
  SimEmission e = { .kind = SIM_CW };
  for (guint attempt = 0; attempt < 20; attempt++) {
    double where = sim_uniform (r);
    if (hump) {
      e.kind = with_chance (r, 0.7) ? SIM_NOISE_FLAT : SIM_NOISE_GAUSS;
      e.width_hz = log_between (r, 10e3, fmin (3e6, f0 / 3));
    }
    if (where < 0.5)
      e.frequency_hz = f0 + (with_chance (r, 0.5) ? 1 : -1) * log_between (r, 20e3, fmin (5e6, f0 / 2));
    else if (where < 0.6)
      e.frequency_hz = log_between (r, 0.1e6, fmin (3e6, f0 / 2));
    else
      e.frequency_hz = sim_between (r, f0 / 3, top_hz);
    if (!has_room (s, &e, where < 0.5 ? 0 : rbw_hz))
      continue;
    sim_scene_add (s, &e, 0, FALSE);
    set_excess (s, s->n_sources - 1, random_excess (r));
    return;
  }
}

static void
add_emissions (SimScene *s, SimChance *r, guint harmonics, double top_hz, double rbw_hz, gboolean humps)
{
  SimEmission carrier = s->source[0].emission;
  for (guint n = 2; n <= harmonics; n++) {
    SimEmission e = sim_emission_harmonic (&carrier, n, -60);
    sim_scene_add (s, &e, n, FALSE);
    set_excess (s, s->n_sources - 1, random_excess (r));
  }
  guint spurs = one_of (r, 4);
  for (guint k = 0; k < spurs; k++)
    add_spur (s, r, top_hz, rbw_hz, humps && k == 0);
  SimEmission air = { .kind = SIM_CW,
                      .frequency_hz = sim_between (r, carrier.frequency_hz / 3, top_hz),
                      .level_dbm = sim_between (r, -60, -20) };
  if (with_chance (r, 0.15) && has_room (s, &air, rbw_hz))
    sim_scene_add (s, &air, 0, TRUE);
  raise_one (s, r);
}

static SimEmission
random_carrier (SimScene *s, SimChance *r)
{
  SimEmission e = { .kind = SIM_CW,
                    .frequency_hz = round (log_between (r, 1.8e6, 450e6) / 1e3) * 1e3,
                    .level_dbm = sim_between (r, 27, 44) };
  s->mode = "CW";
  if (with_chance (r, 0.5)) {
    gboolean speech = with_chance (r, 0.25);
    s->mode = "FM";
    e.kind = speech ? SIM_FM_SPEECH : SIM_FM_TONE;
    e.deviation_hz = speech ? sim_between (r, 1e3, 2e3) : sim_between (r, 2e3, 5e3);
    e.tone_hz = speech ? 0 : sim_between (r, 600, 1200);
  }
  return e;
}

SimScene
sim_random_scene (guint64 seed)
{
  SimScene s;
  SimChance r = sim_chance (seed);
  sim_scene_init (&s, seed);
  s.noise_dbm_hz = sim_between (&r, -160, -142);
  SimEmission carrier = random_carrier (&s, &r);
  guint harmonics = 1 + one_of (&r, 4);
  double f0 = carrier.frequency_hz, top = (harmonics + 0.4) * f0;
  gboolean humps = with_chance (&r, 0.4);
  const Way *way = &ways[one_of (&r, humps || with_chance (&r, 0.4) ? FADING_WAYS : G_N_ELEMENTS (ways))];
  sim_scene_add (&s, &carrier, 1, FALSE);
  SimSettings wide = wide_sweep (&s, way, top, &r), close = close_sweep (&s, way, &r);
  double which = sim_uniform (&r), spacing = (wide.stop_hz - wide.start_hz) / (wide.points - 1);
  random_mask (&s, &r, f0, harmonics, top, which < 0.45 ? 3.5 * fmax (wide.rbw_hz, spacing) : 4 * close.rbw_hz);
  add_emissions (&s, &r, harmonics, which < 0.85 ? top : close.stop_hz, wide.rbw_hz, humps);
  if (which < 0.85)
    sim_scene_sweep (&s, SP_PURPOSE_KEYED, &wide, ATTENUATION, 1);
  if (which > 0.45)
    sim_scene_sweep (&s, SP_PURPOSE_KEYED, &close, ATTENUATION, 2);
  gboolean step = with_chance (&r, 0.6), unkeyed = with_chance (&r, 0.2);
  for (guint k = 0, n = s.n_takes; step && k < n; k++)
    sim_scene_sweep (&s, SP_PURPOSE_STEP, &s.take[k].settings, ATTENUATION + STEP, 10 + k);
  if (unkeyed)
    sim_scene_sweep (&s, SP_PURPOSE_UNKEYED, &s.take[0].settings, ATTENUATION, 20);
  return s;
}

/* -- one more -- */

const char *
sim_add_name (SimAdd kind)
{
  static const char *const names[] = { "a repeat", "a close sweep", "a wide sweep", "a coarse sweep", "a step", "an unkeyed sweep" };
  return names[kind];
}

static guint
count_of (const SimScene *s, SpPurpose purpose)
{
  guint n = 0;
  for (guint k = 0; k < s->n_takes; k++)
    n += s->take[k].purpose == purpose;
  return n;
}

static gboolean
has_noise (const SimScene *s)
{
  for (guint k = 0; k < s->n_sources; k++)
    if (s->source[k].emission.width_hz > 0)
      return TRUE;
  return FALSE;
}

SimTake *
sim_random_add (SimScene *s, SimAdd kind, SimChance *r)
{
  if (s->n_takes == SCENE_TAKES || (kind == SIM_ADD_UNKEYED && count_of (s, SP_PURPOSE_UNKEYED)))
    return NULL;
  SimSettings first = s->take[0].settings;
  const Way *way = &ways[one_of (r, has_noise (s) ? FADING_WAYS : G_N_ELEMENTS (ways))];
  double f0 = s->source[0].emission.frequency_hz, top = 1.4 * f0;
  for (guint k = 1; k < s->n_sources; k++)
    top = fmax (top, s->source[k].order > 0 ? (s->source[k].order + 0.4) * f0 : 0);
  SimSettings wide = wide_sweep (s, way, top, r);
  guint64 seed = 100 + kind;
  switch (kind) {
  case SIM_ADD_CLOSE: first = close_sweep (s, way, r); break;
  case SIM_ADD_COARSE:
    wide = span (way, wide.start_hz, wide.stop_hz, wide.rbw_hz, sim_between (r, 2, 12));
    first = wide;
    break;
  case SIM_ADD_WIDE: first = wide; break;
  case SIM_ADD_STEP: return sim_scene_sweep (s, SP_PURPOSE_STEP, &first, ATTENUATION + (with_chance (r, 0.5) ? 10 : 20), seed);
  case SIM_ADD_UNKEYED: return sim_scene_sweep (s, SP_PURPOSE_UNKEYED, &first, ATTENUATION, seed);
  default: break;
  }
  return sim_scene_sweep (s, SP_PURPOSE_KEYED, &first, ATTENUATION, seed);
}
