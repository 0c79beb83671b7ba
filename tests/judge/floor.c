/* The floor of every point of a sweep, composed again from what is stated: whatever walk over the points it came from. */
#include "core/judge/judge.h"
#include "tests/judge/workshop.h"
#include "tests/suite.h"

#define F0 146.2e6
#define SHEET                                                                                                                              \
  "[bench]\ntitle=t\nchain=t.chain\nanalyzer=t.analyzer\nmask=us-amateur\nnecessary_bandwidth=16kHz\n[radio "                              \
  "Testling]\nfundamental=146.2MHz\n"                                                                                                      \
  "keyed=k.csv\n"
/* Straight over log f; held beyond 10 kHz and 3 MHz. */
#define PHASE_NOISE "phase_noise_dbc_hz=10kHz -110; 100kHz -130; 3MHz -150\n"

static double
phase_noise (double offset_hz)
{
  double x = log10 (fmin (fmax (offset_hz, 10e3), 3e6));
  return x < 5 ? -110 - 20 * (x - 4) : -130 - 20 * (x - 5) / log10 (30);
}

static double
add_dbm (double a, double b)
{
  return 10 * log10 (pow (10, a / 10) + pow (10, b / 10));
}

/* q_high of the harmonic that stands within the window of f, NaN: none. */
static double
product_at (const SpConditionFindings *c, double f, double window_hz)
{
  double half = c->fundamental_u_hz * sqrt (3);
  for (guint k = 0; k < c->n_emissions; k++) {
    const SpEmission *e = &c->emissions[k];
    if (e->order >= 2 && fabs (f - e->order * c->fundamental_hz) <= window_hz + e->order * half)
      return e->product_high_dbm;
  }
  return NAN;
}

static void
check_floor (const SpConditionFindings *c, double rbw_hz, guint *seen)
{
  const SpCorrected *s = &c->corrected[0];
  double spacing = 0, half = c->fundamental_u_hz * sqrt (3), nbw_db = 10 * log10 (rbw_hz * 1.0645);
  for (guint64 i = 1; i < s->n; i++) /* the export rounds */
    spacing = fmax (spacing, s->frequency_hz[i] - s->frequency_hz[i - 1]);
  for (guint64 i = 0; i < s->n; i++) {
    double f = s->frequency_hz[i], offset = fabs (f - c->fundamental_hz), away = fmax (offset - spacing / 2 - half, 0);
    double detection = s->noise_dbm[i] + s->detection_db + s->loss_between_db, skirt = c->power_dbm - 12.0412 * pow (away / rbw_hz, 2);
    double product = product_at (c, f, fmax (rbw_hz, spacing)), want = add_dbm (detection, skirt);
    double over = c->power_dbm + phase_noise (offset) + nbw_db - (s->noise_dbm[i] - SP_HALF_DB);
    double belied = over - 2 * SP_HALF_DB, own = -150 + 20 + 40 + nbw_db - (s->noise_dbm[i] - SP_HALF_DB); /* over by the analyzer's own */
    SpFloorCause cause = over >= 0 && !(belied > 0 && own >= 0) ? SP_CAUSE_PHASE_NOISE : SP_CAUSE_NOISE;
    want = isnan (product) ? want : add_dbm (want, product);
    if (skirt > detection && !(product > skirt))
      cause = SP_CAUSE_SKIRT;
    else if (product > detection)
      cause = SP_CAUSE_PRODUCT;
    ck_assert_msg (fabs (s->floor_dbm[i] - want) < 1e-5, "%.1f Hz: %.9g, not %.9g dBm", f, s->floor_dbm[i], want);
    ck_assert_msg (fabs (over) < 0.01 || fabs (belied) < 0.01 || fabs (own) < 0.01 || s->floor_cause[i] == cause,
                   "%.1f Hz: cause %d, not %d", f, s->floor_cause[i], cause);
    seen[cause]++;
  }
}

/* _i 0: a sweep of which the skirt's reach is a small part; 1: one that lies within it; 2: so many points that they are worked on in
 * halves, and so little noise that the table's held end is the floor's cause. */
START_TEST (every_point_is_composed_of_what_is_stated)
{
  static const Sweep sweeps[] = { { 1e6, 1601e6, 80001, 30e3, 20, "sample", -95, { { F0, -3.01 }, { 2 * F0, -50 } }, 7 },
                                  { 1e6, 1601e6, 4001, 3e6, 20, "sample", -75, { { F0, -3.01 } }, 8 },
                                  { 100e6, 500e6, 120001, 10e3, 20, "rms", -115, { { F0, -3.01 } }, 9 } };
  char *shop = shop_open ();
  guint seen[4] = { 0 };
  shop_put_sweep (shop, "k.csv", &sweeps[_i]);
  g_autoptr (SpBench) bench = shop_bench (shop, "second_intercept_dbm=2\nthird_harmonic_intercept_dbm=5\n" PHASE_NOISE, SHEET);
  g_autoptr (SpFindings) f = sp_judge (bench);
  ck_assert (f->conditions[0].has_fundamental);
  check_floor (&f->conditions[0], sweeps[_i].rbw_hz, seen);
  if (_i != 2)
    ck_assert_uint_gt (seen[SP_CAUSE_NOISE], 0);
  ck_assert_uint_gt (seen[SP_CAUSE_SKIRT], 0);
  ck_assert_uint_gt (seen[SP_CAUSE_PRODUCT], 0);
  if (_i != 1)
    ck_assert_uint_gt (seen[SP_CAUSE_PHASE_NOISE], 0);
  shop_close (shop);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("floor");
  TCase *c = tcase_create ("points");
  tcase_set_timeout (c, 60);
  tcase_add_loop_test (c, every_point_is_composed_of_what_is_stated, 0, 3);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
