/* Whose is it: the step test against the truth. The radio's part and the analyzer's are drawn uniformly in dB, as the computation assumes of
 * them, and their phase uniformly; whichever is greater stands 10 to 40 dB over the floor, the other 0 to 40 dB below it.
 */
#include "tests/simulate/world.h"
#include "tests/suite.h"

#define APART 6.0
#define ATTENUATION 10.0
#define DETECTION_LIMIT_DB 12.5 /* over the mean noise, with what half a point's distance may lose */

typedef struct {
  const char *name;
  double step_db[2]; /* 0: none */
  gboolean pad;      /* outside, with a chain of its own, instead of the analyzer's attenuator */
  gboolean papers;   /* the profile states intercepts: guaranteed minima */
  SpDetector detector;
  SpAverage average;
  guint averages;
  double
      most_asked; /* share of tests that one step does not settle: papers up to 10 dB below the truth, parts anywhere within 40 dB of each other */
  double most_covered; /* of the interval; what u states is too large where looks are averaged that nobody counts */
} Kind;

static const Kind kinds[] = {
  { "one step of 10 dB", { 10, 0 }, FALSE, FALSE, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 0, 0.965 },
  { "steps of 5 and 10 dB", { 5, 10 }, FALSE, FALSE, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 0, 0.965 },
  { "a pad of 10 dB", { 10, 0 }, TRUE, FALSE, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, 0, 0.965 },
  { "one step of 10 dB, intercepts stated",
    { 10, 0 },
    FALSE,
    TRUE,
    SP_DETECTOR_SAMPLE,
    SP_AVERAGE_NONE,
    1,
    0.35,
    1 }, /* of what may cancel, the ends of all that is possible */
  { "one step of 10 dB, log average of 10", { 10, 0 }, FALSE, FALSE, SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 10, 0, 0.965 },
  { "steps of 5 and 10 dB, rms", { 5, 10 }, FALSE, TRUE, SP_DETECTOR_RMS, SP_AVERAGE_NONE, 1, 0.25, 1 },
};

typedef struct {
  guint order;
  double radio_dbm, own_dbm;
} Truth;

static void
set_up (SimWorld *w, const Kind *kind, guint64 seed)
{
  sim_world_init (w, seed);
  sim_world_shift (w);
  w->settings.detector = kind->detector;
  w->settings.average = kind->average;
  w->settings.averages = kind->averages;
  w->papers.accuracy = 0.5;
  w->papers.flatness = 0.5;
  w->papers.scale = 0.2;
  w->papers.repeatability = 0.05;
  w->papers.attenuator_switch = 0.2;
  w->papers.chain_u = 0.1;
  w->papers.intercept_u = 1;
}

/* Levels of both parts at a harmonic. `product_over_radio` infinite: one of them alone. The second and the
 * third only: a fourth power would make a second harmonic too. */
static void
place (SimWorld *w, const Kind *kind, Truth *t, double greater_over_floor, double product_over_radio)
{
  double greater = sim_noise_dbm (w, t->order, ATTENUATION) + DETECTION_LIMIT_DB + greater_over_floor;
  t->own_dbm = product_over_radio >= 0 ? greater : greater + product_over_radio;
  t->radio_dbm = product_over_radio >= 0 ? greater - product_over_radio : greater;
  w->radio_dbm[t->order] = t->radio_dbm;
  w->intercept_dbm[t->order] = isfinite (t->own_dbm) ? sim_intercept_for (w, t->order, ATTENUATION, t->own_dbm) : NAN;
  if (kind->papers)
    w->papers.intercept_dbm[t->order] = isfinite (t->own_dbm)
                                            ? w->intercept_dbm[t->order] - sim_between (&w->chance, 0, 10. / (t->order - 1))
                                            : 80;
}

static void
draw (SimWorld *w)
{
  double stated[SIM_ORDERS + 1];
  for (guint n = 0; n <= SIM_ORDERS; n++) { /* the truth stands: what the papers say is lower */
    stated[n] = w->papers.intercept_dbm[n];
    w->papers.intercept_dbm[n] = NAN;
  }
  sim_world_draw (w);
  for (guint n = 0; n <= SIM_ORDERS; n++)
    w->papers.intercept_dbm[n] = stated[n];
}

