/* Both have a part in it, within 6 dB, in any phase, while the radio's own part is over the limit: no such bench complies beyond the rule's risk. */
#include "tests/simulate/world.h"
#include "tests/suite.h"

#define GUARDED 0.02275
#define ATTENUATION 10.0

typedef struct {
  const char *name;
  double step_db[2];
  gboolean papers; /* intercepts stated: else only a step test can tell */
} Kind;

static const Kind kinds[] = {
  { "predicted", { 0, 0 }, TRUE },
  { "a step of 10 dB", { 10, 0 }, TRUE },
  { "a step of 10 dB, nothing stated", { 10, 0 }, FALSE },
  { "steps of 5 and 10 dB, nothing stated", { 5, 10 }, FALSE },
};

/* The radio's part this far over the limit; the analyzer's from 6 dB under it to 6 dB over it. */
static SpVerdict
judge (const Kind *kind, guint64 seed, double low_db, double high_db, SpOrigin *origin)
{
  SimWorld w;
  sim_world_init (&w, seed);
  SimChance *r = &w.chance;
  guint order = sim_uniform (r) < 0.5 ? 2 : 3;
  sim_world_shift (&w);
  double radio = sim_noise_dbm (&w, order, ATTENUATION) + sim_between (r, 25, 45);
  w.papers.accuracy = sim_between (r, 0.2, 1);
  w.papers.flatness = sim_between (r, 0.1, 0.5);
  w.papers.scale = 0.2;
  w.papers.repeatability = 0.05;
  w.papers.attenuator_switch = 0.2;
  w.papers.chain_u = 0.1;
  w.papers.intercept_u = 1;
  w.radio_dbm[order] = radio;
  w.limit_dbm = radio - sim_between (r, low_db, high_db);
  double own = radio + sim_between (r, -6, 6), intercept = sim_intercept_for (&w, order, ATTENUATION, own);
  w.intercept_dbm[order] = intercept;
  if (kind->papers)
    w.papers.intercept_dbm[order] = intercept; /* sim_world_draw: the mixer's differs by its u */
  sim_world_draw (&w);
  sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_KEYED, ATTENUATION, 0, 0 });
  for (guint k = 0; k < 2 && kind->step_db[k] > 0; k++)
    sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_STEP, ATTENUATION + kind->step_db[k], 0, 0 });
  g_autoptr (SpFindings) findings = sim_world_judge (&w);
  sim_world_clear (&w);
  *origin = sim_emission (findings, order)->origin;
  return findings->conditions[0].verdict;
}

START_TEST (never_complies)
{
  static const double low[3] = { 0.001, 0.001, 3 }, high[3] = { 0.002, 3, 15 };
  static const char *const places[] = { "at the edge", "within 3 dB", "far" };
  const Kind *kind = &kinds[_i];
  guint complies[3] = { 0 }, n[3] = { 0 }, said[SP_ORIGIN_UNTESTED + 1] = { 0 };
  for (guint i = 0; i < sim_many (240, 6000); i++) {
    SpOrigin origin;
    guint where = i % 3;
    n[where]++;
    complies[where] += judge (kind, 20000000 + 100000 * (guint64) _i + i, low[where], high[where], &origin) == SP_VERDICT_COMPLIES;
    said[origin]++;
  }
  printf ("simulated\tnone %u radio %u analyzer %u mixed %u untested %u\t%s\n", said[SP_ORIGIN_NONE], said[SP_ORIGIN_RADIO],
          said[SP_ORIGIN_ANALYZER], said[SP_ORIGIN_MIXED], said[SP_ORIGIN_UNTESTED], kind->name);
  for (guint k = 0; k < 3; k++) {
    g_autofree char *name = g_strdup_printf ("mixed, %s: complies though the radio exceeds, truth %s", kind->name, places[k]);
    sim_at_most (name, complies[k], n[k], GUARDED);
  }
  ck_assert_uint_gt (said[SP_ORIGIN_MIXED], (n[0] + n[1] + n[2]) / 3);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/mixed");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 2400);
  tcase_add_loop_test (c, never_complies, 0, G_N_ELEMENTS (kinds));
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
