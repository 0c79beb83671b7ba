/* A local repeater beside the radio's own lines: what stands there unkeyed is ambient, what does not never is.
 *
 * Each bench has one line of interest, 10 to 40 dB over the floor, and an unkeyed sweep of the same settings.
 */
#include "tests/simulate/world.h"
#include "tests/suite.h"

#define ATTENUATION 10.0
#define DETECTION_LIMIT_DB 12.5 /* over the mean noise, with what half a point's distance may lose */
#define ODD_PLACE 33.3e6        /* no harmonic */

typedef enum { NEITHER = 0, RADIO = 1, AMBIENT = 2 } Present;

typedef struct {
  const char *name;
  Present present;
  gboolean harmonic;            /* the ambient line stands in a harmonic's window; else elsewhere */
  double ambient_over_radio_db; /* where both are there */
} Kind;

static const Kind kinds[] = {
  { "repeater in a harmonic's window", AMBIENT, TRUE, NAN },
  { "repeater elsewhere", AMBIENT, FALSE, NAN },
  { "the radio's own harmonic", RADIO, TRUE, NAN },
  { "the radio's own harmonic, a repeater 12 dB weaker", RADIO | AMBIENT, TRUE, -12 },
  { "the radio's own harmonic, a repeater 6 dB weaker", RADIO | AMBIENT, TRUE, -6 },
  { "a repeater 12 dB over the radio's own harmonic", RADIO | AMBIENT, TRUE, 12 },
};

typedef struct {
  guint n, of[SP_ORIGIN_UNTESTED + 1], verdict[SP_VERDICT_EXCEEDS + 1], covered, with_interval;
} Tally;

static const SpEmission *
find (const SpFindings *findings, gboolean harmonic)
{
  const SpConditionFindings *c = &findings->conditions[0];
  if (harmonic)
    return sim_emission (findings, 3);
  for (guint i = 0; i < c->n_emissions; i++)
    if (fabs (c->emissions[i].frequency_hz - ODD_PLACE) < 150e3)
      return &c->emissions[i];
  return NULL;
}

/* radio_over_limit NaN: the limit is far above all. */
static void
run (const Kind *kind, guint64 seed, guint benches, double radio_over_limit, Tally *tally)
{
  for (guint i = 0; i < benches; i++) {
    SimWorld w;
    sim_world_init (&w, seed + i);
    SimChance *r = &w.chance;
    sim_world_shift (&w);
    double greater = sim_noise_dbm (&w, 3, ATTENUATION) + DETECTION_LIMIT_DB + sim_between (r, 10, 40);
    double ambient = kind->present == (RADIO | AMBIENT) ? greater + fmin (kind->ambient_over_radio_db, 0) : greater;
    double radio = kind->present == (RADIO | AMBIENT) ? greater - fmax (kind->ambient_over_radio_db, 0) : greater;
    w.papers.accuracy = w.papers.flatness = 0.5;
    w.papers.repeatability = 0.05;
    w.papers.attenuator_switch = w.papers.scale = 0.2;
    w.papers.intercept_dbm[2] = w.papers.intercept_dbm[3] = 80; /* nothing of the analyzer's own */
    w.limit_dbm = isnan (radio_over_limit) ? 100 : radio - radio_over_limit;
    if (kind->present & RADIO)
      w.radio_dbm[3] = radio;
    if (kind->present & AMBIENT) {
      double place = kind->harmonic ? 3 * SIM_F0 + sim_between (r, -25e3, 25e3) : ODD_PLACE;
      w.ambient[w.n_ambient++] = (SimLine){ place, ambient - w.chain_db[3], 0 };
    }
    sim_world_draw (&w);
    sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_KEYED, ATTENUATION, 0, 0 });
    sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_UNKEYED, ATTENUATION, 0, 0 });
    g_autoptr (SpFindings) findings = sim_world_judge (&w);
    const SpEmission *e = find (findings, kind->harmonic);
    ck_assert_msg (e && e->detected, "%s: bench %u shows no line", kind->name, i);
    double truth = kind->present & RADIO ? radio : -INFINITY, expanded = e->budget.expanded_level_db;
    tally->n++;
    tally->of[e->origin]++;
    tally->verdict[e->verdict]++;
    tally->with_interval += !isnan (e->radio_high_dbm);
    tally->covered += truth >= e->radio_low_dbm - expanded && truth <= e->radio_high_dbm + expanded;
    sim_world_clear (&w);
  }
}

START_TEST (whose_it_is)
{
  const Kind *kind = &kinds[_i];
  Tally t = { 0 };
  run (kind, 9000000 + 100000 * (guint64) _i, sim_many (150, 3000), NAN, &t);
  g_autofree char *ambient = g_strdup_printf ("%s: ambient", kind->name),
                  *covered = g_strdup_printf ("%s: the interval and U hold the radio's part", kind->name);
  printf ("simulated\tradio %u mixed %u ambient %u untested %u\t%s\n", t.of[SP_ORIGIN_RADIO], t.of[SP_ORIGIN_MIXED],
          t.of[SP_ORIGIN_AMBIENT], t.of[SP_ORIGIN_UNTESTED], kind->name);
  if (kind->present == RADIO || kind->ambient_over_radio_db == -12)
    ck_assert_uint_eq (t.of[SP_ORIGIN_AMBIENT], 0);
  else if (kind->ambient_over_radio_db != -6) /* opposite phases bring the reading down to the repeater's own level */
    sim_at_least (ambient, t.of[SP_ORIGIN_AMBIENT], t.n, 0.97);
  sim_at_least (covered, t.covered, t.with_interval, 0.94);
}
END_TEST

/* A repeater over the limit is no excess of the radio's; a radio that is over it itself does not comply because a repeater is. */
START_TEST (verdicts_beside_a_repeater)
{
  Tally clean = { 0 }, dirty = { 0 };
  run (&kinds[5], 9700000, sim_many (150, 3000), -9, &clean); /* the radio 9 dB under the limit, the repeater 3 dB over it */
  run (&kinds[5], 9800000, sim_many (150, 3000), 3, &dirty);  /* the radio 3 dB over it */
  sim_at_most ("repeater over the limit: exceeds though it complies", clean.verdict[SP_VERDICT_EXCEEDS], clean.n, 1e-3);
  sim_at_most ("radio over the limit beside a repeater: complies though it exceeds", dirty.verdict[SP_VERDICT_COMPLIES], dirty.n, 1e-3);
}
END_TEST

/* A weaker one stands in the filter with some phase: it may lower what is read. */
START_TEST (verdicts_at_the_edge)
{
  const Kind *kind = &kinds[_i];
  Tally over = { 0 }, under = { 0 };
  run (kind, 11000000 + 100000 * (guint64) _i, sim_many (150, 5000), 0.001, &over);
  run (kind, 12000000 + 100000 * (guint64) _i, sim_many (150, 5000), -0.001, &under);
  g_autofree char *complies = g_strdup_printf ("%s, at the limit: complies though it exceeds", kind->name);
  g_autofree char *exceeds = g_strdup_printf ("%s, at the limit: exceeds though it complies", kind->name);
  sim_at_most (complies, over.verdict[SP_VERDICT_COMPLIES], over.n, 0.02275);
  sim_at_most (exceeds, under.verdict[SP_VERDICT_EXCEEDS], under.n, 0.02275);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/ambient");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 2400);
  tcase_add_loop_test (c, whose_it_is, 0, G_N_ELEMENTS (kinds));
  tcase_add_test (c, verdicts_beside_a_repeater);
  tcase_add_loop_test (c, verdicts_at_the_edge, 2, 5);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
