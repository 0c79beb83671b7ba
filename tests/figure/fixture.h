/* fixture.h - findings of an invented evening, put together by hand: what a figure must show stands here on purpose
 *
 * Four hand-helds behind one chain: one complies, one exceeds, one is inconclusive, one has a floor above its limit (blind from 175 MHz
 * up); and a condition without a limit. Numbers are stated, not judged; only the chain's loss and headroom come from the core.
 */
#pragma once

#include "core/findings/findings.h"
#include "core/quantity/units.h"

#include <math.h>

#define FIXTURE_CHAIN                                                                                                                      \
  "[chain]\nname=Shelf two\nstages=patch;power pad;small pad;patch two\ncalibrated=2026-09-12\n"                                           \
  "[stage patch]\nkind=cable\nrating_w=100\nvswr=1.1\npoints=50MHz 0.21 0.03; 150MHz 0.41 0.03; 1600MHz 1.3 0.05\n"                        \
  "[stage power pad]\nkind=pad\nrating_w=25\nvswr=1.1\npoints=50MHz 30.11 0.05; 1600MHz 30.2 0.08\n"                                       \
  "[stage small pad]\nkind=pad\nrating_w=2\nvswr=1.1\npoints=50MHz 10.94 0.05; 1600MHz 11.02 0.08\n"                                       \
  "[stage patch two]\nkind=cable\nrating_w=25\nvswr=1.1\npoints=50MHz 0.2 0.02; 150MHz 0.27 0.02; 1600MHz 0.9 0.04\n"
#define FIXTURE_ANALYZER                                                                                                                   \
  "[analyzer]\nname=Shelf analyzer\ndamage_dbm=20\ndanl_dbm_hz=10MHz -148; 3GHz -142\nattenuator_steps_db=0;10;20;30\n"
#define FIXTURE_MASK                                                                                                                       \
  "[mask]\nname=House limit\nauthority=none\nclause=our own, 30\xe2\x80\x93"                                                               \
  "225 MHz\nedition=2026\n"                                                                                                                \
  "[rule 1]\nfundamental=30MHz 225MHz\npower_w=0 25\nemission=10MHz 3GHz\nattenuation_db=0\nceiling_dbm=-16.0206\n"

typedef struct {
  const char *radio, *condition;
  double f0_hz, power_dbm, noise_dbm; /* mean noise at the socket */
  double floor_above_db;              /* floor over noise */
  SpVerdict verdict;
  double worst_margin_db;
  guint worst_order;
  struct {
    guint order;
    double level_dbm, u_db;
    SpOrigin origin;
    SpVerdict verdict;
  } seen[6];
} FixtureRadio;

static const FixtureRadio fixture_radios[] = {
  { "Tolvane",
    "2 m, high",
    146.2e6,
    36.8,
    -48.5,
    11,
    SP_VERDICT_COMPLIES,
    8.2,
    3,
    { { 2, -31.0, 0.45, SP_ORIGIN_RADIO, SP_VERDICT_COMPLIES },
      { 3, -24.2, 0.45, SP_ORIGIN_RADIO, SP_VERDICT_COMPLIES },
      { 5, -36.0, 0.5, SP_ORIGIN_MIXED, SP_VERDICT_COMPLIES } } },
  { "Mirrick",
    "2 m, high",
    146.2e6,
    36.7,
    -46.5,
    11,
    SP_VERDICT_EXCEEDS,
    -9.4,
    2,
    { { 2, -6.6, 0.55, SP_ORIGIN_RADIO, SP_VERDICT_EXCEEDS },
      { 3, -19.4, 0.45, SP_ORIGIN_RADIO, SP_VERDICT_COMPLIES },
      { 4, -30.0, 0.5, SP_ORIGIN_UNTESTED, SP_VERDICT_COMPLIES } } },
  { "Askerby", "2 m, high", 146.2e6, 36.9, -24.5, 12.6, SP_VERDICT_NOT_PROVEN, -4.1, 3, { { 0 } } },
  { "Quillow",
    "2 m, high",
    146.2e6,
    36.5,
    -47.4,
    11,
    SP_VERDICT_INCONCLUSIVE,
    0.4,
    3,
    { { 3, -16.4, 0.45, SP_ORIGIN_RADIO, SP_VERDICT_INCONCLUSIVE }, { 4, -38.0, 0.5, SP_ORIGIN_ANALYZER, SP_VERDICT_COMPLIES } } },
  { "Quillow",
    "70 cm, high",
    433.6e6,
    34.0,
    -47.9,
    11,
    SP_VERDICT_NO_LIMIT,
    NAN,
    2,
    { { 2, -29.0, 0.5, SP_ORIGIN_AMBIENT, SP_VERDICT_NO_LIMIT } } },
};

