/* Levels near the noise, by every detector and hold: U holds the truth, and the mean is the truth's unless a one-sided u says which way it is off. */
#include "tests/simulate/world.h"
#include "tests/suite.h"

typedef enum { HOLD_NONE, HOLD_MAX, HOLD_MIN } Hold;

typedef struct {
  const char *name;
  double spacing_rbws;
  SpDetector detector;
  SpAverage average;
  guint averages;
  Hold hold;
  double rate;
  gboolean kind_unsaid;
  double off; /* what the mean may be off the truth, where U holds it all the same; 0: LEAST_OFF_DB */
} Way;

#define LEAST_OFF_DB 0.3

/* Before: the greatest of 20 peaks read 4.1, 2.1 and 0.7 dB high at 0, 6 and 15 dB over the floor, none of 80 within U; the least of 20 samples 5.6 dB
 * low, and 74 of 80 at the floor were not seen at all. */
static const Way ways[] = {
  { "peak, two points in an RBW", 0.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5, .off = 0.6 },
  { "peak, a point in 1.5 RBW", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5, .off = 0.6 },
  { "peak, a slow sweep", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.1, .off = 1.2 },
  { "20 peaks held, two points in an RBW", 0.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.5 },
  { "20 peaks held, a point in 1.5 RBW", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.5 },
  { "20 samples held, two points in an RBW", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.5 },
  { "20 rms held, a point in an RBW", 1, SP_DETECTOR_RMS, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.5 },
  { "power average of 8 peaks, two points in an RBW", 0.5, SP_DETECTOR_PEAK, SP_AVERAGE_POWER, 8, HOLD_NONE, 0.5 },
  { "power average of 8 peaks, a point in 1.5 RBW", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_POWER, 8, HOLD_NONE, 0.5 },
  { "power average of 100 peaks, a point in 1.5 RBW", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_POWER, 100, HOLD_NONE, 0.5 },
  { "log average of 8 peaks, a point in 1.5 RBW", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_LOG, 8, HOLD_NONE, 0.5 },
  { "least of 5 samples, two points in an RBW", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 5, HOLD_MIN, 0.5, .off = 0.6 },
  { "least of 20 samples, two points in an RBW", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 20, HOLD_MIN, 0.5 },
  { "least of 5 peaks, a point in 1.5 RBW", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 5, HOLD_MIN, 0.5, .off = 1.7 },
  { "negative, two points in an RBW", 0.5, SP_DETECTOR_NEGATIVE, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5, .off = 1.6 },
  { "power average in the bucket, of a kind unsaid", 1, SP_DETECTOR_AVERAGE, SP_AVERAGE_POWER, 1, HOLD_NONE, 0.05, TRUE },
  { "log average in the bucket, of a kind unsaid", 1, SP_DETECTOR_AVERAGE, SP_AVERAGE_LOG, 1, HOLD_NONE, 0.05, TRUE, .off = 0.6 },
};

static const double over_floor_db[] = { 0, 6, 15 };

static void
set_up (SimWorld *w, const Way *way, guint64 seed)
{
  sim_world_init (w, seed);
  sim_world_shift (w);
  w->settings.rbw_hz = 50e3 / way->spacing_rbws;
  w->settings.detector = way->detector;
  w->settings.average = way->average;
  w->settings.averages = way->averages;
  w->settings.max_hold = way->hold == HOLD_MAX;
  w->settings.min_hold = way->hold == HOLD_MIN;
  w->settings.rate = way->rate;
  w->settings.kind_unsaid = way->kind_unsaid;
  sim_world_draw (w);
}

typedef struct {
  guint n, alarms, missed, high, low; /* beyond U */
  double sum, squares, expanded;
} Tally;

