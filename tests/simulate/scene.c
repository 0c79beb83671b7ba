#include "tests/simulate/scene.h"
#include "tests/simulate/files.h"

#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"
#include "core/quantity/units.h"
#include "core/trace/read/read.h"

#include <math.h>
#include <string.h>

#define ZERO_HERTZ_DBM (-25.0) /* the response at zero hertz, at the input */

void
sim_scene_init (SimScene *s, guint64 seed)
{
  memset (s, 0, sizeof *s);
  s->seed = seed;
  s->accuracy_db = 0.4;
  s->flatness_db = 0.3;
  s->scale_db = 0.1;
  s->repeatability_db = 0.05;
  s->chain_u_db = 0.1;
  s->chain_db = 40;
  s->noise_dbm_hz = -150;
}

void
sim_scene_add (SimScene *s, const SimEmission *emission, guint order, gboolean always)
{
  g_assert (s->n_sources < SCENE_EMISSIONS);
  s->source[s->n_sources++] = (SimSource){ *emission, order, always };
}

SimTake *
sim_scene_sweep (SimScene *s, SpPurpose purpose, const SimSettings *settings, double attenuation_db, guint64 seed)
{
  g_assert (s->n_takes < SCENE_TAKES);
  s->take[s->n_takes] = (SimTake){ .purpose = purpose, .settings = *settings, .attenuation_db = attenuation_db, .seed = seed };
  return &s->take[s->n_takes++];
}

/* An error of a kind at a place, the same whenever it is asked for: -1 to 1. */
static double
error_of (const SimScene *s, guint64 kind, guint64 index)
{
  SimChance chance = sim_chance ((s->seed * 131 + kind) * 0x9E3779B97F4A7C15ULL ^ (index + 17) * 0xD1B54A32D192ED03ULL);
  return sim_between (&chance, -1, 1);
}

static double
error_db (const SimScene *s, guint source, const SimTake *take)
{
  double chain = s->chain_u_db * sqrt (3) * error_of (s, 3, source);
  return s->accuracy_db * error_of (s, 1, 0) + s->flatness_db * error_of (s, 2, source) - chain
         + s->scale_db * (source ? error_of (s, 4, source) : 0) + s->repeatability_db * error_of (s, 5 + take->seed, source);
}

static SpTrace *
through_a_file (const SimTake *take, const char *name, const double *f, const double *level, const SpSettings *settings)
{
  g_autoptr (GString) text = g_string_new (NULL);
  double unit_hz = take->unit_hz > 0 ? take->unit_hz : 1;
  guint n = take->settings.points;
  for (guint k = 0; k < n; k++) {
    guint i = take->backwards ? n - 1 - k : k;
    double value = level[i];
    if (take->unit && strcmp (take->unit, "dBuV") == 0)
      value += 10 * log10 (50) + 90; /* V^2 / 50 ohm against 1 mW */
    else if (take->unit)
      value = pow (10, level[i] / 10 - 3);
    g_string_append_printf (text, "%.15g,%.12g\n", f[i] / unit_hz, value);
  }
  g_autofree char *reference = g_strdup_printf ("%s?unit=%s&frequency_unit=%s", name, take->unit ? take->unit : "dBm",
                                                unit_hz == 1e6   ? "MHz"
                                                : unit_hz == 1e3 ? "kHz"
                                                                 : "Hz");
  g_autofree char *path = NULL;
  SpTraceOptions options;
  g_autoptr (GError) error = NULL;
  if (!sp_trace_options_parse (reference, &path, &options, &error))
    g_error ("%s", error->message);
  options.settings = *settings;
  options.average_given = options.hold_given = TRUE;
  g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
  SpTrace *trace = sp_trace_read_bytes (bytes, name, &options, &error);
  if (!trace)
    g_error ("%s", error->message);
  sp_trace_options_clear (&options);
  return trace;
}

static SpSettings
settings_of (const SimTake *take)
{
  SpSettings settings;
  sp_settings_init (&settings);
  settings.rbw_hz = take->settings.rbw_hz;
  settings.attenuation_db = take->attenuation_db;
  settings.detector = take->settings.detector;
  settings.average = take->settings.average;
  settings.averages = take->settings.averages;
  settings.hold = take->settings.max_hold ? SP_HOLD_MAX : SP_HOLD_NONE;
  return settings;
}