static SpFindings *
measure (SimWorld *w, const Kind *kind)
{
  draw (w);
  sim_world_sweep (w, (SimSweep){ SP_PURPOSE_KEYED, ATTENUATION, 0, 0 });
  for (guint k = 0; k < 2 && kind->step_db[k] > 0; k++)
    sim_world_sweep (w,
                     (SimSweep){ SP_PURPOSE_STEP, ATTENUATION + (kind->pad ? 0 : kind->step_db[k]), kind->pad ? kind->step_db[k] : 0, 0 });
  SpFindings *findings = sim_world_judge (w);
  sim_world_clear (w);
  return findings;
}

typedef struct {
  guint n, with_interval, apart, right, own, own_called_radio, covered, cancels, said[SP_ORIGIN_UNTESTED + 1];
} Tally;

static void
count (const SimWorld *w, const Truth *t, const SpEmission *e, Tally *tally)
{
  double product_over_radio = t->own_dbm - t->radio_dbm, radio = t->radio_dbm + sim_common_error_db (w, t->order);
  if (!e->detected) /* the two cancelled */
    return;
  tally->n++;
  tally->said[e->origin]++;
  tally->with_interval += !isnan (e->radio_high_dbm);
  tally->cancels += e->evidence && e->evidence->may_cancel;
  tally->covered += radio >= e->radio_low_dbm && radio <= e->radio_high_dbm;
  if (product_over_radio >= APART) {
    tally->own++;
    tally->own_called_radio += e->origin == SP_ORIGIN_RADIO;
  }
  if (fabs (product_over_radio) < APART || (e->evidence && e->evidence->may_cancel)) /* that one asks for a second step first */
    return;
  tally->apart++;
  tally->right += e->origin == (product_over_radio > 0 ? SP_ORIGIN_ANALYZER : SP_ORIGIN_RADIO);
}

/* Two emissions a bench. */
static void
run (const Kind *kind, guint64 seed, guint benches, gboolean alone, Tally *tally)
{
  for (guint i = 0; i < benches; i++) {
    SimWorld w;
    set_up (&w, kind, seed + i);
    Truth truth[2] = { { 2 }, { 3 } };
    for (guint k = 0; k < 2; k++) {
      double distance = alone ? INFINITY : sim_between (&w.chance, 0, 40);
      place (&w, kind, &truth[k], sim_between (&w.chance, 10, 40), sim_uniform (&w.chance) < 0.5 ? distance : -distance);
    }
    g_autoptr (SpFindings) findings = measure (&w, kind);
    for (guint k = 0; k < 2; k++)
      count (&w, &truth[k], sim_emission (findings, truth[k].order), tally);
  }
}

static void
check (const Kind *kind, const char *what, const Tally *t, double coverage_low, double coverage_high)
{
  g_autofree char *right = g_strdup_printf ("%s, %s: right", kind->name, what);
  g_autofree char *own = g_strdup_printf ("%s, %s: the analyzer's own called the radio's", kind->name, what);
  g_autofree char *covered = g_strdup_printf ("%s, %s: the interval holds the radio's part", kind->name, what);
  printf ("simulated\tradio %u analyzer %u mixed %u untested %u; may cancel %u; right %u of %u, interval %u of %u\t%s, %s\n",
          t->said[SP_ORIGIN_RADIO], t->said[SP_ORIGIN_ANALYZER], t->said[SP_ORIGIN_MIXED], t->said[SP_ORIGIN_UNTESTED], t->cancels,
          t->right, t->apart, t->covered, t->with_interval, kind->name, what);
  g_autofree char *asked = g_strdup_printf ("%s, %s: asked for a second step", kind->name, what);
  sim_at_most (asked, t->cancels, t->n, kind->most_asked);
  sim_at_least (right, t->right, t->apart, 0.97);
  sim_at_most (own, t->own_called_radio, t->own, 0.01);
  sim_rate (covered, t->covered, t->with_interval, coverage_low, coverage_high);
}

START_TEST (both_parts)
{
  Tally tally = { 0 };
  run (&kinds[_i], 3000000 * ((guint64) _i + 1), sim_many (40, 1000), FALSE, &tally);
  check (&kinds[_i], "two parts", &tally, 0.94, kinds[_i].most_covered);
}
END_TEST

/* A radio with a clean harmonic, an analyzer without a product: at its simplest there is nothing to mistake. */
START_TEST (one_part_alone)
{
  Tally tally = { 0 };
  run (&kinds[_i], 3000000 * ((guint64) _i + 101), sim_many (15, 500), TRUE, &tally);
  check (&kinds[_i], "one alone", &tally, 0.94, 1);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/origin");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 2400);
  tcase_add_loop_test (c, both_parts, 0, G_N_ELEMENTS (kinds));
  tcase_add_loop_test (c, one_part_alone, 0, G_N_ELEMENTS (kinds));
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
