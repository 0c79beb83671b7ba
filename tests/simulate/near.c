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
} Way;

static const Way ways[] = {
  { "peak, 0.25", 0.25, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5 },
  { "peak, 0.5", 0.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5 },
  { "peak, 1.5", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5 },
  { "peak, 4", 4, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5 },
  { "peak, 1.5, slow", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.1 },
  { "peak, 20 held, 0.5", 0.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.5 },
  { "peak, 20 held, 1.5", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.5 },
  { "peak, 20 held, 4", 4, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.5 },
  { "peak, 20 held, 1.5, slow", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.1 },
  { "sample, 20 held, 0.5", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.5 },
  { "sample, 20 held, 0.2", 0.2, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.5 },
  { "rms, 20 held, 1", 1, SP_DETECTOR_RMS, SP_AVERAGE_NONE, 20, HOLD_MAX, 0.5 },
  { "peak, power average of 8, 0.5", 0.5, SP_DETECTOR_PEAK, SP_AVERAGE_POWER, 8, HOLD_NONE, 0.5 },
  { "peak, power average of 8, 1.5", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_POWER, 8, HOLD_NONE, 0.5 },
  { "peak, power average of 8, 4", 4, SP_DETECTOR_PEAK, SP_AVERAGE_POWER, 8, HOLD_NONE, 0.5 },
  { "peak, power average of 100, 1.5", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_POWER, 100, HOLD_NONE, 0.5 },
  { "peak, log average of 8, 1.5", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_LOG, 8, HOLD_NONE, 0.5 },
  { "sample, 5 held least, 0.5", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 5, HOLD_MIN, 0.5 },
  { "sample, 20 held least, 0.5", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 20, HOLD_MIN, 0.5 },
  { "peak, 5 held least, 1.5", 1.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 5, HOLD_MIN, 0.5 },
  { "rms, 5 held least, 1", 1, SP_DETECTOR_RMS, SP_AVERAGE_NONE, 5, HOLD_MIN, 0.5 },
  { "negative, 0.5", 0.5, SP_DETECTOR_NEGATIVE, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5 },
  { "normal, 1.5", 1.5, SP_DETECTOR_NORMAL, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5 },
  { "sample, 0.5", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5 },
  { "sample, 1", 1, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, HOLD_NONE, 0.5 },
  { "log average of 8, 0.5", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 8, HOLD_NONE, 0.5 },
};

static const double over_floor_db[] = { 0, 6, 15 };

static void
set_up (SimWorld *w, const Way *way, guint64 seed)
{
  sim_world_init (w, seed);
  double offset = sim_between (&w->chance, -0.5, 0.5) * 50e3;
  w->settings.start_hz += offset;
  w->settings.stop_hz += offset;
  w->settings.rbw_hz = 50e3 / way->spacing_rbws;
  w->settings.detector = way->detector;
  w->settings.average = way->average;
  w->settings.averages = way->averages;
  w->settings.max_hold = way->hold == HOLD_MAX;
  w->settings.min_hold = way->hold == HOLD_MIN;
  w->settings.rate = way->rate;
  sim_world_draw (w);
}

typedef struct {
  guint n, missed, high, low; /* beyond U */
  double sum, squares, expanded, one_sided;
} Tally;

static void
look (SimWorld *w, double over_db, Tally *t)
{
  sim_world_sweep (w, (SimSweep){ SP_PURPOSE_KEYED, 10, 0, 0 });
  g_autoptr (SpFindings) blank = sim_world_judge (w);
  sim_world_clear (w);
  for (guint n = 2; n <= w->harmonics; n++)
    w->radio_dbm[n] = sim_emission (blank, n)->floor_dbm + over_db;
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
    t->one_sided += e->sampling_loss_db;
    t->high += error > e->budget.expanded_level_db;
    t->low += error < -e->budget.expanded_level_db;
  }
}

START_TEST (held_by_u)
{
  const Way *way = &ways[_i / G_N_ELEMENTS (over_floor_db)];
  double over_db = over_floor_db[_i % G_N_ELEMENTS (over_floor_db)];
  Tally t = { 0 };
  for (guint i = 0; i < sim_many (20, 500); i++) {
    SimWorld w;
    set_up (&w, way, 100000 * (guint) _i + i);
    look (&w, over_db, &t);
  }
  double mean = t.sum / t.n, spread = sqrt (t.squares / t.n - mean * mean);
  printf ("simulated\t%-34s +%2.0f dB: mean %+.2f sd %.2f, U %.2f (one-sided %.2f), high %u low %u of %u, missed %u\n", way->name, over_db, mean, spread,
          t.expanded / t.n, t.one_sided / t.n, t.high, t.low, t.n, t.missed);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/near");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 2400);
  tcase_add_loop_test (c, held_by_u, 0, G_N_ELEMENTS (ways) * G_N_ELEMENTS (over_floor_db));
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