SpTrace *
sim_scene_trace (SimScene *s, guint index)
{
  SimTake *take = &s->take[index];
  if (take->trace)
    return take->trace;
  const SimSettings *set = &take->settings;
  SimEmission emission[SCENE_EMISSIONS + 1];
  for (guint k = 0; k < s->n_sources; k++) {
    emission[k] = s->source[k].emission;
    emission[k].level_dbm += error_db (s, k, take) - s->chain_db;
    if (take->purpose == SP_PURPOSE_UNKEYED && !s->source[k].always)
      emission[k].level_dbm = -400;
  }
  for (guint k = s->n_sources; k < SCENE_EMISSIONS; k++) /* so that the response at zero hertz keeps its random numbers */
    emission[k] = (SimEmission){ .kind = SIM_CW, .frequency_hz = -1e12, .level_dbm = -400 };
  emission[SCENE_EMISSIONS] = (SimEmission){ .kind = SIM_CW, .frequency_hz = 0, .level_dbm = ZERO_HERTZ_DBM };
  g_autofree double *f = g_new (double, set->points), *level = g_new (double, set->points);
  double noise = s->noise_dbm_hz + 10 * log10 (sim_noise_bandwidth_ratio () * set->rbw_hz) + take->attenuation_db;
  sim_receive_emissions (s->seed * 1000003 + take->seed, set, SCENE_EMISSIONS + 1, emission, noise, level);
  for (guint i = 0; i < set->points; i++)
    f[i] = sim_frequency (set, i);
  SpSettings settings = settings_of (take);
  g_autofree char *name = g_strdup_printf ("s%u", index);
  take->trace = take->as_text ? through_a_file (take, name, f, level, &settings)
                              : sp_trace_new (name, set->points, f, level, &settings, NULL);
  g_assert (take->trace);
  return take->trace;
}

SimScene
sim_scene_copy (SimScene *s)
{
  SimScene copy = *s;
  for (guint k = 0; k < s->n_takes; k++)
    copy.take[k].trace = sp_trace_ref (sim_scene_trace (s, k));
  return copy;
}

void
sim_scene_forget (SimScene *s)
{
  for (guint k = 0; k < s->n_takes; k++)
    g_clear_pointer (&s->take[k].trace, sp_trace_unref);
}

void
sim_scene_clear (SimScene *s)
{
  sim_scene_forget (s);
  s->n_takes = 0;
}

/* -- the files -- */

static SpChain *
make_chain (const SimScene *s)
{
  g_autofree char *text
      = g_strdup_printf ("[chain]\nname=c\nstages=p\n[stage p]\nkind=pad\nrating_w=1000\nvswr=1\ntemperature_coefficient=0\n"
                         "temperature_coefficient_u=0\npower_coefficient=0\npoints=1Hz %.9g %.9g; 10GHz %.9g %.9g\n",
                         s->chain_db, s->chain_u_db, s->chain_db, s->chain_u_db);
  return sim_chain (text);
}

static SpAnalyzer *
make_analyzer (const SimScene *s)
{
  g_autoptr (GString) text = g_string_new (
      "[analyzer]\nname=a\ndamage_dbm=30\nfilter=gaussian\nvswr=1\nattenuator_switch_db=0\nrbw_switch_db=0\n"
      "second_intercept_dbm=95\nthird_harmonic_intercept_dbm=70\nintercept_u_db=1\nharmonic_intercepts_dbm=4 60");
  for (guint n = 5; n <= 10; n++)
    g_string_append_printf (text, "; %u 60", n);
  g_string_append_printf (text, "\naccuracy_db=%.9g\nflatness_db=%.9g\nscale_db=%.9g\nrepeatability_db=%.9g\ndanl_dbm_hz=%.9g\n",
                          s->accuracy_db, s->flatness_db, s->scale_db, s->repeatability_db, s->noise_dbm_hz);
  return sim_analyzer (text->str);
}

static double
first_attenuation_db (const SimScene *s)
{
  for (guint k = 0; k < s->n_takes; k++)
    if (s->take[k].purpose == SP_PURPOSE_KEYED)
      return s->take[k].attenuation_db;
  return 0;
}

