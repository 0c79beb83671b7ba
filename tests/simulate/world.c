#include "tests/simulate/world.h"
#include "core/bench/sheet/sheet.h"
#include "core/judge/judge.h"
#include "tests/simulate/files.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define RBW 100e3

void
sim_world_init (SimWorld *w, guint64 seed)
{
  memset (w, 0, sizeof *w);
  w->chance = sim_chance (seed);
  w->settings = (SimSettings){ 5e6, 55e6, 1001, RBW, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, FALSE, 0.5 };
  w->noise_dbm_hz = -150;
  w->harmonics = 5;
  w->limit_attenuation_db = 60;
  w->limit_dbm = NAN;
  w->papers.radio_vswr = w->papers.pad_vswr = 1;
  for (guint n = 1; n <= SIM_ORDERS; n++) {
    w->radio_dbm[n] = n == 1 ? 37 : -INFINITY;
    w->chain_db[n] = 40 + 0.1 * n;
    w->intercept_dbm[n] = w->papers.intercept_dbm[n] = NAN;
  }
}

static double
rectangular (SimWorld *w, double half_width)
{
  return sim_between (&w->chance, -half_width, half_width);
}

/* Between the radio and the pad: of the power that the radio gives into 50 ohm |1 - G g|^-2 goes on, with an unknown phase. */
static double
mismatch (SimWorld *w, guint order)
{
  double radio = w->papers.radio_vswr, pad = w->papers.pad_vswr;
  double g = (order == 1 ? (radio - 1) / (radio + 1) : radio > 1) * (pad - 1) / (pad + 1), phase = sim_between (&w->chance, 0, 2 * G_PI);
  return -10 * log10 (1 - 2 * g * cos (phase) + g * g);
}

void
sim_world_shift (SimWorld *w)
{
  double offset = sim_between (&w->chance, -0.5, 0.5) * 50e3;
  w->settings.start_hz += offset;
  w->settings.stop_hz += offset;
}

void
sim_world_draw (SimWorld *w)
{
  int sign[SIM_ORDERS + 1] = { 0 };
  w->common_db = rectangular (w, w->papers.accuracy);
  for (guint n = 1; n <= SIM_ORDERS; n++) {
    sign[n] = sim_uniform (&w->chance) < 0.5 ? -1 : 1;
    w->phase[n] = sim_between (&w->chance, 0, 2 * G_PI);
    w->mismatch_db[n] = mismatch (w, n);
    w->flat_db[n] = rectangular (w, w->papers.flatness);
    w->chain_error_db[n] = w->papers.chain_u * sim_normal (&w->chance);
    if (!isnan (w->papers.intercept_dbm[n]))
      w->intercept_dbm[n] = w->papers.intercept_dbm[n] + w->papers.intercept_u * sim_normal (&w->chance);
  }
  w->mixer = sim_mixer (w->intercept_dbm, sign);
}

/* What arrives at the mixer: the radio's harmonics down the chain and the attenuator. */
static SimWave
at_mixer (const SimWorld *w, const SimSweep *sweep, gboolean carrier_only)
{
  SimWave wave = { { 0 }, { 0 } };
  for (guint n = 1; n <= (carrier_only ? 1 : SIM_ORDERS); n++)
    if (isfinite (w->radio_dbm[n]) && sweep->purpose != SP_PURPOSE_UNKEYED)
      sim_wave_set (&wave, n, w->radio_dbm[n] - w->chain_db[n] - sweep->pad_db - (n == 1 ? sweep->notch_db : 0) - sweep->attenuation_db,
                    w->phase[n]);
  return wave;
}