#define FIXTURE_N G_N_ELEMENTS (fixture_radios)
#define FIXTURE_STOP_HZ 1.55e9
#define FIXTURE_STEP_HZ 175e6
#define FIXTURE_LIMIT_DBM -16.0206

static inline SpKeyFile *
fixture_file (const char *text, const char *name)
{
  g_autoptr (GError) error = NULL;
  SpKeyFile *file = sp_key_file_parse (text, strlen (text), name, &error);
  g_assert_no_error (error);
  return file;
}

/* A line's shape through a Gaussian filter that is wide enough to be seen. */
static inline double
fixture_line (double f, double f0, double level_dbm, double width_hz)
{
  return level_dbm - 12.04 * ((f - f0) / width_hz) * ((f - f0) / width_hz);
}

static inline double
fixture_noise_slope (double f)
{
  return 2.6 * f / FIXTURE_STOP_HZ - (f < FIXTURE_STEP_HZ ? 5.5 : 0); /* a preamplifier below the step */
}

static inline double
fixture_floor (const FixtureRadio *radio, double f, SpFloorCause *cause)
{
  double noise = radio->noise_dbm + fixture_noise_slope (f) + radio->floor_above_db,
         skirt = fixture_line (f, radio->f0_hz, radio->power_dbm - 14, 4e6);
  *cause = skirt > noise ? SP_CAUSE_SKIRT : SP_CAUSE_NOISE;
  return sp_add_powers_dbm (noise, MAX (skirt, -300));
}

static inline double
fixture_level (const FixtureRadio *radio, double f, GRand *rand)
{
  double level = radio->noise_dbm + fixture_noise_slope (f), looks = 0;
  for (guint i = 0; i < 12; i++)
    looks -= log (1 - g_rand_double (rand)) / 12;
  level += 10 * log10 (looks);
  level = sp_add_powers_dbm (level, MAX (-300, fixture_line (f, radio->f0_hz, radio->power_dbm, 4e6)));
  double offset = fabs (f - radio->f0_hz) / 1e6;
  level = sp_add_powers_dbm (level, radio->power_dbm - 68 - 1.5 * offset);
  for (guint i = 0; i < G_N_ELEMENTS (radio->seen) && radio->seen[i].order; i++)
    level = sp_add_powers_dbm (level, MAX (-300, fixture_line (f, radio->seen[i].order * radio->f0_hz, radio->seen[i].level_dbm, 3e6)));
  return level;
}

static inline SpTrace *
fixture_trace (const FixtureRadio *radio, guint64 n, guint seed)
{
  g_autofree double *f = g_new (double, n), *level = g_new (double, n);
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  g_autoptr (GError) error = NULL;
  for (guint64 i = 0; i < n; i++) {
    f[i] = FIXTURE_STOP_HZ * (double) i / (double) (n - 1);
    level[i] = fixture_level (radio, f[i], rand) - 42;
  }
  SpSettings settings;
  sp_settings_init (&settings);
  settings.rbw_hz = 100e3;
  settings.attenuation_db = 20;
  settings.detector = SP_DETECTOR_PEAK;
  SpTrace *trace = sp_trace_new (radio->radio, n, f, level, &settings, &error);
  g_assert_no_error (error);
  return trace;
}