static void
write_radio (const SimScene *s, const char *name, char prefix, GString *text)
{
  g_string_append_printf (text, "[radio %s]\nfundamental=%.12g\nmode=%s\n", name, s->source[0].emission.frequency_hz,
                          s->mode ? s->mode : "CW");
  for (SpPurpose p = SP_PURPOSE_KEYED; p <= SP_PURPOSE_STEP; p++) {
    guint count = 0;
    for (guint k = 0; k < s->n_takes; k++) {
      if (s->take[k].purpose != p)
        continue;
      if (count++ == 0)
        g_string_append_printf (text, "%s=%c%u", sp_purpose_name (p), prefix, k);
      else
        g_string_append_printf (text, ";%c%u", prefix, k);
      if (p == SP_PURPOSE_STEP)
        g_string_append_printf (text, " %.9g", s->take[k].attenuation_db - first_attenuation_db (s));
    }
    if (count)
      g_string_append (text, "\n");
  }
}

typedef struct {
  SimScene *scene, *beside;
} Shelf;

static gpointer
find_resource (gpointer data, SpResourceKind kind, const char *name, const SpTraceOptions *options, GError **error)
{
  const Shelf *shelf = data;
  (void) options;
  (void) error;
  guint index = (guint) g_ascii_strtoull (name + 1, NULL, 10);
  switch (kind) {
  case SP_RESOURCE_CHAIN: return make_chain (shelf->scene);
  case SP_RESOURCE_ANALYZER: return make_analyzer (shelf->scene);
  case SP_RESOURCE_MASK: return sim_mask (shelf->scene->mask);
  default: return sp_trace_ref (sim_scene_trace (*name == 's' ? shelf->scene : shelf->beside, index));
  }
}

SpFindings *
sim_scene_judge (SimScene *s)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  SimScene *beside = (SimScene *) s->beside;
  Shelf shelf = { s, beside };
  SpResources resources = { find_resource, &shelf };
  g_string_append_printf (text,
                          "[bench]\nchain=c\nanalyzer=a\nmask=m\nrule=%s\nnecessary_bandwidth=%.9g\nradio_vswr=1\nradio_harmonic_vswr=1\n",
                          sp_decision_rule_name (s->rule), SCENE_BANDWIDTH_HZ);
  if (beside)
    write_radio (beside, "Ahead", 'o', text);
  write_radio (s, "R", 's', text);
  if (beside)
    write_radio (beside, "Behind", 'o', text);
  g_autoptr (SpKeyFile) file = sim_parse (text->str, "sheet");
  g_autoptr (SpBench) bench = sp_bench_parse (file, &resources, &error);
  if (!bench)
    g_error ("%s\n%s", error->message, text->str);
  return sp_judge (bench);
}

const SpConditionFindings *
sim_scene_condition (const SimScene *s, const SpFindings *findings)
{
  return &findings->conditions[s->beside ? 1 : 0];
}

/* -- the truth -- */

static SpLimit
limit_at (SimScene *s, guint source, const SpMask *mask)
{
  const SimEmission *carrier = &s->source[0].emission;
  return sp_mask_limit (mask, carrier->frequency_hz, sp_watt_from_dbm (carrier->level_dbm), SCENE_BANDWIDTH_HZ, NAN,
                        s->source[source].emission.frequency_hz);
}

double
sim_scene_truth_dbm (SimScene *s, guint source, gboolean most)
{
  g_autoptr (SpMask) mask = sim_mask (s->mask);
  SpLimit limit = limit_at (s, source, mask);
  return sim_emission_in_dbm (&s->source[source].emission, limit.rule ? limit.rule->reference_bandwidth_hz : NAN, most);
}

double
sim_scene_excess_db (SimScene *s, guint source, gboolean most)
{
  g_autoptr (SpMask) mask = sim_mask (s->mask);
  SpLimit limit = limit_at (s, source, mask);
  if (isnan (limit.limit_dbm))
    return -INFINITY;
  return sim_scene_truth_dbm (s, source, most) - limit.limit_dbm;
}

