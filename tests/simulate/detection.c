/* Detection through the whole way, by sweep: noise alone is rarely an emission, a line at the detection limit rarely none.
 *
 * tests/outside/detection.c has the laws themselves to the last figure. Here the noise has to be found in the trace, looks are correlated as the
 * filter and the sweep's speed make them, and a line stands anywhere between two points.
 */
#include "tests/simulate/world.h"
#include "tests/suite.h"

#define QUICK 135 /* places looked at, a law */
#define FULL 10000
#define ORDERS 9 /* places a sweep: harmonics 2 to 10 */

typedef struct {
  const char *name;
  double spacing_rbws;
  SpDetector detector;
  SpAverage average;
  guint averages;
  gboolean max_hold;
  double rate;
  gboolean exact; /* the law's looks are the simulator's: rates are what they should be, not only no worse */
} Way;

static const Way ways[] = {
  { "sample", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, FALSE, 0.5, TRUE },
  { "sample, 10 points in an RBW", 0.1, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, FALSE, 0.5, FALSE },
  { "sample, a point in two RBW", 2, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 1, FALSE, 0.5, TRUE },
  { "peak", 0.5, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, FALSE, 0.5, FALSE },
  { "peak, a point in four RBW", 4, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, FALSE, 0.5, FALSE },
  { "peak, a slow sweep", 1, SP_DETECTOR_PEAK, SP_AVERAGE_NONE, 1, FALSE, 0.2, FALSE },
  { "rms", 0.5, SP_DETECTOR_RMS, SP_AVERAGE_NONE, 1, FALSE, 0.5, FALSE },
  { "rms, a point in three RBW", 3, SP_DETECTOR_RMS, SP_AVERAGE_NONE, 1, FALSE, 0.5, FALSE },
  { "voltage average in the bucket", 1, SP_DETECTOR_AVERAGE, SP_AVERAGE_VOLTAGE, 1, FALSE, 0.1, FALSE },
  { "log average of 10", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_LOG, 10, FALSE, 0.5, TRUE },
  { "voltage average of 10", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_VOLTAGE, 10, FALSE, 0.5, TRUE },
  { "power average of 10", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_POWER, 10, FALSE, 0.5, TRUE },
  { "max hold of 10", 0.5, SP_DETECTOR_SAMPLE, SP_AVERAGE_NONE, 10, TRUE, 0.5, TRUE },
  { "power average of 5 rms", 1, SP_DETECTOR_RMS, SP_AVERAGE_POWER, 5, FALSE, 0.5, FALSE },
  { "log average of 5 peaks", 0.5, SP_DETECTOR_PEAK, SP_AVERAGE_LOG, 5, FALSE, 0.5, FALSE },
  { "normal", 0.5, SP_DETECTOR_NORMAL, SP_AVERAGE_NONE, 1, FALSE, 0.5, FALSE },
  { "normal, a point in four RBW", 4, SP_DETECTOR_NORMAL, SP_AVERAGE_NONE, 1, FALSE, 0.5, FALSE },
  { "negative", 0.5, SP_DETECTOR_NEGATIVE, SP_AVERAGE_NONE, 1, FALSE, 0.5, FALSE },
};

static void
set_up (SimWorld *w, const Way *way, guint64 seed)
{
  sim_world_init (w, seed);
  w->harmonics = ORDERS + 1;
  for (guint n = 1; n <= SIM_ORDERS; n++)
    w->chain_db[n] = 40; /* level noise: its slope is another test's */
  w->radio_dbm[1] = 20;
  SimSettings *s = &w->settings;
  s->points = 1051;
  s->start_hz = 5e6;
  s->stop_hz = 110e6;
  s->rbw_hz = 100e3 / way->spacing_rbws;
  s->detector = way->detector;
  s->average = way->average;
  s->averages = way->averages;
  s->max_hold = way->max_hold;
  s->rate = way->rate;
}

static char *
label (const Way *way, const char *what)
{
  return g_strdup_printf ("%s: %s", way->name, what);
}