static const char *fixture_date = "2026-10-03"; /* of the benches to be made; NULL: none */

static inline SpBench *
fixture_bench (guint64 n, int only)
{
  SpBench *bench = g_atomic_rc_box_new0 (SpBench);
  g_autoptr (GError) error = NULL;
  g_autoptr (SpKeyFile) chain = fixture_file (FIXTURE_CHAIN, "shelf.chain");
  g_autoptr (SpKeyFile) analyzer = fixture_file (FIXTURE_ANALYZER, "shelf.analyzer");
  g_autoptr (SpKeyFile) mask = fixture_file (FIXTURE_MASK, "house.mask");
  bench->title = g_strdup ("Autumn bench night");
  bench->date = g_strdup (fixture_date);
  bench->chain = sp_chain_parse (chain, &error);
  g_assert_no_error (error);
  bench->analyzer = sp_analyzer_parse (analyzer, &error);
  g_assert_no_error (error);
  bench->mask = sp_mask_parse (mask, &error);
  g_assert_no_error (error);
  bench->temperature_c = bench->necessary_bandwidth_hz = bench->radio_vswr = NAN;
  bench->radio_harmonic_vswr = INFINITY;
  bench->n_radios = bench->n_conditions = FIXTURE_N;
  bench->radios = g_new0 (SpRadio, FIXTURE_N);
  bench->conditions = g_new0 (SpCondition, FIXTURE_N);
  bench->sheet_warnings = sp_reasons_new ();
  bench->warnings = sp_reasons_new ();
  for (guint i = 0; i < FIXTURE_N; i++) {
    SpCondition *c = &bench->conditions[i];
    bench->radios[i].name = g_strdup (fixture_radios[i].radio);
    bench->radios[i].installed_day = NAN;
    *c = (SpCondition){ .name = g_strdup (fixture_radios[i].condition),
                        .radio = i,
                        .fundamental_hz = fixture_radios[i].f0_hz,
                        .rated_w = 5,
                        .meter_dbm = NAN,
                        .meter_u_db = NAN,
                        .duty = 1,
                        .necessary_bandwidth_hz = NAN,
                        .n_sweeps = 1 };
    c->sweeps = g_new0 (SpSweep, 1);
    c->sweeps[0] = (SpSweep){ SP_PURPOSE_KEYED, fixture_trace (&fixture_radios[i], only < 0 || only == (int) i ? n : 1001, 17 + i), NULL,
                              NAN };
  }
  return bench;
}

static inline void
fixture_correct (SpCorrected *k, const FixtureRadio *radio, const SpTrace *trace)
{
  k->n = trace->n;
  k->frequency_hz = trace->frequency_hz;
  k->level_dbm = g_new (double, k->n);
  k->noise_dbm = g_new (double, k->n);
  k->floor_dbm = g_new (double, k->n);
  k->floor_cause = g_new (guint8, k->n);
  for (guint64 i = 0; i < k->n; i++) {
    SpFloorCause cause;
    k->level_dbm[i] = trace->reading_dbm[i] + 42;
    k->noise_dbm[i] = radio->noise_dbm + fixture_noise_slope (trace->frequency_hz[i]);
    k->floor_dbm[i] = fixture_floor (radio, trace->frequency_hz[i], &cause);
    k->floor_cause[i] = (guint8) cause;
  }
}