/* Switch and scale of a setting: drawn when it is first taken. Scale fidelity counts from the reference level, at which the carrier stands. */
static const double *
setting_errors (SimWorld *w, const SimSweep *sweep)
{
  for (guint k = 0; k < w->n_sweeps; k++) {
    const SimSweep *other = &w->sweep[k];
    if (other->attenuation_db == sweep->attenuation_db && other->pad_db == sweep->pad_db && other->notch_db == sweep->notch_db)
      return w->setting_db[k];
  }
  double switch_db = rectangular (w, w->papers.attenuator_switch), *errors = w->setting_db[w->n_sweeps];
  for (guint n = 1; n <= SIM_ORDERS; n++)
    errors[n] = switch_db + (n > 1 ? rectangular (w, w->papers.scale) : 0);
  return errors;
}

static guint
all_lines (SimWorld *w, const SimSweep *sweep, SimLine *lines)
{
  SimWave wave = at_mixer (w, sweep, FALSE), out = sim_mix (&w->mixer, &wave);
  const double *setting_db = setting_errors (w, sweep);
  guint n_lines = 0;
  for (guint n = 1; n <= SIM_ORDERS; n++) {
    double error = w->common_db + w->flat_db[n] + w->mismatch_db[n] + setting_db[n] + rectangular (w, w->papers.repeatability);
    double level = sim_wave_dbm (&out, n) + sweep->attenuation_db + error;
    if (level > -250 && n * SIM_F0 < w->settings.stop_hz + 10 * w->settings.rbw_hz)
      lines[n_lines++] = (SimLine){ n * SIM_F0, level, atan2 (out.im[n], out.re[n]) };
  }
  for (guint k = 0; k < w->n_ambient; k++) {
    lines[n_lines] = w->ambient[k];
    lines[n_lines].level_dbm += w->common_db + setting_db[1] + rectangular (w, w->papers.repeatability);
    lines[n_lines++].phase = sim_between (&w->chance, 0, 2 * G_PI);
  }
  return n_lines;
}

void
sim_world_sweep (SimWorld *w, SimSweep sweep)
{
  g_assert (w->n_sweeps < SIM_MAX_SWEEPS);
  const SimSettings *s = &w->settings;
  SimLine lines[SIM_ORDERS + SIM_MAX_AMBIENT];
  guint n_lines = all_lines (w, &sweep, lines);
  g_autofree double *f = g_new (double, s->points), *level = g_new (double, s->points);
  double noise = w->noise_dbm_hz + 10 * log10 (sim_noise_bandwidth_ratio () * s->rbw_hz) + sweep.attenuation_db;
  sim_receive (&w->chance, s, n_lines, lines, noise, level);
  for (guint i = 0; i < s->points; i++)
    f[i] = sim_frequency (s, i);
  SpSettings settings;
  sp_settings_init (&settings);
  settings.rbw_hz = s->rbw_hz;
  settings.attenuation_db = sweep.attenuation_db;
  settings.detector = s->detector;
  settings.average = s->kind_unsaid ? SP_AVERAGE_NONE : s->average;
  settings.averages = s->averages;
  settings.hold = s->max_hold ? SP_HOLD_MAX : s->min_hold ? SP_HOLD_MIN : SP_HOLD_NONE;
  g_autofree char *name = g_strdup_printf ("s%u", w->n_sweeps);
  w->sweep[w->n_sweeps] = sweep;
  w->trace[w->n_sweeps] = sp_trace_new (name, s->points, f, level, &settings, NULL);
  g_assert (w->trace[w->n_sweeps++]);
}

/* -- the files -- */

/* One pad; its table has a point at every harmonic, so that nothing is left to how the program draws a line between two. */
static SpChain *
make_chain (const SimWorld *w, double pad_db, double notch_db)
{
  g_autoptr (GString) text = g_string_new ("[chain]\nname=c\nstages=p\n[stage p]\nkind=pad\nrating_w=1000\n"
                                           "temperature_coefficient=0\ntemperature_coefficient_u=0\npower_coefficient=0\n");
  g_string_append_printf (text, "vswr=%.9g\npoints=1kHz %.9g %.9g", w->papers.pad_vswr,
                          w->chain_db[1] + w->chain_error_db[1] + pad_db + notch_db, w->papers.chain_u);
  for (guint n = 1; n <= SIM_ORDERS; n++)
    g_string_append_printf (text, "; %.9g %.9g %.9g", n * SIM_F0, w->chain_db[n] + w->chain_error_db[n] + pad_db + (n == 1 ? notch_db : 0),
                            w->papers.chain_u);
  g_string_append (text, "\n");
  return sim_chain (text->str);
}

