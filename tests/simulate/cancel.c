/* One step near cancellation: the radio's part and the analyzer's product stand against each other, over all phases. A single step then reads what the
 * radio alone, or the product alone, would read too; a second one tells. The truth of each: the radio's own part lies over the limit.
 */
#include "tests/simulate/world.h"
#include "tests/suite.h"

#define ATTENUATION 10.0
#define OVER_LIMIT 1.5
#define PHASES 36
#define RADIO_DBM -14.5

typedef struct {
  const char *name;
  double product_over_radio_db;
  double better_db;  /* the mixer's intercept over what its papers guarantee */
  double step_db[2]; /* 0: none */
} Kind;

static const Kind kinds[] = {
  { "+2 dB, one step", 2, 0, { 10, 0 } },
  { "+3 dB, one step", 3, 0, { 10, 0 } },
  { "+3.6 dB, one step", 3.6, 0, { 10, 0 } },
  { "+6 dB, one step", 6, 0, { 10, 0 } },
  { "+3.6 dB, one step, 3 dB better than its papers", 3.6, 3, { 10, 0 } },
  { "+3.6 dB, one step, 8 dB better than its papers", 3.6, 8, { 10, 0 } },
  { "+7 dB, one step", 7, 0, { 10, 0 } },
  { "+9 dB, one step", 9, 0, { 10, 0 } },
  { "+12 dB, one step", 12, 0, { 10, 0 } },
  { "0 dB, one step", 0, 0, { 10, 0 } },
  { "-3 dB, one step", -3, 0, { 10, 0 } },
  { "+2 dB, two steps", 2, 0, { 5, 10 } },
  { "+3.6 dB, two steps", 3.6, 0, { 5, 10 } },
  { "+6 dB, two steps", 6, 0, { 5, 10 } },
  { "+2 dB, steps of 10 and 20 dB", 2, 0, { 10, 20 } },
  { "+3.6 dB, steps of 10 and 20 dB", 3.6, 0, { 10, 20 } },
  { "+7 dB, steps of 10 and 20 dB", 7, 0, { 10, 20 } },
};

typedef struct {
  guint n, complies, said_radio, said_analyzer, missed, asks, cancels, settled;
} Tally;

static SpFindings *
measure (const Kind *kind, guint phase, guint64 seed)
{
  SimWorld w;
  sim_world_init (&w, seed);
  w.settings.detector = SP_DETECTOR_RMS;
  w.settings.points = 2001;
  w.papers.accuracy = w.papers.flatness = 0.3;
  w.papers.scale = 0.1;
  w.papers.repeatability = 0.05;
  w.papers.attenuator_switch = 0.1;
  w.papers.chain_u = 0.1;
  w.papers.intercept_u = 0.5;
  w.radio_dbm[2] = RADIO_DBM;
  w.limit_attenuation_db = NAN;
  w.limit_dbm = RADIO_DBM - OVER_LIMIT;
  w.harmonics = 2;
  w.intercept_dbm[2] = sim_intercept_for (&w, 2, ATTENUATION, RADIO_DBM + kind->product_over_radio_db);
  sim_world_draw (&w);
  w.papers.intercept_dbm[2] = w.intercept_dbm[2] - kind->better_db;
  w.phase[1] = 0;
  w.phase[2] = 2 * G_PI * phase / PHASES;
  sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_KEYED, ATTENUATION, 0, 0 });
  for (guint k = 0; k < 2 && kind->step_db[k] > 0; k++)
    sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_STEP, ATTENUATION + kind->step_db[k], 0, 0 });
  SpFindings *findings = sim_world_judge (&w);
  sim_world_clear (&w);
  return findings;
}

static void
count (const SpEmission *e, Tally *t)
{
  t->n++;
  t->complies += e->verdict == SP_VERDICT_COMPLIES;
  if (!e->detected)
    return;
  double common = 0.5; /* what all sweeps share: U holds it, not the part */
  gboolean outside = RADIO_DBM < e->radio_low_dbm - common || RADIO_DBM > e->radio_high_dbm + common;
  t->missed += outside;
  t->said_radio += outside && e->origin == SP_ORIGIN_RADIO;
  t->said_analyzer += outside && e->origin == SP_ORIGIN_ANALYZER;
  gboolean cancels = e->evidence && e->evidence->may_cancel;
  t->cancels += cancels;
  t->settled += cancels && e->verdict == SP_VERDICT_EXCEEDS;
  SpReasonCode advice = e->would_prove ? e->would_prove->code : SP_N_REASONS;
  t->asks += cancels && (advice == SP_REASON_PROVE_STEP || advice == SP_REASON_PROVE_STEP_PAD || advice == SP_REASON_PROVE_STEP_NOISE);
}

START_TEST (all_phases)
{
  const Kind *kind = &kinds[_i];
  Tally t = { 0 };
  for (guint repeat = 0; repeat < sim_many (1, 20); repeat++)
    for (guint phase = 0; phase < PHASES; phase++) {
      g_autoptr (SpFindings) findings = measure (kind, phase, 7000000 + 1000 * (guint64) _i + repeat);
      count (sim_emission (findings, 2), &t);
    }
  printf ("simulated\tcomplies %u of %u, part missed %u (called radio %u, analyzer %u); may cancel %u, of these over the limit all the "
          "same %u, asked for a "
          "second step %u\t%s\n",
          t.complies, t.n, t.missed, t.said_radio, t.said_analyzer, t.cancels, t.settled, t.asks, kind->name);
  fflush (stdout);
  ck_assert_uint_eq (t.complies, 0);
  ck_assert_uint_eq (t.settled + t.asks, t.cancels);
  if (kind->product_over_radio_db > 0) /* else what is read lies about the product, not far below */
    ck_assert_uint_eq (t.said_radio + t.said_analyzer, 0);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/cancel");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 2400);
  tcase_add_loop_test (c, all_phases, 0, G_N_ELEMENTS (kinds));
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
