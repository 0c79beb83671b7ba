/* overload.c - signs of an overloaded input: there when they were put there, absent else */
#include "core/judge/emission/overload.h"
#include "tests/suite.h"

#include <gsl/gsl_rng.h>

#define N 2001
#define F0 146e6

static double
phase (double frequency_hz, gpointer data)
{
  const double *level = data;
  return *level - 20 * log10 (fabs (frequency_hz - F0) / 1e6);
}

START_TEST (noise_that_rises)
{
  double f[N], quiet[N], loud[N], pedestal = -70, at;
  for (guint i = 0; i < N; i++) {
    f[i] = 100e6 + i * 50e3;
    quiet[i] = -100 + 1e-3 * i;
    loud[i] = quiet[i] + 5 + (fabs (f[i] - 180e6) < 300e3 ? 4 : 0);
  }
  SpNoiseTrace unkeyed = { N, f, quiet }, keyed = { N, f, loud };
  ck_assert_double_eq_tol (sp_noise_rise_db (&keyed, &unkeyed, F0, 2e6, NULL, NULL, &at), 5, 0.01);
  ck_assert_double_eq_tol (at, 180e6, 0.4e6);
  ck_assert_double_eq_tol (sp_noise_rise_db (&unkeyed, &unkeyed, F0, 2e6, NULL, NULL, &at), 0, 0.01);
  /* all of it explained by phase noise */
  for (guint i = 0; i < N; i++)
    loud[i] = sp_add_powers_dbm (quiet[i], phase (f[i], &pedestal));
  ck_assert_double_eq_tol (sp_noise_rise_db (&keyed, &unkeyed, F0, 2e6, phase, &pedestal, &at), 0, 0.05);
  ck_assert_double_gt (sp_noise_rise_db (&keyed, &unkeyed, F0, 2e6, NULL, NULL, &at), 0.5);
  /* another grid, and spans that hardly meet */
  SpNoiseTrace coarse = { 21, f, quiet };
  ck_assert (!isnan (sp_noise_rise_db (&keyed, &coarse, F0, 2e6, NULL, NULL, &at)));
  ck_assert (isnan (sp_noise_rise_db (&keyed, &coarse, 100.5e6, 5e6, NULL, NULL, &at)));
  double elsewhere[2] = { 1e9, 2e9 }, level[2] = { -100, -100 };
  SpNoiseTrace other = { 2, elsewhere, level };
  ck_assert (isnan (sp_noise_rise_db (&keyed, &other, F0, 2e6, NULL, NULL, &at)));
}
END_TEST

START_TEST (settings_that_are_alike)
{
  SpSettings a, b;
  sp_settings_init (&a);
  a.rbw_hz = 10e3;
  a.attenuation_db = 20;
  a.detector = SP_DETECTOR_RMS;
  b = a;
  ck_assert (sp_settings_alike (&a, &b));
  b.attenuation_db = 30;
  ck_assert (!sp_settings_alike (&a, &b));
  b = a;
  b.rbw_hz = 30e3;
  ck_assert (!sp_settings_alike (&a, &b));
  b = a;
  b.detector = SP_DETECTOR_PEAK;
  ck_assert (!sp_settings_alike (&a, &b));
  sp_settings_init (&a); /* what is not known is not alike */
  b = a;
  ck_assert (!sp_settings_alike (&a, &b));
}
END_TEST

/* Two signals through a soft limiter, products by arithmetic: order 2k + 1 lies 20 k dB down. */
static guint
pair (SpSpectralLine *lines, double second_hz, double second_dbm, guint highest)
{
  double d = second_hz - F0, first_dbm = 30;
  guint n = 0;
  lines[n++] = (SpSpectralLine){ second_hz, second_dbm, 1e3 };
  for (guint k = 1; 2 * k + 1 <= highest; k++) {
    lines[n++] = (SpSpectralLine){ F0 - k * d, first_dbm - 20. * k - 5, 1e3 };
    lines[n++] = (SpSpectralLine){ second_hz + k * d, second_dbm - 20. * k - 5, 1e3 };
  }
  return n;
}

START_TEST (a_raster_of_odd_products)
{
  SpSpectralLine lines[32];
  SpRaster r;
  for (int side = -1; side <= 1; side += 2) {
    guint n = pair (lines, F0 + side * 3e6, 20, 7);
    ck_assert (sp_odd_raster (F0, 30, 1e3, 50e3, n, lines, &r));
    ck_assert (r.highest == 7 && r.n == 6);
    ck_assert_double_eq (r.spacing_hz, 3e6);
    ck_assert_double_eq (r.other_hz, F0 + side * 3e6);
    ck_assert_double_eq (r.third_db, 25);
    ck_assert_double_eq (r.fifth_db, 45);
  }
}
END_TEST

START_TEST (what_is_no_raster)
{
  SpSpectralLine lines[32];
  SpRaster r;
  ck_assert (!sp_odd_raster (F0, 30, 1e3, 50e3, pair (lines, F0 + 3e6, 20, 3), lines, &r));  /* third order alone */
  ck_assert (!sp_odd_raster (F0, 30, 1e3, 50e3, pair (lines, F0 + 10e3, 20, 7), lines, &r)); /* modulation */
  guint n = pair (lines, F0 + 3e6, 20, 7);
  for (guint i = 0; i < n; i++)
    lines[i].level_dbm -= 31; /* too faint a second signal */
  ck_assert (!sp_odd_raster (F0, 30, 1e3, 50e3, n, lines, &r));
  n = pair (lines, F0 + 3e6, 20, 7);
  lines[3].level_dbm = lines[4].level_dbm = 8; /* fifth above third */
  ck_assert (!sp_odd_raster (F0, 30, 1e3, 50e3, n, lines, &r));
  n = pair (lines, F0 + 3e6, 20, 7);
  for (guint i = 0; i < n; i++)
    lines[i].half_hz = 1e6; /* would match anything */
  ck_assert (!sp_odd_raster (F0, 30, 1e3, 50e3, n, lines, &r));
  for (guint k = 0; k < 9; k++) /* harmonics are equally spaced too */
    lines[k] = (SpSpectralLine){ (k + 2) * F0, 20. - 5 * k, 1e3 };
  ck_assert (!sp_odd_raster (F0, 30, 1e3, 50e3, 9, lines, &r));
  ck_assert (!sp_odd_raster (F0, 30, 1e3, 50e3, 0, NULL, &r));
}
END_TEST

/* Twenty lines anywhere within 100 MHz, points 20 kHz apart: hardly ever a raster. */
START_TEST (chance_makes_none)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  guint found = 0, cases = 2000;
  for (guint k = 0; k < cases; k++) {
    SpSpectralLine lines[20];
    SpRaster r;
    for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
      lines[i] = (SpSpectralLine){ F0 + 100e6 * (gsl_rng_uniform (rng) - 0.5), 30 - 60 * gsl_rng_uniform (rng), 10e3 };
    found += sp_odd_raster (F0, 30, 1e3, 50e3, G_N_ELEMENTS (lines), lines, &r);
  }
  gsl_rng_free (rng);
  ck_assert_msg (found * 100 <= cases, "%u of %u", found, cases);
}
END_TEST

static Suite *
suite (void)
{
  Suite *s = suite_create ("judge/overload");
  TCase *c = tcase_create ("all");
  tcase_add_test (c, noise_that_rises);
  tcase_add_test (c, settings_that_are_alike);
  tcase_add_test (c, a_raster_of_odd_products);
  tcase_add_test (c, what_is_no_raster);
  tcase_add_test (c, chance_makes_none);
  suite_add_tcase (s, c);
  return s;
}

SP_MAIN (suite)
