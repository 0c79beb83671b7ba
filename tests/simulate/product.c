/* The analyzer's own product beside a harmonic, in any phase: does level +- U hold the radio's level? The truth: a radio's harmonic, a mixer whose intercept
 * differs from its papers by their u, all of the analyzer's and the chain's errors as stated.
 */
#include "tests/simulate/world.h"
#include "tests/suite.h"

#include <string.h>

#define ATTENUATION 10.0
#define LEAST_SHARE 0.93

typedef struct {
  const char *name;
  double step_db[2]; /* 0: none */
} Kind;

static const Kind kinds[] = { { "predicted", { 0, 0 } }, { "one step", { 10, 0 } }, { "two steps", { 5, 10 } } };
static const double below[] = { 8, 10, 14, 20, 25, 45 };

static SpFindings *
measure (SimWorld *w, const Kind *kind, guint order, double below_db, guint64 seed)
{
  sim_world_init (w, seed);
  sim_world_shift (w);
  double radio = sim_noise_dbm (w, order, ATTENUATION) + sim_between (&w->chance, 50, 60);
  w->settings.detector = SP_DETECTOR_RMS;
  w->papers.accuracy = 0.4;
  w->papers.flatness = 0.3;
  w->papers.scale = 0.2;
  w->papers.repeatability = 0.05;
  w->papers.attenuator_switch = 0.2;
  w->papers.chain_u = 0.1;
  w->papers.intercept_u = 0.5;
  w->radio_dbm[order] = radio;
  w->papers.intercept_dbm[order] = sim_intercept_for (w, order, ATTENUATION, radio - below_db);
  sim_world_draw (w);
  sim_world_sweep (w, (SimSweep){ SP_PURPOSE_KEYED, ATTENUATION, 0, 0 });
  for (guint k = 0; k < 2 && kind->step_db[k] > 0; k++)
    sim_world_sweep (w, (SimSweep){ SP_PURPOSE_STEP, ATTENUATION + kind->step_db[k], 0, 0 });
  SpFindings *findings = sim_world_judge (w);
  sim_world_clear (w);
  return findings;
}

static double
product_u_db (const SpBudget *b)
{
  for (guint i = 0; i < b->n; i++)
    if (b->terms[i].kind == SP_TERM_PRODUCT)
      return b->terms[i].u_level_db;
  return 0;
}

typedef struct {
  guint n, level, dbc, without;
  double sum_u_db;
} Tally;

static void
count (const SimWorld *w, const SpFindings *findings, guint order, Tally *t)
{
  const SpEmission *e = sim_emission (findings, order);
  const SpBudget *b = &e->budget;
  double radio = w->radio_dbm[order], off = e->level_dbm - radio, dbc = e->level_dbc - (radio - w->radio_dbm[1]), u = product_u_db (b);
  t->n++;
  t->level += fabs (off) <= b->expanded_level_db;
  t->dbc += fabs (dbc) <= b->expanded_dbc_db;
  t->without += fabs (off) <= b->k_level * sqrt (fmax (0, b->u_level_db * b->u_level_db - u * u));
  t->sum_u_db += b->expanded_level_db;
}

START_TEST (u_holds_the_radios_level)
{
  const Kind *kind = &kinds[_i / G_N_ELEMENTS (below)];
  double below_db = below[_i % G_N_ELEMENTS (below)];
  Tally t = { 0 };
  for (guint i = 0; i < sim_many (60, 1500); i++) {
    SimWorld w;
    guint order = i % 2 ? 3 : 2;
    g_autoptr (SpFindings) findings = measure (&w, kind, order, below_db, 9000000 + 10000 * (guint64) _i + i);
    count (&w, findings, order, &t);
  }
  g_autofree char *level = g_strdup_printf ("%s, product %g dB below: level +- U", kind->name, below_db);
  g_autofree char *dbc = g_strdup_printf ("%s, product %g dB below: dBc +- U", kind->name, below_db);
  printf ("simulated\tinside %u and %u of %u, without the term %u; U %.2f dB on average\t%s\n", t.level, t.dbc, t.n, t.without,
          t.sum_u_db / t.n, level);
  fflush (stdout);
  sim_at_least (level, t.level, t.n, LEAST_SHARE);
  sim_at_least (dbc, t.dbc, t.n, LEAST_SHARE);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/product");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 2400);
  tcase_add_loop_test (c, u_holds_the_radios_level, 0, G_N_ELEMENTS (kinds) * G_N_ELEMENTS (below));
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
