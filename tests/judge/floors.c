/* floors.c - the floor that planning promises is the floor that judging finds, over benches of many profiles and settings
 *
 * The trace is what the profile says without any chance: each reading of noise is the median that its law gives. Carrier and noise are written here
 * from the trade's definitions (Gaussian filter, powers that add), not by the program's formulas. Nothing is seen at the harmonics, so all that
 * stands there is the floor: detection limit, phase noise, skirt and q_high.
 */
#include "core/judge/judge.h"
#include "tests/suite.h"

#include "tests/plan/shop.h"

#define BENCHES 60
#define DANL_DBM_HZ -150.0 /* of the shop's analyzer */
#define SAME_DB 0.03       /* of readings written to 0.0001 dB, and a carrier's place known to a tenth of the spacing */

typedef struct {
  double phase_dbc_hz; /* flat, so that no interpolation comes in; NaN: none */
  SpSetting setting;
} World;

static double
one_of (GRand *rand, const double *values, gint32 n)
{
  return values[g_rand_int_range (rand, 0, n)];
}

static char *
profile_of (const World *w, double intercept_dbm)
{
  g_autofree char *phase = isnan (w->phase_dbc_hz)
                               ? g_strdup ("")
                               : g_strdup_printf ("phase_noise_dbc_hz=10kHz %.0f; 1GHz %.0f\n", w->phase_dbc_hz, w->phase_dbc_hz);
  return g_strdup_printf ("second_intercept_dbm=%.0f\nthird_harmonic_intercept_dbm=%.0f\n"
                          "harmonic_intercepts_dbm=4 %.0f; 5 %.0f\nbest_mixer_dbm=0\n%s",
                          intercept_dbm + 30, intercept_dbm + 10, intercept_dbm, intercept_dbm, phase);
}

static World
random_world (GRand *rand)
{
  static const double rbws[] = { 30e3, 100e3, 300e3, 1e6 }, attenuations[] = { 0, 10, 20, 30 }, phases[] = { NAN, -140, -120, -105 };
  static const SpDetector detectors[] = { SP_DETECTOR_PEAK, SP_DETECTOR_PEAK, SP_DETECTOR_SAMPLE, SP_DETECTOR_RMS };
  double rbw = one_of (rand, rbws, 4), spacing = rbw * (double[]){ 0.4, 1, 4 }[g_rand_int_range (rand, 0, 3)];
  double below = ceil (40e6 / spacing), above = ceil (620e6 / spacing);
  return (World){ .phase_dbc_hz = one_of (rand, phases, 4),
                  .setting = { .rbw_hz = rbw,
                               .attenuation_db = one_of (rand, attenuations, 4),
                               .start_hz = F0 - below * spacing, /* f0 stands on a point */
                               .stop_hz = F0 + above * spacing,
                               .points = below + above + 1,
                               .parts = 1,
                               .detector = spacing > rbw ? SP_DETECTOR_PEAK : detectors[g_rand_int_range (rand, 0, 4)],
                               .averages = 1 } };
}

/* At the input, in mW: the carrier through a Gaussian filter. A peak detector finds it anywhere in its bucket, an rms one takes the mean there. */
static double
carrier_mw (const World *w, double carrier_dbm, double away_hz)
{
  const SpSetting *s = &w->setting;
  double spacing = sp_setting_spacing_hz (s), sum = 0;
  gboolean mean = s->detector == SP_DETECTOR_RMS;
  int n = mean ? 20 : 0;
  for (int k = -n; k <= n; k++) {
    double away = s->detector == SP_DETECTOR_PEAK ? fmax (0, away_hz - spacing / 2) : away_hz + (mean ? spacing * k / (2 * n + 1) : 0);
    sum += pow (10, (carrier_dbm - 12.0412 * pow (away / s->rbw_hz, 2)) / 10);
  }
  return sum / (2 * n + 1);
}