START_TEST (noise_alone)
{
  const Way *way = &ways[_i];
  guint alarms = 0, places = 0, spurs = 0, sweeps = sim_many (QUICK, FULL) / ORDERS;
  for (guint i = 0; i < sweeps; i++) {
    SimWorld w;
    set_up (&w, way, 10000 * (guint) _i + i);
    sim_world_draw (&w);
    sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_KEYED, 10, 0, 0 });
    g_autoptr (SpFindings) findings = sim_world_judge (&w);
    for (guint n = 2; n <= w.harmonics; n++, places++)
      alarms += sim_emission (findings, n)->detected;
    spurs += findings->conditions[0].n_emissions > ORDERS;
    sim_world_clear (&w);
  }
  g_autofree char *first = label (way, "noise taken for a harmonic"), *second = label (way, "noise taken for a spur in a sweep");
  sim_rate (first, alarms, places, way->exact ? 0.005 : 0, 0.01);
  sim_at_most (second, spurs, sweeps, 0.01);
}
END_TEST

/* A line at the floor that the program itself gives for another sweep of the same kind: half a point away at the most, anywhere. */
START_TEST (a_line_at_the_floor)
{
  const Way *way = &ways[_i];
  guint missed = 0, places = 0, sweeps = sim_many (QUICK, FULL) / ORDERS;
  double floor_dbm[SIM_ORDERS + 1];
  for (guint i = 0; i < sweeps; i++) {
    SimWorld w;
    set_up (&w, way, 5000000 + 10000 * (guint) _i + i);
    double offset = sim_between (&w.chance, -0.5, 0.5) * 100e3;
    w.settings.start_hz += offset;
    w.settings.stop_hz += offset;
    sim_world_draw (&w);
    sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_KEYED, 10, 0, 0 });
    g_autoptr (SpFindings) blank = sim_world_judge (&w);
    for (guint n = 2; n <= w.harmonics; n++)
      floor_dbm[n] = sim_emission (blank, n)->floor_dbm;
    sim_world_clear (&w);
    for (guint n = 2; n <= w.harmonics; n++)
      w.radio_dbm[n] = floor_dbm[n];
    sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_KEYED, 10, 0, 0 });
    g_autoptr (SpFindings) findings = sim_world_judge (&w);
    for (guint n = 2; n <= w.harmonics; n++, places++)
      missed += !sim_emission (findings, n)->detected;
    sim_world_clear (&w);
  }
  g_autofree char *name = label (way, "line at the floor not seen");
  sim_at_most (name, missed, places, 0.023);
}
END_TEST

/* On a point, at the detection limit over the noise that is truly there. Only where the program can know how many looks a point had. */
START_TEST (a_line_at_the_detection_limit)
{
  const Way *way = &ways[_i];
  if (!way->exact)
    return;
  guint missed = 0, places = 0, sweeps = sim_many (QUICK, FULL) / ORDERS;
  double bias = 0;
  for (guint i = 0; i < sweeps; i++) {
    SimWorld w;
    set_up (&w, way, 7000000 + 10000 * (guint) _i + i);
    sim_world_draw (&w);
    sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_KEYED, 10, 0, 0 });
    g_autoptr (SpFindings) blank = sim_world_judge (&w);
    double detection_db = blank->conditions[0].corrected[0].detection_db;
    const SpCorrected *c = &blank->conditions[0].corrected[0];
    for (guint n = 2; n <= w.harmonics; n++) {
      bias += c->noise_dbm[100 * n - 50] - sim_noise_dbm (&w, n, 10);
      w.radio_dbm[n] = sim_noise_dbm (&w, n, 10) + detection_db;
    }
    sim_world_clear (&w);
    sim_world_sweep (&w, (SimSweep){ SP_PURPOSE_KEYED, 10, 0, 0 });
    g_autoptr (SpFindings) findings = sim_world_judge (&w);
    for (guint n = 2; n <= w.harmonics; n++, places++)
      missed += !sim_emission (findings, n)->detected;
    sim_world_clear (&w);
  }
  printf ("simulated\t%s: noise found %+.3f dB from the truth\n", way->name, bias / places);
  g_autofree char *name = label (way, "line on a point at L_D not seen");
  sim_at_most (name, missed, places, 0.023);
  ck_assert_double_eq_tol (bias / places, 0, 0.1);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("simulate/detection");
  TCase *c = tcase_create ("all");
  tcase_set_timeout (c, 2400);
  tcase_add_loop_test (c, noise_alone, 0, G_N_ELEMENTS (ways));
  tcase_add_loop_test (c, a_line_at_the_floor, 0, G_N_ELEMENTS (ways));
  tcase_add_loop_test (c, a_line_at_the_detection_limit, 0, G_N_ELEMENTS (ways));
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