static SpAnalyzer *
make_analyzer (const SimWorld *w)
{
  g_autoptr (GString) text = g_string_new ("[analyzer]\nname=a\ndamage_dbm=30\nfilter=gaussian\n");
  const SimPapers *p = &w->papers;
  g_string_append_printf (text,
                          "vswr=1\naccuracy_db=%.9g\nflatness_db=%.9g\nscale_db=%.9g\nrepeatability_db=%.9g\nattenuator_switch_db=%.9g\n"
                          "rbw_switch_db=0\nintercept_u_db=%.9g\ndanl_dbm_hz=%.9g\n",
                          p->accuracy, p->flatness, p->scale, p->repeatability, p->attenuator_switch, p->intercept_u, w->noise_dbm_hz);
  if (!isnan (p->intercept_dbm[2]))
    g_string_append_printf (text, "second_intercept_dbm=%.9g\n", p->intercept_dbm[2]);
  if (!isnan (p->intercept_dbm[3]))
    g_string_append_printf (text, "third_harmonic_intercept_dbm=%.9g\n", p->intercept_dbm[3]);
  const char *before = "harmonic_intercepts_dbm=";
  for (guint n = 4; n <= SIM_ORDERS; n++)
    if (!isnan (p->intercept_dbm[n])) {
      g_string_append_printf (text, "%s%u %.9g", before, n, p->intercept_dbm[n]);
      before = "; ";
    }
  g_string_append (text, "\n");
  return sim_analyzer (text->str);
}

static SpMask *
make_mask (const SimWorld *w)
{
  g_autoptr (GString) text = g_string_new ("[mask]\nname=m\nexclude=25\n");
  g_string_append_printf (text, "harmonics=%u\n[rule 1]\nemission=1kHz 3GHz\n", w->harmonics);
  if (isnan (w->limit_dbm))
    g_string_append_printf (text, "attenuation_db=%.9g\n", w->limit_attenuation_db);
  else
    g_string_append_printf (text, "ceiling_dbm=%.9g\n", w->limit_dbm);
  return sim_mask (text->str);
}

/* The sheet's keys that list sweeps of a purpose: one key each. */
static void
write_sweeps (const SimWorld *w, GString *text, SpPurpose purpose)
{
  guint count = 0;
  double pad = 0, notch = 0;
  for (guint k = 0; k < w->n_sweeps; k++) {
    if (w->sweep[k].purpose != purpose)
      continue;
    pad = w->sweep[k].pad_db;
    notch = w->sweep[k].notch_db;
    if (count++ == 0)
      g_string_append_printf (text, "%s=s%u", sp_purpose_name (purpose), k);
    else
      g_string_append_printf (text, ";s%u", k);
    if (purpose == SP_PURPOSE_STEP)
      g_string_append_printf (text, " %.9g", w->sweep[k].attenuation_db - w->sweep[0].attenuation_db + pad);
  }
  if (count)
    g_string_append (text, "\n");
  if (count && (pad > 0 || notch > 0))
    g_string_append_printf (text, "%s_chain=with_%.9g_%.9g\n", sp_purpose_name (purpose), pad, notch);
}

static void
write_sheet (const SimWorld *w, GString *text)
{
  g_string_append_printf (
      text,
      "[bench]\nchain=c\nanalyzer=a\nmask=m\nrule=%s\nnecessary_bandwidth=16kHz\nradio_vswr=%.9g\nradio_harmonic_vswr=%s\n"
      "[radio R]\nfundamental=%.9g\n",
      sp_decision_rule_name (w->rule), w->papers.radio_vswr, w->papers.radio_vswr > 1 ? "inf" : "1", SIM_F0);
  for (SpPurpose p = SP_PURPOSE_KEYED; p <= SP_PURPOSE_NOTCHED; p++)
    write_sweeps (w, text, p);
}