static void
put_sweep (const Shop *shop, SpPlan *plan, const World *w)
{
  const SpSetting *s = &w->setting;
  gboolean assumed;
  double nbw = 1.0645 * s->rbw_hz, spacing = sp_setting_spacing_hz (s), carrier = sp_plan_mixer_dbm (plan, s) + s->attenuation_db;
  SpSettings settings = { .rbw_hz = s->rbw_hz, .detector = s->detector, .average = SP_AVERAGE_NONE, .averages = 1 };
  SpDetectorLaw law = sp_law_of (&settings, spacing, nbw, &assumed);
  double median_db = sp_law_noise_quantile_db (&law, 0.5);
  double noise_mw = pow (10, (DANL_DBM_HZ + s->attenuation_db) / 10) * nbw;
  if (!isnan (w->phase_dbc_hz))
    noise_mw += pow (10, (carrier + w->phase_dbc_hz) / 10) * nbw;
  GString *text = g_string_new (NULL);
  g_string_append_printf (text, "RBW,%.0f Hz\nAttenuation,%.0f dB\nDetector,%s\nFrequency (Hz),Level (dBm)\n", s->rbw_hz, s->attenuation_db,
                          sp_detector_name (s->detector));
  for (double i = 0; i < s->points; i++) {
    double f = s->start_hz + spacing * i, line = carrier_mw (w, carrier, fabs (f - F0));
    g_string_append_printf (text, "%.1f,%.4f\n", f, 10 * log10 (line + noise_mw * pow (10, median_db / 10)));
  }
  shop_put (shop->folder, "k-1.csv", text->str);
  g_string_free (text, TRUE);
}

static guint
compare (const Shop *shop, SpPlan *plan, const World *w, guint seed)
{
  guint compared = 0;
  put_sweep (shop, plan, w);
  g_autoptr (SpBench) bench = plan_bench_of (shop, "k-1.csv");
  g_autoptr (SpFindings) found = sp_judge (bench);
  const SpConditionFindings *c = &found->conditions[0];
  ck_assert_double_eq_tol (c->power_dbm, sp_dbm_from_watt (5), 0.02);
  SpTask task = shop->task;
  task.signal_hz = c->signal_hz; /* the sweep may show that the carrier is narrower than the sheet allows */
  task.signal_folds = c->signal_folds;
  g_autoptr (SpPlan) shown = sp_plan_new (&task);
  for (guint i = 0; i < c->n_emissions; i++) {
    const SpEmission *e = &c->emissions[i];
    if (!e->order || e->detected || e->unresolved)
      continue;
    SpOutlook o = sp_plan_harmonic (shown, &w->setting, e->order);
    ck_assert_msg (fabs (o.floor_dbm - e->floor_dbm) <= SAME_DB, "bench %u, %s at %.1f RBW, order %u: planned %.3f (%s), judged %.3f (%s)",
                   seed, sp_detector_name (w->setting.detector), sp_setting_spacing_hz (&w->setting) / w->setting.rbw_hz, e->order,
                   o.floor_dbm, sp_floor_cause_name (o.cause), e->floor_dbm, sp_floor_cause_name (e->floor_cause));
    compared++;
  }
  return compared;
}

START_TEST (planned_is_judged)
{
  guint compared = 0, caused[4] = { 0 };
  for (guint seed = 0; seed < BENCHES; seed++) {
    g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
    World w = random_world (rand);
    g_autofree char *profile = profile_of (&w, g_rand_int_range (rand, 0, 40));
    Shop shop = plan_shop (profile, PLAN_MASK);
    g_autoptr (SpPlan) plan = sp_plan_new (&shop.task);
    compared += compare (&shop, plan, &w, seed);
    for (guint order = 2; order <= 5; order++)
      caused[sp_plan_harmonic (plan, &w.setting, order).cause]++;
    plan_shop_close (&shop);
  }
  ck_assert_uint_ge (compared, 3 * BENCHES);
  ck_assert (caused[SP_CAUSE_NOISE] && caused[SP_CAUSE_PHASE_NOISE] && caused[SP_CAUSE_PRODUCT]); /* else it would show little */
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("floors");
  TCase *c = tcase_create ("floors");
  tcase_set_timeout (c, 120);
  tcase_add_test (c, planned_is_judged);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