static inline void
fixture_emission (SpEmission *e, const FixtureRadio *radio, guint order)
{
  gboolean limited = radio->verdict != SP_VERDICT_NO_LIMIT;
  *e = (SpEmission){ .order = order,
                     .frequency_hz = order * radio->f0_hz,
                     .swept = order * radio->f0_hz <= FIXTURE_STOP_HZ,
                     .calibrated = TRUE,
                     .conformity = NAN,
                     .radio_low_dbm = NAN,
                     .radio_high_dbm = NAN,
                     .product_high_dbm = NAN };
  e->limit_dbm = limited ? FIXTURE_LIMIT_DBM : NAN;
  e->floor_dbm = fixture_floor (radio, e->frequency_hz, &e->floor_cause);
  e->level_dbm = e->floor_dbm;
  double u = 0.45;
  e->verdict = !limited ? SP_VERDICT_NO_LIMIT : e->floor_dbm > FIXTURE_LIMIT_DBM ? SP_VERDICT_NOT_PROVEN : SP_VERDICT_COMPLIES;
  for (guint i = 0; i < G_N_ELEMENTS (radio->seen) && radio->seen[i].order; i++)
    if (radio->seen[i].order == order) {
      e->detected = TRUE;
      e->level_dbm = radio->seen[i].level_dbm;
      u = radio->seen[i].u_db;
      e->origin = radio->seen[i].origin;
      e->verdict = radio->seen[i].verdict;
    }
  e->budget = (SpBudget){ .u_level_db = u, .k_level = 2, .dof_level = INFINITY, .u_margin_db = u, .k_margin = 2, .dof_margin = INFINITY };
  e->level_dbc = e->level_dbm - radio->power_dbm;
  e->margin_db = e->limit_dbm - e->level_dbm;
  if (e->detected && limited)
    e->conformity = e->margin_db > 3 ? 1 : e->margin_db > 0 ? 0.81 : 0;
  if (e->verdict == SP_VERDICT_NO_LIMIT)
    e->reason = sp_reason_bare (NO_NUMBER);
  else if (e->verdict == SP_VERDICT_EXCEEDS)
    e->reason = sp_reason (ABOVE_LIMIT, .over_db = -e->margin_db, .expanded_db = 2 * u, .part_over_db = NAN);
  else if (e->verdict == SP_VERDICT_INCONCLUSIVE)
    e->reason = sp_reason (WITHIN_UNCERTAINTY, .margin_db = e->margin_db, .expanded_db = 2 * u);
  else if (e->detected)
    e->reason = sp_reason (BELOW_LIMIT, .margin_db = e->margin_db, .expanded_db = 2 * u, .part_off_db = NAN);
  else if (e->verdict == SP_VERDICT_NOT_PROVEN)
    e->reason = sp_reason (FLOOR_ABOVE_LIMIT, .cause = SP_CAUSE_NOISE, .floor_dbm = e->floor_dbm, .limit_dbm = e->limit_dbm,
                           .expanded_db = 2 * u, .missing_db = 2 * u - e->margin_db);
  else
    e->reason = sp_reason (FLOOR_BELOW_LIMIT, .floor_dbm = e->floor_dbm, .limit_dbm = e->limit_dbm, .expanded_db = 2 * u);
  e->decision = isnan (e->margin_db) ? SP_DECISION_NONE : e->detected ? SP_DECISION_LEVEL : SP_DECISION_FLOOR;
  if (e->verdict == SP_VERDICT_NOT_PROVEN)
    e->would_prove = sp_reason (PROVE_FLOOR, .cause = SP_NO_WORD, .unsafe = FALSE, .missing_db = 3 + 2 * u - e->margin_db);
  else if (e->verdict == SP_VERDICT_INCONCLUSIVE)
    e->would_prove = sp_reason (PROVE_UNCERTAINTY, .largest = SP_TERM_CHAIN, .assumed = SP_NO_WORD, .stage = NULL,
                                .below_db = 2 * u - e->margin_db);
}