gboolean
sim_scene_in_scope (SimScene *s, guint source)
{
  g_autoptr (SpMask) mask = sim_mask (s->mask);
  const SimSource *it = &s->source[source];
  double f = it->emission.frequency_hz;
  if (it->always)
    return FALSE;
  if ((it->order >= 2 && it->order <= mask->harmonics) || (f >= mask->search_low_hz && f <= mask->search_high_hz))
    return TRUE;
  for (guint k = 0; k < s->n_takes; k++)
    if (s->take[k].purpose == SP_PURPOSE_KEYED && f >= s->take[k].settings.start_hz && f <= s->take[k].settings.stop_hz)
      return TRUE;
  return FALSE;
}

double
sim_scene_worst_excess_db (SimScene *s, gboolean most, guint *source)
{
  double worst = -INFINITY;
  *source = 0;
  for (guint k = 1; k < s->n_sources; k++) {
    double excess = sim_scene_in_scope (s, k) ? sim_scene_excess_db (s, k, most) : -INFINITY;
    if (excess > worst) {
      worst = excess;
      *source = k;
    }
  }
  return worst;
}

const SpEmission *
sim_scene_find (const SimScene *s, const SpFindings *findings, guint source)
{
  const SpConditionFindings *found = sim_scene_condition (s, findings);
  const SpCondition *condition = &findings->bench->conditions[found->condition];
  const SimSource *it = &s->source[source];
  const SpEmission *best = NULL;
  double half = sim_emission_width_hz (&it->emission) / 2;
  for (guint i = 0; i < found->n_emissions; i++) {
    const SpEmission *e = &found->emissions[i];
    if (it->order >= 2 && e->order == it->order)
      return e;
    double rbw = e->sweep >= 0 ? condition->sweeps[e->sweep].trace->settings.rbw_hz : 0;
    if (fabs (e->frequency_hz - it->emission.frequency_hz) <= half + rbw && e->detected && (!best || e->level_dbm > best->level_dbm))
      best = e;
  }
  return best;
}

/* -- in words -- */

static void
settings_in_words (const SimTake *take, GString *text)
{
  const SimSettings *s = &take->settings;
  g_string_append_printf (text, "%s %.6g-%.6g MHz RBW %.4g kHz, %u points (%.2f RBW), %s", sp_purpose_name (take->purpose),
                          s->start_hz / 1e6, s->stop_hz / 1e6, s->rbw_hz / 1e3, s->points,
                          (s->stop_hz - s->start_hz) / (s->points - 1) / s->rbw_hz, sp_detector_name (s->detector));
  if (s->max_hold)
    g_string_append_printf (text, " max hold of %u", s->averages);
  else if (s->average != SP_AVERAGE_NONE)
    g_string_append_printf (text, " %s average of %u", sp_average_name (s->average), s->averages);
  g_string_append_printf (text, ", attenuation %g dB", take->attenuation_db);
}

char *
sim_scene_words (SimScene *s)
{
  GString *text = g_string_new (NULL);
  for (guint k = 0; k < s->n_sources; k++) {
    const SimEmission *e = &s->source[k].emission;
    g_string_append_printf (text, "    %s%s %.8g MHz %.2f dBm", k ? "" : "carrier, ", sim_kind_name (e->kind), e->frequency_hz / 1e6,
                            e->level_dbm);
    if (e->kind != SIM_CW)
      g_string_append_printf (text, ", 99 %% in %.4g kHz", sim_emission_width_hz (e) / 1e3);
    if (k)
      g_string_append_printf (text, ", order %u, truth %+.2f dB from the limit%s%s", s->source[k].order, sim_scene_excess_db (s, k, FALSE),
                              sim_scene_in_scope (s, k) ? "" : ", out of scope", s->source[k].always ? ", also unkeyed" : "");
    g_string_append (text, "\n");
  }
  for (guint k = 0; k < s->n_takes; k++) {
    g_string_append (text, "    ");
    settings_in_words (&s->take[k], text);
    g_string_append (text, "\n");
  }
  g_autofree char *mask = g_strdelimit (g_strdup (s->mask), "\n", '|');
  g_string_append_printf (text, "    noise %.1f dBm/Hz; mask %s", s->noise_dbm_hz, mask);
  return g_string_free (text, FALSE);
}