static void
look (SimWorld *w, double over_db, Tally *t)
{
  sim_world_sweep (w, (SimSweep){ SP_PURPOSE_KEYED, 10, 0, 0 });
  g_autoptr (SpFindings) blank = sim_world_judge (w);
  sim_world_clear (w);
  for (guint n = 2; n <= w->harmonics; n++)
    w->radio_dbm[n] = sim_emission (blank, n)->floor_dbm + over_db;
  for (guint n = 2; n <= w->harmonics; n++)
    t->alarms += sim_emission (blank, n)->detected;
  sim_world_sweep (w, (SimSweep){ SP_PURPOSE_KEYED, 10, 0, 0 });
  g_autoptr (SpFindings) findings = sim_world_judge (w);
  sim_world_clear (w);
  for (guint n = 2; n <= w->harmonics; n++) {
    const SpEmission *e = sim_emission (findings, n);
    t->missed += !e->detected;
    if (!e->detected)
      continue;
    double error = e->level_dbm - w->radio_dbm[n];
    t->n++;
    t->sum += error;
    t->squares += error * error;
    t->expanded += e->budget.expanded_level_db;
    t->high += error > e->budget.expanded_level_db;
    t->low += error < -e->budget.expanded_level_db;
  }
}

START_TEST (held_by_u)
{
  const Way *way = &ways[_i / G_N_ELEMENTS (over_floor_db)];
  double over_db = over_floor_db[_i % G_N_ELEMENTS (over_floor_db)];
  Tally t = { 0 };
  for (guint i = 0; i < sim_many (way->averages > 50 ? 5 : 20, 500); i++) {
    SimWorld w;
    set_up (&w, way, 100000 * (guint) _i + i);
    look (&w, over_db, &t);
  }
  double mean = t.sum / t.n, spread = sqrt (t.squares / t.n - mean * mean), of_mean = spread / sqrt (t.n);
  printf (
      "simulated\t%s, %g dB over the floor: mean error %+.2f dB, scatter %.2f dB, U %.2f dB, %u too high and %u too low of %u, %u missed\n",
      way->name, over_db, mean, spread, t.expanded / t.n, t.high, t.low, t.n, t.missed);
  ck_assert_msg (fabs (mean) <= fmax (LEAST_OFF_DB, way->off) + 4 * of_mean, "%s: mean error %.3f +- %.3f dB", way->name, mean, of_mean);
  sim_at_most ("level beyond U", t.high + t.low, t.n, 0.07);
  sim_at_most ("line at the floor or over it not seen", t.missed, t.n + t.missed, 0.023);
  sim_at_most ("noise taken for a line", t.alarms, t.n + t.missed, 0.01);
}
END_TEST

/* A log average in the bucket of which nobody says that it is one. A harmonic over its limit that it hides is never said to comply: before, 2 to 8 of
 * 12 did. */
static const double coarse_rbws[] = { 2, 4, 8 };

START_TEST (hidden_by_an_unsaid_average)
{
  Way way = { "log average", coarse_rbws[_i], SP_DETECTOR_AVERAGE, SP_AVERAGE_LOG, 1, HOLD_NONE, 0.5, TRUE };
  guint complies = 0, places = 0, unsaid = 0;
  for (guint i = 0; i < sim_many (24, 500); i++, places++) {
    SimWorld w;
    set_up (&w, &way, 9000000 + 1000 * (guint) _i + i);
    w.harmonics = 2;
    w.radio_dbm[2] = sim_limit_dbm (&w) + (i % 2 ? 1.4 : 3);
    sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_KEYED, 10, 0, 0 });
    g_autoptr (SpFindings) findings = sim_world_judge (&w);
    complies += sim_emission (findings, 2)->verdict == SP_VERDICT_COMPLIES;
    const GPtrArray *warnings = findings->conditions[0].warnings;
    for (guint k = 0; k < warnings->len; k++)
      unsaid += ((const SpReason *) warnings->pdata[k])->code == SP_REASON_AVERAGE_KIND_UNKNOWN;
    sim_world_clear (&w);
  }
  ck_assert_uint_eq (complies, 0);
  ck_assert_uint_eq (unsaid, places);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/near");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 2400);
  tcase_add_loop_test (c, held_by_u, 0, G_N_ELEMENTS (ways) * G_N_ELEMENTS (over_floor_db));
  tcase_add_loop_test (c, hidden_by_an_unsaid_average, 0, G_N_ELEMENTS (coarse_rbws));
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