static inline void
fixture_condition (SpConditionFindings *c, const SpBench *bench, guint index)
{
  const FixtureRadio *radio = &fixture_radios[index];
  *c = (SpConditionFindings){ .condition = index,
                              .verdict = radio->verdict,
                              .worst_margin_db = radio->worst_margin_db,
                              .worst_emission = -1,
                              .unsettled_emission = -1,
                              .has_fundamental = TRUE,
                              .fundamental_hz = radio->f0_hz,
                              .power_dbm = radio->power_dbm,
                              .trace_level_dbm = radio->power_dbm,
                              .power_u_db = 0.3,
                              .power_k = 2,
                              .power_dof = INFINITY,
                              .necessary_bandwidth_hz = 16e3,
                              .exclude_hz = 300e3 };
  c->name = g_str_equal (radio->radio, "Quillow") ? g_strdup_printf ("%s/%s", radio->radio, radio->condition) : g_strdup (radio->radio);
  c->headroom = sp_headroom (bench->chain, bench->analyzer, sp_watt_from_dbm (radio->power_dbm), radio->f0_hz, NAN, 1, 20);
  c->mixer_dbm = c->headroom->mixer_dbm;
  c->n_emissions = 9;
  c->emissions = g_new0 (SpEmission, c->n_emissions);
  for (guint i = 0; i < c->n_emissions; i++) {
    fixture_emission (&c->emissions[i], radio, i + 2);
    if (i + 2 == radio->worst_order)
      c->worst_emission = (int) i;
  }
  c->n_corrected = 1;
  c->corrected = g_new0 (SpCorrected, 1);
  fixture_correct (&c->corrected[0], radio, bench->conditions[index].sweeps[0].trace);
  c->limit = g_array_new (FALSE, FALSE, sizeof (SpLimitSegment));
  double value = radio->verdict == SP_VERDICT_NO_LIMIT ? NAN : FIXTURE_LIMIT_DBM;
  SpLimitSegment below = { 10e6, radio->f0_hz - 300e3, value, value, NULL },
                 above = { radio->f0_hz + 300e3, FIXTURE_STOP_HZ, value, value, NULL };
  g_array_append_val (c->limit, below);
  g_array_append_val (c->limit, above);
  c->warnings = sp_reasons_new ();
}

/* `n` points for the trace of one condition, 1001 for the others; -1: `n` for all. (transfer full) */
static inline SpFindings *
fixture_findings_one (guint64 n, int only)
{
  SpFindings *findings = g_atomic_rc_box_new0 (SpFindings);
  findings->bench = fixture_bench (n, only);
  findings->safe = TRUE;
  findings->n = FIXTURE_N;
  findings->conditions = g_new0 (SpConditionFindings, FIXTURE_N);
  for (guint i = 0; i < FIXTURE_N; i++)
    fixture_condition (&findings->conditions[i], findings->bench, i);
  findings->warnings = sp_reasons_new ();
  return findings;
}

/* `n` points a trace. (transfer full) */
static inline SpFindings *
fixture_findings (guint64 n)
{
  return fixture_findings_one (n, -1);
}

/* One more sweep of the condition, of the bench's. */
static inline void
fixture_add_sweep (SpBench *bench, guint condition, SpPurpose purpose, double step_db)
{
  SpCondition *c = &bench->conditions[condition];
  c->sweeps = g_renew (SpSweep, c->sweeps, c->n_sweeps + 1);
  c->sweeps[c->n_sweeps++] = (SpSweep){ purpose, sp_trace_ref (c->sweeps[0].trace), NULL, step_db };
}

/* And of the findings': a step, unkeyed or superseded. Its level at the socket is the same everywhere, or as the judged sweep's where that is NaN. */
static inline void
fixture_add_other (SpFindings *findings, guint condition, SpPurpose purpose, double step_db, double level_dbm)
{
  SpConditionFindings *found = &findings->conditions[condition];
  guint *n = purpose == SP_PURPOSE_SUPERSEDED ? &found->n_superseded : &found->n_compared;
  SpCorrected **list = purpose == SP_PURPOSE_SUPERSEDED ? &found->superseded : &found->compared, *judged = &found->corrected[0];
  fixture_add_sweep (findings->bench, condition, purpose, step_db);
  *list = g_renew (SpCorrected, *list, *n + 1);
  SpCorrected *k = &(*list)[(*n)++];
  *k = (SpCorrected){ .sweep = findings->bench->conditions[condition].n_sweeps - 1, .n = judged->n, .frequency_hz = judged->frequency_hz };
  k->level_dbm = g_new (double, k->n);
  for (guint64 i = 0; i < k->n; i++)
    k->level_dbm[i] = isnan (level_dbm) ? judged->level_dbm[i] : level_dbm;
}