typedef struct {
  const SimWorld *world;
  SpAnalyzer *analyzer;
  SpMask *mask;
} Shelf;

static gpointer
find_resource (gpointer data, SpResourceKind kind, const char *name, const SpTraceOptions *options, GError **error)
{
  const Shelf *shelf = data;
  (void) options;
  (void) error;
  double pad = 0, notch = 0;
  switch (kind) {
  case SP_RESOURCE_CHAIN: sscanf (name, "with_%lf_%lf", &pad, &notch); return make_chain (shelf->world, pad, notch);
  case SP_RESOURCE_ANALYZER: return sp_analyzer_ref (shelf->analyzer);
  case SP_RESOURCE_MASK: return sp_mask_ref (shelf->mask);
  default: return sp_trace_ref (shelf->world->trace[g_ascii_strtoull (name + 1, NULL, 10)]);
  }
}

SpFindings *
sim_world_judge (SimWorld *w)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpAnalyzer) analyzer = make_analyzer (w);
  g_autoptr (SpMask) mask = make_mask (w);
  Shelf shelf = { w, analyzer, mask };
  SpResources resources = { find_resource, &shelf };
  write_sheet (w, text);
  g_autoptr (SpKeyFile) file = sim_parse (text->str, "sheet");
  g_autoptr (SpBench) bench = sp_bench_parse (file, &resources, &error);
  if (!bench)
    g_error ("%s", error->message);
  return sp_judge (bench);
}

void
sim_world_clear (SimWorld *w)
{
  for (guint k = 0; k < w->n_sweeps; k++)
    sp_trace_unref (w->trace[k]);
  w->n_sweeps = 0;
}

/* -- truth -- */

double
sim_limit_dbm (const SimWorld *w)
{
  return isnan (w->limit_dbm) ? w->radio_dbm[1] - w->limit_attenuation_db : w->limit_dbm;
}

double
sim_own_product_dbm (const SimWorld *w, guint order, double attenuation_db, double pad_db)
{
  SimSweep sweep = { SP_PURPOSE_KEYED, attenuation_db, pad_db, 0 };
  SimWave wave = at_mixer (w, &sweep, TRUE), out = sim_mix (&w->mixer, &wave);
  return sim_wave_dbm (&out, order) + attenuation_db + pad_db + w->chain_db[order];
}

/* By trial on the mixer itself: its product falls as the intercept rises. */
double
sim_intercept_for (const SimWorld *w, guint order, double attenuation_db, double product_dbm)
{
  SimWorld trial = *w;
  int sign[SIM_ORDERS + 1] = { 0 };
  sign[order] = 1;
  double low = -50, high = 150;
  for (guint i = 0; i < 60; i++) {
    double intercept[SIM_ORDERS + 1];
    for (guint n = 0; n <= SIM_ORDERS; n++)
      intercept[n] = NAN;
    intercept[order] = (low + high) / 2;
    trial.mixer = sim_mixer (intercept, sign);
    *(sim_own_product_dbm (&trial, order, attenuation_db, 0) > product_dbm ? &low : &high) = intercept[order];
  }
  return (low + high) / 2;
}

double
sim_noise_dbm (const SimWorld *w, guint order, double attenuation_db)
{
  return w->noise_dbm_hz + 10 * log10 (sim_noise_bandwidth_ratio () * w->settings.rbw_hz) + attenuation_db + w->chain_db[order];
}

double
sim_common_error_db (const SimWorld *w, guint order)
{
  return w->common_db + w->flat_db[order] + w->chain_error_db[order] + w->mismatch_db[order];
}

const SpEmission *
sim_emission (const SpFindings *findings, guint order)
{
  const SpConditionFindings *c = &findings->conditions[0];
  for (guint i = 0; i < c->n_emissions; i++)
    if (c->emissions[i].order == order)
      return &c->emissions[i];
  g_return_val_if_reached (NULL);
}
